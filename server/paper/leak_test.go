package paper

import (
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"arrisbook/geom/drawing"
	"arrisbook/geom/joint"
	"arrisbook/grading"
)

// tool finds one of poppler's programs, or skips.
func tool(t *testing.T, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		if strings.Contains(os.Getenv("ARRISBOOK_REQUIRE"), "pdf") {
			t.Fatalf("%s (poppler-utils) is not installed", name)
		}
		t.Skipf("%s (poppler-utils) is not installed", name)
	}
	return path
}

// printedText gives what a reader of the file can read, page by page.
func printedText(t *testing.T, pdf []byte) []string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "paper.pdf")
	if err := os.WriteFile(file, pdf, 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(tool(t, "pdftotext"), "-layout", file, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	return strings.Split(strings.TrimSuffix(string(out), "\f"), "\f")
}

var figures = regexp.MustCompile(`[0-9]+(\.[0-9]+)?`)

// Before the release nothing on paper tells the key: not a text, and not the
// drawing, which is the same for everybody. After it, the key is there.
func TestUnreleasedPaperHoldsNoKey(t *testing.T) {
	for _, ex := range everyExercise(t) {
		o := classOrder(t, ex, 6, grading.Millimetres)
		o.Parts = Parts{Overview: true, Sheets: true, Templates: true}
		text := strings.Join(printedText(t, compose(t, o)), "\n")
		for _, s := range o.Sheets {
			given := map[float64]bool{}
			for _, v := range s.Sheet.Parameters {
				given[math.Round(v*100)/100] = true
			}
			for id, v := range grading.Key(o.Exercise, s.Sheet.Parameters) {
				if v < 10 || given[math.Round(v*100)/100] || given[math.Round(v*10)/10] || v == math.Trunc(v) {
					continue // small and round numbers stand on every page
				}
				for _, f := range figures.FindAllString(text, -1) {
					if x, _ := strconv.ParseFloat(f, 64); strings.Contains(f, ".") && math.Abs(x-v) < 0.051 && !isGiven(o, x) {
						t.Errorf("%s: %s of sheet %d is %.3f, and %s is printed", ex, id, s.No, v, f)
					}
				}
			}
		}
	}
}

// isGiven says that a number is a given of some sheet of the order.
func isGiven(o Order, x float64) bool {
	for _, s := range o.Sheets {
		for _, v := range s.Sheet.Parameters {
			if math.Abs(v-x) < 1e-6 {
				return true
			}
		}
	}
	return false
}

func everyExercise(t *testing.T) []string {
	var ids []string
	for _, m := range library(t).Modules {
		for _, ex := range m.Exercises {
			ids = append(ids, ex.ID)
		}
	}
	if len(ids) < 11 {
		t.Fatalf("only %d exercises ship", len(ids))
	}
	return ids
}

// Two students' unreleased drawings differ in their texts only: what a line is
// drawn through does not depend on whose sheet it is.
func TestUnreleasedDrawingsAreOneDrawing(t *testing.T) {
	o := classOrder(t, "head-v-joint", 2, grading.Millimetres)
	lines := func(s Sheet) []string {
		s.No, s.Bench, s.Student = 1, 1, "Same Name"
		o := o
		o.Sheets = []Sheet{s}
		return strokes(t, compose(t, o))
	}
	a, b := lines(o.Sheets[0]), lines(o.Sheets[1])
	if len(a) < 50 || !slices.Equal(a, b) {
		t.Errorf("%d and %d lines are drawn on two students' sheets, want the same, over 50", len(a), len(b))
	}
	o.Sheets[0].Released, o.Sheets[1].Released = true, true
	if slices.Equal(lines(o.Sheets[0]), lines(o.Sheets[1])) {
		t.Error("released sheets show the same lines for two blanks: this test sees nothing")
	}
}

// strokes are the drawing commands of a file's pages, without texts.
func strokes(t *testing.T, pdf []byte) []string {
	t.Helper()
	dir := t.TempDir()
	file := filepath.Join(dir, "paper.pdf")
	if err := os.WriteFile(file, pdf, 0o600); err != nil {
		t.Fatal(err)
	}
	// As SVG, poppler writes every line as a path; letters are uses of glyphs.
	svg := filepath.Join(dir, "page.svg")
	if out, err := exec.Command(tool(t, "pdftocairo"), "-svg", "-f", "1", "-l", "1", file, svg).CombinedOutput(); err != nil {
		t.Fatalf("pdftocairo: %v: %s", err, out)
	}
	b, err := os.ReadFile(svg)
	if err != nil {
		t.Fatal(err)
	}
	body := string(b)
	if i := strings.LastIndex(body, "</defs>"); i >= 0 {
		body = body[i:]
	}
	return regexp.MustCompile(`<path [^>]*stroke-width[^>]*>`).FindAllString(body, -1)
}

// A template is the key, so nobody gets one before the key is released or
// leave to cut is given, whatever was ordered.
func TestTemplatesOnlyWhereTheKeyMayBeSeen(t *testing.T) {
	family := templateFamily(t)
	o := classOrder(t, family, 4, grading.Millimetres)
	o.Parts = Parts{Templates: true}
	o.Sheets[1].Released = true
	o.Sheets[3].Cleared = "Ada Moss, 25 Nov 14:20"
	text := strings.Join(printedText(t, compose(t, o)), "\n")
	for n, s := range o.Sheets {
		want := n == 1 || n == 3
		if got := strings.Contains(text, s.Student); got != want {
			t.Errorf("sheet %d (released %v, cleared %q) has a template: %v, want %v", s.No, s.Released, s.Cleared, got, want)
		}
	}
	if !strings.Contains(text, "Lay a steel rule on all four bars") || !strings.Contains(text, "Measure the blank before you glue") {
		t.Error("a template page does not say what its bars and its wood want")
	}
	if got := Templates(o.Sheets); got != 2 {
		t.Errorf("Templates = %d, want 2", got)
	}
}

// templateFamily is an exercise whose family has templates.
func templateFamily(t testing.TB) string {
	t.Helper()
	for _, f := range joint.All() {
		if flats, err := drawing.Flats(f, f.House); err == nil && len(flats) > 0 {
			return f.ID
		}
	}
	t.Skip("no family has a template yet")
	return ""
}

// What a student needs stands on the sheet: the own sizes, every asked number
// with its datum, the code, the initials' field and the caution.
func TestSheetsHoldWhatIsNeeded(t *testing.T) {
	for _, units := range []grading.Units{grading.Millimetres, grading.Inches} {
		for _, id := range everyExercise(t) {
			o := classOrder(t, id, 1, units)
			text := flat(strings.Join(printedText(t, compose(t, o)), "\n"))
			s := o.Sheets[0]
			want := []string{s.Student, "Code to type: " + s.Code, "instructor’s initials", "Only the instructor clears you to cut", "first", "corrected", o.Class.Name}
			for _, g := range o.Exercise.Givens {
				want = append(want, g.Name, grading.Print(s.Sheet.Parameters[g.ID], g.Unit, units))
			}
			for _, st := range s.Sheet.Steps {
				step, _ := o.step(st.ID)
				want = append(want, step.Name)
			}
			for _, w := range want {
				if !strings.Contains(text, flat(w)) {
					t.Errorf("%s in %s: the sheet does not say %q", id, units, w)
				}
			}
			if units == grading.Inches && strings.Contains(text, " mm") {
				t.Errorf("%s: a sheet in inches speaks of mm", id)
			}
		}
	}
}

// flat is a text with its white space evened out.
func flat(text string) string { return strings.Join(strings.Fields(text), " ") }

// The overview takes one page however large the class is, and the key tells
// everybody's numbers.
func TestOverviewIsOnePage(t *testing.T) {
	for _, n := range []int{1, 30, 64} {
		o := classOrder(t, "head-v-joint-first", n, grading.Millimetres)
		o.Sheets[0].State = State{Says: "1 of 6 right", Attempts: 1, Verdicts: map[string]grading.Verdict{"half_angle": grading.Right, "mouth_near": grading.Wrong}}
		o.Parts = Parts{Overview: true}
		pages := printedText(t, compose(t, o))
		if len(pages) != 1 || !strings.Contains(pages[0], o.Sheets[n-1].Student) {
			t.Errorf("the overview of %d takes %d pages, or somebody is missing", n, len(pages))
		}
		if !regexp.MustCompile(`Wanda Prell-1 .*1 of 6 right +R +W`).MatchString(pages[0]) {
			t.Errorf("the first line does not say how the sheet stands:\n%s", pages[0])
		}
		o.Parts = Parts{Key: true}
		text := strings.Join(printedText(t, compose(t, o)), "\n")
		for _, s := range o.Sheets {
			for id, key := range o.keyOf(s) {
				if slices.ContainsFunc(s.Sheet.Steps, func(st grading.SheetStep) bool { return st.ID == id }) && !strings.Contains(text, bare(key)) {
					t.Errorf("the key of %d does not tell %s of sheet %d", n, id, s.No)
				}
			}
		}
	}
}

// A name that the lettering cannot write is left to be written by hand.
func TestNamesThatCannotBePrinted(t *testing.T) {
	o := classOrder(t, "head-v-joint-first", 1, grading.Millimetres)
	o.Sheets[0].Student = "木村 三郎"
	o.Parts = Parts{Overview: true, Sheets: true}
	text := strings.Join(printedText(t, compose(t, o)), "\n")
	if strings.Contains(text, "?") || !strings.Contains(text, "write the name in") {
		t.Errorf("a name outside the lettering is not left to be written in:\n%s", text)
	}
}

// Large print is a little more paper and nothing less on it.
func TestLargePrint(t *testing.T) {
	o := classOrder(t, "head-v-joint-first", 1, grading.Millimetres)
	usual := printedText(t, compose(t, o))
	o.Sheets[0].Large = true
	large := printedText(t, compose(t, o))
	if len(large) <= len(usual) {
		t.Errorf("large print takes %d pages, the usual %d", len(large), len(usual))
	}
	words := func(pages []string) []string {
		all := regexp.MustCompile(`[A-Za-z]{3,}`).FindAllString(strings.Join(pages, " "), -1)
		slices.Sort(all)
		return slices.Compact(all)
	}
	for _, w := range words(usual) {
		if !slices.Contains(words(large), w) {
			t.Errorf("large print leaves %q out", w)
		}
	}
}
