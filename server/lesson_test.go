package server

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"golang.org/x/net/html"

	"arrisbook/lessons"
	"arrisbook/server/store"
)

// packedSize is what an address costs on the wire: the answer's body as sent to
// a browser that takes gzip.
func packedSize(t testing.TB, h *harness, path string) (size int, body string) {
	t.Helper()
	req := httptest.NewRequest(http.MethodGet, path, nil)
	req.Header.Set("Accept-Encoding", "gzip")
	rec := httptest.NewRecorder()
	h.Server.handler().ServeHTTP(rec, req)
	if rec.Code != http.StatusOK {
		t.Fatalf("GET %s = %d, want 200", path, rec.Code)
	}
	return rec.Body.Len(), h.browser().get(path).Body
}

// TestLessonsAreLight: the first page of every lesson, with its style and its
// scripts and with all figures in it, is under 60 kB.
func TestLessonsAreLight(t *testing.T) {
	t.Parallel()
	h := startServer(t, withLessons(t))
	for _, m := range shippedLessons(t).Modules {
		total, body := packedSize(t, h, "/lessons/"+m.ID)
		root, err := html.Parse(strings.NewReader(body))
		if err != nil {
			t.Fatal(err)
		}
		for n := range root.Descendants() {
			for _, a := range n.Attr {
				if n.Data == "link" && a.Key == "href" && strings.HasSuffix(a.Val, ".css") || n.Data == "script" && a.Key == "src" {
					size, _ := packedSize(t, h, a.Val)
					total += size
				}
			}
		}
		t.Logf("%s: %.1f kB", m.ID, float64(total)/1000)
		if total >= 60_000 {
			t.Errorf("the first page of %s is %.1f kB, want less than 60", m.ID, float64(total)/1000)
		}
	}
}

const picturedLesson = "---\nid: drawn\ntitle: Drawn\nsummary: A lesson with a picture.\nneeds: []\nskills: {}\nversion: 1\n---\n\n## Plan\n\n![A plan](plan.png)\n"

// TestLessonPicture: a picture of a lesson comes as it is, once; nothing else
// of the folder comes at all.
func TestLessonPicture(t *testing.T) {
	t.Parallel()
	lib, err := lessons.Load(fstest.MapFS{
		"a/lesson.md": {Data: []byte(picturedLesson)}, "a/plan.png": {Data: []byte("\x89PNG of a plan")}, "a/other.png": {Data: []byte("not shown")},
	}, nil)
	if err != nil {
		t.Fatal(err)
	}
	h := startServer(t, func(cfg *Config) { cfg.Lessons = lib })
	b := h.browser()
	if body := b.get("/lessons/drawn").Body; !strings.Contains(body, `<img src="drawn/plan.png" alt="A plan"`) {
		t.Errorf("the lesson does not show its picture: %s", body)
	}
	p := b.get("/lessons/drawn/plan.png")
	if p.Status != http.StatusOK || p.Body != "\x89PNG of a plan" || p.Header.Get("Content-Type") != "image/png" {
		t.Errorf("the picture = %d %s %q", p.Status, p.Header.Get("Content-Type"), p.Body)
	}
	if p.Header.Get("X-Content-Type-Options") != "nosniff" {
		t.Error("the picture may be taken for something else")
	}
	b.Header.Set("If-None-Match", p.Header.Get("ETag"))
	if again := b.get("/lessons/drawn/plan.png"); again.Status != http.StatusNotModified || p.Header.Get("ETag") == "" {
		t.Errorf("asked again = %d, want 304", again.Status)
	}
	b.Header.Del("If-None-Match")
	for _, path := range []string{"/lessons/drawn/other.png", "/lessons/drawn/lesson.md", "/lessons/drawn/..%2Flesson.md", "/lessons/none/plan.png"} {
		if p := b.get(path); p.Status != http.StatusNotFound {
			t.Errorf("GET %s = %d, want 404", path, p.Status)
		}
	}
}

