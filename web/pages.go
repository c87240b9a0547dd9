package web

import (
	"embed"
	"fmt"
	"html/template"
	"io/fs"
	"path"
	"strings"
)

//go:embed templates
var templateFS embed.FS

// Pages are the parsed page templates by name ("sheet", "room").
type Pages map[string]*template.Template

// LoadPages parses every page with the layout and the shared pieces. Files in
// templates/shared are pieces; every other file is a page that defines "main".
func LoadPages(funcs template.FuncMap) (Pages, error) {
	base, err := template.New("").Funcs(funcs).ParseFS(templateFS, "templates/shared/*.html")
	if err != nil {
		return nil, fmt.Errorf("parse shared templates: %w", err)
	}
	files, err := fs.Glob(templateFS, "templates/*.html")
	if err != nil {
		return nil, err
	}
	pages := Pages{}
	for _, file := range files {
		t, err := template.Must(base.Clone()).ParseFS(templateFS, file)
		if err != nil {
			return nil, fmt.Errorf("parse %s: %w", file, err)
		}
		pages[strings.TrimSuffix(path.Base(file), ".html")] = t
	}
	return pages, nil
}
