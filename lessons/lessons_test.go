package lessons

import (
	"errors"
	"html/template"
	"io/fs"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"arrisbook/grading"
)

// twoExercises is a module with two exercises and something after each.
const twoExercises = front + `
## Practice

` + "```exercise\nid: halves\ntitle: Halves\ngiven: {board: {range: 10..20 by 1, unit: mm}}\nsteps: [{id: part, unit: mm, formula: board/2}]\n```" + `

Then thirds.

` + "```exercise\nid: thirds\ntitle: Thirds\ngiven: {board: {range: 10..20 by 1, unit: mm}}\nsteps: [{id: part, unit: mm, formula: board/3}]\n```" + `

The end.
`

func load1(t *testing.T, text string) *Library {
	t.Helper()
	lib, err := Load(fstest.MapFS{"10-a/lesson.md": {Data: []byte(text)}}, nil)
	if err != nil {
		t.Fatal(err)
	}
	return lib
}

func TestPagePutsTheButtonsInside(t *testing.T) {
	m := load1(t, twoExercises).Modules[0]
	page := string(m.Page(func(ex *grading.Exercise) template.HTML {
		return template.HTML("<a href=\"#x\">Draw " + template.HTML(ex.ID) + "</a>\n")
	}))
	for _, want := range []string{
		"</ol>\n<a href=\"#x\">Draw halves</a>\n</div>\n<p>Then thirds.</p>",
		"</ol>\n<a href=\"#x\">Draw thirds</a>\n</div>\n<p>The end.</p>",
	} {
		if !strings.Contains(page, want) {
			t.Errorf("the page lacks %q:\n%s", want, page)
		}
	}
	if got := string(m.Page(func(*grading.Exercise) template.HTML { return "" })); got != m.HTML {
		t.Errorf("Page without buttons = %q, want the HTML as it is", got)
	}
	if string(m.Body()) != m.HTML {
		t.Error("Body differs from HTML")
	}
}

func TestLibraryFindsByID(t *testing.T) {
	lib := load1(t, twoExercises)
	if m, ok := lib.Module("test"); !ok || m.Title != "Test" || m.Version != 3 || m.Summary != "A module for a test." {
		t.Errorf("Module(test) = %+v, %v", m, ok)
	}
	if m, ok := lib.Module("none"); ok {
		t.Errorf("Module(none) = %v, want none", m.ID)
	}
	if ex, ok := lib.Exercise("thirds"); !ok || ex.Title != "Thirds" || ex.Module != "test" || ex.Version != 3 {
		t.Errorf("Exercise(thirds) = %+v, %v", ex, ok)
	}
	if ex, ok := lib.Exercise("fifths"); ok {
		t.Errorf("Exercise(fifths) = %v, want none", ex.ID)
	}
}

func TestModulesComeInTheOrderOfTheirFolders(t *testing.T) {
	one := func(id string) *fstest.MapFile {
		return &fstest.MapFile{Data: []byte(strings.Replace(front, "id: test", "id: "+id, 1) + "\n## Text\n")}
	}
	lib, err := Load(fstest.MapFS{"20-b/b.md": one("b"), "10-z/z.md": one("z"), "30-a/a.md": one("a"), ".git/x.md": one("x")}, nil)
	if err != nil {
		t.Fatal(err)
	}
	var ids []string
	for _, m := range lib.Modules {
		ids = append(ids, m.ID)
	}
	if !slices.Equal(ids, []string{"z", "b", "a"}) {
		t.Errorf("modules = %v, want z b a", ids)
	}
}

// TestLoadJoinsErrors: the error of Load is every fault, each an *Error that
// can be taken out again.
func TestLoadJoinsErrors(t *testing.T) {
	lib, err := Load(fstest.MapFS{"a/lesson.md": {Data: []byte(front + "\n# One\n\n<b>two</b>\n")}}, nil)
	if lib != nil {
		t.Error("a library came back beside the faults")
	}
	var first *Error
	if !errors.As(err, &first) || first.File != "a/lesson.md" || first.Line != 10 {
		t.Errorf("first fault = %+v, want one at a/lesson.md:10", first)
	}
	many, ok := err.(interface{ Unwrap() []error })
	if !ok || len(many.Unwrap()) != 2 {
		t.Errorf("Load joined %v, want two faults", err)
	}
}

