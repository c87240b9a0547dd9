package lessons

import (
	"embed"
	"io/fs"
	"path"
	"strings"
)

//go:embed content
var content embed.FS

// Load reads every module below a folder: one folder a module, one Markdown
// file in it, in the order of the folders' names. A Markdown file in the folder
// itself makes that folder the one module. The error joins all faults, each an
// *Error; a library comes back only where there are none. Warnings do not
// count. Modules of beside, nil for none, may be needed and linked to; they are
// not in the library.
func Load(fsys fs.FS, beside *Library) (*Library, error) {
	lib, list := load(fsys, beside, trySeeds)
	if list = Faults(list); len(list) > 0 {
		return nil, join(list)
	}
	return lib, nil
}

// Check gives every fault and every warning of the modules below a folder,
// sorted by file and line; no faults: they can be used. beside is as in Load.
func Check(fsys fs.FS, beside *Library) []*Error {
	_, list := load(fsys, beside, trySeeds)
	return list
}

// Shipped loads the modules that come with the program. It leaves out drawing
// blanks on trial, because a test of this package does that with the same
// files.
func Shipped() (*Library, error) {
	sub, err := fs.Sub(content, "content")
	if err != nil {
		return nil, err
	}
	lib, list := load(sub, nil, 0)
	if len(list) > 0 {
		return nil, join(list)
	}
	return lib, nil
}

// load reads the modules and tries each exercise on as many blanks as seeds
// says, in either system of units. With none it also leaves out measuring how
// hard the text is to read: both are for authors, not for every start.
func load(fsys fs.FS, beside *Library, seeds uint64) (*Library, []*Error) {
	var f faults
	var pages []*page
	for _, file := range markdownFiles(fsys, &f) {
		if p := readModule(fsys, file, &f); p != nil {
			if seeds > 0 {
				p.tryExercises(seeds)
				p.warnOfHardText()
			}
			pages = append(pages, p)
		}
	}
	checkTogether(pages, beside)
	lib := &Library{}
	for _, p := range pages {
		lib.Modules = append(lib.Modules, p.module)
	}
	return lib, f.sorted()
}

// markdownFiles finds the one Markdown file of each module.
func markdownFiles(fsys fs.FS, f *faults) []string {
	entries, err := fs.ReadDir(fsys, ".")
	if err != nil {
		f.add(".", 1, "the folder cannot be read: %v", err)
		return nil
	}
	if own := markdownIn(entries); len(own) > 0 {
		return oneOf(".", own, f)
	}
	var files []string
	for _, e := range entries {
		if !e.IsDir() || strings.HasPrefix(e.Name(), ".") {
			continue
		}
		inside, err := fs.ReadDir(fsys, e.Name())
		if err != nil {
			f.add(e.Name(), 1, "the folder cannot be read: %v", err)
			continue
		}
		files = append(files, oneOf(e.Name(), markdownIn(inside), f)...)
	}
	if len(files) == 0 && len(f.list) == 0 {
		f.add(".", 1, "there is no module here: a module is a folder with one Markdown file (NAME.md)")
	}
	return files
}

func markdownIn(entries []fs.DirEntry) []string {
	var names []string
	for _, e := range entries {
		if !e.IsDir() && strings.EqualFold(path.Ext(e.Name()), ".md") {
			names = append(names, e.Name())
		}
	}
	return names
}

// oneOf insists on a single Markdown file in a module's folder.
func oneOf(dir string, names []string, f *faults) []string {
	switch len(names) {
	case 1:
		return []string{path.Join(dir, names[0])}
	case 0:
		f.add(dir, 1, "the folder holds no Markdown file (NAME.md)")
	default:
		f.add(path.Join(dir, names[1]), 1, "a module has one Markdown file; this folder has %d: %s", len(names), strings.Join(names, ", "))
	}
	return nil
}
