package grading

import (
	"arrisbook/geom/joint"
	"arrisbook/grading/formula"
)

// The patterns that change what a name stands for. A mistaken measure is
// mistaken wherever it occurs, so all places change together.

// replaced puts a tree in place of a name everywhere.
func replaced(root formula.Node, id string, by formula.Node) formula.Node {
	with := formula.FromNode(by)
	return formula.FromNode(root).Substitute(func(name string) (formula.Formula, bool) {
		return with, name == id
	}).Root()
}

func wrongMeasure(q subject, root formula.Node) []variant {
	var out []variant
	used := formula.FromNode(root).Names()
	for _, right := range used {
		s, ok := q.m.slots[right]
		if !ok || s >= q.m.givens {
			continue
		}
		for _, taken := range q.givensOf(q.m.units[s]) {
			if taken != right {
				out = append(out, variant{
					tree: replaced(root, right, formula.Name{ID: taken}), detail: taken + " for " + right, about: taken,
				})
			}
		}
	}
	// A given written down as if it were the number asked.
	for _, taken := range q.givensOf(q.d.unit) {
		out = append(out, variant{tree: formula.Name{ID: taken}, detail: taken + " for " + q.d.id, about: taken})
	}
	return out
}

// inOnePlace takes a measure for another in one of the places where it stands,
// and right in the others. It is the rarer slip, and often hardly moves the
// answer, so blanks need not tell it: it is asked with the pairs.
func inOnePlace(q subject, root formula.Node) []variant {
	many := map[string]int{}
	eachName(root, func(id string) { many[id]++ })
	return edits(root, func(n formula.Node) []replacement {
		name, ok := n.(formula.Name)
		if !ok || many[name.ID] < 2 {
			return nil
		}
		s, ok := q.m.slots[name.ID]
		if !ok || s >= q.m.givens {
			return nil
		}
		var out []replacement
		for _, taken := range q.givensOf(q.m.units[s]) {
			if taken != name.ID {
				out = append(out, replacement{formula.Name{ID: taken}, taken + " for " + name.ID + " in one place"})
			}
		}
		return out
	})
}

// givensOf lists the givens in a unit.
func (q subject) givensOf(u joint.Unit) []string {
	var ids []string
	for s, id := range q.m.names[:q.m.givens] {
		if q.m.units[s] == u {
			ids = append(ids, id)
		}
	}
	return ids
}

// tiltIgnored takes an angle as nothing: everywhere, or where one function
// takes it.
func tiltIgnored(q subject, root formula.Node) []variant {
	var out []variant
	nothing := formula.Of(0)
	for _, id := range formula.FromNode(root).Names() {
		s, ok := q.m.slots[id]
		if !ok || q.m.units[s] != joint.Deg {
			continue
		}
		out = append(out, variant{tree: replaced(root, id, nothing), detail: id, about: id})
		for _, v := range edits(root, func(n formula.Node) []replacement {
			c, ok := n.(formula.Call)
			if !ok || !contains(ratios, c.Func) {
				return nil
			}
			if name, ok := c.Args[0].(formula.Name); !ok || name.ID != id {
				return nil
			}
			return []replacement{{formula.Apply(c.Func, nothing), id + " in " + c.Func}}
		}) {
			v.about = id
			out = append(out, v)
		}
	}
	return out
}

func allowanceForgotten(q subject, root formula.Node) []variant {
	return q.eachAllowance(root, func(id string) formula.Node { return formula.Of(0) })
}

func allowanceSubtracted(q subject, root formula.Node) []variant {
	return q.eachAllowance(root, func(id string) formula.Node { return formula.Neg{X: formula.Name{ID: id}} })
}

func (q subject) eachAllowance(root formula.Node, instead func(id string) formula.Node) []variant {
	var out []variant
	for _, id := range formula.FromNode(root).Names() {
		if contains(q.ex.Allowances, id) {
			out = append(out, variant{tree: replaced(root, id, instead(id)), detail: id, about: id})
		}
	}
	return out
}

// oneSided counts one of a pair only: half or double of a symmetric width, or
// x where 2*x is meant.
func oneSided(q subject, root formula.Node) []variant {
	var out []variant
	for _, id := range formula.FromNode(root).Names() {
		if contains(q.ex.Pairs, id) {
			name := formula.Name{ID: id}
			out = append(out,
				variant{tree: replaced(root, id, formula.Op(name, '/', formula.Of(2))), detail: "half of " + id, about: id},
				variant{tree: replaced(root, id, formula.Op(formula.Of(2), '*', name)), detail: "double of " + id, about: id})
		}
	}
	return append(out, edits(root, func(n formula.Node) []replacement {
		if rest, ok := factor(n, 2); ok {
			return []replacement{{rest, printed(rest)}}
		}
		return nil
	})...)
}
