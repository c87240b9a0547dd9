package lessons

import (
	"slices"
	"testing"
	"testing/fstest"

	"arrisbook/grading"
)

// wordy is a module with words and a section for its one step.
func wordy(id, words string) *fstest.MapFile {
	return &fstest.MapFile{Data: []byte("---\nid: " + id + "\ntitle: Module " + id + "\nsummary: S\nneeds: []\nskills: {}\nversion: 1\n" +
		"explains: {double: words}\n---\n\n## Words\n\n" + words + "\n\n## Half\n\n" +
		"```exercise\nid: halves-" + id + "\ntitle: Halves\ngiven: {board: {range: 10..20 by 1, unit: mm}}\n" +
		"steps: [{id: part, unit: mm, formula: board/2}, {id: rest, unit: mm, formula: board/3, explain: {half: words}}]\n```\n\n" +
		"### The half of it\n\n$part = board/2$\n")}
}

func wordyLibrary(t *testing.T) *Library {
	t.Helper()
	lib, err := Load(fstest.MapFS{
		"1/a.md": wordy("a", "Arris\n: an edge. See [half](#half) and [b](b#half).\n\nWaste\n: wood that goes."),
		"2/b.md": wordy("b", "Waste\n: wood that goes.\n\nArris\n: another meaning of $board$."),
	}, nil)
	if err != nil {
		t.Fatal(err)
	}
	return lib
}

// TestGlossary: words come in order, one entry for all modules, with every
// meaning once and links that hold on any page.
func TestGlossary(t *testing.T) {
	terms := wordyLibrary(t).Glossary()
	if len(terms) != 2 || terms[0].Word != "Arris" || terms[0].ID != "arris" || terms[1].Word != "Waste" {
		t.Fatalf("Glossary = %+v, want Arris and Waste", terms)
	}
	arris, waste := terms[0].Meanings, terms[1].Meanings
	if len(arris) != 2 || len(waste) != 1 {
		t.Fatalf("Arris has %d meanings and Waste %d, want 2 and 1", len(arris), len(waste))
	}
	if want := `an edge. See <a href="/lessons/a#half">half</a> and <a href="/lessons/b#half">b</a>.`; string(arris[0].HTML) != want {
		t.Errorf("the meaning of Arris = %s, want %s", arris[0].HTML, want)
	}
	if arris[1].Text != "another meaning of board." {
		t.Errorf("the second meaning of Arris = %q", arris[1].Text)
	}
	want := []Place{{"a", "word-waste", "Module a"}, {"b", "word-waste", "Module b"}}
	if !slices.Equal(waste[0].Places, want) {
		t.Errorf("Waste stands at %v, want %v", waste[0].Places, want)
	}
	if none := (&Library{}).Glossary(); len(none) != 0 {
		t.Errorf("the glossary of nothing = %v", none)
	}
}

// TestExplain: first the section of the step, or the one that the exercise
// names, then the one for the kind of slip.
func TestExplain(t *testing.T) {
	lib := wordyLibrary(t)
	ex, _ := lib.Exercise("halves-b")
	half, words := Place{"b", "the-half-of-it", "The half of it"}, Place{"b", "words", "Words"}
	cases := []struct {
		step, slip string
		want       []Place
	}{
		{"part", "double", []Place{half, words}},
		{"part", "half", []Place{half}},
		{"rest", "half", []Place{words}},
		{"rest", "double", []Place{words}},
		{"rest", "supplement", nil},
	}
	for _, c := range cases {
		if got := lib.Explain(ex, c.step, grading.Slip{ID: c.slip}); !slices.Equal(got, c.want) {
			t.Errorf("Explain(%s, %s) = %v, want %v", c.step, c.slip, got, c.want)
		}
	}
	if got := half.Href(); got != "/lessons/b#the-half-of-it" {
		t.Errorf("Href = %s", got)
	}
	// A module that is not there: another one's section for the slip serves.
	if got := (&Library{Modules: lib.Modules[:1]}).Explain(ex, "part", grading.Slip{ID: "double"}); len(got) != 1 || got[0].Module != "a" {
		t.Errorf("Explain without the module = %v, want module a", got)
	}
}
