package pack

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"slices"
	"strings"

	"arrisbook/lessons"
)

// Course is a class without its people: how it works, what was assigned when,
// and the modules for it that do not come with the program.
type Course struct {
	Settings Settings
	Plan     []Planned
	Modules  []Module
}

// Settings are those of a class, but for its name: that often names somebody.
type Settings struct {
	Zone       string  `json:"zone"`
	Units      string  `json:"units"`      // mm, inch
	Projection string  `json:"projection"` // first, third
	FitWord    string  `json:"fit_word"`   // tight, close, open
	LengthStep float64 `json:"length_step"`
	AngleStep  float64 `json:"angle_step"`
	Paper      string  `json:"paper"` // A4, Letter
}

// Planned is one assignment of the plan.
type Planned struct {
	Exercise string  `json:"exercise"`
	Edition  int     `json:"edition"` // of the exercise that was given out
	Title    string  `json:"title"`
	Begins   Moment  `json:"begins"`
	Due      *Moment `json:"due"`      // null: no due time
	Attempts int     `json:"attempts"` // 0: as many as wanted
	Release  string  `json:"release"`  // hand, cleared, due
}

// Moment is a time of the course: so many days after the day on which its
// first assignment begins, at a time of that day.
type Moment struct {
	Day int    `json:"day"`
	At  string `json:"at"` // "18:30", clocks of the class
}

type courseFile struct {
	Format        string    `json:"format"`
	FormatVersion int       `json:"format_version"`
	Settings      Settings  `json:"settings"`
	Plan          []Planned `json:"plan"`
	Modules       []string  `json:"modules"`
}

const (
	courseName    = "course.json"
	modulesFolder = "modules/"
	mostPlanned   = 300
)

// WriteCourse writes a course file.
func WriteCourse(w io.Writer, c Course) error {
	z := zip.NewWriter(w)
	about := courseFile{courseFormat, formatVersion, c.Settings, c.Plan, []string{}}
	if about.Plan == nil {
		about.Plan = []Planned{}
	}
	modules := slices.SortedFunc(slices.Values(c.Modules), func(a, b Module) int { return strings.Compare(a.ID, b.ID) })
	for _, m := range modules {
		about.Modules = append(about.Modules, m.ID)
	}
	if err := writeJSON(z, courseName, about); err != nil {
		return fmt.Errorf("pack course: %w", err)
	}
	for _, m := range modules {
		if err := writeModule(z, modulesFolder+m.ID+"/", m); err != nil {
			return fmt.Errorf("pack course, module %s: %w", m.ID, err)
		}
	}
	return z.Close()
}

// File is what somebody sent in: a module or a course.
type File struct {
	Module *Module
	Course *Course
	// Lines says on which line of course.json each assignment of the plan
	// begins, for faults that show only later.
	Lines []int
}

// CourseName is the name of the file that holds a course's plan, for faults.
const CourseName = courseName

// Read reads a module file or a course file. name is what it is called, for
// faults; file is of no use where there are any.
func Read(name string, body []byte) (file File, list []*lessons.Error) {
	entries, err := unpack(body)
	if err != nil {
		return File{}, []*lessons.Error{{File: name, Line: 1, Msg: err.Error()}}
	}
	entries = withoutFolder(entries)
	if i := slices.IndexFunc(entries, func(e entry) bool { return e.name == courseName }); i >= 0 {
		return readCourse(name, entries, entries[i].body)
	}
	m, list := readModule(name, "", entries)
	return File{Module: &m}, list
}

// withoutFolder takes away the one folder that everything lies in, if it does.
func withoutFolder(entries []entry) []entry {
	if len(entries) == 0 {
		return entries
	}
	folder, _, in := strings.Cut(entries[0].name, "/")
	out := slices.Clone(entries)
	for i, e := range entries {
		name, inside := strings.CutPrefix(e.name, folder+"/")
		if !in || !inside {
			return entries
		}
		out[i].name = name
	}
	return out
}

func readCourse(name string, entries []entry, about []byte) (File, []*lessons.Error) {
	var f courseFile
	var list faults
	if !list.decode(courseName, about, &f) || !list.known(courseName, about, f.Format, courseFormat, f.FormatVersion) {
		return File{}, list.all
	}
	if len(f.Plan) > mostPlanned {
		list.add(courseName, lineOf(about, `"plan"`), "the plan has %d assignments; %d are the most", len(f.Plan), mostPlanned)
		return File{}, list.all
	}
	c := Course{Settings: f.Settings, Plan: f.Plan}
	for _, folder := range folders(entries, &list) {
		m, faults := readModule("", modulesFolder+folder.name+"/", folder.entries)
		list.all = append(list.all, faults...)
		m.ID = folder.name
		c.Modules = append(c.Modules, m)
	}
	return File{Course: &c, Lines: planLines(about, len(f.Plan))}, list.all
}

// folder is one module's folder in a course file.
type folder struct {
	name    string
	entries []entry
}

// folders sorts the files of a course by module.
func folders(entries []entry, list *faults) []folder {
	var all []folder
	for _, e := range entries {
		if e.name == courseName {
			continue
		}
		rest, in := strings.CutPrefix(e.name, modulesFolder)
		name, file, deep := strings.Cut(rest, "/")
		if !in || !deep || strings.Contains(file, "/") {
			list.add(e.name, 1, "a course is made of course.json and modules/ID/…; leave this out")
			continue
		}
		i := slices.IndexFunc(all, func(f folder) bool { return f.name == name })
		if i < 0 {
			i, all = len(all), append(all, folder{name: name})
		}
		all[i].entries = append(all[i].entries, entry{file, e.body})
	}
	return all
}

// planLines finds the lines on which the assignments of a plan begin. Each has
// one key "exercise", and no other key of the file is called so.
func planLines(about []byte, n int) []int {
	lines := make([]int, n)
	from := 0
	for i := range lines {
		at := bytes.Index(about[from:], []byte(`"exercise"`))
		if at < 0 {
			lines[i] = 1
			continue
		}
		from += at + 1
		lines[i] = lineAt(about, int64(from))
	}
	return lines
}
