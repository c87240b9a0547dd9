package discover

import (
	"math"
	"math/rand/v2"

	"arrisbook/geom/joint"
	"arrisbook/grading/formula"
)

// planter puts trees into a forest, each part once.
type planter struct {
	forest
	sizes  map[string]int32
	at     map[step]int32
	values []probe
	roots  []int32
	// first tells by their numbers which root stands for formulas, -1 for none.
	first map[uint64]int
}

// step is a formula by its last step.
type step struct {
	op    op
	l, r  int32
	value float64
}

func newPlanter(sizes []joint.Parameter) *planter {
	p := &planter{sizes: map[string]int32{}, at: map[step]int32{}, first: map[uint64]int{}}
	rnd := rand.New(rand.NewPCG(13, 17))
	for i, s := range sizes {
		p.sizes[s.ID] = int32(i)
		p.at[step{op: opSize, l: int32(i), r: -1}] = int32(i)
		p.ops, p.l, p.r = append(p.ops, opSize), append(p.l, int32(i)), append(p.r, -1)
		p.values = append(p.values, invented(kindOf(s), rnd))
	}
	return p
}

// known makes sure that a formula with these numbers is not planted.
func (p *planter) known(n formula.Node) {
	if i, ok := p.put(n); ok {
		p.first[p.values[i].signed()] = -1
	}
}

// plant puts a tree in as a root, unless one with the same numbers is there:
// root is its place among the roots. ok is false where the tree has no place, or
// is the right formula.
func (p *planter) plant(n formula.Node) (root int, isNew, ok bool) {
	i, ok := p.put(n)
	if !ok || constant(p.values[i]) {
		return 0, false, false
	}
	h := p.values[i].signed()
	if root, known := p.first[h]; known {
		return root, false, root >= 0
	}
	p.first[h] = len(p.roots)
	p.roots = append(p.roots, i)
	return len(p.roots) - 1, true, true
}

func (p *planter) put(n formula.Node) (int32, bool) {
	switch n := n.(type) {
	case formula.Num:
		return p.number(n.Value), true
	case formula.Name:
		if n.ID == "pi" {
			return p.number(math.Pi), true
		}
		i, ok := p.sizes[n.ID]
		return i, ok
	case formula.Neg:
		return p.put1(opNeg, n.X)
	case formula.Binary:
		if two, ok := n.R.(formula.Num); ok && n.Op == '^' && two.Value == 2 {
			return p.put1(opSquare, n.L)
		}
		return p.put2(opOf(n.Op), n.L, n.R)
	case formula.Call:
		o, ok := functions[n.Func]
		switch {
		case !ok:
			return 0, false
		case o.binary():
			return p.put2(o, n.Args[0], n.Args[1])
		}
		return p.put1(o, n.Args[0])
	}
	return 0, false
}

func (p *planter) number(v float64) int32 {
	s := step{op: opNumber, l: -1, r: -1, value: v}
	if i, ok := p.at[s]; ok {
		return i
	}
	i := p.append(s, probe{v, v, v})
	p.l[i] = int32(len(p.numbers))
	p.numbers = append(p.numbers, v)
	return i
}

func (p *planter) put1(o op, x formula.Node) (int32, bool) {
	l, ok := p.put(x)
	if !ok {
		return 0, false
	}
	s := step{op: o, l: l, r: -1}
	if i, ok := p.at[s]; ok {
		return i, true
	}
	var v probe
	for k, x := range p.values[l] {
		v[k] = total1(o, x)
	}
	return p.append(s, v), true
}

func (p *planter) put2(o op, x, y formula.Node) (int32, bool) {
	l, okL := p.put(x)
	r, okR := p.put(y)
	if !okL || !okR {
		return 0, false
	}
	s := step{op: o, l: l, r: r}
	if i, ok := p.at[s]; ok {
		return i, true
	}
	var v probe
	for k := range v {
		v[k] = o.two(p.values[l][k], p.values[r][k])
	}
	return p.append(s, v), true
}

func (p *planter) append(s step, v probe) int32 {
	i := int32(len(p.ops))
	p.at[s] = i
	p.ops, p.l, p.r, p.values = append(p.ops, s.op), append(p.l, s.l), append(p.r, s.r), append(p.values, v)
	return i
}

var functions = func() map[string]op {
	out := map[string]op{}
	for o, name := range calls {
		out[name] = o
	}
	return out
}()

func opOf(sign byte) op {
	switch sign {
	case '+':
		return opAdd
	case '-':
		return opSub
	case '*':
		return opMul
	case '/':
		return opDiv
	}
	return opPow
}
