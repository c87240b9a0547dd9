package formula

import (
	"go/ast"
	goparser "go/parser"
	gotoken "go/token"
	"math"
	"strconv"
	"testing"

	"pgregory.net/rapid"
)

// trees draws random trees of at most so many levels.
func trees(depth int) *rapid.Generator[Node] {
	leaf := rapid.Custom(func(t *rapid.T) Node {
		if rapid.Bool().Draw(t, "number") {
			return Of(float64(rapid.IntRange(0, 400).Draw(t, "tenths")) / 8)
		}
		return Name{ID: rapid.SampledFrom([]string{"a", "b", "v_width", "x2", "pi"}).Draw(t, "name")}
	})
	if depth == 0 {
		return leaf
	}
	part := trees(depth - 1)
	return rapid.Custom(func(t *rapid.T) Node {
		switch rapid.IntRange(0, 4).Draw(t, "kind") {
		case 0:
			return leaf.Draw(t, "leaf")
		case 1:
			return Neg{X: part.Draw(t, "x")}
		case 2:
			if rapid.Bool().Draw(t, "two") {
				return Apply("hypot", part.Draw(t, "x"), part.Draw(t, "y"))
			}
			fn := rapid.SampledFrom([]string{"sin", "cos", "tan", "asin", "acos", "atan", "sqrt"}).Draw(t, "function")
			return Apply(fn, part.Draw(t, "x"))
		}
		op := rapid.SampledFrom([]byte("+-*/^")).Draw(t, "op")
		return Op(part.Draw(t, "l"), op, part.Draw(t, "r"))
	})
}

// What is printed is read as the same tree.
func TestPrintParse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := FromNode(trees(4).Draw(t, "tree"))
		text := f.String()
		if len(text) > maxBytes || f.Size() > maxNodes {
			t.Skip("beyond the limits")
		}
		g, err := Parse(text)
		if err != nil || !Identical(f.Root(), g.Root()) {
			t.Fatalf("Parse(%q) = %v, %v, want the tree it was printed from", text, g.Plain(), err)
		}
		if g.Plain() != text {
			t.Fatalf("Parse(%q).Plain() = %q", text, g.Plain())
		}
	})
}

// Without powers, Go's own parser reads the printed text as the same tree: an
// independent reading of precedence and brackets.
func TestPrintAgainstGo(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := trees(4).Filter(func(n Node) bool { return !hasPower(n) }).Draw(t, "tree")
		text := FromNode(n).Plain()
		e, err := goparser.ParseExpr(text)
		if err != nil {
			t.Fatalf("Go cannot read %q: %v", text, err)
		}
		if got := fromGo(e); !Identical(got, n) {
			t.Fatalf("Go reads %q as %q", text, FromNode(got).Plain())
		}
	})
}

func hasPower(n Node) bool {
	power := false
	walk(n, func(n Node) {
		if b, ok := n.(Binary); ok && b.Op == '^' {
			power = true
		}
	})
	return power
}

func fromGo(e ast.Expr) Node {
	switch e := e.(type) {
	case *ast.BasicLit:
		v, _ := strconv.ParseFloat(e.Value, 64)
		return Num{Value: v}
	case *ast.Ident:
		return Name{ID: e.Name}
	case *ast.ParenExpr:
		return fromGo(e.X)
	case *ast.UnaryExpr:
		return Neg{X: fromGo(e.X)}
	case *ast.BinaryExpr:
		op := map[gotoken.Token]byte{gotoken.ADD: '+', gotoken.SUB: '-', gotoken.MUL: '*', gotoken.QUO: '/'}[e.Op]
		return Op(fromGo(e.X), op, fromGo(e.Y))
	case *ast.CallExpr:
		c := Call{Func: e.Fun.(*ast.Ident).Name}
		for _, a := range e.Args {
			c.Args = append(c.Args, fromGo(a))
		}
		return c
	}
	return nil
}

func testValues(id string) (float64, bool) {
	return map[string]float64{"a": 3.25, "b": -0.5, "v_width": 36, "x2": 0.125}[id], true
}

// sameValue allows for rounding, and for a value on one side only where the
// other is beyond what rounding leaves meaning to.
func sameValue(x, y float64) bool {
	return math.Abs(x-y) <= 1e-9*math.Max(1, math.Max(math.Abs(x), math.Abs(y)))
}

// A simplified formula has the same value.
func TestSimplifyKeepsValue(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := FromNode(trees(4).Draw(t, "tree"))
		v, err := f.Eval(testValues)
		if err != nil {
			t.Skip("no value")
		}
		s := f.Simplify()
		w, err := s.Eval(testValues)
		if err != nil || w != v {
			t.Fatalf("%s = %v simplifies to %s = %v, %v", f, v, s, w, err)
		}
		if s.Size() > f.Size() {
			t.Fatalf("%s simplifies to the larger %s", f, s)
		}
	})
}

// Turning sums and products round leaves a formula equal and its value the
// same.
func TestEqualWhenTurnedRound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := FromNode(trees(4).Draw(t, "tree"))
		g := FromNode(turned(f.Root(), func() bool { return rapid.Bool().Draw(t, "turn") }))
		if !f.Equal(g) {
			t.Fatalf("%s and %s are not equal: keys %s, %s", f, g, f.Key(), g.Key())
		}
	})
}

func turned(n Node, turn func() bool) Node {
	for i, part := range children(n) {
		n = withChild(n, i, turned(part, turn))
	}
	if b, ok := n.(Binary); ok && (b.Op == '+' || b.Op == '*') && turn() {
		return Op(b.R, b.Op, b.L)
	}
	return n
}

// Formulas that are Equal have the same value wherever both have one.
func TestEqualMeansSameValue(t *testing.T) {
	byKey := map[string]Formula{}
	equal := 0
	for _, f := range smallFormulas() {
		g, seen := byKey[f.Key()]
		if !seen {
			byKey[f.Key()] = f
			continue
		}
		v, errV := f.Eval(testValues)
		w, errW := g.Eval(testValues)
		if errV != nil || errW != nil {
			continue
		}
		equal++
		if !sameValue(v, w) {
			t.Errorf("%s = %v and %s = %v are called equal", f, v, g, w)
		}
	}
	if equal < 500 {
		t.Errorf("only %d pairs were compared", equal)
	}
}

// smallFormulas are all formulas of two operators over three leaves, and
// their negatives.
func smallFormulas() []Formula {
	leaves := []Node{Name{ID: "a"}, Name{ID: "b"}, Of(2)}
	var two, all []Node
	for _, l := range leaves {
		for _, r := range leaves {
			for _, op := range []byte("+-*/^") {
				two = append(two, Op(l, op, r), Neg{X: Op(l, op, r)}, Op(l, op, Neg{X: r}))
			}
		}
	}
	for _, x := range two {
		for _, y := range leaves {
			for _, op := range []byte("+-*/^") {
				all = append(all, Op(x, op, y), Op(y, op, x), Apply("hypot", x, y), Apply("hypot", y, x))
			}
		}
	}
	formulas := make([]Formula, len(all))
	for i, n := range all {
		formulas[i] = FromNode(n)
	}
	return formulas
}
