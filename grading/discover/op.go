package discover

import (
	"math"

	"arrisbook/grading/formula"
)

// op is one step of working a formula out. It counts as one node, however many
// the formula language writes for it: half of something is one thought.
type op uint8

const (
	opSize       op = iota // a given
	opNumber               // a written number
	opNeg                  // −x
	opDouble               // 2x
	opHalf                 // x/2
	opComplement           // 90 − x
	opSupplement           // 180 − x
	opSin
	opCos
	opTan
	opAsin
	opAcos
	opAtan
	opInverse  // 1/x
	opMore     // n + 1
	opLess     // n − 1
	opHalfTurn // 180/n
	opTurn     // 360/n
	opRoot     // √x
	opSquare   // x²
	opFromInch // 25.4 x
	opToInch   // x/25.4
	opAdd
	opSub   // x − y, with its sign
	opApart // how far x and y are apart: the bank does not know which is larger
	opMul
	opDiv
	opHypot
	opPow
)

const (
	degree = math.Pi / 180
	inch   = 25.4 // millimetres, by definition
)

// one works out a step on one number. What has no value is NaN or infinite
// inside this package; nothing is compared with it successfully.
func (o op) one(x float64) float64 {
	switch o {
	case opNeg:
		return -x
	case opDouble:
		return 2 * x
	case opHalf:
		return x / 2
	case opComplement:
		return 90 - x
	case opSupplement:
		return 180 - x
	case opSin:
		return math.Sin(x * degree)
	case opCos:
		return math.Cos(x * degree)
	case opTan:
		return math.Tan(x * degree)
	case opAsin:
		return math.Asin(x) / degree
	case opAcos:
		return math.Acos(x) / degree
	case opAtan:
		return math.Atan(x) / degree
	}
	return o.plain(x)
}

// plain is the rest of one, without angles.
func (o op) plain(x float64) float64 {
	switch o {
	case opInverse:
		return 1 / x
	case opMore:
		return x + 1
	case opLess:
		return x - 1
	case opHalfTurn:
		return 180 / x
	case opTurn:
		return 360 / x
	case opRoot:
		return math.Sqrt(x)
	case opSquare:
		return x * x
	case opFromInch:
		return x * inch
	case opToInch:
		return x / inch
	}
	return math.NaN()
}

// two works out a step on two numbers.
func (o op) two(x, y float64) float64 {
	switch o {
	case opAdd:
		return x + y
	case opSub:
		return x - y
	case opApart:
		return math.Abs(x - y)
	case opMul:
		return x * y
	case opDiv:
		return x / y
	case opHypot:
		return math.Sqrt(float64(x*x) + float64(y*y))
	case opPow:
		return math.Pow(x, y)
	}
	return math.NaN()
}

// binary says that a step takes two numbers.
func (o op) binary() bool { return o >= opAdd }

// tree writes a step in the formula language; r is nil for a step on one
// number. opApart is written x − y: see [forest.tree].
func (o op) tree(l, r formula.Node) formula.Node {
	switch o {
	case opNeg:
		return formula.Neg{X: l}
	case opDouble:
		return formula.Op(formula.Of(2), '*', l)
	case opHalf:
		return formula.Op(l, '/', formula.Of(2))
	case opComplement:
		return formula.Op(formula.Of(90), '-', l)
	case opSupplement:
		return formula.Op(formula.Of(180), '-', l)
	case opInverse:
		return formula.Op(formula.Of(1), '/', l)
	case opMore:
		return formula.Op(l, '+', formula.Of(1))
	case opLess:
		return formula.Op(l, '-', formula.Of(1))
	case opHalfTurn:
		return formula.Op(formula.Of(180), '/', l)
	case opTurn:
		return formula.Op(formula.Of(360), '/', l)
	case opSquare:
		return formula.Op(l, '^', formula.Of(2))
	case opFromInch:
		return formula.Op(formula.Of(inch), '*', l)
	case opToInch:
		return formula.Op(l, '/', formula.Of(inch))
	}
	if name, ok := calls[o]; ok {
		if o == opHypot {
			return formula.Apply(name, l, r)
		}
		return formula.Apply(name, l)
	}
	return formula.Op(l, signs[o], r)
}

var calls = map[op]string{
	opSin: "sin", opCos: "cos", opTan: "tan", opAsin: "asin", opAcos: "acos", opAtan: "atan",
	opRoot: "sqrt", opHypot: "hypot",
}

var signs = map[op]byte{opAdd: '+', opSub: '-', opApart: '-', opMul: '*', opDiv: '/', opPow: '^'}
