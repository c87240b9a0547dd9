package pack

import (
	"bytes"
	"fmt"
	"reflect"
	"strings"
	"testing"

	"arrisbook/lessons"
)

func plan(t testing.TB) Picture {
	t.Helper()
	p, err := Clean("plan.png", pngOf(t, corner(40, 20)))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// gauge is a module as it travels.
func gauge(t testing.TB) Module {
	return Module{ID: "marking-gauge", Title: "The marking gauge", Edition: 3, Author: "Ilse Thorn", Licence: "CC BY 4.0 <&>", TextName: "module.md",
		Text: []byte("---\nid: marking-gauge\n---\r\n\n“Text” with \t all sorts\n"), Pictures: []Picture{plan(t)}}
}

func evening(t testing.TB) Course {
	return Course{
		Settings: Settings{"Europe/Lisbon", "inch", "third", "close", 0.396875, 0.25, "Letter"},
		Plan: []Planned{
			{Exercise: "gauge-line", Edition: 3, Title: "First line", Begins: Moment{0, "18:30"}, Due: &Moment{7, "18:30"}, Attempts: 3, Release: "due"},
			{Exercise: "head-v-joint", Edition: 1, Title: "The whole joint", Begins: Moment{14, "00:00"}, Release: "hand"},
		},
		Modules: []Module{gauge(t)},
	}
}

func moduleFile(t testing.TB, m Module) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := WriteModule(&b, m); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func courseOf(t testing.TB, c Course) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := WriteCourse(&b, c); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// What is written is read back: text to the byte, pictures, author, licence.
func TestModuleComesBack(t *testing.T) {
	want := gauge(t)
	body := moduleFile(t, want)
	file, list := Read("gauge.zip", body)
	if len(list) > 0 || file.Module == nil || file.Course != nil {
		t.Fatalf("Read = %+v, %v, want a module", file, list)
	}
	// Who reads it takes these from the text.
	got := *file.Module
	got.ID, got.Title, got.Edition = want.ID, want.Title, want.Edition
	if !reflect.DeepEqual(got, want) {
		t.Errorf("Read = %+v, want %+v", got, want)
	}
	if again := moduleFile(t, got); !bytes.Equal(again, body) {
		t.Error("the same module written twice gives other bytes")
	}
}

func TestCourseComesBack(t *testing.T) {
	want := evening(t)
	body := courseOf(t, want)
	file, list := Read("evening.zip", body)
	if len(list) > 0 || file.Course == nil || file.Module != nil {
		t.Fatalf("Read = %+v, %v, want a course", file, list)
	}
	got := *file.Course
	got.Modules[0].Title, got.Modules[0].Edition = want.Modules[0].Title, want.Modules[0].Edition
	if !reflect.DeepEqual(got, want) {
		t.Errorf("Read = %+v, want %+v", got, want)
	}
	if file.Lines[0] >= file.Lines[1] || len(file.Lines) != 2 {
		t.Errorf("Lines = %v, want one for each assignment, rising", file.Lines)
	}
	if !bytes.Equal(courseOf(t, got), body) {
		t.Error("the same course written twice gives other bytes")
	}
}

// A folder that somebody zipped by hand is a module without a manifest.
func TestFoldersAreRead(t *testing.T) {
	picture := string(plan(t).Body)
	for name, body := range map[string][]byte{
		"files":         zipOf(t, "lesson.md", "text", "plan.png", picture),
		"one folder":    zipOf(t, "head/", "", "head/lesson.md", "text", "head/plan.png", picture),
		"with litter":   zipOf(t, "head/lesson.md", "text", "head/plan.png", picture, "__MACOSX/head/._lesson.md", "x"),
		"with manifest": zipOf(t, "head/manifest.json", `{"format":"arrisbook module","format_version":1,"author":"A"}`, "head/a.MD", "text", "head/plan.png", picture),
	} {
		file, list := Read("head.zip", body)
		if len(list) > 0 || file.Module == nil || string(file.Module.Text) != "text" || len(file.Module.Pictures) != 1 {
			t.Errorf("Read(%s) = %+v, %v, want the text and one picture", name, file, list)
		}
	}
	m, list := ModuleOf("what you chose", map[string][]byte{"head/lesson.md": []byte("text"), "head/plan.png": []byte(picture), ".DS_Store": nil})
	if len(list) > 0 || string(m.Text) != "text" || len(m.Pictures) != 1 {
		t.Errorf("ModuleOf = %+v, %v, want the text and one picture", m, list)
	}
}

// What cannot be read is refused with the file and the line.
func TestReadNamesTheLine(t *testing.T) {
	const sound = "{\n\"format\": \"arrisbook module\",\n\"format_version\": 1"
	const course = "{\n\"format\": \"arrisbook course\",\n\"format_version\": 1"
	cases := []struct {
		name string
		body []byte
		want string
	}{
		{"no zip", []byte("x"), "sent.zip:1: this is no zip file"},
		{"no text", zipOf(t, "plan.png", string(plan(t).Body)), "sent.zip:1: there is no Markdown file"},
		{"two texts", zipOf(t, "a.md", "x", "b.md", "x"), "b.md:1: a module has one Markdown file"},
		{"something else", zipOf(t, "a.md", "x", "setup.exe", "MZ"), "setup.exe:1: a module is made of"},
		{"a zip in it", zipOf(t, "a.md", "x", "b.zip", string(zipOf(t, "a.md", "x"))), "b.zip:1: a module is made of"},
		{"a page called a picture", zipOf(t, "a.md", "x", "plan.png", "<script>"), "plan.png:1: this is no picture"},
		{"a manifest that is none", zipOf(t, "a.md", "x", "manifest.json", sound+",\n\"author\" \"A\"\n}"), "manifest.json:4: this is not what it should be"},
		{"a key of its own", zipOf(t, "a.md", "x", "manifest.json", sound+",\n\"students\": []\n}"), `manifest.json:4: the key "students" is not known`},
		{"a number for a name", zipOf(t, "a.md", "x", "manifest.json", sound+",\n\"author\": 7\n}"), "manifest.json:4: this is not what it should be: author cannot be number"},
		{"another format", zipOf(t, "a.md", "x", "manifest.json", "{\n\"format\": \"else\",\n\"format_version\": 1}"), `manifest.json:2: the format is "else"`},
		{"a later format", zipOf(t, "a.md", "x", "manifest.json", "{\n\"format\": \"arrisbook module\",\n\"format_version\": 2}"), "manifest.json:3: the format has version 2"},
		{"more behind the end", zipOf(t, "a.md", "x", "manifest.json", sound+"}\n{}"), "manifest.json:4: there is something behind the end"},
		{"a long author", zipOf(t, "a.md", "x", "manifest.json", sound+",\n\"author\": \""+strings.Repeat("a", 121)+"\"}"), "manifest.json:4: the author has more than"},
		{"deep nesting", zipOf(t, "a.md", "x", "manifest.json", strings.Repeat("[", 20_000)), "manifest.json:1: this is not"},
		{"a course with a key of its own", zipOf(t, "course.json", course+",\n\"people\": []\n}"), `course.json:4: the key "people" is not known`},
		{"a course with a stray file", zipOf(t, "course.json", course+"}", "notes.md", "x"), "notes.md:1: a course is made of"},
		{"a course with a file too deep", zipOf(t, "course.json", course+"}", "modules/a/b/c.md", "x"), "modules/a/b/c.md:1: a course is made of"},
		{"a course with a bad picture", zipOf(t, "course.json", course+"}", "modules/a/module.md", "x", "modules/a/p.png", "x"), "modules/a/p.png:1: this is no picture"},
		{"a course with an empty module", zipOf(t, "course.json", course+"}", "modules/a/manifest.json", sound+"}"), "modules/a:1: there is no Markdown file"},
		{"a long plan", zipOf(t, "course.json", course+",\n\"plan\": ["+strings.Repeat("{},", 300)+"{}]}"), "course.json:4: the plan has 301 assignments"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, list := Read("sent.zip", c.body)
			if len(list) == 0 || !strings.HasPrefix(list[0].Error(), c.want) {
				t.Errorf("Read(%s) = %v, want %q", c.name, list, c.want)
			}
		})
	}
}

