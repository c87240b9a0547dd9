package server

import (
	"fmt"
	"math"
	"net/http"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"arrisbook/geom/drawing"
	"arrisbook/grading"
	"arrisbook/server/store"
)

// A student's response never holds a right number before the release: not in
// the page, not in a drawing, not in JSON, not in a header. Fifteen sheets in
// millimetres and fifteen in inches are answered wrong throughout, and every
// response is searched for every right number, written in every usual way.
func TestResponsesNeverHoldTheKey(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	b.leakHunt("mm")
	b.class.Units = "inch"
	inches, err := b.Store.AddClass(t.Context(), store.ClassSettings{
		Name: "Inches", Zone: "America/Chicago", Units: "inch", Projection: "third", FitWord: "close", LengthStep: 25.4 / 64, AngleStep: 0.5,
	}, newCode(classCodeLen), b.staff.ID, b.Now())
	if err != nil {
		t.Fatal(err)
	}
	b.class = inches
	b.student = b.students(inches, b.staff, "Ines Bower")[0]
	b.pupil = b.harness.student(inches, b.student)
	b.leakHunt("inch")
}

// leakHunt gives the student of the bench fifteen sheets and answers them.
func (b *bench) leakHunt(name string) {
	b.t.Helper()
	for i := range 15 {
		exercise := []string{"head-v-joint", "head-v-joint-first"}[i%2]
		b.giveSeeded(exercise, uint64(i))
		b.href = fmt.Sprintf("%s/sheets/%d", classPath(b.class, ""), b.sheet.No)
		ways := b.keyWays()
		wrong := b.wrongNumbers(ways)
		for _, p := range b.responsesTo(wrong) {
			for _, found := range searchKey(p, ways, b.knownTexts(wrong)) {
				b.t.Errorf("%s sheet %d: %s holds %s", name, i, p.Path, found)
			}
			b.sameAsHouse(p)
		}
	}
}

// giveSeeded gives the student of the bench the sheet of a seed, so that the
// search meets the same numbers every time: now and then a right number is
// also, by chance, a number that stands on every page.
func (b *bench) giveSeeded(exercise string, seed uint64) {
	b.t.Helper()
	ctx := b.t.Context()
	shipped, ok := b.Server.cfg.Lessons.Exercise(exercise)
	if !ok {
		b.t.Fatalf("no exercise %s", exercise)
	}
	ex, err := b.Server.keepExercise(ctx, shipped)
	if err != nil {
		b.t.Fatal(err)
	}
	sheets, err := issue(ex, []store.Student{b.student}, nil, shopOf(b.class), func() uint64 { return seed })
	if err != nil {
		b.t.Fatal(err)
	}
	_, err = b.Store.CreateAssignment(ctx, store.Assignment{
		ClassID: b.class.ID, Exercise: ex.ID, Version: ex.Version, Title: ex.Title, OpensAt: b.Now(),
		Release: store.ReleaseByHand, CreatedBy: b.staff.ID, CreatedAt: b.Now(),
	}, sheets)
	if err != nil {
		b.t.Fatal(err)
	}
	b.sheet = b.sheetOf(b.student)
}

// keyWays writes every right number in every usual way; the value says which
// number it is.
func (b *bench) keyWays() map[string]string {
	ways := map[string]string{}
	for id, v := range grading.Key(b.exercise(), b.sheet.Issued.Parameters) {
		step, _ := stepOf(b.exercise(), id)
		for _, unit := range []float64{1, 25.4} {
			for decimals := 1; decimals <= 3; decimals++ {
				text := strconv.FormatFloat(v/unit, 'f', decimals, 64)
				ways[text] = id
				ways[strings.Replace(text, ".", ",", 1)] = id
			}
		}
		for _, units := range []grading.Units{grading.Millimetres, grading.Inches} {
			if text := grading.Print(v, step.Unit, units); strings.Contains(text, ".") || strings.Contains(text, "/") {
				ways[text] = id
			}
		}
		ways[strconv.FormatFloat(v, 'f', -1, 64)] = id
	}
	return ways
}

