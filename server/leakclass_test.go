package server

import (
	"context"
	"fmt"
	"math"
	"net/http"
	"os/exec"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/net/html"
	"golang.org/x/net/html/atom"

	"arrisbook/geom/joint"
	"arrisbook/grading"
	"arrisbook/server/store"
)

// pupilAtWork is one student of the hunt with everything the server told.
type pupilAtWork struct {
	class store.Class
	given given
	sheet store.Sheet
	token string
	texts map[string]string // as typed now
	pages []*page
	seen  map[string]string // every number in the pages, with where it stood first
	// ways are the right numbers of every blank so far, and the gaps of every
	// attempt, in every usual way of writing; known is what the student has
	// been given or has typed.
	ways  map[string]string
	known map[string]bool
}

// Two classes, one in millimetres and one in inches, twelve students each, go
// through every address a student can ask for. Of all the numbers in what they
// get, to the last coordinate of a drawing, none that is a student's own is
// one of that student's right numbers, or a gap that gives one away. After the
// release all of them are there.
func TestAClassNeverSeesTheKey(t *testing.T) {
	t.Parallel()
	w := newWorld(t)
	ada := w.account("ada", true)
	var all []*pupilAtWork
	for i, set := range []store.ClassSettings{
		{Name: "Millimetres", Zone: "Europe/Lisbon", Units: "mm", Projection: "first", FitWord: "tight", LengthStep: 0.1, AngleStep: 0.1},
		{Name: "Inches", Zone: "America/Chicago", Units: "inch", Projection: "third", FitWord: "tight", LengthStep: 25.4 / 64, AngleStep: 0.5},
	} {
		class, err := w.Store.AddClass(context.Background(), set, newCode(classCodeLen), ada.ID, w.Now())
		w.must(err)
		all = append(all, w.pupils(class, ada, uint64(1000*i))...)
	}
	for _, p := range all {
		w.works(p)
	}
	house := numbersOfMany(all)
	for _, p := range all {
		for token, where := range p.leaks(house) {
			t.Errorf("class %s, sheet %d: %s", p.class.Name, p.sheet.No, where+" as "+token)
		}
	}
	samePictures(t, all)
	found := 0
	for _, p := range all {
		w.must(ignoreChanged(w.Store.ReleaseKey(context.Background(), p.class.ID, p.given.assignment.No, store.Act{By: ada.ID, At: w.Now()})))
		p.seen, p.pages = nil, []*page{w.ask(call{Method: http.MethodGet, Token: p.token, Path: p.href("")})}
		p.read()
		steps := map[string]bool{}
		for token := range p.seen {
			if what := p.ways[token]; what != "" && !strings.HasPrefix(what, "gap") && !house[token] && !p.known[token] {
				steps[what] = true
			}
		}
		// Some are given sizes or typed already, or stand on every page.
		if least := len(p.sheet.Current().Steps) / 2; len(steps) < least {
			t.Errorf("class %s, sheet %d: after the release %d right numbers are found, want %d at least", p.class.Name, p.sheet.No, len(steps), least)
		}
		found += len(steps)
	}
	t.Logf("%d students, %d different numbers on many sheets, %d right numbers found after the release", len(all), len(house), found)
}

func ignoreChanged(err error) error {
	if err != nil && strings.Contains(err.Error(), store.ErrChanged.Error()) {
		return nil
	}
	return err
}

// pupils gives twelve students of a class a sheet each. Seeds are fixed, so
// that the hunt is the same every time.
func (w *world) pupils(class store.Class, by store.Staff, seed uint64) []*pupilAtWork {
	w.t.Helper()
	var names []string
	for i := range 12 {
		names = append(names, "Learner "+string(rune('A'+i)))
	}
	students := w.students(class, by, names...)
	g := w.give(class, by, "head-v-joint", students, seed, nil)
	var all []*pupilAtWork
	for _, st := range students {
		sheet, err := w.Store.Sheet(context.Background(), class.ID, w.sheetOf(class, st.No))
		w.must(err)
		p := &pupilAtWork{class: class, given: g, sheet: sheet, token: w.studentToken(class, st.No, false)}
		p.begin()
		all = append(all, p)
	}
	return all
}

func (p *pupilAtWork) href(rest string) string {
	return fmt.Sprintf("%s/sheets/%d%s", classHref(p.class), p.sheet.No, rest)
}

// slips answers each number with what a slip gives, another slip from sheet to
// sheet, and now and then with the right number to one decimal.
func (p *pupilAtWork) slips() map[string]string {
	texts := map[string]string{}
	key := grading.Key(p.given.exercise, p.sheet.Current().Parameters)
	for i, st := range p.sheet.Current().Steps {
		texts[st.ID] = strconv.FormatFloat(key[st.ID], 'f', 1, 64) + unitTyped(st)
		if patterns := grading.Patterns(p.given.exercise, p.sheet.Current(), st.ID); (i+p.sheet.No)%5 > 0 && len(patterns) > 0 {
			v := patterns[(i+p.sheet.No)%len(patterns)].Value
			texts[st.ID] = strconv.FormatFloat(math.Mod(math.Abs(v), 400), 'f', 2, 64) + unitTyped(st)
		}
	}
	return texts
}

