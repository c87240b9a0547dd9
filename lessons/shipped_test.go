package lessons

import (
	"fmt"
	"io/fs"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"arrisbook/geom/drawing"
	"arrisbook/geom/joint"
	"arrisbook/grading"
)

func shipped(t *testing.T) *Library {
	t.Helper()
	lib, err := Shipped()
	if err != nil {
		t.Fatal(err)
	}
	return lib
}

// TestShippedIsSound tries every shipped exercise on blanks, which Shipped
// itself leaves out.
func TestShippedIsSound(t *testing.T) {
	sub, err := fs.Sub(content, "content")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range Check(sub, nil) {
		t.Error(e)
	}
}

// TestShippedExercisesGiveBlanks draws many blanks of every exercise in both
// systems of units; each asks every step.
func TestShippedExercisesGiveBlanks(t *testing.T) {
	for _, m := range shipped(t).Modules {
		for _, ex := range m.Exercises {
			for _, units := range []grading.Units{grading.Millimetres, grading.Inches} {
				for seed := uint64(1); seed <= 40; seed++ {
					sheet, err := grading.Generate(ex, seed, grading.ShopFor(units))
					if err != nil {
						t.Fatalf("%s in %s, seed %d: %v", ex.ID, units, seed, err)
					}
					if len(sheet.Steps) != len(ex.Steps) {
						t.Errorf("%s in %s, seed %d asks %d steps, want %d", ex.ID, units, seed, len(sheet.Steps), len(ex.Steps))
					}
				}
			}
		}
	}
}

// TestFamilyExercisesAskEverything: the exercise that has its family's id asks
// all that the family can tell.
func TestFamilyExercisesAskEverything(t *testing.T) {
	lib := shipped(t)
	if _, ok := lib.Exercise("head-v-joint"); !ok {
		t.Error("no exercise is called head-v-joint")
	}
	for _, f := range joint.All() {
		ex, ok := lib.Exercise(f.ID)
		if ok && len(ex.Steps) != len(f.Quantities) {
			t.Errorf("%s asks %d steps, want all %d quantities", f.ID, len(ex.Steps), len(f.Quantities))
		}
	}
}

// TestShippedSteps: every step trains a skill and says where it is measured
// from.
func TestShippedSteps(t *testing.T) {
	for _, m := range shipped(t).Modules {
		trained := map[string]bool{}
		for _, ex := range m.Exercises {
			for _, s := range ex.Steps {
				trained[s.Skill] = true
				if s.Skill == "" || s.From == "" {
					t.Errorf("%s, step %s: skill %q, from %q, want none empty", ex.ID, s.ID, s.Skill, s.From)
				}
				for id, hint := range s.Hints {
					if regexp.MustCompile(`[0-9=]`).MatchString(hint) || !strings.HasSuffix(hint, "?") {
						t.Errorf("%s, step %s, hint of %s: %q, want a question without figures", ex.ID, s.ID, id, hint)
					}
				}
			}
		}
		for _, s := range m.Skills {
			if !trained[s.ID] {
				t.Errorf("%s names the skill %s, which no step trains", m.ID, s.ID)
			}
		}
	}
}

// TestShippedStepsAreDrawn: where a family has drawings, each asked number has
// its balloon on one of them.
func TestShippedStepsAreDrawn(t *testing.T) {
	for _, m := range shipped(t).Modules {
		for _, ex := range m.Exercises {
			if ex.Family == nil {
				continue
			}
			sheet := drawing.Sheet{Blank: ex.Family.House}
			for i, s := range ex.Steps {
				sheet.Asked = append(sheet.Asked, drawing.Balloon{Number: i + 1, Quantity: s.ID})
			}
			views, err := drawing.SheetViews(ex.Family, sheet)
			if err != nil {
				t.Errorf("%s: %v", ex.ID, err)
				continue
			}
			var shown []int
			for _, v := range views {
				shown = append(shown, v.Numbers()...)
			}
			for i, s := range ex.Steps {
				if !slices.Contains(shown, i+1) {
					t.Errorf("%s: no view shows step %d, %s", ex.ID, i+1, s.ID)
				}
			}
		}
	}
}

