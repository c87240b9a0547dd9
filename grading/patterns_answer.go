package grading

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"arrisbook/geom/joint"
	"arrisbook/grading/formula"
)

// The patterns on the answer. Each is written as a formula over the right
// number, so that it is worked out, compared and explained like any other.

// inch is the length of an inch in millimetres, by definition.
const inch = 25.4

func one1(n formula.Node, detail string) []variant { return []variant{{tree: n, detail: detail}} }

func (q subject) angle() bool  { return q.d.unit == joint.Deg }
func (q subject) length() bool { return q.d.unit == joint.MM }

func complement(q subject, v formula.Node) []variant {
	if !q.angle() {
		return nil
	}
	return one1(formula.Op(formula.Of(90), '-', v), "")
}

func supplement(q subject, v formula.Node) []variant {
	if !q.angle() {
		return nil
	}
	return one1(formula.Op(formula.Of(180), '-', v), "")
}

func double(_ subject, v formula.Node) []variant {
	return one1(formula.Op(formula.Of(2), '*', v), "")
}

func half(_ subject, v formula.Node) []variant {
	return one1(formula.Op(v, '/', formula.Of(2)), "")
}

func inchesAsMM(q subject, v formula.Node) []variant {
	if !q.length() {
		return nil
	}
	return one1(formula.Op(v, '/', formula.Of(inch)), "")
}

func mmAsInches(q subject, v formula.Node) []variant {
	if !q.length() {
		return nil
	}
	return one1(formula.Op(formula.Of(inch), '*', v), "")
}

func radians(q subject, v formula.Node) []variant {
	if !q.angle() {
		return nil
	}
	return one1(formula.Op(formula.Op(v, '*', formula.Name{ID: "pi"}), '/', formula.Of(180)), "")
}

// farEdge is the offset from the other edge: only offsets from the reference
// edge have one.
func farEdge(q subject, v formula.Node) []variant {
	if q.d.across == "" {
		return nil
	}
	return one1(formula.Op(formula.Name{ID: q.d.across}, '-', v), "")
}

func decimalShift(_ subject, v formula.Node) []variant {
	return []variant{
		{tree: formula.Op(v, '*', formula.Of(10)), detail: "times 10"},
		{tree: formula.Op(v, '/', formula.Of(10)), detail: "divided by 10"},
	}
}

// ruleFromOne is a rule held at its first numbered mark, because its end is
// worn or hard to see.
func ruleFromOne(q subject, v formula.Node) []variant {
	if !q.length() {
		return nil
	}
	return []variant{
		{tree: formula.Op(v, '+', formula.Of(10)), detail: "10 mm"},
		{tree: formula.Op(v, '+', formula.Of(inch)), detail: "1 in"},
	}
}

func otherQuantity(q subject, _ formula.Node) []variant {
	var out []variant
	for i := range q.m.defs {
		o := &q.m.defs[i]
		if o.id != q.d.id && o.unit == q.d.unit {
			out = append(out, variant{tree: formula.Name{ID: o.id}, detail: o.id, about: o.id})
		}
	}
	return out
}

// swap is the key with two neighbouring digits changed round.
type swap struct {
	value float64
	at    int // the first of them, counted from the left from 1
}

func (s swap) detail() string { return fmt.Sprintf("digits %d and %d", s.at, s.at+1) }

// swaps writes the key with so many decimals and changes each pair of
// neighbouring digits round. Pairs of equal digits change nothing. They are put
// behind those in room.
func swaps(key float64, decimals int, room []swap) []swap {
	const most = 15 // digits that a float64 holds exactly
	if !finite(key) || math.Abs(key) >= 1e9 || decimals > most {
		return room
	}
	var buffer [40]byte
	text := strconv.AppendFloat(buffer[:0], math.Abs(key), 'f', decimals, 64)
	whole, digits := 0.0, 0
	for _, c := range text {
		if c != '.' {
			whole, digits = 10*whole+float64(c-'0'), digits+1
		}
	}
	if digits > most {
		return room
	}
	sign, last, digit := math.Copysign(1, key), -1, 0 // the digit before, and which it was
	place := math.Pow10(digits - 1)                   // of the digit at hand
	for _, c := range text {
		if c == '.' {
			continue
		}
		d := int(c - '0')
		if last >= 0 && last != d {
			// 10·last + d becomes 10·d + last: 9·(d - last) places more.
			v := (whole + float64(9*float64(d-last)*place)) / math.Pow10(decimals)
			room = append(room, swap{value: sign * v, at: digit})
		}
		last, digit, place = d, digit+1, place/10
	}
	return room
}

// writtenDecimals counts the decimals of an answer that was written as one
// plain decimal number, whatever unit follows it. ok is false for anything
// else: fractions, degrees with minutes, working.
func writtenDecimals(text string) (decimals int, ok bool) {
	s := strings.TrimSpace(strings.ReplaceAll(formula.Fold(text), ",", "."))
	end := 0
	for end < len(s) && (s[end] >= '0' && s[end] <= '9' || s[end] == '.') {
		end++
	}
	if end == 0 || strings.ContainsAny(s[end:], "0123456789+*/^(:") {
		return 0, false
	}
	if dot := strings.IndexByte(s[:end], '.'); dot >= 0 {
		return end - dot - 1, true
	}
	return 0, true
}
