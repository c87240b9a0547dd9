package server

import (
	"archive/zip"
	"bytes"
	"context"
	"io"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
	"time"
)

// hostile are files that somebody may send to do more than hand a lesson on.
func hostile(t *testing.T) map[string][]byte {
	t.Helper()
	file := func(namesAndTexts ...string) []byte {
		var b bytes.Buffer
		z := zip.NewWriter(&b)
		for i := 0; i < len(namesAndTexts); i += 2 {
			w, err := z.Create(namesAndTexts[i])
			if err == nil {
				_, err = w.Write([]byte(namesAndTexts[i+1]))
			}
			if err != nil {
				t.Fatal(err)
			}
		}
		z.Close()
		return b.Bytes()
	}
	sound := file("module.md", gaugeText)
	return map[string][]byte{
		"leads out":          file("../../module.md", gaugeText),
		"absolute":           file("/etc/cron.d/module.md", gaugeText),
		"a bomb":             file("module.md", strings.Repeat("a", 8<<20)),
		"a script":           file("module.md", gaugeText, "gauge.png", "<script>alert(1)</script>"),
		"a drawing":          file("module.md", gaugeText, "gauge.svg", `<svg onload="alert(1)"/>`),
		"cut":                sound[:len(sound)/2],
		"a page":             []byte("<!doctype html><script>alert(1)</script>"),
		"names with markup":  file(`<img src=x onerror=alert(1)>.md`, "x"),
		"a strange manifest": file("module.md", gaugeText, "manifest.json", `{"format":"<script>alert(1)</script>","format_version":1}`),
		"a strange course":   file("course.json", `{"format":"arrisbook course","format_version":1,"settings":{"zone":"<script>"},"plan":[{"exercise":"<b>","title":"<script>alert(1)</script>","begins":{"day":-1,"at":"x"}}]}`),
		"a huge plan":        file("course.json", `{"format":"arrisbook course","format_version":1,"plan":[`+strings.Repeat(`{"title":"x"},`, 299)+`{}]}`),
	}
}

// Whatever is sent in is refused in words, as a page without script in it, and
// nothing of it is kept as a module.
func TestHostileFiles(t *testing.T) {
	t.Parallel()
	h, b, _ := writer(t)
	for name, body := range hostile(t) {
		p := b.look(body)
		if p.Status != 422 && p.heading() != "This cannot be taken in" {
			t.Errorf("%s = %d, %s, want it refused", name, p.Status, p.heading())
		}
		inspect(t, h, p)
		if strings.Contains(p.Body, "<script>alert") || strings.Contains(p.Body, "onerror=alert(1)>") && !strings.Contains(p.Body, "&lt;img") {
			t.Errorf("%s: the page holds what was sent:\n%s", name, p.text())
		}
	}
	b.get("/modules").want(t, 200, "No module of your own yet")
}

// A module full of what is no lesson is shown harmlessly, and cannot be put in
// use.
func TestHostileModule(t *testing.T) {
	t.Parallel()
	h, b, _ := writer(t)
	text := strings.Replace(gaugeText, "A line runs", `<script>alert(1)</script> [x](javascript:alert(1)) ![x](https://elsewhere.example/x.png) A line runs`, 1)
	text = strings.Replace(text, "title: The marking gauge", `title: <img src=x onerror=alert(1)>`, 1)
	href := b.write(text)
	for _, path := range []string{href, href + "/edit", href + "/saves/1", href + "/differences", href + "/try", "/modules"} {
		p := b.get(path)
		inspect(t, h, p)
		if p.Status != 200 || strings.Contains(p.Body, "<script>alert") || strings.Contains(p.Body, "<img src=x") || strings.Contains(p.Body, `href="javascript`) {
			t.Errorf("%s = %d holds what was written:\n%.2000s", path, p.Status, p.Body)
		}
	}
	b.post(href+"/use", "save", "1").want(t, 422, "Nothing was put in use")
}