// TestShippedStructure holds what each module consists of, in order.
func TestShippedStructure(t *testing.T) {
	var b strings.Builder
	for _, m := range shipped(t).Modules {
		fmt.Fprintf(&b, "module %s, version %d: %s\n", m.ID, m.Version, m.Title)
		root := parsed(t, m.HTML)
		for n := range root.Descendants() {
			if line := outline(n); line != "" {
				b.WriteString(line + "\n")
			}
		}
	}
	const file = "testdata/shipped.txt"
	if *update {
		if err := os.WriteFile(file, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if b.String() != string(want) {
		t.Errorf("the shipped modules consist of\n%s\nwant\n%s", b.String(), want)
	}
}

func parsed(t *testing.T, page string) *html.Node {
	t.Helper()
	root, err := html.Parse(strings.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	return root
}

// outline says in a line what an element adds to the structure.
func outline(n *html.Node) string {
	if n.Type != html.ElementNode {
		return ""
	}
	class := attribute(n, "class")
	switch {
	case n.Data == "h2", n.Data == "h3":
		return strings.Repeat("#", int(n.Data[1]-'0')) + " " + textOf(n)
	case n.Data == "figcaption", class == "words", n.Data == "caption":
		return "   " + textOf(n)
	case n.Data == "dt":
		return "   word: " + textOf(n)
	case class == "worked":
		return "   " + attribute(n.FirstChild, "alttext") + " = " + textOf(n.LastChild)
	case n.Data == "aside":
		return "   caution"
	case class == "exercise":
		return "   exercise " + attribute(n, "data-exercise")
	case n.Data == "td" && class == "num":
		return "   figure in a table: " + textOf(n)
	}
	return ""
}

func attribute(n *html.Node, key string) string {
	for _, a := range n.Attr {
		if a.Key == key {
			return a.Val
		}
	}
	return ""
}

func textOf(n *html.Node) string {
	var b strings.Builder
	if n.Type == html.TextNode {
		b.WriteString(n.Data)
	}
	for d := range n.Descendants() {
		if d.Type == html.TextNode {
			b.WriteString(d.Data)
		}
		if d.Data == "br" {
			b.WriteByte('\n')
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

// TestShippedIsHarmless holds the shipped pages to the policy of all pages.
func TestShippedIsHarmless(t *testing.T) {
	for _, m := range shipped(t).Modules {
		checkHarmless(t, m.HTML)
	}
}

// TestFitWordsMeanOnlyFit: open and close are words for a gap. A page that
// shows a fit uses them nowhere else: in running text they stand set off, and in
// a drawing as its lettering.
func TestFitWordsMeanOnlyFit(t *testing.T) {
	word := regexp.MustCompile(`(?i)\b(open|close)(s|d|ed|ing|r|ly)?\b`)
	for _, m := range shipped(t).Modules {
		for n := range parsed(t, m.HTML).Descendants() {
			if n.Type != html.TextNode || n.Parent.Data == "em" || n.Parent.Data == "text" {
				continue
			}
			if found := word.FindString(n.Data); found != "" {
				t.Errorf("%s uses %q outside the fit words: %q", m.ID, found, n.Data)
			}
		}
	}
}

// TestEveryKindOfSlipIsExplained: whatever slip is named, a section tells more.
func TestEveryKindOfSlipIsExplained(t *testing.T) {
	lib := shipped(t)
	for _, id := range grading.PatternIDs() {
		if lib.explaining(nil, id) == nil {
			t.Errorf("no module explains the slip %s", id)
		}
	}
	for _, m := range lib.Modules {
		for _, ex := range m.Exercises {
			for _, s := range ex.Steps {
				if places := lib.Explain(ex, s.ID, grading.Slip{ID: "double"}); len(places) < 2 {
					t.Errorf("%s, step %s: Explain(double) = %v, want the step's section and the slip's", ex.ID, s.ID, places)
				}
			}
		}
	}
}

// TestShippedFigures: every module shows what it says, in pictures.
func TestShippedFigures(t *testing.T) {
	for _, m := range shipped(t).Modules {
		if n := strings.Count(m.HTML, "<figure "); n < 2 {
			t.Errorf("%s has %d figures, want 2 or more", m.ID, n)
		}
	}
}
