package lessons

import (
	"html/template"
	"strings"

	"arrisbook/grading"
)

// Module is one loaded lesson module.
type Module struct {
	ID, Title, Summary string
	Version            int
	Needs              []string // module ids
	Skills             []Skill
	Sections           []Section // for the list of contents
	HTML               string    // the rendered body, safe to put in a page
	Exercises          []*grading.Exercise
	// Pictures are the picture files the page shows, named as they stand in
	// the module's folder; the body asks for them at "ID/NAME".
	Pictures []string

	cuts    []cut
	anchors []string // the ids that links from other modules may lead to

	headings map[string]string // id of every heading and its words
	taught   map[string]string // a step's id and the heading over its formula
	explains map[string]string // a slip's id and the heading that explains it
	terms    []definition
	pictures map[string][]byte // by name, where the module was read from a folder
}

// cut is a place in the HTML: just before the closing tag of an exercise.
type cut struct {
	at       int
	exercise *grading.Exercise
}

// Skill is one thing a module trains.
type Skill struct{ ID, Name string }

// Section is a second-level heading of a module.
type Section struct{ ID, Title string }

// Picture gives a picture file of a module that was read from a folder; ok is
// false where the page does not show one of that name.
func (m *Module) Picture(name string) (picture []byte, ok bool) {
	picture, ok = m.pictures[name]
	return picture, ok
}

// Body gives the body as it is.
func (m *Module) Body() template.HTML { return template.HTML(m.HTML) }

// Page gives the body with what practise returns put at the end of each
// exercise: the place for the page's own links and buttons.
func (m *Module) Page(practise func(*grading.Exercise) template.HTML) template.HTML {
	var b strings.Builder
	from := 0
	for _, c := range m.cuts {
		b.WriteString(m.HTML[from:c.at])
		b.WriteString(string(practise(c.exercise)))
		from = c.at
	}
	b.WriteString(m.HTML[from:])
	return template.HTML(b.String())
}

// Library is a set of modules that refer to each other.
type Library struct {
	Modules []*Module // teaching order
}

// Module finds a module by id.
func (l *Library) Module(id string) (*Module, bool) {
	for _, m := range l.Modules {
		if m.ID == id {
			return m, true
		}
	}
	return nil, false
}

// Exercise finds an exercise by id.
func (l *Library) Exercise(id string) (*grading.Exercise, bool) {
	for _, m := range l.Modules {
		for _, ex := range m.Exercises {
			if ex.ID == id {
				return ex, true
			}
		}
	}
	return nil, false
}