// wrongNumbers gives each asked number the value of a slip, and far off where
// that would be a right number of another step.
func (b *bench) wrongNumbers(ways map[string]string) map[string]string {
	texts := map[string]string{}
	for i, st := range b.sheet.Issued.Steps {
		texts[st.ID] = fmt.Sprintf("%d.137", 70+i)
		for _, p := range grading.Patterns(b.exercise(), b.sheet.Issued, st.ID) {
			v := math.Abs(math.Round(p.Value*100) / 100)
			text := strconv.FormatFloat(v, 'f', 2, 64)
			if _, isKey := ways[text]; !p.Harmless && !isKey && v < 300 && p.ID != "digits-swapped" {
				texts[st.ID] = text
				break
			}
		}
	}
	return texts
}

// responsesTo collects every kind of response a student gets to see.
func (b *bench) responsesTo(wrong map[string]string) []*page {
	b.t.Helper()
	form := func(key string, texts map[string]string) []string {
		return append([]string{"key", key, "wood", "0"}, fieldsOf(texts)...)
	}
	key, first := newKey(), b.sheet.Issued.Steps[0].ID
	all := []*page{
		b.pupil.get("/sheets"), b.pupil.get(b.href),
		b.pupil.post(b.href+"/readings", form(newKey(), wrong)...),
		b.pupil.post(b.href+"/check", form(newKey(), wrong)...),
		b.pupil.post(b.href+"/check", append(form(newKey(), wrong), "change", "1")...),
		b.pupil.post(b.href+"/attempts", form(key, wrong)...).want(b.t, http.StatusOK),
		b.pupil.post(b.href+"/attempts", form(key, change(wrong, first, "1,234"))...),
		b.pupil.post(b.href+"/attempts", form("", wrong)...),
		b.pupil.post(b.href+"/attempts", form(newKey(), change(wrong, first, "tip_depth"))...),
		b.pupil.get(b.href), b.pupil.get(b.href + "/attempts/1"), b.pupil.get("/sheets"),
		b.pupil.post(b.href + "/ask"), b.pupil.get(b.href + "/wood"),
		b.pupil.post(b.href+"/wood", "wood", "0", woodFieldOf("thickness"), "tip_depth", "step", "read"),
		b.pupil.post(b.href+"/wood", "wood", "0", woodFieldOf("thickness"), "900", "step", "read"),
		b.pupil.get(b.href + "/attempts/99"), b.pupil.get(b.href + "/bench"),
	}
	b.pupil.Header.Set("Accept", "application/json")
	all = append(all,
		b.pupil.post(b.href+"/attempts", form(key, wrong)...),
		b.pupil.post(b.href+"/attempts", form(newKey(), wrong)...))
	b.pupil.Header.Del("Accept")
	return all
}

// knownTexts are what the student has anyway: the givens, the own answers and
// the tolerances.
func (b *bench) knownTexts(wrong map[string]string) []string {
	var known []string
	for _, text := range wrong {
		known = append(known, text)
	}
	// How the own answers read, and the examples in what is said of entries
	// that cannot be read.
	first := b.sheet.Issued.Steps[0].ID
	for _, texts := range []map[string]string{wrong, change(wrong, first, "1,234"), change(wrong, first, "tip_depth")} {
		for _, e := range readEntries(b.exercise(), b.sheet.Issued, texts, unitsOf(b.class)) {
			known = append(known, e.Says, e.Fault)
		}
	}
	for _, text := range []string{"tip_depth", "900"} {
		f := woodForm{Texts: map[string]string{"thickness": text}}
		_, entries := readWood(f, woodOf(b.exercise()), b.sheet.Issued, unitsOf(b.class))
		known = append(known, entries["thickness"].Says, entries["thickness"].Fault)
	}
	for _, st := range b.sheet.Issued.Steps {
		known = append(known, st.Why, lowerFirst(st.Why), withinText(st, grading.Millimetres), withinText(st, grading.Inches))
	}
	// The limits of the fit words, and the example of how a time is written.
	known = append(known, "0.10", "0.25", "0.50", "1/8 in")
	for id, v := range b.sheet.Issued.Parameters {
		g, ok := b.exercise().Family.Parameter(id)
		if !ok {
			b.t.Fatalf("no parameter %s", id)
		}
		for _, units := range []grading.Units{grading.Millimetres, grading.Inches} {
			known = append(known, grading.Print(v, g.Unit, units), bare(grading.Print(v, g.Unit, units)))
		}
	}
	return known
}

var numberShape = regexp.MustCompile(`\d+[.,]\d+|\d+/\d+`)