func unitTyped(st grading.SheetStep) string {
	if st.Unit == "mm" {
		return " mm"
	}
	return ""
}

// works goes through everything a student can ask for: each address of the
// matrix, with the numbers, without them, and with some that cannot be read;
// then once more on the wood as measured.
func (w *world) works(p *pupilAtWork) {
	w.t.Helper()
	w.round(p)
	w.measure(p)
	w.round(p)
	p.read()
}

func (w *world) round(p *pupilAtWork) {
	w.t.Helper()
	form := []string{"key", newKey(), "wood", fmt.Sprint(p.sheet.Wood)}
	for id, text := range p.texts {
		form = append(form, fieldOf(id), text)
	}
	bad := append(slices.Clone(form[:4]), fieldOf(p.sheet.Current().Steps[0].ID), "1,234", fieldOf(p.sheet.Current().Steps[1].ID), "tip_depth*2")
	attempts := 0
	for _, r := range inOrder(routes()) {
		rw := matrix[r.Method+" "+r.Path]
		if fmt.Sprint(rw.open) != fmt.Sprint(owner) && fmt.Sprint(rw.open) != fmt.Sprint(allStudents) && !strings.Contains(r.Path, ":sheet") {
			continue
		}
		path := strings.NewReplacer(":class", fmt.Sprint(p.class.ID), ":sheet", fmt.Sprint(p.sheet.No), ":attempt", "1").Replace(r.Path)
		for _, f := range [][]string{form, bad} {
			for _, accept := range []string{"text/html", "application/json"} {
				c := call{Method: r.Method, Token: p.token, Path: path, Header: http.Header{"Accept": {accept}}}
				if r.Method == http.MethodPost {
					c.Body = fields(f...).Encode()
				}
				a := w.ask(c)
				p.pages = append(p.pages, a)
				if a.Status == http.StatusSeeOther && strings.HasSuffix(r.Path, "/attempts") || strings.Contains(a.Body, `"attempt"`) {
					attempts++
				}
				if !strings.HasSuffix(r.Path, "/attempts") {
					break // all others answer alike whatever is asked for
				}
			}
			if r.Method == http.MethodGet {
				break
			}
		}
	}
	if attempts != 2 { // the press and its repetition as JSON
		w.t.Errorf("sheet %d: %d presses were taken, want 2", p.sheet.No, attempts)
	}
	for _, path := range []string{p.href(""), p.href("/attempts/1"), "/sheets"} {
		p.pages = append(p.pages, w.ask(call{Method: http.MethodGet, Token: p.token, Path: path}))
	}
}

// measure puts the sheet on wood that differs a little.
func (w *world) measure(p *pupilAtWork) {
	w.t.Helper()
	sizes, f := woodOf(p.given.exercise), woodForm{Texts: map[string]string{}}
	form := []string{"wood", fmt.Sprint(p.sheet.Wood), "step", "use"}
	for i, size := range sizes {
		v := p.sheet.Issued.Parameters[size.ID]
		if size.Unit == "mm" {
			v += 0.3*float64(i%2) + 0.2*float64(p.sheet.Wood+1)
		}
		f.Texts[size.ID] = grading.Print(v, size.Unit, grading.Millimetres)
		form = append(form, woodFieldOf(size.ID), f.Texts[size.ID])
	}
	form = append(form, "seen", f.canonical(sizes))
	a := w.ask(call{Method: http.MethodPost, Token: p.token, Path: p.href("/wood"), Body: fields(form...).Encode()})
	if a.Status != http.StatusSeeOther {
		w.t.Fatalf("measuring sheet %d = %d:\n%s", p.sheet.No, a.Status, a.text())
	}
	p.pages = append(p.pages, a)
	var err error
	p.sheet, err = w.Store.Sheet(context.Background(), p.class.ID, p.sheet.No)
	w.must(err)
	for _, text := range f.Texts {
		p.knows(text)
	}
	p.begin()
}