// Whatever is sent, reading it ends, and what is taken is harmless: plain
// names, pictures that are pictures, faults that name a line.
func FuzzRead(f *testing.F) {
	f.Add(moduleFile(f, gauge(f)))
	f.Add(courseOf(f, evening(f)))
	f.Add(zipOf(f, "a.md", "x", "manifest.json", "{"))
	f.Add(zipOf(f, "../a.md", "x"))
	f.Add([]byte("PK\x05\x06" + strings.Repeat("\x00", 18)))
	f.Fuzz(func(t *testing.T, body []byte) {
		file, list := Read("sent.zip", body)
		if len(list) > 0 {
			checkFaults(t, list)
			return
		}
		modules := []Module{}
		if file.Course != nil {
			modules = file.Course.Modules
		} else {
			modules = append(modules, *file.Module)
		}
		for _, m := range modules {
			for _, p := range m.Pictures {
				again, err := Clean(p.Name, p.Body)
				if err != nil || !bytes.Equal(again.Body, p.Body) {
					t.Errorf("a picture that was taken is not clean: %v", err)
				}
			}
		}
	})
}

func checkFaults(t *testing.T, list []*lessons.Error) {
	t.Helper()
	for _, e := range list {
		if e.Line < 1 || e.Msg == "" || strings.ContainsAny(fmt.Sprint(e.Msg), "\n\x00") {
			t.Errorf("the fault %q names no line or spoils a page", e)
		}
	}
}