// searchKey looks for right numbers in everything of a response but the places
// of lines in drawings, which sameAsHouse holds to the house blank.
func searchKey(p *page, ways map[string]string, known []string) []string {
	var text strings.Builder
	for name, values := range p.Header {
		fmt.Fprintln(&text, name, values)
	}
	if strings.HasPrefix(p.Header.Get("Content-Type"), "text/html") {
		readable(&text, p.Doc)
	} else {
		text.WriteString(p.Body)
	}
	var found []string
	all := without(text.String(), known)
	for _, token := range numberShape.FindAllString(all, -1) {
		if id, ok := ways[token]; ok {
			found = append(found, id+" as "+token)
		}
	}
	for way, id := range ways {
		if strings.ContainsAny(way, " °") && strings.Contains(all, way) {
			found = append(found, id+" as "+way)
		}
	}
	return found
}

// without blanks out what is known, the longest first: "1/4 in" is no news
// inside "2 1/4 in".
func without(text string, known []string) string {
	slices.SortFunc(known, func(a, b string) int { return len(b) - len(a) })
	for _, k := range known {
		if k != "" {
			// A known number only counts as a whole: 4.5 is not known from 14.5.
			text = regexp.MustCompile(`(^|[^0-9.,/])`+regexp.QuoteMeta(k)+`($|[^0-9])`).ReplaceAllString(text, "$1 ~ $2")
		}
	}
	return text
}

// readable writes every text and attribute but those that place lines.
func readable(to *strings.Builder, n *html.Node) {
	places := map[string]bool{"d": true, "x": true, "y": true, "cx": true, "cy": true, "r": true, "transform": true, "viewbox": true, "viewBox": true}
	for d := range n.Descendants() {
		if d.Type == html.TextNode || d.Type == html.CommentNode {
			fmt.Fprintln(to, d.Data)
		}
		for _, a := range d.Attr {
			if !places[a.Key] {
				fmt.Fprintln(to, a.Val)
			}
		}
	}
}

// sameAsHouse holds the lines of a sheet's views to the family's house blank:
// whatever the student's sizes are, the paths are the same.
func (b *bench) sameAsHouse(p *page) {
	b.t.Helper()
	if p.find(func(n *html.Node) bool { return attr(n, "id") == "numbers" }) == nil {
		return
	}
	want := map[string]bool{}
	family := b.exercise().Family
	// Lines make room for texts and for the ring of the next number, so those
	// are the student's own here; every size is the house blank's.
	for next := -1; next < len(b.sheet.Issued.Steps); next++ {
		s := drawing.Sheet{Blank: family.House, Given: givenTexts(b.exercise(), b.sheet.Issued, unitsOf(b.class))}
		for i, st := range b.sheet.Issued.Steps {
			s.Asked = append(s.Asked, drawing.Balloon{Number: i + 1, Quantity: st.ID, Next: i == next})
		}
		views, err := drawing.SheetViews(family, s)
		if err != nil {
			b.t.Fatal(err)
		}
		for _, v := range append(views, drawing.ProjectionSymbol("first"), drawing.ProjectionSymbol("third")) {
			for _, d := range pathShape.FindAllString(v.SVG(), -1) {
				want[d] = true
			}
		}
	}
	got := 0
	for _, svg := range drawingShape.FindAllString(p.Body, -1) {
		for _, d := range pathShape.FindAllString(svg, -1) {
			got++
			if !want[d] {
				b.t.Errorf("%s draws %s, which is not the house blank's", p.Path, d)
			}
		}
	}
	if got == 0 {
		b.t.Errorf("%s draws nothing", p.Path)
	}
}

var (
	drawingShape = regexp.MustCompile(`(?s)<svg class="drawing.*?</svg>`)
	pathShape    = regexp.MustCompile(` d="[^"]*"`)
)

// The search finds what it is meant to find: on a released sheet it does.
func TestTheSearchFindsTheKey(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	ways := b.keyWays()
	b.pupil.get(b.href)
	b.teacher.press(b.teacher.get(b.given), b.given+"/release").want(t, http.StatusOK)
	if found := searchKey(b.pupil.get(b.href), ways, b.knownTexts(nil)); len(found) < 4 {
		t.Errorf("searchKey on a released sheet = %v, want the right numbers", found)
	}
}
