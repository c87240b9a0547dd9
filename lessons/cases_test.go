package lessons

import (
	"flag"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"golang.org/x/tools/txtar"
)

var update = flag.Bool("update", false, "write what comes out as what is wanted")

// front is what every test body stands behind, unless it has its own.
const front = `---
id: test
title: Test
summary: A module for a test.
needs: []
skills: {equal-division: Equal division}
version: 3
---
`

// archives visits the text files of a folder of cases.
func archives(t *testing.T, dir string, visit func(t *testing.T, a *txtar.Archive) (got string)) {
	t.Helper()
	files, err := filepath.Glob(filepath.Join("testdata", dir, "*.txtar"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no cases in testdata/%s: %v", dir, err)
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txtar"), func(t *testing.T) {
			a, err := txtar.ParseFile(file)
			if err != nil {
				t.Fatal(err)
			}
			last := &a.Files[len(a.Files)-1]
			if !strings.HasPrefix(last.Name, "want") {
				t.Fatalf("the last file of %s is %s, want want.*", file, last.Name)
			}
			want := string(last.Data)
			rest := *a
			rest.Files = a.Files[:len(a.Files)-1]
			got := visit(t, &rest)
			if got == want {
				return
			}
			if !*update {
				t.Fatalf("%s gives\n%s\nwant\n%s", file, got, want)
			}
			last.Data = []byte(got)
			if err := os.WriteFile(file, txtar.Format(a), 0o644); err != nil {
				t.Fatal(err)
			}
		})
	}
}

// folder makes a folder of modules of an archive. body.md becomes the module
// "test"; other names stand as they are.
func folder(t *testing.T, a *txtar.Archive) fs.FS {
	t.Helper()
	out := &txtar.Archive{}
	for _, f := range a.Files {
		if f.Name == "body.md" {
			f = txtar.File{Name: "lesson.md", Data: append([]byte(front), f.Data...)}
		}
		if len(f.Data) > 0 && strings.HasPrefix(string(f.Data), "body:\n") {
			f.Data = append([]byte(front), f.Data[len("body:\n"):]...)
		}
		out.Files = append(out.Files, f)
	}
	fsys, err := txtar.FS(out)
	if err != nil {
		t.Fatal(err)
	}
	return fsys
}

func TestHTML(t *testing.T) {
	archives(t, "html", func(t *testing.T, a *txtar.Archive) string {
		lib, err := Load(folder(t, a), nil)
		if err != nil {
			t.Fatal(err)
		}
		checkHarmless(t, lib.Modules[0].HTML)
		return lib.Modules[0].HTML
	})
}

// TestFaults checks every fault of a folder of modules, with file and line.
func TestFaults(t *testing.T) {
	archives(t, "faults", func(t *testing.T, a *txtar.Archive) string {
		var b strings.Builder
		for _, e := range Check(folder(t, a), nil) {
			b.WriteString(e.Error() + "\n")
		}
		return b.String()
	})
}
