package server

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"reflect"
	"strings"
	"testing"
	"time"

	"arrisbook/lessons/pack"
	"arrisbook/server/store"
)

// download gets a file.
func (b *browser) download(path string) []byte {
	b.h.t.Helper()
	res, err := b.client.Get(b.h.URL + path)
	if err != nil {
		b.h.t.Fatal(err)
	}
	defer res.Body.Close()
	body, err := io.ReadAll(res.Body)
	if err != nil || res.StatusCode != 200 || res.Header.Get("Content-Type") != "application/zip" ||
		!strings.HasPrefix(res.Header.Get("Content-Disposition"), "attachment") {
		b.h.t.Fatalf("%s = %d, %v, %v, want a zip file", path, res.StatusCode, res.Header, err)
	}
	return body
}

// look sends a file in and gives the page that says what it would add.
func (b *browser) look(body []byte) *page {
	b.h.t.Helper()
	return b.upload("/modules/import", []sent{{"module_file", "sent.zip", body}})
}

// A module goes out as one file and comes in at another school the same: text,
// picture, author, licence. Its sender sees before what it holds, and can take
// it back.
func TestModuleTravels(t *testing.T) {
	t.Parallel()
	_, b, _ := writer(t)
	href := b.write(gaugeText)
	b.press(b.get(href+"/edit"), href+"/edit", "module_author", "Ilse Thorn", "module_licence", "CC BY 4.0").want(t, 200)
	file := b.download(href + "/file")

	h, there, _ := writer(t)
	p := there.look(file).want(t, 200, "One module comes in", "The marking gauge", "Ilse Thorn", "CC BY 4.0", "The line of the gauge, 1 number", "gauge.png, 30 × 20", "comes in as a new module")
	there.get("/modules").want(t, 200, "No module of your own yet")
	p = there.press(p, p.Path).want(t, 200, "The module is here, as a draft", "Nothing is wrong with it")
	if got := there.download(p.Path + "/file"); !bytes.Equal(got, file) {
		t.Error("what came in goes out as another file")
	}
	p = there.look(file).want(t, 200, "It is all here already", "Nothing is added")
	other, _ := h.staff("bela", true)
	other.get(p.Path).want(t, 404)

	changed := strings.Replace(gaugeText, "A line runs", "One line runs", 1)
	newer := packed(t, changed)
	p = there.look(newer).want(t, 200, "It becomes save 2 of your module of that id", "Author not stated")
	there.press(p, p.Path).want(t, 200, "The module is here").want(t, 200, "Save 2")
	undo := there.get("/modules").want(t, 200, "You took in The marking gauge")
	there.post(undo.formActions("/undo")[0]).want(t, 200, "It is taken back")
	if got := there.download("/modules/1/file"); !bytes.Equal(got, file) {
		t.Error("after the undo the module is another one")
	}
	undo = there.get("/modules")
	there.post(undo.formActions("/undo")[0]).want(t, 200, "No module of your own yet")
}

