package lessons

import (
	"cmp"
	"html/template"
	"regexp"
	"slices"

	"github.com/yuin/goldmark/ast"
	east "github.com/yuin/goldmark/extension/ast"
)

// glossaryPage is where the words of all modules stand together; a word's own
// place on it is its id.
const glossaryPage = "/glossary"

// Term is one word of the glossary.
type Term struct {
	Word string // as the lessons write it: “Reference face”
	ID   string // its anchor on the glossary page: “reference-face”
	// Meanings are what the modules say about it, in teaching order. Modules
	// that say the same share one.
	Meanings []Meaning
}

// Meaning is what one or more modules say about a word.
type Meaning struct {
	HTML   template.HTML // safe to put in a page
	Text   string        // the same without markup, to be searched
	Places []Place       // where the lessons say so
}

// definition is a word that a page explains.
type definition struct {
	word, id   string
	html, text string
}

// Glossary gathers the words that the modules explain, in the order of the
// alphabet.
func (l *Library) Glossary() []Term {
	byID := map[string]*Term{}
	var ids []string
	for _, m := range l.Modules {
		for _, d := range m.terms {
			t := byID[d.id]
			if t == nil {
				t = &Term{Word: d.word, ID: d.id}
				byID[d.id] = t
				ids = append(ids, d.id)
			}
			t.add(d, Place{Module: m.ID, Section: wordID(d.id), Title: m.Title})
		}
	}
	slices.SortFunc(ids, cmp.Compare)
	out := make([]Term, len(ids))
	for i, id := range ids {
		out[i] = *byID[id]
	}
	return out
}

func (t *Term) add(d definition, at Place) {
	for i := range t.Meanings {
		if t.Meanings[i].Text == d.text {
			t.Meanings[i].Places = append(t.Meanings[i].Places, at)
			return
		}
	}
	t.Meanings = append(t.Meanings, Meaning{HTML: template.HTML(fromLessons(d.html, at.Module)), Text: d.text, Places: []Place{at}})
}

// relative finds the addresses in a lesson's HTML that count from the lesson.
var relative = regexp.MustCompile(` (href|src)="([^"/:][^":]*)"`)

// fromLessons makes the addresses in a lesson's HTML right for any page of the
// site.
func fromLessons(html, module string) string {
	return relative.ReplaceAllStringFunc(html, func(s string) string {
		m := relative.FindStringSubmatch(s)
		to := "/lessons/" + m[2]
		if m[2][0] == '#' {
			to = "/lessons/" + module + m[2]
		}
		return " " + m[1] + `="` + to + `"`
	})
}

// wordID is the id of a word's place in its lesson.
func wordID(id string) string { return "word-" + id }

// defineWords makes every term of a definition list a place of the page, with
// a link to its place in the glossary, and keeps what the list says about it.
// Several terms above one meaning share it.
func (p *page) defineWords(whole *part) {
	walk(whole.root, func(n ast.Node) {
		term, ok := n.(*east.DefinitionTerm)
		if !ok {
			return
		}
		line := whole.src.line(term.Pos())
		d := definition{word: plain(whole.src.text, term)}
		d.id = slugOf(d.word)
		if d.id == "" {
			p.fault(line, "the word to be explained is missing")
			return
		}
		if !p.take(wordID(d.id), "the word “"+d.word+"”", line) {
			return
		}
		meaning := meaningOf(term)
		if meaning == nil {
			return
		}
		d.text = plain(whole.src.text, meaning)
		d.html = p.render(&part{whole.src, inlineOf(meaning)})
		p.module.terms = append(p.module.terms, d)
		term.SetAttributeString("id", []byte(wordID(d.id)))
		linkTo(term, glossaryPage+"#"+d.id)
	})
}

// meaningOf finds the description below a term, past further terms.
func meaningOf(term ast.Node) ast.Node {
	for n := term.NextSibling(); n != nil; n = n.NextSibling() {
		if n.Kind() == east.KindDefinitionDescription {
			return n
		}
	}
	return nil
}

// inlineOf is the one paragraph of a description, or the whole of a longer one.
func inlineOf(n ast.Node) ast.Node {
	if n.ChildCount() == 1 {
		return n.FirstChild()
	}
	return n
}

// linkTo puts all that a node holds into one link, unless it holds a link
// already.
func linkTo(n ast.Node, to string) {
	holds := false
	walk(n, func(in ast.Node) { holds = holds || in.Kind() == ast.KindLink || in.Kind() == ast.KindAutoLink })
	if holds {
		return
	}
	link := ast.NewLink()
	link.Destination = []byte(to)
	for c := n.FirstChild(); c != nil; {
		next := c.NextSibling()
		link.AppendChild(link, c)
		c = next
	}
	n.AppendChild(n, link)
}
