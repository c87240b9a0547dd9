package lessons

import (
	"bytes"
	"regexp"
	"strconv"
)

// Draft is the text of one module that stands in no folder: in a form, in a
// table of a database, in a file that somebody sent.
type Draft struct {
	File string // the name that faults give it
	Text []byte
	// Picture gives the address of a picture of the module by its name; ok is
	// false where the module has none of that name. Nil: it has no pictures.
	Picture func(name string) (address string, ok bool)
	// Lessons is what links to other modules begin with, such as "/lessons/";
	// "": the page is shown beside them.
	Lessons string
}

// Read makes a module of a draft and gives every fault and warning, sorted by
// line. The module is nil where the text is too long to be read; else it holds
// what could be made of it, harmless to show, also where there are faults.
func (d Draft) Read() (*Module, []*Error) { return d.read(nil, 0) }

// Check is Read that also holds the draft against the modules it will stand
// beside, and tries its exercises on a few blanks. A module of beside that has
// the draft's own id counts as taken.
func (d Draft) Check(beside *Library) (*Module, []*Error) { return d.read(beside, trySeeds) }

func (d Draft) read(beside *Library, seeds uint64) (*Module, []*Error) {
	var f faults
	p := newPage(d.File, &f)
	p.lessons = d.Lessons
	p.picture = func(name string) (string, bool) {
		if d.Picture == nil {
			return "", false
		}
		return d.Picture(name)
	}
	if p.readText(d.Text) == nil {
		return nil, f.sorted()
	}
	if beside != nil {
		p.tryExercises(seeds)
		p.warnOfHardText()
		checkTogether(append(standIns(beside), p), nil)
	}
	return p.module, f.sorted()
}

// standIns are pages that stand for modules which are loaded already: they
// have ids to be met with, and their own faults go nowhere.
func standIns(lib *Library) []*page {
	var pages []*page
	if lib == nil {
		return nil
	}
	for _, m := range lib.Modules {
		p := newPage("another module", &faults{})
		p.module = m
		for _, id := range m.anchors {
			p.ids[id] = 1
		}
		for _, ex := range m.Exercises {
			p.exercises = append(p.exercises, &exerciseBlock{file: "the module " + m.ID, line: 1, exercise: ex})
		}
		p.skillLines = make([]int, len(m.Skills))
		for _, id := range m.Needs {
			p.needs = append(p.needs, needed{id, 1})
		}
		pages = append(pages, p)
	}
	return pages
}

// versionLine is the line of the front matter that says which version a text
// is.
var versionLine = regexp.MustCompile(`(?m)^version:[ \t]*[^ \t\r\n#]+`)

// WithVersion writes another version into the front matter of a module's text;
// ok is false where the front matter has no such line.
func WithVersion(text []byte, version int) (changed []byte, ok bool) {
	front, _, ok := splitFront(text)
	if !ok {
		return text, false
	}
	at := versionLine.FindIndex(front.text)
	if at == nil {
		return text, false
	}
	begin := bytes.Index(text, front.text)
	changed = append(changed, text[:begin+at[0]]...)
	changed = append(changed, "version: "+strconv.Itoa(version)...)
	return append(changed, text[begin+at[1]:]...), true
}
