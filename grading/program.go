package grading

import (
	"fmt"
	"math"

	"arrisbook/grading/formula"
)

// A program is a formula made ready for being worked out thousands of times:
// postfix instructions over numbered slots. Blanks are drawn and refused by
// the hundred, and a sheet with thirteen wrong numbers is compared with more
// than a thousand slips, so a tree walk with map look-ups would be felt.
//
// Inside a program a missing value is NaN and spreads by itself; every reader
// of a program's result asks [finite] first, so that none leaves the package.
type program struct {
	code  []instruction
	depth int // of the stack
}

type instruction struct {
	op   opcode
	slot int
	val  float64
}

type opcode uint8

const (
	opNum opcode = iota
	opSlot
	opNeg
	opAdd
	opSub
	opMul
	opDiv
	opPow
	opSin
	opCos
	opTan
	opAsin
	opAcos
	opAtan
	opSqrt
	opHypot
	opRound
)

var binaryOps = map[byte]opcode{'+': opAdd, '-': opSub, '*': opMul, '/': opDiv, '^': opPow}

// callOps holds one function more than the formula language: round, which
// only the slip of rounding on the way uses.
var callOps = map[string]opcode{
	"sin": opSin, "cos": opCos, "tan": opTan, "asin": opAsin, "acos": opAcos, "atan": opAtan,
	"sqrt": opSqrt, "hypot": opHypot, "round": opRound,
}

// compile makes a program of a tree. slot says where a name's value stands.
func compile(n formula.Node, slot func(id string) (int, bool)) (program, error) {
	c := compiler{slot: slot}
	if err := c.add(n); err != nil {
		return program{}, err
	}
	return program{code: c.code, depth: c.most}, nil
}

type compiler struct {
	slot      func(string) (int, bool)
	code      []instruction
	now, most int
}

func (c *compiler) emit(in instruction, grows int) {
	c.code = append(c.code, in)
	c.now += grows
	c.most = max(c.most, c.now)
}

func (c *compiler) add(n formula.Node) error {
	switch n := n.(type) {
	case formula.Num:
		c.emit(instruction{op: opNum, val: n.Value}, 1)
	case formula.Name:
		if n.ID == "pi" {
			c.emit(instruction{op: opNum, val: math.Pi}, 1)
			return nil
		}
		s, ok := c.slot(n.ID)
		if !ok {
			return fmt.Errorf("%s has no value here", n.ID)
		}
		c.emit(instruction{op: opSlot, slot: s}, 1)
	case formula.Neg:
		if err := c.add(n.X); err != nil {
			return err
		}
		c.emit(instruction{op: opNeg}, 0)
	case formula.Binary:
		return c.addBinary(n)
	case formula.Call:
		return c.addCall(n)
	default:
		return fmt.Errorf("a node of kind %T cannot be worked out", n)
	}
	return nil
}

func (c *compiler) addBinary(n formula.Binary) error {
	op, ok := binaryOps[n.Op]
	if !ok {
		return fmt.Errorf("%q is not an operator", n.Op)
	}
	if err := c.add(n.L); err != nil {
		return err
	}
	if err := c.add(n.R); err != nil {
		return err
	}
	c.emit(instruction{op: op}, -1)
	return nil
}

func (c *compiler) addCall(n formula.Call) error {
	op, ok := callOps[n.Func]
	if !ok {
		return fmt.Errorf("%s is not a function", n.Func)
	}
	want := 1
	if op == opHypot {
		want = 2
	}
	if len(n.Args) != want {
		return fmt.Errorf("%s takes %d, not %d", n.Func, want, len(n.Args))
	}
	for _, a := range n.Args {
		if err := c.add(a); err != nil {
			return err
		}
	}
	c.emit(instruction{op: op}, 1-want)
	return nil
}

// run works the program out over the slots. The result is not finite where
// there is none.
func (p program) run(slots []float64) float64 {
	var small [16]float64
	if p.depth > len(small) {
		return p.runOn(make([]float64, p.depth), slots)
	}
	return p.runOn(small[:], slots)
}

// runOn is run on a stack of the caller's, for those who run hundreds. The four
// operations of arithmetic are done in place; each result is stored before it
// is used again, so no compiler fuses two of them into one rounding.
func (p *program) runOn(st, slots []float64) float64 {
	top := -1
	for i := range p.code {
		in := &p.code[i]
		switch in.op {
		case opNum:
			top++
			st[top] = in.val
		case opSlot:
			top++
			st[top] = slots[in.slot]
		case opAdd:
			top--
			st[top] += st[top+1]
		case opSub:
			top--
			st[top] -= st[top+1]
		case opMul:
			top--
			st[top] = float64(st[top] * st[top+1])
		case opDiv:
			top--
			st[top] /= st[top+1]
		case opPow:
			top--
			st[top] = power(st[top], st[top+1])
		case opHypot:
			top--
			st[top] = math.Hypot(st[top], st[top+1])
		default:
			st[top] = one(in.op, st[top])
		}
	}
	return st[0]
}

// power keeps squares, which nearly all powers here are, exact to the last bit.
func power(a, b float64) float64 {
	if b == 2 {
		return float64(a * a)
	}
	return math.Pow(a, b)
}

const degree = math.Pi / 180

func one(op opcode, a float64) float64 {
	switch op {
	case opNeg:
		return -a
	case opSin:
		return math.Sin(float64(a * degree))
	case opCos:
		return math.Cos(float64(a * degree))
	case opTan:
		return tangent(a)
	case opAsin:
		return math.Asin(a) / degree
	case opAcos:
		return math.Acos(a) / degree
	case opAtan:
		return math.Atan(a) / degree
	case opSqrt:
		return math.Sqrt(a)
	default:
		return math.Round(a)
	}
}

// tangent has no value at a right angle, where rounding would still give one.
func tangent(a float64) float64 {
	s, c := math.Sincos(float64(a * degree))
	if math.Abs(c) < 1e-15 {
		return math.NaN()
	}
	return s / c
}

// finite says whether a program's result is a number at all.
func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
