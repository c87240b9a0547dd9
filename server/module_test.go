package server

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"mime/multipart"
	"net/http"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"arrisbook/server/store"
)

// gaugeText is a module over sizes of its own, with a slip of its own.
const gaugeText = `---
id: marking-gauge
title: The marking gauge
summary: Set a gauge to a third of a board.
needs: []
skills:
  divide-a-size: Divide a size
version: 1
---

## What you will lay out

A line runs along the board. See [the head joint](head-v-joint#words). ![A gauge on its edge](gauge.png)

## Practice

` + "```exercise" + `
id: gauge-line
title: The line of the gauge
given:
  board_width:
    range: 61..91 by 0.5
    unit: mm
    name: Board width
    symbol: w
    means: across the reference face, from the reference edge
  strip:
    range: 11..17 by 0.5
    unit: mm
    name: Strip
    symbol: s
    means: width of the strip along the far edge
steps:
  - id: gauge_line
    name: Gauge line
    unit: mm
    from: from the reference edge
    formula: (board_width - strip) / 3
    skill: divide-a-size
    tolerance: 0.1
harmless:
  - {step: gauge_line, pattern: rounded-early, detail: "*"}
patterns:
  - id: pencil-added
    step: gauge_line
    formula: (board_width - strip) / 3 + 2.3
    says: This is the number you get if the pencil line is added to the gauge. Does a knife line have a width?
` + "```" + `
`

// gaugePicture is a picture for it.
func gaugePicture(t testing.TB) []byte {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, 30, 20))
	img.Set(3, 3, color.White)
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// sent is a file of a form.
type sent struct {
	Field, Name string
	Body        []byte
}

// upload sends a form with files.
func (b *browser) upload(path string, files []sent, namesAndValues ...string) *page {
	b.h.t.Helper()
	var body bytes.Buffer
	w := multipart.NewWriter(&body)
	for i := 0; i < len(namesAndValues); i += 2 {
		_ = w.WriteField(namesAndValues[i], namesAndValues[i+1])
	}
	for _, f := range files {
		part, err := w.CreateFormFile(f.Field, f.Name)
		if err == nil {
			_, err = part.Write(f.Body)
		}
		if err != nil {
			b.h.t.Fatal(err)
		}
	}
	w.Close()
	req, err := http.NewRequest(http.MethodPost, b.h.URL+path, &body)
	if err != nil {
		b.h.t.Fatal(err)
	}
	req.Header.Set("Content-Type", w.FormDataContentType())
	res, err := b.client.Do(req)
	if err != nil {
		b.h.t.Fatal(err)
	}
	defer res.Body.Close()
	var text bytes.Buffer
	if _, err := text.ReadFrom(res.Body); err != nil {
		b.h.t.Fatal(err)
	}
	doc, err := html.Parse(bytes.NewReader(text.Bytes()))
	if err != nil {
		b.h.t.Fatal(err)
	}
	return &page{res.StatusCode, res.Request.URL.RequestURI(), res.Header, text.String(), doc}
}

// write saves a new module with its picture and gives its address.
func (b *browser) write(text string) string {
	b.h.t.Helper()
	p := b.upload("/modules", []sent{{"module_files", "gauge.png", gaugePicture(b.h.t)}}, "module_text", text, "do", "save")
	p.want(b.h.t, 200, "Saved as save 1")
	return strings.TrimSuffix(p.Path, "/edit")
}

// writer is an instructor on a server with the shipped lessons.
func writer(t *testing.T) (*harness, *browser, store.Staff) {
	t.Helper()
	h := startServer(t, func(c *Config) { c.Lessons = shippedLessons(t) })
	b, staff := h.staff("ada", true)
	return h, b, staff
}