func TestFoldersThatHoldNoModule(t *testing.T) {
	big := strings.Repeat("word ", maxSize/5+1)
	cases := []struct {
		name string
		fsys fs.FS
		want string
	}{
		{"empty", fstest.MapFS{}, ".:1: there is no module here: a module is a folder with one Markdown file (NAME.md)"},
		{"missing", missing{}, ".:1: the folder cannot be read: open .: file does not exist"},
		{"too big", fstest.MapFS{"a/a.md": {Data: []byte(big)}}, "a/a.md:1: the file has 128 kB; a module has at most 128 kB: make two of it"},
		{"empty file", fstest.MapFS{"a/a.md": {}}, "a/a.md:1: the file does not begin with front matter between two lines of ---"},
		{"front matter without an end", fstest.MapFS{"a/a.md": {Data: []byte("---\nid: a\n")}}, "a/a.md:1: the file does not begin with front matter between two lines of ---"},
		{"long line", fstest.MapFS{"a.md": {Data: []byte(front + "\n" + strings.Repeat("x", maxLine+1))}}, "a.md:10: this line has 4001 bytes; a line has at most 4000: begin new ones"},
		{"many lines", fstest.MapFS{"a.md": {Data: []byte(front + strings.Repeat("\n", maxLines))}}, "a.md:9: the text has 4001 lines; a module has at most 4000: make two of it"},
		{"wide table", fstest.MapFS{"a.md": {Data: []byte(front + "\n" + strings.Repeat("|", 25))}}, "a.md:10: this table has more than 24 columns"},
		{"quotations", fstest.MapFS{"a.md": {Data: []byte(front + "\n" + strings.Repeat(">", 13))}}, "a.md:10: quotations are nested too deep here"},
	}
	for _, c := range cases {
		list := Check(c.fsys, nil)
		if len(list) != 1 || list[0].Error() != c.want {
			t.Errorf("%s: Check = %v, want %s", c.name, list, c.want)
		}
	}
}

type missing struct{}

func (missing) Open(name string) (fs.File, error) {
	return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
}

// TestLinesWithCarriageReturns: files from other systems name the same lines.
func TestLinesWithCarriageReturns(t *testing.T) {
	text := strings.ReplaceAll("\uFEFF"+front+"\n## A\n\n```figure\nfamily: head-v-joint\nview: head\ncolour: red\n```\n\n$x$\n", "\n", "\r\n")
	var got []int
	for _, e := range Check(fstest.MapFS{"a.md": {Data: []byte(text)}}, nil) {
		got = append(got, e.Line)
	}
	if !slices.Equal(got, []int{13, 13, 15, 18}) {
		t.Errorf("lines = %v, want 13 13 15 18 (%v)", got, Check(fstest.MapFS{"a.md": {Data: []byte(text)}}, nil))
	}
}

// TestModulesBesideOthers: a folder's modules may need and link to modules that
// stand elsewhere, and not to what these do not have.
func TestModulesBesideOthers(t *testing.T) {
	beside := load1(t, twoExercises)
	own := strings.NewReplacer("id: test", "id: own", "needs: []", "needs: [test]").Replace(front) + "\n## Text\n\n[a](test), [b](test#practice), [c](test#nowhere), [d](tess)\n"
	var got []string
	for _, e := range Check(fstest.MapFS{"a.md": {Data: []byte(own)}}, beside) {
		got = append(got, e.Error())
	}
	want := []string{
		"a.md:12: the module test has no section #nowhere",
		"a.md:12: the link goes to the module tess, which does not exist: did you mean test?",
	}
	if !slices.Equal(got, want) {
		t.Errorf("Check = %q, want %q", got, want)
	}
	lib, err := Load(fstest.MapFS{"a.md": {Data: []byte(strings.Replace(own, ", [c](test#nowhere), [d](tess)", "", 1))}}, beside)
	if err != nil || len(lib.Modules) != 1 {
		t.Errorf("Load = %v, %v, want the folder's one module", lib, err)
	}
}