// TestGlossary: every word of a lesson leads to the glossary and back.
func TestGlossary(t *testing.T) {
	t.Parallel()
	h := startServer(t, withLessons(t))
	b := h.browser()
	glossary := b.get("/glossary")
	places := idsOf(glossary.Doc)
	for _, m := range shippedLessons(t).Modules {
		lesson := b.get("/lessons/" + m.ID)
		at := idsOf(lesson.Doc)
		words := 0
		for n := range lesson.Doc.Descendants() {
			for _, a := range n.Attr {
				word, ok := strings.CutPrefix(a.Val, "/glossary#")
				if a.Key != "href" || !ok {
					continue
				}
				words++
				if !places[word] {
					t.Errorf("%s: the word %s is not in the glossary", m.ID, word)
				}
				if !at["word-"+word] || !strings.Contains(glossary.Body, `href="/lessons/`+m.ID+"#word-"+word+`"`) {
					t.Errorf("%s: nothing leads back from the word %s", m.ID, word)
				}
			}
		}
		if words < 5 {
			t.Errorf("%s leads to the glossary from %d words, want 5 or more", m.ID, words)
		}
	}
}

func idsOf(doc *html.Node) map[string]bool {
	ids := map[string]bool{}
	for n := range doc.Descendants() {
		for _, a := range n.Attr {
			if a.Key == "id" {
				ids[a.Val] = true
			}
		}
	}
	return ids
}

// BenchmarkLesson asks for a lesson and for the same bytes from bare net/http,
// in turns over one connection each, and reports bare time over ours.
func BenchmarkLesson(b *testing.B) {
	h := startServer(b, withLessons(b))
	h.benchLesson("/lessons/head-v-joint", h.Server.lessonPages["head-v-joint"])
}

// BenchmarkOwnLesson is the same for a lesson of the same length out of the
// database.
func BenchmarkOwnLesson(b *testing.B) {
	h := startServer(b, withLessons(b), func(c *Config) { c.Now = time.Now })
	_, staff := h.staff("ada", true)
	text, err := os.ReadFile("../lessons/content/10-head-v-joint/lesson.md")
	if err != nil {
		b.Fatal(err)
	}
	id, err := h.Store.AddModule(b.Context(), staff.ID, store.NewSave{Text: string(text), Slug: "own-head", Title: "T", Edition: 1, At: h.Now()})
	if err == nil {
		err = h.Store.ReleaseModule(b.Context(), staff.ID, id, 1, "own-head", h.Now())
	}
	if err != nil {
		b.Fatal(err)
	}
	h.browser().get("/lessons/own-head").want(b, 200)
	own, _ := h.Server.modules.get(saveKey{id, 1})
	h.benchLesson("/lessons/own-head", own.page)
}

func (h *harness) benchLesson(path string, page packedPage) {
	b := h.t.(*testing.B)
	bare := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "text/html; charset=UTF-8")
		w.Header().Set("Content-Encoding", "gzip")
		_, _ = w.Write(page.packed)
	}))
	b.Cleanup(bare.Close)
	ours, theirs := dialed(b, h.URL), dialed(b, bare.URL)
	const turn = 20 // requests before it is the other's turn
	var ratios []float64
	for done := 0; b.Loop(); done++ {
		if done%turn != 0 {
			continue
		}
		var spent [2]time.Duration
		for i, c := range []wire{ours, theirs} {
			start := time.Now()
			for range turn {
				c.ask(b, path, len(page.packed))
			}
			spent[i] = time.Since(start)
		}
		ratios = append(ratios, spent[1].Seconds()/spent[0].Seconds())
	}
	// The middle of all turns: other work on the machine spoils single ones.
	slices.Sort(ratios)
	b.ReportMetric(ratios[len(ratios)/2], "bare/ours")
}

// wire is one connection to a server.
type wire struct {
	conn net.Conn
	in   *bufio.Reader
}

func dialed(b *testing.B, url string) wire {
	b.Helper()
	conn, err := net.Dial("tcp", strings.TrimPrefix(url, "http://"))
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { _ = conn.Close() })
	return wire{conn, bufio.NewReaderSize(conn, 1<<16)}
}

// ask sends a request and reads its answer, which must be of a size.
func (w wire) ask(b *testing.B, path string, size int) {
	b.Helper()
	if _, err := fmt.Fprintf(w.conn, "GET %s HTTP/1.1\r\nHost: shop\r\nAccept-Encoding: gzip\r\n\r\n", path); err != nil {
		b.Fatal(err)
	}
	res, err := http.ReadResponse(w.in, nil)
	if err != nil {
		b.Fatal(err)
	}
	var body bytes.Buffer
	if _, err := io.Copy(&body, res.Body); err != nil || body.Len() != size {
		b.Fatalf("GET %s gives %d bytes, want %d (%v)", path, body.Len(), size, err)
	}
}
