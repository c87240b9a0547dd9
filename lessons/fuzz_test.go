package lessons

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
	"testing/fstest"
)

// FuzzLoad: whatever stands in a file, loading it ends, names only lines the
// file has, and what comes out is harmless.
func FuzzLoad(f *testing.F) {
	lesson, err := os.ReadFile(filepath.Join("content", "10-head-v-joint", "lesson.md"))
	if err != nil {
		f.Fatal(err)
	}
	f.Add(lesson)
	f.Add([]byte(twoExercises))
	// Line breaks that only YAML counts once put a fault beyond the file's end.
	f.Add([]byte("---\nid: a\r\r\r\r\rversion: 1\r\u2028ersion: 1\n---\n\n## A\n"))
	for i, payload := range payloads {
		f.Add([]byte(front + "\n## A\n\n" + payload + "\n\n" + places[i%len(places)]))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		fsys := fstest.MapFS{"lesson.md": {Data: text}, "plan.png": {Data: []byte("x")}}
		var faults faults
		p := readModule(fsys, "lesson.md", &faults)
		lines := bytes.Count(text, []byte("\n")) + 1
		for _, e := range faults.sorted() {
			if e.Line < 1 || e.Line > lines {
				t.Errorf("%v, and the file has %d lines", e, lines)
			}
			if e.Msg == "" {
				t.Errorf("an empty message at line %d", e.Line)
			}
		}
		if p == nil {
			return
		}
		checkTogether([]*page{p}, nil)
		checkHarmless(t, p.module.HTML)
	})
}
