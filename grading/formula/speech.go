package formula

import "strings"

// Speech writes the formula as a line to be read aloud, with the names in
// words: "face V length = V length ÷ cos(head angle)". left, when not "", is a
// name put before an equals sign. name gives a name's words, "" for none: the
// name itself is then written with its underscores as spaces. name may be nil.
func (f Formula) Speech(left string, name func(id string) string) string {
	if f.root == nil {
		return ""
	}
	words := func(id string) string {
		if name != nil {
			if s := name(id); s != "" {
				return s
			}
		}
		return strings.ReplaceAll(id, "_", " ")
	}
	s := spoken
	s.name = words
	var b strings.Builder
	if left != "" {
		b.WriteString(words(left) + " = ")
	}
	s.print(&b, f.root, 0)
	return b.String()
}

var spoken = style{
	op:     map[byte]string{'+': " + ", '-': " − ", '*': " × ", '/': " ÷ ", '^': " to the power "},
	minus:  "−",
	square: " squared",
	root:   "square root of ",
}
