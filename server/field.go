package server

import "strings"

// Field is one line of a form: what is asked, what was typed, and what is
// wrong with it. The template "field" shows it.
type Field struct {
	Name, Label, Note string
	Value, Fault      string
	Kind              string // type of the input; empty: text
	Class             string // width: text (default), num, code
	Auto              string // autocomplete token
	Mode              string // inputmode
	List              string // id of a list of proposals
	Upper             bool   // the keyboard starts with capitals
	Focus             bool
}

// InputType is the type of the input.
func (f Field) InputType() string {
	if f.Kind == "" {
		return "text"
	}
	return f.Kind
}

// Width is the style class.
func (f Field) Width() string {
	if f.Class == "" {
		return "text"
	}
	return f.Class
}

// faulty says whether one of the fields has a fault, and puts the cursor
// into the first that has.
func faulty(fields ...*Field) bool {
	for _, f := range fields {
		f.Focus = false
	}
	for _, f := range fields {
		if f.Fault != "" {
			f.Focus = true
			return true
		}
	}
	return false
}

// Option is one choice of a list.
type Option struct {
	Value, Text string
	Chosen      bool
}

// options marks the chosen one; an unknown value leaves none marked.
func options(chosen string, valuesAndTexts ...string) []Option {
	var all []Option
	for i := 0; i < len(valuesAndTexts); i += 2 {
		v := valuesAndTexts[i]
		all = append(all, Option{v, valuesAndTexts[i+1], v == chosen})
	}
	return all
}

// pick gives the value if it is one of the options.
func pick(value string, among []Option) (string, bool) {
	for _, o := range among {
		if o.Value == value {
			return value, true
		}
	}
	return "", false
}

// localPath says whether a text leads to a page of this server, and to no
// other: no host, no scheme, no backslash that a browser takes for a stroke.
func localPath(text string) bool {
	return strings.HasPrefix(text, "/") && !strings.HasPrefix(text, "//") && !strings.ContainsAny(text, "\\\r\n\t") && len(text) < 300
}
