package server

import (
	"fmt"
	"reflect"
	"strings"
	"testing"
	"time"

	"arrisbook/lessons/pack"
	"arrisbook/server/store"
)

// A plan keeps its days and its clocks, whatever the clocks of the zone do in
// between: what is counted from one first day and set on another comes out at
// the same times of day.
func TestMomentsKeepTheirClocks(t *testing.T) {
	lisbon, err := time.LoadLocation("Europe/Lisbon")
	if err != nil {
		t.Fatal(err)
	}
	at := func(text string) time.Time {
		v, err := time.ParseInLocation("2006-01-02 15:04", text, lisbon)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	first := at("2026-10-20 18:30")
	cases := []struct {
		name, when string
		want       pack.Moment
		next       string // on the course that begins on 2027-03-23
	}{
		{"the first", "2026-10-20 18:30", pack.Moment{Day: 0, At: "18:30"}, "2027-03-23 18:30"},
		{"earlier that day", "2026-10-20 23:59", pack.Moment{Day: 0, At: "23:59"}, "2027-03-23 23:59"},
		{"across the clocks", "2026-10-27 18:30", pack.Moment{Day: 7, At: "18:30"}, "2027-03-30 18:30"},
		{"at midnight", "2026-11-03 00:00", pack.Moment{Day: 14, At: "00:00"}, "2027-04-06 00:00"},
		{"a year on", "2027-10-20 08:00", pack.Moment{Day: 365, At: "08:00"}, "2028-03-22 08:00"},
		{"an hour that is left out there", "2026-10-25 01:30", pack.Moment{Day: 5, At: "01:30"}, "2027-03-28 02:30"},
	}
	for _, c := range cases {
		got := momentAfter(first, at(c.when), lisbon)
		if got != c.want {
			t.Errorf("momentAfter(%s) = %+v, want %+v", c.name, got, c.want)
		}
		back := momentOn(time.Date(2027, 3, 23, 0, 0, 0, 0, time.UTC), got, lisbon, theFirst).In(lisbon).Format("2006-01-02 15:04")
		if back != c.next {
			t.Errorf("momentOn(%s) = %s, want %s", c.name, back, c.next)
		}
	}
}

// sentCourse is a course file with one thing changed.
func sentCourse(t *testing.T, change func(*pack.Course)) []byte {
	t.Helper()
	c := pack.Course{
		Settings: pack.Settings{Zone: "Europe/Lisbon", Units: "mm", Projection: "first", FitWord: "tight", LengthStep: 0.1, AngleStep: 0.1, Paper: "A4"},
		Plan: []pack.Planned{
			{Exercise: "head-v-joint-first", Edition: 1, Title: "First", Begins: pack.Moment{Day: 0, At: "18:30"}, Release: "hand"},
			{Exercise: "head-v-joint", Edition: 1, Title: "Second", Begins: pack.Moment{Day: 7, At: "18:30"}, Due: &pack.Moment{Day: 14, At: "18:30"}, Release: "due"},
		},
	}
	change(&c)
	var b strings.Builder
	if err := pack.WriteCourse(&b, c); err != nil {
		t.Fatal(err)
	}
	return []byte(b.String())
}

// A course that no class can be made of is refused with file and line.
func TestCourseFaultsNameTheLine(t *testing.T) {
	t.Parallel()
	_, b, _ := writer(t)
	cases := []struct {
		name   string
		change func(*pack.Course)
		want   string // "": it can be taken in
	}{
		{"sound", func(*pack.Course) {}, ""},
		{"no such exercise", func(c *pack.Course) { c.Plan[1].Exercise = "head-w-joint" }, `course.json:27: there is no exercise "head-w-joint" here`},
		{"no title", func(c *pack.Course) { c.Plan[0].Title = " " }, "course.json:15: the title has from 1 to 60 letters"},
		{"a long title", func(c *pack.Course) { c.Plan[1].Title = strings.Repeat("a", 61) }, "course.json:27: the title"},
		{"due before it begins", func(c *pack.Course) { c.Plan[1].Due.Day = 6 }, "course.json:27: the due time comes after"},
		{"due as it begins", func(c *pack.Course) { *c.Plan[1].Due = c.Plan[1].Begins }, "course.json:27: the due time comes after"},
		{"a key at no due time", func(c *pack.Course) { c.Plan[1].Due = nil }, "course.json:27: the key comes out at the due time"},
		{"a key that never comes out", func(c *pack.Course) { c.Plan[0].Release = "never" }, `course.json:15: the key comes out by "never"`},
		{"no time", func(c *pack.Course) { c.Plan[0].Begins.At = "half past" }, "course.json:15: a time has a day"},
		{"a time with seconds", func(c *pack.Course) { c.Plan[0].Begins.At = "8:30" }, "course.json:15: a time has a day"},
		{"a day before the first", func(c *pack.Course) { c.Plan[0].Begins.Day = -1 }, "course.json:15: a time has a day"},
		{"a day in ten years", func(c *pack.Course) { c.Plan[1].Due.Day = 4000 }, "course.json:27: a time has a day"},
		{"attempts below nothing", func(c *pack.Course) { c.Plan[0].Attempts = -1 }, "course.json:15: attempts go from 0 to 99"},
		{"no such zone", func(c *pack.Course) { c.Settings.Zone = "Mars/North" }, `course.json:1: the settings: no time zone is called "Mars/North"`},
		{"units of its own", func(c *pack.Course) { c.Settings.Units = "ells" }, "course.json:1: the settings: units is none"},
		{"a tool of its own", func(c *pack.Course) { c.Settings.LengthStep = 7 }, "course.json:1: the settings: length_step is none"},
		{"a module in the wrong folder", func(c *pack.Course) {
			c.Modules = []pack.Module{{ID: "another", Text: []byte(strings.Replace(gaugeText, "![A gauge on its edge](gauge.png)", "", 1))}}
		}, "modules/another/module.md:2: the module is marking-gauge, its folder is called another"},
	}
	for _, c := range cases {
		p := b.look(sentCourse(t, c.change)).want(t, 200)
		if c.want == "" {
			p.want(t, 200, "A class with two assignments")
			continue
		}
		p.want(t, 200, "This cannot be taken in", c.want)
		b.post(p.Path, "name", "X", "first_day", "2027-01-12").want(t, 422, c.want)
	}
	b.get("/classes").want(t, 200, "No class yet")
}

// Another edition than the file's is given out where that is all there is, and
// the page says so.
func TestCourseSaysWhichEdition(t *testing.T) {
	t.Parallel()
	h, b, staff := writer(t)
	p := b.look(sentCourse(t, func(c *pack.Course) { c.Plan[0].Edition = 77 })).want(t, 200, "instead of 77")
	b.press(p, p.Path, "name", "Next", "first_day", "2027-01-12").want(t, 200, "The class is made")
	shipped, _ := h.Server.cfg.Lessons.Exercise("head-v-joint-first")
	classes, err := h.Store.ClassesOf(t.Context(), staff.ID)
	if err != nil {
		t.Fatal(err)
	}
	a, err := h.Store.Assignment(t.Context(), classes[0].ID, 1)
	if err != nil || a.Version != shipped.Version {
		t.Errorf("assignment 1 has edition %d, %v, want %d", a.Version, err, shipped.Version)
	}
}

// Whatever a class can be set to goes along, but for its name.
func TestEverySettingTravels(t *testing.T) {
	travels := reflect.TypeFor[pack.Settings]()
	for f := range reflect.TypeFor[store.ClassSettings]().Fields() {
		if _, ok := travels.FieldByName(f.Name); !ok && f.Name != "Name" {
			t.Errorf("the setting %s of a class does not go along with its course", f.Name)
		}
	}
	set := pack.Settings{Zone: "UTC", Units: "inch", Projection: "third", FitWord: "open", LengthStep: 0.5, AngleStep: 0.25, Paper: "Letter"}
	in := reflect.ValueOf(settingsIn(set))
	for f, v := range reflect.ValueOf(set).Fields() {
		if got := in.FieldByName(f.Name).Interface(); got != v.Interface() {
			t.Errorf("settingsIn(%+v).%s = %v, want %v", set, f.Name, got, v)
		}
	}
}

func TestNamesInTitlesAndTexts(t *testing.T) {
	n := classNames{students: []string{"wanda petersen", "ines brandt-lund", "bo"}, words: map[string]bool{}}
	for _, name := range []string{"Wanda Petersen", "Ines Brandt-Lund", "Bo", "Ada O’Neill"} {
		n.learn(name)
	}
	for title, want := range map[string]bool{
		"Once more for Wanda": true, "WANDA'S JOINT": true, "The Lund table": true, "For Bo": true, "Border inlay": false,
		"The whole joint": false, "Neill’s": true, "": false,
	} {
		if got := n.inTitle(title); got != want {
			t.Errorf("inTitle(%q) = %v, want %v", title, got, want)
		}
	}
	for text, want := range map[string]int{
		"A line.\nWanda Petersen cuts.": 2, "wandaPetersen": 0, "Wanda cuts.": 0, "Ines Brandt-Lunds": 0, "a\nb\nINES BRANDT-LUND": 3, "Bold lines": 0, "Bo.": 1,
	} {
		if got, _ := n.inText(text); got != want {
			t.Errorf("inText(%q) = %d, want %d", text, got, want)
		}
	}
	if got := n.inModule(pack.Module{Text: []byte("x"), Pictures: []pack.Picture{{Name: "wanda-petersen.png"}}}); got != "its picture wanda-petersen.png" {
		t.Errorf("inModule = %q, want the picture", got)
	}
}

func TestDiffParts(t *testing.T) {
	write := func(parts []diffPart) string {
		var b strings.Builder
		for _, p := range parts {
			fmt.Fprintln(&b, p.Heading)
			for _, l := range p.Lines {
				sign := " "
				if l.Added {
					sign = "+"
				} else if l.Removed {
					sign = "-"
				}
				fmt.Fprintf(&b, "%d %d %s%s\n", l.Old, l.New, sign, l.Text)
			}
		}
		return b.String()
	}
	cases := []struct{ name, a, b, want string }{
		{"same", "a\nb\n", "a\nb\n", ""},
		{"one line", "a\nb\nc\n", "a\nB\nc\n", "From line 1\n1 1  a\n2 0 -b\n0 2 +B\n3 3  c\n"},
		{"at the end, without a line's end", "a\nb", "a\nb\nc", "From line 1\n1 1  a\n2 0 -b\n0 2 +b\n0 3 +c\n"},
		{"all new", "", "a\n", "From line 1\n0 1 +a\n"},
		{"all gone", "a\n", "", "From line 1\n1 0 -a\n"},
	}
	for _, c := range cases {
		if got := write(diffParts(c.a, c.b)); got != c.want {
			t.Errorf("diffParts(%s) = %q, want %q", c.name, got, c.want)
		}
	}
	// Far apart: two parts, three lines round each.
	var long []string
	for i := range 40 {
		long = append(long, fmt.Sprint("line ", i))
	}
	a := strings.Join(long, "\n")
	long[5], long[30] = "x", "y"
	parts := diffParts(a, strings.Join(long, "\n"))
	if len(parts) != 2 || len(parts[0].Lines) != 8 || parts[1].Lines[3].Old != 31 {
		t.Errorf("diffParts of two changes = %s, want two parts of eight lines", write(parts))
	}
}

func TestPictureNames(t *testing.T) {
	for sent, want := range map[string]string{
		"plan.png": "plan.png", "IMG 2034.JPG": "img-2034.jpg", `C:\shop\plan.png`: "plan.png", "../../x.png": "x.png", "Säge (1).webp": "s-ge-1.webp", "…png": "png",
	} {
		if got := pictureNameOf(sent); got != want {
			t.Errorf("pictureNameOf(%q) = %q, want %q", sent, got, want)
		}
	}
}

func TestPictureChanges(t *testing.T) {
	a := []store.ModulePicture{{Name: "a.png", ID: "1"}, {Name: "b.png", ID: "2"}, {Name: "c.png", ID: "3"}}
	b := []store.ModulePicture{{Name: "a.png", ID: "1"}, {Name: "b.png", ID: "9"}, {Name: "d.png", ID: "4"}}
	got := strings.Join(pictureChanges(a, b), " ")
	if want := "b.png is another picture. d.png came in. c.png was taken out."; got != want {
		t.Errorf("pictureChanges = %q, want %q", got, want)
	}
}
