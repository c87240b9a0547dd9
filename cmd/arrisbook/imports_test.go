package main

import (
	"bytes"
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"io"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// layer says what one part of the program may import. A name stands for the
// package and everything below it; outside packages stand by module path.
type layer struct {
	own     []string // of this module
	outside []string
	// never lists packages of the standard library that must stay out.
	never []string
}

// impure are the doors to the clock, to chance and to the world. Seeded chance
// is none: see TestChanceIsSeeded.
var impure = []string{"os", "net", "net/http", "time", "math/rand", "crypto/rand", "log", "log/slog"}

// layers is the order of the whole program: imports go down, never up. The
// longest name that a package begins with counts.
var layers = map[string]layer{
	"geom": {own: []string{"geom"}, outside: []string{"gonum.org/v1/gonum"}, never: impure},
	// The PDF library wants a date of type time.Time: drawings give it a fixed one.
	"geom/drawing": {own: []string{"geom"}, outside: []string{"gonum.org/v1/gonum", "codeberg.org/go-pdf/fpdf"}, never: slices.DeleteFunc(slices.Clone(impure), func(p string) bool { return p == "time" })},
	"web":          {own: []string{"web"}},
	"migrations":   {},
	"grading":      {own: []string{"grading", "geom"}, never: impure},
	"lessons":      {own: []string{"lessons", "grading", "geom"}, outside: []string{"github.com/yuin/goldmark", "go.yaml.in/yaml/v3"}, never: impure},
	// Pictures that are sent in are decoded once and made smaller.
	"lessons/pack":   {own: []string{"lessons"}, outside: []string{"golang.org/x/image"}, never: impure},
	"server/localpg": {own: []string{"server/localpg"}, outside: []string{"github.com/jackc/pgx/v5/pgconn"}},
	// Paper is composed by pure code: what it prints is handed to it.
	"server/paper":           {own: []string{"grading", "geom"}, never: impure},
	"server/store":           {own: []string{"server/store", "migrations", "grading", "geom"}, outside: []string{"github.com/jackc/pgx/v5", "github.com/pressly/goose/v3"}},
	"server/store/storetest": {own: []string{"server/store", "server/localpg", "migrations"}, outside: []string{"github.com/jackc/pgx/v5"}},
	"server": {own: []string{"server/store", "server/paper", "lessons", "grading", "geom", "web"}, outside: []string{
		"github.com/labstack/echo/v4", "github.com/alexedwards/scs/v2", "github.com/alexedwards/argon2id",
		"github.com/skip2/go-qrcode", "github.com/aymanbagabas/go-udiff", "golang.org/x",
	}},
	"cmd": {own: []string{"cmd", "server", "lessons", "grading", "geom"}},
}

// forTests is what tests may import besides.
var forTests = layer{
	own: []string{"server/store/storetest", "lessons", "grading"},
	outside: []string{
		"pgregory.net/rapid", "github.com/rogpeppe/go-internal", "github.com/chromedp",
		"github.com/compose-spec/compose-go/v2", "github.com/jackc/pgx/v5", "golang.org/x", "gonum.org/v1/gonum",
		"codeberg.org/go-pdf/fpdf", "github.com/llgcode/draw2d", "github.com/qmuntal/gltf",
	},
}

type listed struct {
	ImportPath, Dir                    string
	GoFiles                            []string
	Imports, TestImports, XTestImports []string
}

// Imports go one way: an arrow that is not in the table above fails.
func TestImportsGoDown(t *testing.T) {
	packages := listPackages(t)
	if len(packages) < 10 {
		t.Fatalf("go list gave %d packages, want the whole program", len(packages))
	}
	for _, p := range packages {
		name := strings.TrimPrefix(p.ImportPath, "arrisbook/")
		l, ok := layerOf(name)
		if !ok {
			t.Errorf("package %s stands in no layer: give it one", name)
			continue
		}
		for _, imported := range p.Imports {
			if !l.allows(name, imported) {
				t.Errorf("%s imports %s: its layer may not", name, imported)
			}
		}
		for _, imported := range append(p.TestImports, p.XTestImports...) {
			own := strings.HasPrefix(imported, "arrisbook/")
			if (own || strings.Contains(imported, ".")) && !l.allows(name, imported) && !forTests.allows(name, imported) {
				t.Errorf("a test of %s imports %s: its layer may not", name, imported)
			}
		}
	}
}

// The rule itself fails on arrows that go up.
func TestImportRuleBites(t *testing.T) {
	for _, c := range []struct {
		from, to string
		want     bool
	}{
		{"geom/joint", "arrisbook/geom", true},
		{"geom/joint", "arrisbook/grading", false},
		{"geom", "time", false},
		{"grading", "net/http", false},
		{"lessons", "arrisbook/server/store", false},
		{"server", "github.com/jackc/pgx/v5/pgxpool", false},
		{"server", "arrisbook/server/localpg", false},
		{"server", "arrisbook/server/store/storetest", false},
		{"server/store", "github.com/jackc/pgx/v5/pgxpool", true},
		{"server/store", "github.com/labstack/echo/v4", false},
		{"server/localpg", "github.com/jackc/pgx/v5/pgxpool", false},
		{"web", "arrisbook/geom", false},
		{"cmd/arrisbook", "arrisbook/server/localpg", true},
		{"cmd/arrisbook", "github.com/jackc/pgx/v5", false},
	} {
		l, _ := layerOf(c.from)
		if got := l.allows(c.from, c.to); got != c.want {
			t.Errorf("%s → %s allowed: %v, want %v", c.from, c.to, got, c.want)
		}
	}
}

// Outside cmd nothing draws from the program's one source of chance: whoever
// needs chance is given a seed.
func TestChanceIsSeeded(t *testing.T) {
	makers := []string{"New", "NewPCG", "NewChaCha8", "NewZipf", "Rand", "PCG", "ChaCha8", "Source", "Zipf"}
	for _, p := range listPackages(t) {
		for _, file := range p.GoFiles {
			f, err := parser.ParseFile(token.NewFileSet(), filepath.Join(p.Dir, file), nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			uses := func(i *ast.ImportSpec) bool { return i.Path.Value == `"math/rand/v2"` }
			if !slices.ContainsFunc(f.Imports, uses) {
				continue
			}
			ast.Inspect(f, func(n ast.Node) bool {
				if s, ok := n.(*ast.SelectorExpr); ok {
					if x, ok := s.X.(*ast.Ident); ok && x.Name == "rand" && x.Obj == nil && !slices.Contains(makers, s.Sel.Name) {
						t.Errorf("%s/%s uses rand.%s: chance without a seed", p.ImportPath, file, s.Sel.Name)
					}
				}
				return true
			})
		}
	}
}

func listPackages(t *testing.T) []listed {
	t.Helper()
	cmd := exec.Command("go", "list", "-json=ImportPath,Dir,GoFiles,Imports,TestImports,XTestImports", "arrisbook/...")
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	var all []listed
	for d := json.NewDecoder(bytes.NewReader(out)); ; {
		var p listed
		if err := d.Decode(&p); err == io.EOF {
			return all
		} else if err != nil {
			t.Fatal(err)
		}
		all = append(all, p)
	}
}

func layerOf(name string) (layer, bool) {
	for part := name; ; {
		if l, ok := layers[part]; ok {
			return l, true
		}
		i := strings.LastIndex(part, "/")
		if i < 0 {
			return layer{}, false
		}
		part = part[:i]
	}
}

// allows says whether a package of the layer may import another one.
func (l layer) allows(name, imported string) bool {
	if own, ok := strings.CutPrefix(imported, "arrisbook/"); ok {
		return slices.ContainsFunc(l.own, func(allowed string) bool { return ownAllowed(name, own, allowed) })
	}
	if strings.Contains(strings.SplitN(imported, "/", 2)[0], ".") {
		return slices.ContainsFunc(l.outside, func(allowed string) bool { return below(imported, allowed) })
	}
	return !slices.Contains(l.never, imported)
}

// ownAllowed keeps the test helper out of everything but tests.
func ownAllowed(name, imported, allowed string) bool {
	if imported == "server/store/storetest" {
		return allowed == imported
	}
	return below(imported, allowed)
}

func below(name, top string) bool { return name == top || strings.HasPrefix(name, top+"/") }
