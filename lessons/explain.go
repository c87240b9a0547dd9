package lessons

import (
	"slices"

	"github.com/yuin/goldmark/ast"
	"go.yaml.in/yaml/v3"

	"arrisbook/grading"
)

// Place is a section of a lesson to send somebody to.
type Place struct {
	Module, Section string // ids
	Title           string // of the section, or of the module for a word
}

// Href is the place's address on this site.
func (p Place) Href() string { return "/lessons/" + p.Module + "#" + p.Section }

// Explain says where to read about a slip on a step, best first: the section
// that the exercise names for it, or else the one whose formula teaches the
// step; then the section, of the same module or the first other, that explains
// this kind of slip. It gives nothing where the library does not have the
// exercise's module and nobody explains the kind.
func (l *Library) Explain(ex *grading.Exercise, step string, s grading.Slip) []Place {
	var out []Place
	add := func(m *Module, section string) {
		title, ok := m.headings[section]
		at := Place{m.ID, section, title}
		if ok && !slices.Contains(out, at) {
			out = append(out, at)
		}
	}
	own, _ := l.Module(ex.Module)
	if own != nil {
		section := ex.ExplainedIn(step, s)
		if section == "" {
			section = own.taught[step]
		}
		add(own, section)
	}
	if m := l.explaining(own, s.ID); m != nil {
		add(m, m.explains[s.ID])
	}
	return out
}

// explaining finds the module that explains a kind of slip, the own one first.
func (l *Library) explaining(own *Module, pattern string) *Module {
	if own != nil && own.explains[pattern] != "" {
		return own
	}
	for _, m := range l.Modules {
		if m.explains[pattern] != "" {
			return m
		}
	}
	return nil
}

// namedSection is a section that a block or the front matter names.
type namedSection struct {
	id   string
	line int
}

// readExplains reads the front matter's “slip: section”.
func (p *page) readExplains(f *form, n *yaml.Node) {
	if n == nil {
		return
	}
	for _, e := range f.entries(n, "explains") {
		if !slices.Contains(grading.PatternIDs(), e.key) {
			f.fault(e.name, "%s is not a slip this program knows%s", e.key, suggestion(e.key, grading.PatternIDs()))
			continue
		}
		if section := f.text(e.value, "the section that explains "+e.key); section != "" {
			p.module.explains[e.key] = section
			p.sections = append(p.sections, namedSection{section, f.at(e.value)})
		}
	}
}

// explain reads “slip: section” of an exercise or a step.
func (r *exerciseReader) explain(n *yaml.Node, path string) map[string]string {
	if n == nil {
		return nil
	}
	r.at[path] = r.form.at(n)
	out := map[string]string{}
	for _, e := range r.entries(n, "explain") {
		section := r.text(e.value, "the section that explains "+e.key)
		out[e.key] = section
		if section != "" {
			r.p.sections = append(r.p.sections, namedSection{section, r.form.at(e.value)})
		}
	}
	return out
}

// checkSections makes sure that every section named exists.
func (p *page) checkSections() {
	for _, s := range p.sections {
		if _, ok := p.module.headings[s.id]; !ok {
			p.fault(s.line, "there is no section #%s on this page%s", s.id, suggestion(s.id, sortedKeys(p.module.headings)))
		}
	}
}

// teaches notes the heading below which a step's formula first stands alone.
func (p *page) teaches(n *formulaNode, under *ast.Heading) {
	if n.left == "" || under == nil || p.taughtUnder[n.left] != nil {
		return
	}
	p.taughtUnder[n.left] = under
}
