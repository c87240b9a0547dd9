package lessons

import (
	"unicode"
	"unicode/utf8"

	"arrisbook/geom/joint"
	"arrisbook/grading"
	"arrisbook/grading/formula"
)

// meaning is what a name stands for in the formulas of a page.
type meaning struct {
	name   string // "V length"
	symbol string // "L"
	unit   joint.Unit
}

// scope holds the names a page's formulas may use: the ids of every family that
// a block of the page names, and the givens and steps of its own exercises.
type scope map[string]meaning

// learn adds a name; the first meaning stays.
func (s scope) learn(id, name, symbol string, u joint.Unit) {
	if _, known := s[id]; !known {
		s[id] = meaning{name, symbol, u}
	}
}

func (s scope) family(f *joint.Family) {
	for _, p := range f.Parameters {
		s.learn(p.ID, p.Name, p.Symbol, p.Unit)
	}
	for _, q := range f.Quantities {
		s.learn(q.ID, q.Name, q.Symbol, q.Unit)
	}
}

func (s scope) exercise(ex *grading.Exercise) {
	if ex.Family != nil {
		s.family(ex.Family)
	}
	for _, g := range ex.Givens {
		s.learn(g.ID, g.Name, g.Symbol, g.Unit)
	}
	for _, st := range ex.Steps {
		s.learn(st.ID, st.Name, st.Symbol, st.Unit)
	}
}

// dim gives a name's dimension, as the formula checker asks for it.
func (s scope) dim(id string) (formula.Dim, bool) {
	m, ok := s[id]
	return grading.DimOf(m.unit), ok
}

// symbol gives a name's symbol, or the name itself.
func (s scope) symbol(id string) string {
	if m, ok := s[id]; ok && m.symbol != "" {
		return m.symbol
	}
	return id
}

// symbolHTML writes a name's symbol as it stands in the formulas.
func (s scope) symbolHTML(id string) string {
	return formula.FromNode(formula.Name{ID: id}).MathML("", s.symbol, false)
}

// words gives a name as it is read within a sentence.
func (s scope) words(id string) string {
	if m, ok := s[id]; ok && m.name != "" {
		return inSentence(m.name)
	}
	return id
}

// inSentence takes the capital off a name's first word, except where that word
// is a capital by itself ("V length").
func inSentence(name string) string {
	first, size := utf8.DecodeRuneInString(name)
	second, _ := utf8.DecodeRuneInString(name[size:])
	if !unicode.IsLower(second) {
		return name
	}
	return string(unicode.ToLower(first)) + name[size:]
}
