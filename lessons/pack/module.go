package pack

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"path"
	"slices"
	"strings"

	"arrisbook/lessons"
)

// The formats as the files name them. A reader that knows a lower version
// refuses a higher one.
const (
	moduleFormat  = "arrisbook module"
	courseFormat  = "arrisbook course"
	formatVersion = 1
)

// Module is one lesson module as it travels.
type Module struct {
	ID, Title string
	Edition   int // the version in its front matter
	Author    string
	Licence   string
	Text      []byte
	// TextName is what the text's file was called where it was read, for
	// faults; it is written as module.md.
	TextName string
	Pictures []Picture
}

// manifest is what a module file says about itself. Whoever reads it takes
// author and licence from here and the rest from the text.
type manifest struct {
	Format        string   `json:"format"`
	FormatVersion int      `json:"format_version"`
	ID            string   `json:"id"`
	Title         string   `json:"title"`
	Edition       int      `json:"edition"`
	Author        string   `json:"author"`
	Licence       string   `json:"licence"`
	Pictures      []string `json:"pictures"`
}

// The names inside a module file.
const (
	manifestName = "manifest.json"
	textName     = "module.md"
)

// What may be said about who wrote a module, in characters.
const (
	LongestAuthor  = 120
	LongestLicence = 200
)

// WriteModule writes a module file.
func WriteModule(w io.Writer, m Module) error {
	z := zip.NewWriter(w)
	if err := writeModule(z, "", m); err != nil {
		return fmt.Errorf("pack module %s: %w", m.ID, err)
	}
	return z.Close()
}

func writeModule(z *zip.Writer, folder string, m Module) error {
	about := manifest{moduleFormat, formatVersion, m.ID, m.Title, m.Edition, m.Author, m.Licence, []string{}}
	pictures := slices.SortedFunc(slices.Values(m.Pictures), func(a, b Picture) int { return strings.Compare(a.Name, b.Name) })
	for _, p := range pictures {
		about.Pictures = append(about.Pictures, p.Name)
	}
	if err := writeJSON(z, folder+manifestName, about); err != nil {
		return err
	}
	if err := writeEntry(z, folder+textName, m.Text); err != nil {
		return err
	}
	for _, p := range pictures {
		if err := writeEntry(z, folder+p.Name, p.Body); err != nil {
			return err
		}
	}
	return nil
}

func writeJSON(z *zip.Writer, name string, v any) error {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(v); err != nil {
		return err
	}
	return writeEntry(z, name, b.Bytes())
}

// writeEntry writes one file without a time, so that the same module gives the
// same bytes on any day.
func writeEntry(z *zip.Writer, name string, body []byte) error {
	w, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate})
	if err != nil {
		return err
	}
	_, err = w.Write(body)
	return err
}

// ModuleOf makes a module of loose files, as somebody picks them in a folder:
// one Markdown file, pictures, and a manifest if there is one. name is what
// faults call the whole.
func ModuleOf(name string, files map[string][]byte) (Module, []*lessons.Error) {
	var entries []entry
	for _, n := range slices.Sorted(maps.Keys(files)) {
		if !isLitter(n) {
			entries = append(entries, entry{path.Base(n), files[n]})
		}
	}
	return readModule(name, "", entries)
}

// readModule makes a module of the files of one folder. prefix is what stood
// before their names, for faults.
func readModule(name, prefix string, entries []entry) (Module, []*lessons.Error) {
	var m Module
	var list faults
	texts := 0
	for _, e := range entries {
		at := prefix + e.name
		switch ext := strings.ToLower(path.Ext(e.name)); {
		case e.name == manifestName:
			m.readManifest(at, e.body, &list)
		case ext == ".md" || ext == ".markdown":
			if texts++; texts > 1 {
				list.add(at, 1, "a module has one Markdown file; this is another")
			}
			m.Text, m.TextName = e.body, e.name
		case IsPictureName(e.name):
			p, err := Clean(e.name, e.body)
			if err != nil {
				list.add(at, 1, "%v", err)
				continue
			}
			m.Pictures = append(m.Pictures, p)
		default:
			list.add(at, 1, "a module is made of one Markdown file and pictures (.png, .jpg, .webp, named by letters, digits and hyphens); leave this out")
		}
	}
	if texts == 0 {
		list.add(strings.TrimSuffix(prefix+name, "/"), 1, "there is no Markdown file (module.md) in it")
	}
	return m, list.all
}

// readManifest takes what a manifest says. What it says about the text is not
// believed: the text says it itself.
func (m *Module) readManifest(at string, body []byte, list *faults) {
	var about manifest
	if !list.decode(at, body, &about) {
		return
	}
	if !list.known(at, body, about.Format, moduleFormat, about.FormatVersion) {
		return
	}
	m.Author, m.Licence = tidy(about.Author), tidy(about.Licence)
	if len([]rune(m.Author)) > LongestAuthor {
		list.add(at, lineOf(body, `"author"`), "the author has more than %d letters", LongestAuthor)
	}
	if len([]rune(m.Licence)) > LongestLicence {
		list.add(at, lineOf(body, `"licence"`), "the licence has more than %d letters; name it, or say where it stands", LongestLicence)
	}
}

// tidy makes one line of a text from outside.
func tidy(text string) string {
	return strings.Join(strings.Fields(strings.ToValidUTF8(text, "\uFFFD")), " ")
}
