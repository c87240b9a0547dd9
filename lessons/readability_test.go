package lessons

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"
)

// TestReadingLevel measures the shipped text by the Flesch-Kincaid grade
// (Kincaid and others, Research Branch Report 8-75, 1975):
// 0.39 words/sentences + 11.8 syllables/words − 15.59. Readers are from
// twelve years on, so the text stays below grade 7, and no sentence is so long
// that its beginning is forgotten.
func TestReadingLevel(t *testing.T) {
	for _, m := range shipped(t).Modules {
		var all []string
		for n := range parsed(t, m.HTML).Descendants() {
			if n.Type == html.ElementNode && slices.Contains([]string{"p", "li", "dd"}, n.Data) && attribute(n, "class") != "words" {
				all = append(all, sentences(textOf(n))...)
			}
		}
		words, syllables := 0, 0
		for _, s := range all {
			w := wordPattern.FindAllString(s, -1)
			words += len(w)
			if len(w) > 32 {
				t.Errorf("%s: a sentence of %d words, want 32 at most: %s", m.ID, len(w), s)
			}
			for _, one := range w {
				syllables += countSyllables(one)
			}
		}
		if len(all) < 100 {
			t.Fatalf("%s has %d sentences, too few to measure", m.ID, len(all))
		}
		grade := 0.39*float64(words)/float64(len(all)) + 11.8*float64(syllables)/float64(words) - 15.59
		t.Logf("%s: %d words, %.1f words a sentence, grade %.1f", m.ID, words, float64(words)/float64(len(all)), grade)
		if grade >= 7 {
			t.Errorf("%s reads at grade %.1f, want below 7", m.ID, grade)
		}
	}
}

var (
	wordPattern  = regexp.MustCompile(`[A-Za-z]+(’[a-z]+)?`)
	sentenceEnds = regexp.MustCompile(`[.?!:](\s|$)`)
	vowels       = regexp.MustCompile(`[aeiouy]+`)
)

// sentences parts a text; fragments of fewer than five words, such as labels,
// would make every text look easy and are left out.
func sentences(text string) []string {
	var out []string
	for _, s := range sentenceEnds.Split(text, -1) {
		if len(wordPattern.FindAllString(s, -1)) >= 5 {
			out = append(out, strings.TrimSpace(s))
		}
	}
	return out
}

// countSyllables counts groups of vowels, without a silent e at the end.
func countSyllables(word string) int {
	w := strings.ToLower(word)
	n := len(vowels.FindAllString(w, -1))
	if strings.HasSuffix(w, "e") && !strings.HasSuffix(w, "le") && n > 1 {
		n--
	}
	return max(n, 1)
}
