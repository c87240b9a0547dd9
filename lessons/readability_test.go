package lessons

import (
	"io/fs"
	"math"
	"strings"
	"testing"
)

// TestReadingLevel measures every shipped module and every section of it: no
// warning, and the whole below grade 7.
func TestReadingLevel(t *testing.T) {
	sub, err := fs.Sub(content, "content")
	if err != nil {
		t.Fatal(err)
	}
	var f faults
	for _, file := range markdownFiles(sub, &f) {
		p := readModule(sub, file, &f)
		var all []string
		for _, s := range p.prose {
			all = append(all, s.sentences()...)
		}
		if len(all) < 100 {
			t.Errorf("%s has %d sentences, too few to measure", file, len(all))
		}
		words := wordCount(strings.Join(all, " "))
		g := grade(all)
		t.Logf("%s: %d words, %.1f words a sentence, grade %.1f", file, words, float64(words)/float64(len(all)), g)
		if g >= 7 {
			t.Errorf("%s reads at grade %.1f, want below 7", file, g)
		}
		p.warnOfHardText()
	}
	for _, e := range f.sorted() {
		t.Error(e)
	}
}

// TestGrade holds the measure against a count by hand.
func TestGrade(t *testing.T) {
	cases := []struct {
		name      string
		sentences []string
		want      float64
	}{
		{"six words of one syllable", []string{"The cat sat on the mat"}, 0.39*6 + 11.8*1 - 15.59},
		{"four words, 1+3+1+5 syllables", []string{"An accurate cut inaccuracy"}, 0.39*4 + 11.8*10/4 - 15.59},
		{"eight words in two sentences, nine syllables", []string{"Hold the stock still", "Mark it from below"}, 0.39*4 + 11.8*9/8 - 15.59},
		{"nothing", nil, 0},
	}
	for _, c := range cases {
		if got := grade(c.sentences); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s: grade(%q) = %.4f, want %.4f", c.name, c.sentences, got, c.want)
		}
	}
}

// TestSentences: labels and other fragments are no sentences.
func TestSentences(t *testing.T) {
	got := sentencesOf("Words: hold the stock on the edge. Then strike  the line, then look! Short one. Is the line square to it?")
	want := []string{"hold the stock on the edge", "Then strike the line, then look", "Is the line square to it"}
	if strings.Join(got, "|") != strings.Join(want, "|") {
		t.Errorf("sentencesOf = %q, want %q", got, want)
	}
}