// An instructor writes a module with an exercise of no family, tries it, puts
// it in use and assigns it; a student gets a blank, makes the slip that the
// instructor thought of, reads the hint, and the review counts it.
func TestOwnExerciseFromTextToReview(t *testing.T) {
	t.Parallel()
	h, b, staff := writer(t)
	class := h.class(staff)
	students := h.students(class, staff, "Wanda Petersen", "Oskar Hale")
	href := b.write(gaugeText)
	page := b.get(href).want(t, 200, "is a draft", "Nothing is wrong with it", "try it as a student")

	// Tried with the slip, by the real grader.
	try := b.get(page.link("The line of the gauge")).want(t, 200, "How the tool works it out", "pencil-added", "Does a knife line have a width?")
	width, strip := sizeOn(t, try, "Board width"), sizeOn(t, try, "Strip")
	slip := fmt.Sprintf("%.2f", (width-strip)/3+2.3)
	b.post(href+"/try", "exercise", "gauge-line", "seed", "1", "n-gauge_line", slip).want(t, 200, "wrong", "Does a knife line have a width?", "None of one right")
	right := fmt.Sprintf("%.2f", (width-strip)/3)
	b.post(href+"/try", "exercise", "gauge-line", "seed", "1", "n-gauge_line", right).want(t, 200, "One of one right")

	b.get("/lessons").want(t, 200).lacks(t, "The marking gauge")
	b.press(page, href+"/use").want(t, 200, "Edition 1 is in use")
	b.get("/lessons").want(t, 200, "From this school", "The marking gauge")

	b.get(classPath(class, "/assignments/new")).want(t, 200, "The line of the gauge", "lesson: The marking gauge")
	b.press(b.get(classPath(class, "/assignments/new")), classPath(class, "/assignments/new"), "exercise", "gauge-line").want(t, 200, "2 sheets given out")

	w := h.browser()
	token, _ := h.card(class, students[0])
	w.press(w.get("/card/"+token), "/card/"+token).want(t, 200)
	sheet := w.get(w.get("/sheets").link("The line of the gauge")).want(t, 200, "Gauge line, mm", "Board width")
	w.get(sheet.link("Lesson")).want(t, 200, "A line runs along the board")
	width, strip = sizeOn(t, sheet, "Board width"), sizeOn(t, sheet, "Strip")
	check := w.press(sheet, sheet.Path+"/check", "n-gauge_line", fmt.Sprintf("%.2f", (width-strip)/3+2.3)).want(t, 200, "read. Is that what you meant?")
	w.press(check, sheet.Path+"/attempts").want(t, 200, "wrong", "Does a knife line have a width?").lacks(t, fmt.Sprintf("%.1f", (width-strip)/3))

	b.get(classPath(class, "/assignments/1/review")).want(t, 200, "the pencil line is added to the gauge")
}

// sizeOn reads a given off a page.
func sizeOn(t *testing.T, p *page, name string) float64 {
	t.Helper()
	row := p.find(func(n *html.Node) bool { return n.Data == "tr" && strings.HasPrefix(textOf(n), name+" ") })
	if row == nil {
		t.Fatalf("%s gives no %s:\n%s", p.Path, name, p.text())
	}
	var v float64
	if _, err := fmt.Sscanf(strings.TrimPrefix(textOf(row), name+" "), "%g mm", &v); err != nil {
		t.Fatalf("%s of %s: %v", name, textOf(row), err)
	}
	return v
}

// A draft is its author's alone: its page, its text, its picture and its id.
func TestDraftsAreNotSeen(t *testing.T) {
	t.Parallel()
	h, b, _ := writer(t)
	other, _ := h.staff("bela", true)
	href := b.write(gaugeText)
	edit := b.get(href + "/edit")
	picture := edit.link("gauge.png")
	for _, path := range []string{href, href + "/edit", href + "/try", href + "/file", href + "/differences", href + "/saves/1", picture, "/lessons/marking-gauge"} {
		other.get(path).want(t, 404)
	}
	other.post(href+"/use", "save", "1").want(t, 404)
	other.post(href+"/edit", "module_text", "x").want(t, 404)
	other.post("/modules/check", "module_text", gaugeText, "module_no", strings.TrimPrefix(href, "/modules/")).want(t, 404)
	other.get("/modules").want(t, 200, "No module of your own yet")
	// The same id for a draft of one's own is no fault: it would tell.
	other.write(gaugeText)
	if p := b.get(picture); p.Status != 200 || p.Header.Get("Content-Type") != "image/png" || !strings.Contains(p.Header.Get("Content-Security-Policy"), "sandbox") {
		t.Errorf("the author's picture = %d, %v", p.Status, p.Header)
	}
	b.post(href+"/use", "save", "1").want(t, 200, "Edition 1 is in use")
	other.get(picture).want(t, 200)
	h.browser().get("/lessons/marking-gauge").want(t, 200, "The marking gauge")
	// The id is taken now, and the other author reads so.
	other.post("/modules/2/use", "save", "1").want(t, 422, "marking-gauge")
}