// Files are looked at only a few at a time, so that many at once do not fill
// the memory.
func TestUploadsWaitForEachOther(t *testing.T) {
	t.Parallel()
	h, _, _ := writer(t)
	var leave func()
	for i := range uploadsAtOnce {
		done, err := h.Server.enterUpload(t.Context())
		if err != nil {
			t.Fatalf("enterUpload %d = %v, want a place", i+1, err)
		}
		leave = done
	}
	gone, stop := context.WithCancel(t.Context())
	stop()
	if _, err := h.Server.enterUpload(gone); err == nil {
		t.Error("enterUpload when all places are taken = nil, want it to wait until its sender is gone")
	}
	leave()
	if _, err := h.Server.enterUpload(t.Context()); err != nil {
		t.Errorf("enterUpload when one has left = %v, want a place", err)
	}
}

// An own module is read and packed once a save, however often it is asked for;
// a browser that has it is told so.
func TestOwnLessonIsPackedOnce(t *testing.T) {
	t.Parallel()
	h, b, _ := writer(t)
	href := b.write(gaugeText)
	b.post(href+"/use", "save", "1").want(t, 200, "in use")
	first := b.get("/lessons/marking-gauge").want(t, 200)
	packed, ok := h.Server.modules.get(saveKey{1, 1})
	if !ok || string(packed.page.body) != first.Body {
		t.Fatal("the page is not on the shelf")
	}
	for range 3 {
		b.get("/lessons/marking-gauge").want(t, 200)
		b.get("/lessons").want(t, 200)
		h.pass(2 * shownFor)
	}
	again, _ := h.Server.modules.get(saveKey{1, 1})
	if again.module != packed.module || &again.page.body[0] != &packed.page.body[0] {
		t.Error("the page was made anew")
	}
	b.Header.Set("If-None-Match", packed.page.etag)
	b.get("/lessons/marking-gauge").want(t, 304)
	b.Header.Del("If-None-Match")
	// Another edition in use is seen at once.
	b.press(b.get(href+"/edit"), href+"/edit", "module_text", strings.Replace(gaugeText, "A line runs", "Another line runs", 1))
	b.post(href+"/use", "save", "2").want(t, 200, "in use")
	b.get("/lessons/marking-gauge").want(t, 200, "Another line runs")
}

// The shelf of saves does not grow for ever.
func TestModuleShelfIsBounded(t *testing.T) {
	var m moduleShelf
	for i := range 3 * mostShelved {
		m.put(saveKey{int64(i), 1}, shelvedModule{})
		if len(m.built) > mostShelved {
			t.Fatalf("%d saves on the shelf, want at most %d", len(m.built), mostShelved)
		}
	}
	if _, ok := m.get(saveKey{3*mostShelved - 1, 1}); !ok {
		t.Error("the last one is not there")
	}
}

// A file may take longer than any other form; somebody who was not let in gets
// no time for it.
func TestSlowUploads(t *testing.T) {
	t.Parallel()
	h := startServer(t, func(c *Config) { c.Lessons = shippedLessons(t) })
	b, _ := h.staff("ada", true)
	slow := httptest.NewUnstartedServer(h.Server.handler())
	slow.Config.ReadTimeout, slow.Config.WriteTimeout = 700*time.Millisecond, 700*time.Millisecond
	slow.Start()
	t.Cleanup(slow.Close)
	home, err := url.Parse(h.URL)
	if err != nil {
		t.Fatal(err)
	}
	there, err := url.Parse(slow.URL)
	if err != nil {
		t.Fatal(err)
	}
	send := func(cookies []*http.Cookie) (int, string) {
		in, out := io.Pipe()
		w := multipart.NewWriter(out)
		go func() {
			_ = w.WriteField("module_text", gaugeText)
			time.Sleep(1500 * time.Millisecond)
			_ = w.WriteField("do", "save")
			_ = w.Close()
			_ = out.Close()
		}()
		req, err := http.NewRequest(http.MethodPost, there.String()+"/modules", in)
		if err != nil {
			t.Fatal(err)
		}
		req.Header.Set("Content-Type", w.FormDataContentType())
		for _, c := range cookies {
			req.AddCookie(c)
		}
		res, err := http.DefaultTransport.RoundTrip(req)
		if err != nil {
			return 0, ""
		}
		defer res.Body.Close()
		return res.StatusCode, res.Header.Get("Location")
	}
	if status, to := send(b.client.Jar.Cookies(home)); status != http.StatusSeeOther || to != "/modules/1/edit" {
		t.Errorf("a slow form with files = %d to %q, want it taken", status, to)
	}
	if status, _ := send(nil); status == http.StatusSeeOther {
		t.Errorf("a slow form of nobody = %d, want it refused", status)
	}
}
