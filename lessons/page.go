package lessons

import (
	"bytes"
	"io/fs"
	"path"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/text"

	"arrisbook/geom/joint"
	"arrisbook/grading"
)

// page is a module in the making: what has been found in its file so far.
type page struct {
	file   string
	faults *faults
	md     goldmark.Markdown
	module *Module
	// picture gives the address of a picture that stands beside the text; ok is
	// false where there is none.
	picture func(name string) (address string, ok bool)
	// lessons is what links to other modules begin with; "" where the page
	// stands among them.
	lessons string

	needs       []needed
	skillLines  []int // of the module's skills
	names       scope
	exercises   []*exerciseBlock
	examples    []*sizes
	figures     int
	links       []link
	ids         map[string]int  // an id of the page and the line that took it
	example     *sizes          // the nearest one above the place being resolved
	noExample   bool            // that one has faults
	broken      map[string]bool // ids of exercises with faults
	lastLevel   int             // of the heading above that place
	heading     string          // its text
	under       *ast.Heading    // itself; nil above the first
	prose       []*proseSection
	sections    []namedSection          // named by a block or the front matter
	taughtUnder map[string]*ast.Heading // the heading over the formula that teaches a name
}

// part is a stretch of Markdown: the module's body, or what a caution holds.
type part struct {
	src  source
	root ast.Node
}

// needed is an entry of needs with its line.
type needed struct {
	id   string
	line int
}

// readModule reads one Markdown file. It gives nil where not even a page can
// be made of it; every other fault leaves a page with something missing.
func readModule(fsys fs.FS, file string, f *faults) *page {
	raw, err := fs.ReadFile(fsys, file)
	if err != nil {
		f.add(file, 1, "the file cannot be read: %v", err)
		return nil
	}
	p := newPage(file, f)
	p.picture = func(name string) (string, bool) {
		picture, err := fs.ReadFile(fsys, path.Join(path.Dir(file), name))
		if err != nil {
			return "", false
		}
		p.module.pictures[name] = picture
		return p.module.ID + "/" + name, true
	}
	return p.readText(raw)
}

// newPage begins a page of which nothing is read yet.
func newPage(file string, f *faults) *page {
	p := &page{
		file: file, faults: f, md: newMarkdown(),
		module: &Module{headings: map[string]string{}, taught: map[string]string{}, explains: map[string]string{}, pictures: map[string][]byte{}},
		names:  scope{}, ids: map[string]int{}, broken: map[string]bool{}, taughtUnder: map[string]*ast.Heading{},
	}
	for _, id := range pageIDs {
		p.ids[id] = 0
	}
	return p
}

// readText reads the whole text of a module; nil: it is too long to be read.
func (p *page) readText(raw []byte) *page {
	if len(raw) > maxSize {
		p.fault(1, "the file has %d kB; a module has at most %d kB: make two of it", len(raw)>>10, maxSize>>10)
		return nil
	}
	front, body, ok := splitFront(raw)
	if ok {
		p.readFront(front)
	} else {
		p.fault(1, "the file does not begin with front matter between two lines of ---")
	}
	p.readBody(body)
	return p
}

// readBody parses the body, gathers its blocks, resolves what depends on them,
// and writes the HTML.
func (p *page) readBody(body source) {
	if line, reason := unreasonable(body); reason != "" {
		p.fault(line, "%s", reason)
		return
	}
	whole := p.parse(body)
	p.gather(whole)
	for _, b := range p.exercises {
		p.names.exercise(b.exercise)
		p.module.Exercises = append(p.module.Exercises, b.exercise)
	}
	p.resolve(whole)
	p.readProse(whole)
	p.defineWords(whole)
	p.checkLinksWithin()
	p.checkSections()
	p.writeBody(whole)
}

func (p *page) parse(src source) *part {
	return &part{src, p.md.Parser().Parse(text.NewReader(src.text))}
}

// writeBody renders block by block, so that the places for the page's own
// buttons are known.
func (p *page) writeBody(whole *part) {
	var b bytes.Buffer
	for n := whole.root.FirstChild(); n != nil; n = n.NextSibling() {
		if err := p.md.Renderer().Render(&b, whole.src.text, n); err != nil {
			p.fault(whole.src.line(n.Pos()), "this cannot be written: %v", err)
		}
		if block, ok := n.(*blockNode); ok && block.exercise != nil {
			p.module.cuts = append(p.module.cuts, cut{b.Len() - len(exerciseEnd), block.exercise.exercise})
		}
	}
	p.module.HTML, p.module.anchors = b.String(), p.ownIDs()
}

// render writes a part that stands inside another, such as a caution.
func (p *page) render(inner *part) string {
	var b bytes.Buffer
	if err := p.md.Renderer().Render(&b, inner.src.text, inner.root); err != nil {
		p.fault(inner.src.first, "this cannot be written: %v", err)
	}
	return b.String()
}

func (p *page) fault(line int, format string, args ...any) {
	p.faults.add(p.file, line, format, args...)
}

// take registers an id of the page; one that is taken already is a fault.
func (p *page) take(id, what string, line int) bool {
	if before, taken := p.ids[id]; taken {
		if before == 0 {
			p.fault(line, "%s would get the id %s, which every page uses for itself: word it otherwise", what, id)
		} else {
			p.fault(line, "%s would get the id %s, which line %d has already", what, id, before)
		}
		return false
	}
	p.ids[id] = line
	return true
}

// exerciseNamed finds an exercise that stands above.
func (p *page) exerciseNamed(id string) *grading.Exercise {
	for _, b := range p.exercises {
		if b.exercise.ID == id {
			return b.exercise
		}
	}
	return nil
}

// familyIDs lists the families there are.
func familyIDs() []string {
	var ids []string
	for _, f := range joint.All() {
		ids = append(ids, f.ID)
	}
	return ids
}