// Every save is kept, an edition in use never changes, and assignments keep
// theirs.
func TestEditionsStay(t *testing.T) {
	t.Parallel()
	h, b, staff := writer(t)
	class := h.class(staff)
	h.students(class, staff, "Wanda Petersen")
	href := b.write(gaugeText)
	b.post(href+"/use", "save", "1").want(t, 200, "Edition 1 is in use")
	assign := classPath(class, "/assignments/new")
	b.press(b.get(assign), assign, "exercise", "gauge-line").want(t, 200, "1 sheet given out")
	changed := strings.Replace(gaugeText, "(board_width - strip) / 3\n", "(board_width - strip) / 4\n", 1)
	changed = strings.Replace(changed, "A line runs", "Another line runs", 1)
	b.press(b.get(href+"/edit"), href+"/edit", "module_text", changed).want(t, 200, "Saved as save 2")
	b.get("/lessons/marking-gauge").want(t, 200, "A line runs").lacks(t, "Another line")
	b.get(href+"/differences").want(t, 200, "Two lines added, two lines taken out", "Another line runs", "from save 1 to save 2")
	b.get(href).want(t, 200, "You have changed it since")
	b.post(href+"/use", "save", "1").want(t, 422, "save 2 is the newest by now")
	b.post(href+"/use", "save", "2").want(t, 200, "Edition 2 is in use", "save 3 has the new number")
	b.get("/lessons/marking-gauge").want(t, 200, "Another line runs")
	b.get("/lessons/marking-gauge?edition=1").want(t, 200, "A line runs").lacks(t, "Another line")
	b.get("/lessons/marking-gauge?edition=3").want(t, 404)
	b.get(classPath(class, "/assignments/1")).want(t, 200, "edition 1")
	b.press(b.get(assign), assign, "exercise", "gauge-line").want(t, 200, "1 sheet given out")
	b.get(classPath(class, "/assignments/2")).want(t, 200, "edition 2")
	for no, want := range map[int]string{1: "(board_width - strip) / 3", 2: "(board_width - strip) / 4"} {
		spec, err := h.Store.ExerciseSpec(t.Context(), "gauge-line", no)
		if err != nil || !strings.Contains(string(spec), want) {
			t.Errorf("edition %d = %s, %v, want %s in it", no, spec, err, want)
		}
	}
	b.get(href+"/saves/1").want(t, 200, "Save 1 of 3", "A line runs")
	b.press(b.get(href+"/edit?from=1"), href+"/edit").want(t, 200, "Saved as save 4")
	b.post(href+"/retire").want(t, 200, "is retired")
	b.get("/lessons").want(t, 200).lacks(t, "The marking gauge")
	b.get("/lessons/marking-gauge?edition=1").want(t, 200)
	b.get(assign).want(t, 200).lacks(t, "gauge-line")
}

// What is wrong is said by line while typing and on saving, and nothing is
// lost by it.
func TestFaultsHaveLines(t *testing.T) {
	t.Parallel()
	_, b, _ := writer(t)
	href := b.write(gaugeText)
	bad := strings.Replace(gaugeText, "/ 3\n", "/ 3 + half_angel\n", 1)
	bad = strings.Replace(bad, "gauge.png", "gage.png", 1)
	p := b.post("/modules/check", "module_text", bad, "module_no", strings.TrimPrefix(href, "/modules/")).want(t, 200)
	var answer checkAnswer
	if err := json.Unmarshal([]byte(p.Body), &answer); err != nil {
		t.Fatal(err)
	}
	if len(answer.Faults) < 2 || answer.Faults[0].Line != 13 || !strings.Contains(answer.Faults[0].Says, "gage.png") ||
		!strings.Contains(fmt.Sprint(answer.Faults), "half_angel") || !strings.Contains(answer.HTML, "A line runs") {
		t.Errorf("check = %+v, want faults on the lines of the picture and the formula", answer)
	}
	p = b.press(b.get(href+"/edit"), href+"/edit", "module_text", bad, "do", "check").want(t, 200, "Line 13.", "gage.png")
	if !strings.Contains(rawText(p.field("module_text")), "half_angel") {
		t.Error("looking it over lost the text")
	}
	p = b.press(p, href+"/edit", "do", "save").want(t, 200, "Saved as save 2", "left: it cannot be put in use")
	b.post(href+"/use", "save", "2").want(t, 422, "Nothing was put in use", "Line 13.")
	b.press(p, href+"/edit", "module_text", " \n\t", "module_author", strings.Repeat("a", 130)).want(t, 422, "There is no text yet", "Keep the author under 120 letters")
	big := strings.Repeat("a line\n", textMost/7+1)
	p = b.upload(href+"/edit", nil, "module_text", big).want(t, 422, "a module has at most 128 kB")
	if got := rawText(p.field("module_text")); strings.TrimSpace(got) != strings.TrimSpace(big) {
		t.Errorf("the refused text came back with %d of %d bytes", len(got), len(big))
	}
	b.upload(href+"/edit", []sent{{"module_files", "x.png", []byte("<script>")}}, "module_text", gaugeText).want(t, 422, "x.png", "no picture of the kinds")
}

// What a new module begins with is sound.
func TestSkeletonIsSound(t *testing.T) {
	t.Parallel()
	_, b, _ := writer(t)
	p := b.get("/modules/new").want(t, 200, "Nothing is wrong with it")
	b.press(p, "/modules").want(t, 200, "Saved as save 1.").lacks(t, "left: it cannot")
}

// Own modules never take an id of the lessons that come with the program.
func TestOwnModulesDoNotShadow(t *testing.T) {
	t.Parallel()
	_, b, _ := writer(t)
	for _, c := range []struct{ from, to, want string }{
		{"id: marking-gauge", "id: head-v-joint", "is taken by another module"},
		{"id: gauge-line", "id: head-v-joint", "The exercise id head-v-joint is taken"},
	} {
		href := b.write(strings.Replace(gaugeText, c.from, c.to, 1))
		b.get(href+"/edit").want(t, 200, c.want)
		b.post(href+"/use", "save", "1").want(t, 422, "Nothing was put in use")
	}
	b.get("/lessons/head-v-joint").want(t, 200, "tilted instrument head").lacks(t, "marking gauge")
}
