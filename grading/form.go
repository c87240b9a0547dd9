package grading

import (
	"math"
	"strings"

	"arrisbook/geom/joint"
	"arrisbook/grading/formula"
)

// What is said of working that does not come to the right number.
const (
	// OneWrongNumber is for the right form with a slip of reckoning in it.
	OneWrongNumber = "The working has the right form, and one number in it is not the one that belongs there. Which?"
	// RoundedWorking is for the right form with a number cut too short.
	RoundedWorking = "The working has the right form; a number in it is rounded too far for this."
	// OtherForm is for working that goes another way and that no slip explains.
	OtherForm = "The working goes another way than this number asks for. Look at the way first, then at the figures."
)

// likeness is how working differs from a formula of the same form.
type likeness struct {
	wrong   int      // numbers that are not what they stand for
	rounded int      // numbers that are, but with too few digits
	own     []source // where numbers came from that are the student's own
}

func (l likeness) and(o likeness) likeness {
	return likeness{l.wrong + o.wrong, l.rounded + o.rounded, append(l.own, o.own...)}
}

// cost orders likenesses: a wrong number is worse than one of the student's
// own, and that worse than a rounded one.
func (l likeness) cost() int { return 100*l.wrong + 10*len(l.own) + l.rounded }

// ofWorking says in a sentence how working differs from what is right: of the
// right form with something in it, or of another. "" for what is no working.
func (j *judge) ofWorking(d *definition, reading Reading) string {
	if reading.Working == "" {
		return ""
	}
	best, ok := j.likest(reading.Working, d.taught.Root(), d.full.Root())
	switch {
	case !ok || best.wrong > 1:
		return OtherForm
	case best.wrong == 1:
		return OneWrongNumber
	case len(best.own) > 0:
		return "The working has the right form and goes on from " + j.whose(best.own) + ", not right itself."
	case best.rounded > 0:
		return RoundedWorking
	}
	return OtherForm
}

// likest holds working against formulas, in millimetres and in inches, as they
// stand and with halves taken apart. ok is false where none has its form.
func (j *judge) likest(working string, formulas ...formula.Node) (best likeness, ok bool) {
	f, err := formula.Parse(working)
	if err != nil {
		return best, false
	}
	written := oneWay(f.Root())
	for _, right := range formulas {
		right = oneWay(right)
		for _, scale := range []float64{1, inch} {
			c := comparison{j: j, scale: scale}
			for _, pair := range [][2]formula.Node{{written, right}, {apart(written), apart(right)}} {
				if l, same := c.compare(pair[0], pair[1]); same && (!ok || l.cost() < best.cost()) {
					best, ok = l, true
				}
			}
		}
	}
	return best, ok
}

// comparison holds working against a formula, tree against tree: a number of
// the working stands for a size, or for a part of the formula that was worked
// out beforehand (18 for v_width/2).
type comparison struct {
	j     *judge
	scale float64 // millimetres in one of the working's lengths
}

// compare finds how two trees of one shape differ. ok is false where the shape
// differs. Sums and products may stand either way round.
func (c comparison) compare(written, right formula.Node) (l likeness, ok bool) {
	switch w := written.(type) {
	case formula.Num:
		return c.leaf(w.Value, halfStep(w.Text), right)
	case formula.Name:
		if r, isName := right.(formula.Name); isName && r.ID == w.ID {
			return c.byName(w.ID), true
		}
		v, known := c.j.named(w.ID)
		if !known {
			return l, false
		}
		return c.leaf(v/c.per(w), 0, right)
	case formula.Neg:
		if r, isNeg := right.(formula.Neg); isNeg {
			return c.compare(w.X, r.X)
		}
	case formula.Binary:
		return c.binary(w, right)
	case formula.Call:
		r, isCall := right.(formula.Call)
		if !isCall || r.Func != w.Func || len(r.Args) != len(w.Args) {
			return l, false
		}
		for i := range w.Args {
			one, okArg := c.compare(w.Args[i], r.Args[i])
			if !okArg {
				return l, false
			}
			l = l.and(one)
		}
		return l, true
	}
	return l, false
}

func (c comparison) binary(w formula.Binary, right formula.Node) (l likeness, ok bool) {
	r, isBinary := right.(formula.Binary)
	if !isBinary || r.Op != w.Op {
		if v, isSize := onRule(w); isSize && c.scale == inch {
			return c.leaf(v, 0, right)
		}
		return l, false
	}
	l, ok = c.both(w.L, r.L, w.R, r.R)
	if w.Op == '+' || w.Op == '*' {
		if other, okOther := c.both(w.L, r.R, w.R, r.L); okOther && (!ok || other.cost() < l.cost()) {
			return other, true
		}
	}
	return l, ok
}

func (c comparison) both(w1, r1, w2, r2 formula.Node) (likeness, bool) {
	a, okA := c.compare(w1, r1)
	b, okB := c.compare(w2, r2)
	return a.and(b), okA && okB
}