// packed is a module without author and picture as a file.
func packed(t *testing.T, text string) []byte {
	t.Helper()
	var b bytes.Buffer
	picture, err := pack.Clean("gauge.png", gaugePicture(t))
	if err == nil {
		err = pack.WriteModule(&b, pack.Module{ID: "marking-gauge", Text: []byte(text), Pictures: []pack.Picture{picture}})
	}
	if err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// formActions are the addresses of a page's forms that end like that.
func (p *page) formActions(end string) []string {
	var all []string
	for n := range p.Doc.Descendants() {
		if action := attr(n, "action"); strings.HasSuffix(action, end) {
			all = append(all, action)
		}
	}
	return all
}

// What cannot be read is refused with file and line, and nothing is kept.
func TestImportNamesTheLine(t *testing.T) {
	t.Parallel()
	_, b, _ := writer(t)
	b.look([]byte("no zip")).want(t, 422, "sent.zip:1: this is no zip file", "Nothing was added")
	b.upload("/modules/import", nil).want(t, 422, "Choose one file")
	bad := strings.Replace(gaugeText, "/ 3\n", "/ 3 + half_angel\n", 1)
	p := b.look(packed(t, bad)).want(t, 200, "This cannot be taken in", "module.md:38:", "half_angel")
	b.post(p.Path, "print", "").want(t, 422, "module.md:38:")
	b.look(packed(t, "no front matter")).want(t, 200, "module.md:1:", "front matter")
	b.look(packed(t, strings.Replace(gaugeText, "id: marking-gauge", "id: head-v-joint", 1))).want(t, 200, "module.md:2: the module's id head-v-joint is taken")
	b.get("/modules").want(t, 200, "No module of your own yet")
}

// Another instructor's module is not replaced by a file.
func TestImportLeavesOthersAlone(t *testing.T) {
	t.Parallel()
	h, b, _ := writer(t)
	href := b.write(gaugeText)
	b.post(href+"/use", "save", "1").want(t, 200, "in use")
	other, _ := h.staff("bela", true)
	other.look(b.download(href+"/file")).want(t, 200, "It is here already")
	changed := packed(t, strings.Replace(gaugeText, "A line runs", "One line runs", 1))
	other.look(changed).want(t, 200, "module.md:2: another instructor of this school has a module marking-gauge")
}

// courseOfAYear is a class with assignments of shipped and own exercises.
func courseOfAYear(t *testing.T) (*harness, *browser, store.Class) {
	t.Helper()
	h, b, staff := writer(t)
	class := h.class(staff)
	h.students(class, staff, "Wanda Petersen", "Oskar Hale", "Ines Brandt-Lund")
	h.assistant(class, "cleo", true)
	href := b.write(gaugeText)
	b.post(href+"/use", "save", "1").want(t, 200, "in use")
	assign := classPath(class, "/assignments/new")
	for _, a := range [][]string{
		{"exercise", "head-v-joint-first", "opens", "2026-11-24T18:30", "due", "2026-12-01T18:30", "release", "due", "attempts", "3"},
		{"exercise", "gauge-line", "opens", "2026-12-15T18:30", "title", "Once more for Wanda"},
		{"exercise", "gauge-line", "opens", "2027-03-30T18:30", "due", "2027-04-06T09:00", "release", "cleared", "title", "The gauge in spring"},
		{"exercise", "head-v-joint", "opens", "2027-01-12T18:30", "title", "Withdrawn one"},
	} {
		b.press(b.get(assign), assign, a...).want(t, 200, "3 sheets given out")
	}
	b.post(classPath(class, "/assignments/4/withdraw")).want(t, 200, "withdrawn")
	return h, b, class
}

// A course goes out without a single name, and comes in as a class with the
// same plan, settings and modules.
func TestCourseTravels(t *testing.T) {
	t.Parallel()
	h, b, class := courseOfAYear(t)
	b.get(classPath(class, "/course")).want(t, 200, "Three assignments, one module of your school", "The gauge in spring", "day 1, 18:30", "day 22, 18:30", "A title that names somebody is left out")
	file := b.download(classPath(class, "/course/file"))
	checkNoNames(t, file, "Wanda", "Petersen", "Oskar", "Hale", "Ines", "Brandt", "Lund", "Ada", "Cleo", class.Name, class.Code)

	hh, there, staff := writer(t)
	p := there.look(file).want(t, 200, "A class with three assignments", "One module and nobody’s name", "Clocks of Europe/Lisbon", "It is put in use at once")
	p = there.press(p, p.Path, "name", " ", "first_day", "next week").want(t, 422, "Give the class a name", "Write the day like 2027-01-12")
	if got := attr(p.field("first_day"), "value"); got != "next week" {
		t.Errorf("the refused day came back as %q", got)
	}
	p = there.press(p, p.Path, "name", "Next year", "first_day", "2027-11-23").want(t, 200, "The class is made, with its plan")
	again := there.download(p.Path + "/course/file")
	if !bytes.Equal(again, file) {
		t.Error("the course that came in goes out as another file")
	}
	classes, err := hh.Store.ClassesOf(t.Context(), staff.ID)
	if err != nil || len(classes) != 1 {
		t.Fatalf("ClassesOf = %v, %v, want the new one", classes, err)
	}
	plan, err := hh.Store.Assignments(t.Context(), classes[0].ID)
	if err != nil || len(plan) != 3 {
		t.Fatalf("Assignments = %v, %v, want three", plan, err)
	}
	// Winter time in November, summer time in March: the clocks stay.
	want := []string{"2027-11-23 18:30 UTC", "2027-12-14 18:30 UTC", "2028-03-28 17:30 UTC"}
	var got []string
	for i := len(plan) - 1; i >= 0; i-- {
		got = append(got, plan[i].OpensAt.UTC().Format("2006-01-02 15:04 MST"))
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("the plan begins at %v, want %v", got, want)
	}

	// The plan is given out once there is a roster.
	newClass := store.Class{ID: classes[0].ID}
	undo := there.get("/modules").want(t, 200, "the class “Next year” with one module").formActions("/undo")[0]
	hh.students(newClass, staff, "Rolf Quist")
	there.post(classPath(newClass, "/assignments/2/missing")).want(t, 200, "1 sheet given out")
	there.post(undo).want(t, 409, "cannot be taken back")
	_ = h
}

// A course is taken back whole within a day, and not later.
func TestCourseIsTakenBack(t *testing.T) {
	t.Parallel()
	_, b, class := courseOfAYear(t)
	file := b.download(classPath(class, "/course/file"))
	h, there, _ := writer(t)
	take := func() string {
		p := there.look(file)
		p = there.press(p, p.Path, "name", "Next year", "first_day", "2027-11-23").want(t, 200, "The class is made")
		return p.Path
	}
	path := take()
	there.post(there.get("/modules").formActions("/undo")[0]).want(t, 200, "It is taken back")
	there.get(path).want(t, 404)
	there.get("/classes").want(t, 200, "No class yet")
	there.get("/lessons").want(t, 200).lacks(t, "marking gauge")
	path = take()
	undo := there.get("/modules").formActions("/undo")[0]
	h.pass(25 * time.Hour)
	there.post("/signin", "email", "ada@shop.example", "password", testPassword)
	there.post(undo).want(t, 409, "more than 24 hours")
	there.get(path).want(t, 200, "Next year")
	there.get("/modules").want(t, 200).lacks(t, "Take it back")
}

// A module that names a student stays behind with its assignments.
func TestCourseLeavesNamesBehind(t *testing.T) {
	t.Parallel()
	_, b, class := courseOfAYear(t)
	named := strings.Replace(gaugeText, "A line runs", "As wanda  petersen showed,\nOskar Hale’s line runs", 1)
	b.press(b.get("/modules/1/edit"), "/modules/1/edit", "module_text", named).want(t, 200)
	b.post("/modules/1/use", "save", "2").want(t, 200, "in use")
	b.get(classPath(class, "/course")).want(t, 200, "One assignment, no module", "is left out, with its assignments: line")
	checkNoNames(t, b.download(classPath(class, "/course/file")), "Wanda", "Petersen", "Oskar", "Hale")
}

// An author of the class's staff goes along only where that is asked for; the
// licence always does, and the school that has the module knows it again.
func TestCourseNamesAuthorsOnRequest(t *testing.T) {
	t.Parallel()
	h, b, class := courseOfAYear(t)
	b.press(b.get("/modules/1/edit"), "/modules/1/edit", "module_author", "Ada Test", "module_licence", "CC BY 4.0").want(t, 200)
	b.post("/modules/1/use", "save", "2").want(t, 200, "in use")
	b.get(classPath(class, "/course")).want(t, 200, "is not named in the file", "Get the file with its authors named")
	file := b.download(classPath(class, "/course/file"))
	checkNoNames(t, file, "Ada")
	for path, want := range map[string]string{"/course/file": "", "/course/file?authors=named": "Ada Test"} {
		got, faults := pack.Read("course.zip", b.download(classPath(class, path)))
		if len(faults) > 0 || got.Course.Modules[0].Author != want || got.Course.Modules[0].Licence != "CC BY 4.0" {
			t.Errorf("%s holds %+v, want the author %q and the licence", path, got.Course.Modules, want)
		}
	}
	other, _ := h.staff("bela", true)
	p := other.look(file).want(t, 200, "It is here already", "A class with three assignments")
	other.press(p, p.Path, "name", "Bela’s", "first_day", "2027-11-23").want(t, 200, "The class is made")
}

// checkNoNames looks for words in everything a file holds, names of files
// included, whatever the letters' case.
func checkNoNames(t *testing.T, file []byte, names ...string) {
	t.Helper()
	r, err := zip.NewReader(bytes.NewReader(file), int64(len(file)))
	if err != nil {
		t.Fatal(err)
	}
	var all strings.Builder
	for _, f := range r.File {
		in, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		body, err := io.ReadAll(in)
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(&all, "%s\n%s\n%s\n", f.Name, f.Comment, body)
	}
	text := strings.ToLower(all.String())
	if len(text) < 500 {
		t.Fatalf("the file holds %d bytes, want a course", len(text))
	}
	for _, name := range names {
		for _, w := range wordsOf(text) {
			if w == strings.ToLower(name) {
				t.Errorf("the file holds the name %s", name)
				break
			}
		}
	}
}