// begin starts on a blank: it works out what must not be told about it.
func (p *pupilAtWork) begin() {
	if p.ways == nil {
		p.ways, p.known = map[string]string{}, map[string]bool{}
	}
	sheet, ex := p.sheet.Current(), p.given.exercise
	p.texts = p.slips()
	for id, v := range grading.Key(ex, sheet.Parameters) {
		step, _ := stepOf(ex, id)
		p.writes(id, v, 1)
		for _, units := range []grading.Units{grading.Millimetres, grading.Inches} {
			for _, token := range anyNumber.FindAllString(grading.Print(v, step.Unit, units), -1) {
				p.ways[token] = id
			}
		}
	}
	for _, st := range sheet.Steps {
		p.knows(st.Why + " " + withinText(st, grading.Millimetres) + " " + withinText(st, grading.Inches))
	}
	for _, g := range ex.Givens {
		for _, units := range []grading.Units{grading.Millimetres, grading.Inches} {
			p.knows(grading.Print(sheet.Parameters[g.ID], g.Unit, units))
			p.knows(grading.Print(p.sheet.Issued.Parameters[g.ID], g.Unit, units))
		}
	}
	for _, e := range readEntries(ex, sheet, p.texts, unitsOf(p.class)) {
		p.knows(e.Says)
	}
	for _, text := range p.texts {
		p.knows(text)
	}
	submitted := joint.Values{}
	for _, r := range grading.Grade(ex, sheet, p.texts, unitsOf(p.class)).Steps {
		if r.Reading != nil {
			submitted[r.ID] = r.Reading.Value
		}
	}
	fit, err := ex.Family.Fit(sheet.Parameters, submitted)
	if err != nil {
		return // these numbers make no joint, so there is no gap to tell
	}
	for _, o := range fit.Outcomes {
		p.writes("gap "+o.ID, math.Abs(o.Value.Min), 2)
		p.writes("gap "+o.ID, math.Abs(o.Value.Max), 2)
	}
}

// writes notes a value that must not be told, in millimetres or degrees and in
// inches, with a few or many decimals.
func (p *pupilAtWork) writes(what string, v float64, from int) {
	for decimals := from; decimals <= 4; decimals++ {
		for _, unit := range []float64{1, 25.4} {
			text := strconv.FormatFloat(v/unit, 'f', decimals, 64)
			if strings.Trim(text, "0.") != "" {
				p.ways[text], p.ways[strings.Replace(text, ".", ",", 1)] = what, what
			}
		}
	}
}

func (p *pupilAtWork) knows(text string) {
	for _, token := range anyNumber.FindAllString(text, -1) {
		p.known[token] = true
	}
}

var anyNumber = regexp.MustCompile(`\d+[.,]\d+|(?:\d+[ -])?\d+/\d+`)

// read collects the numbers of all pages.
func (p *pupilAtWork) read() {
	if p.seen == nil {
		p.seen = map[string]string{}
	}
	for _, a := range p.pages {
		for _, token := range anyNumber.FindAllString(legible(a)+fmt.Sprint(a.Header), -1) {
			if _, ok := p.seen[token]; !ok {
				p.seen[token] = a.Path
			}
		}
	}
}

// legible is what can be read of an answer: of a PDF its texts. That its lines
// are the same for everybody is tested where paper is made.
func legible(a *page) string {
	if a.Header.Get("Content-Type") != "application/pdf" {
		return a.Body
	}
	cmd := exec.Command("pdftotext", "-", "-")
	cmd.Stdin = strings.NewReader(a.Body)
	out, err := cmd.Output()
	if err != nil {
		return "" // no poppler here; there is where tests may not be skipped
	}
	return string(out)
}

// numbersOfMany are the numbers that stand on the pages of four students or
// more: the house blank's drawing, the limits of fit words, examples.
func numbersOfMany(all []*pupilAtWork) map[string]bool {
	count, many := map[string]int{}, map[string]bool{}
	for _, p := range all {
		for token := range p.seen {
			count[token]++
			many[token] = count[token] >= 4
		}
	}
	for token, is := range many {
		if !is {
			delete(many, token)
		}
	}
	return many
}

// leaks are the numbers that must not be told and are.
func (p *pupilAtWork) leaks(house map[string]bool) map[string]string {
	found := map[string]string{}
	for token, where := range p.seen {
		if what, ok := p.ways[token]; ok && !p.known[token] && !house[token] {
			found[token] = where + " holds " + what
		}
	}
	return found
}

// samePictures holds the pictures of how it would close to what is said in
// words: where the words are the same, so are the lines, whatever the numbers.
func samePictures(t *testing.T, all []*pupilAtWork) {
	t.Helper()
	drawn, alike := map[string]string{}, 0
	for _, p := range all {
		for _, a := range p.pages {
			words, lines := closing(a)
			if lines == "" {
				continue
			}
			words = p.class.Name + ": " + words
			if before, ok := drawn[words]; ok {
				alike++
				if before != lines {
					t.Errorf("%s draws other lines than another sheet of which the same is said: %s", a.Path, words)
				}
			}
			drawn[words] = lines
		}
	}
	if alike == 0 || len(drawn) < 2 {
		t.Errorf("%d different pictures and %d alike: nothing is compared", len(drawn), alike)
	}
}

// closing takes the words and the lines of the fit out of a result page.
func closing(a *page) (words, lines string) {
	var text, paths strings.Builder
	for n := range a.Doc.Descendants() {
		switch {
		case n.DataAtom == atom.Table || n.DataAtom == atom.Div && attr(n, "class") == "above":
			text.WriteString(textOf(n) + " ")
		case n.Data == "path" && inside(n, "fit closing"):
			paths.WriteString(attr(n, "d") + " ")
		}
	}
	return text.String(), paths.String()
}

func inside(n *html.Node, class string) bool {
	for up := n.Parent; up != nil; up = up.Parent {
		if attr(up, "class") == class {
			return true
		}
	}
	return false
}