// onRule reads a size as a rule in inches has it, 2 + 5/8 or 5/8.
func onRule(n formula.Node) (v float64, ok bool) {
	whole, part, mixed := binary(n, '+')
	if !mixed {
		whole, part = formula.Of(0), n
	}
	over, under, ok := binary(part, '/')
	if !ok {
		return 0, false
	}
	w, okW := whole.(formula.Num)
	a, okA := over.(formula.Num)
	b, okB := under.(formula.Num)
	if !okW || !okA || !okB || !(fraction{over: a.Value, under: b.Value}).onRule() {
		return 0, false
	}
	return w.Value + a.Value/b.Value, true
}

// byName is a name that stands for itself: the student's own number where it
// is one and not right.
func (c comparison) byName(id string) likeness {
	if s, ok := c.j.m.slots[id]; ok {
		return likeness{own: c.j.sources[s]}
	}
	return likeness{}
}

// leaf holds a number against the part of the formula that it stands for. A
// part with a function of an angle in it is too much to be one number's slip.
func (c comparison) leaf(v, half float64, right formula.Node) (l likeness, ok bool) {
	prog, err := compile(right, c.j.m.slot)
	if err != nil {
		return l, false
	}
	per := c.per(right)
	want := prog.run(c.j.right) / per
	switch {
	case same(v, want):
		return l, true
	case same(v, prog.run(c.j.own)/per):
		return likeness{own: c.sources(right)}, true
	case math.Abs(v-want) <= half && math.Abs(want) > 10*half:
		return likeness{rounded: 1}, true
	}
	calls := 0
	eachCall(right, func(formula.Call) { calls++ })
	return likeness{wrong: 1}, calls == 0
}

// sources are whose values stand in a part of a formula.
func (c comparison) sources(n formula.Node) []source {
	var from []source
	for _, id := range formula.FromNode(n).Names() {
		if s, ok := c.j.m.slots[id]; ok {
			from = append(from, c.j.sources[s]...)
		}
	}
	return from
}

// halfStep is half of a written number's last digit.
func halfStep(text string) float64 {
	_, decimals, _ := strings.Cut(text, ".")
	return halfOf(len(decimals))
}

// per is the working's unit of length where a part of a formula is a length.
func (c comparison) per(n formula.Node) float64 {
	d, err := formula.FromNode(n).Check(c.j.m.dims)
	if err == nil && d == DimOf(joint.MM) {
		return c.scale
	}
	return 1
}

// oneWay writes what can be written in two ways in one: a half as a
// division by two, a square as a power, a hypotenuse as the root it is, a part
// as a division, the taking away of a negative as an addition.
func oneWay(n formula.Node) formula.Node {
	switch n := n.(type) {
	case formula.Neg:
		return formula.Neg{X: oneWay(n.X), Col: n.Col}
	case formula.Call:
		args := make([]formula.Node, len(n.Args))
		for i, a := range n.Args {
			args[i] = oneWay(a)
		}
		if n.Func == "hypot" && len(args) == 2 {
			square := func(a formula.Node) formula.Node { return formula.Op(a, '^', formula.Of(2)) }
			return formula.Apply("sqrt", formula.Op(square(args[0]), '+', square(args[1])))
		}
		return formula.Apply(n.Func, args...)
	case formula.Binary:
		return oneWayBinary(oneWay(n.L), n.Op, oneWay(n.R))
	}
	return n
}

func oneWayBinary(l formula.Node, op byte, r formula.Node) formula.Node {
	switch op {
	case '*':
		for _, side := range [][2]formula.Node{{l, r}, {r, l}} {
			if isNum(side[0], 0.5) {
				return formula.Op(side[1], '/', formula.Of(2))
			}
			if one, under, ok := binary(side[0], '/'); ok && isNum(one, 1) {
				return formula.Op(side[1], '/', under)
			}
		}
		if alike(l, r) {
			return formula.Op(l, '^', formula.Of(2))
		}
	case '+', '-':
		if neg, ok := r.(formula.Neg); ok {
			return formula.Op(l, map[byte]byte{'+': '-', '-': '+'}[op], neg.X)
		}
	}
	return formula.Op(l, op, r)
}

// apart takes the division of a sum by a number apart: (a - b)/2 becomes
// a/2 - b/2.
func apart(n formula.Node) formula.Node {
	switch n := n.(type) {
	case formula.Neg:
		return formula.Neg{X: apart(n.X), Col: n.Col}
	case formula.Call:
		args := make([]formula.Node, len(n.Args))
		for i, a := range n.Args {
			args[i] = apart(a)
		}
		return formula.Apply(n.Func, args...)
	case formula.Binary:
		l, r := apart(n.L), apart(n.R)
		sum, ok := l.(formula.Binary)
		if n.Op == '/' && isWritten(r) && ok && (sum.Op == '+' || sum.Op == '-') {
			return formula.Op(apart(formula.Op(sum.L, '/', r)), sum.Op, apart(formula.Op(sum.R, '/', r)))
		}
		return formula.Op(l, n.Op, r)
	}
	return n
}
