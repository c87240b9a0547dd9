package lessons

import (
	"regexp"
	"strings"

	"github.com/yuin/goldmark/ast"
	east "github.com/yuin/goldmark/extension/ast"
)

// How hard a lesson may be to read before its author is told.
const (
	hardestGrade    = 8.0 // by the Flesch-Kincaid formula: readers are from twelve years on
	longestSentence = 32  // words: by then its beginning is forgotten
	fewestWords     = 25  // of a section: below that the formula says little
)

// grade is the Flesch-Kincaid grade level of a text (Kincaid and others,
// Research Branch Report 8-75, 1975): the school year whose pupils follow it.
//
//	0.39 words/sentences + 11.8 syllables/words − 15.59
//
// It is 0 for a text without sentences.
func grade(sentences []string) float64 {
	words, syllables := 0, 0
	for _, s := range sentences {
		for _, w := range wordPattern.FindAllString(s, -1) {
			words++
			syllables += countSyllables(w)
		}
	}
	if words == 0 {
		return 0
	}
	perSentence, perWord := float64(words)/float64(len(sentences)), float64(syllables)/float64(words)
	return float64(0.39*perSentence) + float64(11.8*perWord) - 15.59
}

var (
	wordPattern  = regexp.MustCompile(`[\p{L}]+(’[\p{L}]+)?`)
	sentenceEnds = regexp.MustCompile(`[.?!:](\s|$)`)
	vowels       = regexp.MustCompile(`[aeiouy]+`)
)

// sentencesOf parts a text; fragments of fewer than five words, such as labels,
// would make every text look easy and are left out.
func sentencesOf(text string) []string {
	var out []string
	for _, s := range sentenceEnds.Split(text, -1) {
		if wordCount(s) >= 5 {
			out = append(out, strings.Join(strings.Fields(s), " "))
		}
	}
	return out
}

func wordCount(s string) int { return len(wordPattern.FindAllString(s, -1)) }

// countSyllables counts groups of vowels, without a silent e at the end.
func countSyllables(word string) int {
	w := strings.ToLower(word)
	n := len(vowels.FindAllString(w, -1))
	if strings.HasSuffix(w, "e") && !strings.HasSuffix(w, "le") && n > 1 {
		n--
	}
	return max(n, 1)
}

// prosePart is a stretch of a section's running text.
type prosePart struct {
	line      int
	sentences []string
}

// proseSection is the running text below one heading.
type proseSection struct {
	line  int
	title string // "" for what stands before the first heading
	parts []prosePart
}

func (s *proseSection) sentences() []string {
	var all []string
	for _, p := range s.parts {
		all = append(all, p.sentences...)
	}
	return all
}

// readProse gathers the running text of a part by sections: paragraphs, list
// items, meanings of words, and cautions. Formulas, results, tables and blocks
// are not read as prose.
func (p *page) readProse(whole *part) {
	walk(whole.root, func(n ast.Node) {
		line := whole.src.line(n.Pos())
		switch n := n.(type) {
		case *ast.Heading:
			p.prose = append(p.prose, &proseSection{line: line, title: plain(whole.src.text, n)})
		case *ast.Paragraph, *ast.TextBlock:
			if !inside(n, east.KindTableCell) {
				p.addProse(line, spoken(whole.src.text, n))
			}
		case *blockNode:
			if n.caution != nil {
				p.readProse(n.caution)
			}
		}
	})
}

func (p *page) addProse(line int, text string) {
	s := sentencesOf(text)
	if len(s) == 0 {
		return
	}
	if len(p.prose) == 0 {
		p.prose = append(p.prose, &proseSection{line: line})
	}
	last := p.prose[len(p.prose)-1]
	last.parts = append(last.parts, prosePart{line, s})
}

// inside says whether a node stands in one of a kind.
func inside(n ast.Node, kind ast.NodeKind) bool {
	for up := n.Parent(); up != nil; up = up.Parent() {
		if up.Kind() == kind {
			return true
		}
	}
	return false
}

// spoken is a node's text without formulas and results.
func spoken(src []byte, root ast.Node) string {
	var b strings.Builder
	walk(root, func(n ast.Node) {
		switch n := n.(type) {
		case *ast.Text:
			b.Write(n.Segment.Value(src))
			if n.SoftLineBreak() || n.HardLineBreak() {
				b.WriteByte(' ')
			}
		case *ast.String:
			b.Write(n.Value)
		}
	})
	return b.String()
}

// warnOfHardText tells the author which sections, and which sentences, ask too
// much of a reader.
func (p *page) warnOfHardText() {
	for _, s := range p.prose {
		all := s.sentences()
		if wordCount(strings.Join(all, " ")) >= fewestWords {
			if g := grade(all); g > hardestGrade {
				p.faults.warn(p.file, s.parts[0].line, "%s reads at grade %.1f (Flesch-Kincaid), above grade %.0f: use shorter sentences and shorter words",
					s.named(), g, hardestGrade)
			}
		}
		for _, part := range s.parts {
			for _, one := range part.sentences {
				if n := wordCount(one); n > longestSentence {
					p.faults.warn(p.file, part.line, "a sentence of %d words, more than %d: make two of it: “%s …”", n, longestSentence, firstWords(one, 6))
				}
			}
		}
	}
}

func (s *proseSection) named() string {
	if s.title == "" {
		return "the text before the first heading"
	}
	return "the section “" + s.title + "”"
}

func firstWords(s string, n int) string {
	return strings.Join(strings.Fields(s)[:min(n, len(strings.Fields(s)))], " ")
}
