package discover

import (
	"fmt"
	"strings"

	"arrisbook/geom/joint"
	"arrisbook/grading"
	"arrisbook/grading/formula"
)

// rewrites are the formulas that come of the right one by one or two changes,
// in a form that can be tried on a class. The trees themselves are made again
// when one is wanted: see [rewrites.tree].
type rewrites struct {
	*plan
	writer  rewriter
	changes []change // by root
	levels  []level  // by root
}

// change is how a rewriting came about: by the first-th change of a form of
// the right formula, and the second-th of what came out, or -1.
type change struct {
	form          int
	first, second int32
}

// mostRewrites bounds what one exercise can cost.
const mostRewrites = 24000

// rewriter changes formulas over the names of one exercise.
type rewriter struct {
	forms []formula.Formula // as taught, and written out in givens
	unit  joint.Unit
	full  map[string]formula.Formula // of what is no given
	dims  map[string]formula.Dim
	names [4][]string // by dimension: what may be taken for something else
	sizes []joint.Parameter
}

func newRewriter(ex *grading.Exercise, m grading.Measure) rewriter {
	w := rewriter{
		forms: []formula.Formula{m.Taught}, unit: m.Unit, sizes: ex.Sizes(),
		full: map[string]formula.Formula{}, dims: map[string]formula.Dim{},
	}
	if !m.Taught.Equal(m.Full) {
		w.forms = append(w.forms, m.Full)
	}
	for _, p := range w.sizes {
		w.know(p.ID, p.Unit)
	}
	for _, q := range ex.Measures() {
		w.full[q.ID] = q.Full
		w.know(q.ID, q.Unit)
	}
	return w
}

// key is the same for exercises whose rewritings are the same.
func (w *rewriter) key() string {
	var b strings.Builder
	fmt.Fprint(&b, w.unit)
	for _, f := range w.forms {
		fmt.Fprint(&b, "|", f.Plain())
	}
	for _, p := range w.sizes {
		fmt.Fprint(&b, "|", p.ID, " ", p.Unit, " ", p.Whole)
	}
	for d, names := range w.names {
		for _, id := range names {
			fmt.Fprint(&b, "|", d, " ", id, "=", w.full[id].Plain())
		}
	}
	return b.String()
}

// bytes is about what the rewritings take of memory.
func (r *rewrites) bytes() int {
	return r.plan.bytes() + 9*len(r.ops) + 8*len(r.numbers) + 17*len(r.changes)
}

func (w *rewriter) know(id string, u joint.Unit) {
	d := grading.DimOf(u)
	w.dims[id] = d
	w.names[d] = append(w.names[d], id)
}

func (w *rewriter) dim(id string) (formula.Dim, bool) {
	d, ok := w.dims[id]
	return d, ok
}

// fits says that a tree comes to what is asked.
func (w *rewriter) fits(n formula.Node) bool {
	return formula.FromNode(n).CheckAs(grading.DimOf(w.unit), w.dim) == nil
}

// writtenOut puts givens in place of everything else.
func (w *rewriter) writtenOut(n formula.Node) formula.Formula {
	return formula.FromNode(n).Substitute(func(id string) (formula.Formula, bool) {
		f, ok := w.full[id]
		return f, ok
	})
}

// tree makes the tree of a change again, over givens alone, and gives what was
// put in place of what.
func (w *rewriter) tree(c change) (formula.Formula, []formula.Edit) {
	first := formula.Edits(w.forms[c.form].Root(), w.wide)[c.first]
	made := []formula.Edit{first}
	if c.second >= 0 {
		made = append(made, formula.Edits(first.Tree, w.narrow)[c.second])
	}
	return w.writtenOut(made[len(made)-1].Tree).Simplify(), made
}

// findRewrites makes the rewritings of a right formula.
func findRewrites(w rewriter) *rewrites {
	out := &rewrites{writer: w}
	p := newPlanter(w.sizes)
	for _, f := range w.forms {
		p.known(w.writtenOut(f.Root()).Root())
	}
	var sizes []int
	add := func(l level, c change, n formula.Node) bool {
		if len(out.changes) >= mostRewrites || !w.fits(n) {
			return false
		}
		f := w.writtenOut(n)
		root, isNew, ok := p.plant(f.Root())
		switch size := f.Size(); {
		case !ok:
			return false
		case isNew:
			out.changes, out.levels, sizes = append(out.changes, c), append(out.levels, l), append(sizes, size)
		case out.levels[root] == l && size < sizes[root]:
			out.changes[root], sizes[root] = c, size // the same number, said in less
		}
		return isNew
	}
	bases := make([][]formula.Edit, len(w.forms))
	var use [][]int32
	for i, f := range w.forms {
		bases[i] = formula.Edits(f.Root(), w.wide)
		use = append(use, nil)
		for k, e := range bases[i] {
			if add(oneEdit, change{i, int32(k), -1}, e.Tree) {
				use[i] = append(use[i], int32(k))
			}
		}
	}
	for i := range w.forms {
		for _, k := range use[i] {
			for j, e := range formula.Edits(bases[i][k].Tree, w.narrow) {
				add(twoEdits, change{i, k, int32(j)}, e.Tree)
			}
		}
	}
	out.plan = newPlan(&p.forest, p.roots)
	return out
}
