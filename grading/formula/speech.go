package formula

import "strings"

// Speech writes the formula as it is read in a sentence: names in words, the
// signs of school arithmetic, and inverse functions by what they ask for: "half
// angle = the angle whose tangent is ((V width ÷ 2) ÷ V length)". It is the
// text beside a formula for everybody whose page cannot show it, or who would
// rather read or listen. left, when not "", is a name put before an equals
// sign. name gives a name's words, "" for none: the name itself is then written
// with its underscores as spaces. name may be nil.
func (f Formula) Speech(left string, name func(id string) string) string {
	if f.root == nil {
		return ""
	}
	s := speaker{words: func(id string) string {
		if id == pi {
			return "π"
		}
		if name != nil {
			if s := name(id); s != "" {
				return s
			}
		}
		return strings.ReplaceAll(id, "_", " ")
	}}
	text, _ := s.say(f.root)
	if left != "" {
		return s.words(left) + " = " + text
	}
	return text
}

type speaker struct{ words func(id string) string }

// say gives the words of a part and how tightly they hold together.
func (s speaker) say(n Node) (text string, bind int) {
	switch n := n.(type) {
	case Num:
		return numberText(n), bindWhole
	case Name:
		return s.words(n.ID), bindWhole
	case Neg:
		return "−" + s.held(n.X, bindSign), bindSign
	case Binary:
		return s.binary(n)
	case Call:
		return s.call(n), bindWhole
	}
	return "", bindWhole
}

// held puts brackets round what holds less tightly than it must.
func (s speaker) held(n Node, atLeast int) string {
	text, bind := s.say(n)
	if bind < atLeast {
		return "(" + text + ")"
	}
	return text
}

func (s speaker) binary(b Binary) (string, int) {
	switch b.Op {
	case '+':
		return s.held(b.L, bindSum) + " + " + s.held(b.R, bindProduct), bindSum
	case '-':
		return s.held(b.L, bindSum) + " − " + s.held(b.R, bindProduct), bindSum
	case '*':
		return s.held(b.L, bindProduct) + " × " + s.held(b.R, bindSign), bindProduct
	case '/':
		// Two divisions in a row are read in either order by somebody.
		return s.held(b.L, bindSign) + " ÷ " + s.held(b.R, bindSign), bindProduct
	}
	base := s.held(b.L, bindWhole)
	if isNumber(b.R, 2) {
		return base + " squared", bindPower
	}
	return base + " to the power " + s.held(b.R, bindWhole), bindPower
}

// askedBy says what an inverse function asks for.
var askedBy = map[string]string{"asin": "sine", "acos": "cosine", "atan": "tangent"}

func (s speaker) call(c Call) string {
	if c.Func == "hypot" && len(c.Args) == 2 {
		square := func(n Node) string { return s.held(n, bindWhole) + " squared" }
		return "the square root of (" + square(c.Args[0]) + " + " + square(c.Args[1]) + ")"
	}
	args := make([]string, len(c.Args))
	for i, a := range c.Args {
		args[i], _ = s.say(a)
	}
	inside := "(" + strings.Join(args, ", ") + ")"
	switch f, inverse := askedBy[c.Func]; {
	case inverse:
		return "the angle whose " + f + " is " + inside
	case c.Func == "sqrt":
		return "the square root of " + inside
	}
	return c.Func + inside
}
