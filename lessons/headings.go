package lessons

import (
	"strings"
	"unicode"

	"github.com/yuin/goldmark/ast"
)

// pageIDs are the ids a page has outside its lesson.
var pageIDs = []string{"main", "top", "toc", "contents", "practise", "in3d", "slidehome"}

// enterHeading checks a heading's level as the walk reaches it: sections are
// of the second level, because the title is the first, and no level is left
// out on the way down.
func (p *page) enterHeading(h *ast.Heading, line int) {
	switch {
	case h.Level == 1:
		p.fault(line, "the title is the page's first-level heading: begin sections with ##")
	case p.lastLevel == 0 && h.Level > 2:
		p.fault(line, "the first heading is of level %d: begin with ##", h.Level)
	case p.lastLevel > 0 && h.Level > p.lastLevel+1:
		p.fault(line, "a heading of level %d follows one of level %d: no level is left out", h.Level, p.lastLevel)
	}
	p.lastLevel = max(h.Level, 2)
	p.under = h
}

// finishHeadings gives the headings their ids once their formulas have words,
// and collects the sections.
func (p *page) finishHeadings(whole *part) {
	walk(whole.root, func(n ast.Node) {
		h, ok := n.(*ast.Heading)
		if !ok {
			return
		}
		line := whole.src.line(h.Pos())
		title := plain(whole.src.text, h)
		id := slugOf(title)
		if id == "" {
			p.fault(line, "the heading has no words")
			return
		}
		if !p.take(id, "the heading “"+title+"”", line) {
			return
		}
		h.SetAttributeString("id", []byte(id))
		p.module.headings[id] = title
		for name, over := range p.taughtUnder {
			if over == h {
				p.module.taught[name] = id
			}
		}
		if h.Level == 2 {
			p.module.Sections = append(p.module.Sections, Section{id, title})
		}
	})
}

// slugOf makes an id of a heading: its letters and digits, small, with hyphens
// between the words.
func slugOf(title string) string {
	var b strings.Builder
	gap := false
	for _, r := range strings.ToLower(title) {
		if !unicode.IsLetter(r) && !unicode.IsDigit(r) {
			// An apostrophe does not part a word.
			gap = gap || r != '’' && r != '\''
			continue
		}
		if gap && b.Len() > 0 {
			b.WriteByte('-')
		}
		gap = false
		b.WriteRune(r)
	}
	return b.String()
}
