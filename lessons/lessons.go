package lessons

import (
	"fmt"
	"io/fs"

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
}

// Skill is one thing a module trains.
type Skill struct{ ID, Name string }

// Section is a second-level heading of a module.
type Section struct{ ID, Title string }

// Library is a set of modules that refer to each other.
type Library struct {
	Modules []*Module // teaching order
}

// Module finds a module by id.
func (l *Library) Module(id string) (*Module, bool) { panic("unwritten") }

// Exercise finds an exercise by id.
func (l *Library) Exercise(id string) (*grading.Exercise, bool) { panic("unwritten") }

// Error is one fault of a module.
type Error struct {
	File string
	Line int
	Msg  string
}

func (e *Error) Error() string { return fmt.Sprintf("%s:%d: %s", e.File, e.Line, e.Msg) }

// Load reads every module below a folder: one folder a module, one Markdown
// file in it. The error joins all faults, each an *Error.
func Load(fsys fs.FS) (*Library, error) { panic("unwritten") }

// Shipped loads the modules that come with the program.
func Shipped() (*Library, error) { panic("unwritten") }
