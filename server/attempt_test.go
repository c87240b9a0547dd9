package server

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"strings"
	"sync"
	"testing"
)

// pressed is a press as a script sends it.
func (b *bench) pressed(key string, texts map[string]string) *page {
	b.t.Helper()
	return b.pupil.post(b.href+"/attempts", append([]string{"key", key, "wood", "0"}, fieldsOf(texts)...)...)
}

// One press is one attempt, whatever is retried.
func TestSameKey(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	right := b.right()
	key := newKey()
	first := b.pressed(key, right).want(t, http.StatusOK, "All six right")
	again := b.pressed(key, right).want(t, http.StatusOK, "All six right")
	if again.Path != first.Path || again.Path != b.href+"/attempts/1" {
		t.Errorf("second press: %s, want %s", again.Path, first.Path)
	}
	id := b.sheet.Issued.Steps[0].ID
	other := b.pressed(key, change(right, id, "12.25")).want(t, http.StatusUnprocessableEntity,
		"This page has sent other numbers before", "press once more")
	if got := attr(other.field(fieldOf(id)), "value"); got != "12.25" {
		t.Errorf("other body: field holds %q, want what was typed", got)
	}
	if got := attr(other.field("key"), "value"); got == key || !uuidShape.MatchString(got) {
		t.Errorf("other body: key = %q, want a fresh one", got)
	}
	if n := len(b.attempts()); n != 1 {
		t.Errorf("%d attempts, want 1", n)
	}
	b.pupil.press(other, b.href+"/check").want(t, http.StatusOK, "This will be attempt 2")
}

func TestNoKey(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	right := b.right()
	id := b.sheet.Issued.Steps[0].ID
	for _, key := range []string{"", "1", "not a key", newKey() + "0", "' OR 1=1 --", strings.Repeat("a", 36)} {
		p := b.pressed(key, right).want(t, http.StatusBadRequest, "press once more")
		if got := attr(p.field(fieldOf(id)), "value"); got != right[id] {
			t.Errorf("key %q: field holds %q, want %q", key, got, right[id])
		}
	}
	if n := len(b.attempts()); n != 0 {
		t.Errorf("%d attempts, want 0", n)
	}
	if got := b.pressed(strings.ToUpper(newKey()), right); got.Status != http.StatusOK {
		t.Errorf("a key in capitals = %d, want 200", got.Status)
	}
}

// post sends one request of its own, as a retry does, and gives where it led.
func (b *browser) postOnce(path string, form []byte) (int, string, error) {
	req, err := http.NewRequest(http.MethodPost, b.h.URL+path, bytes.NewReader(form))
	if err != nil {
		return 0, "", err
	}
	req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	client := &http.Client{Jar: b.client.Jar, CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	res, err := client.Do(req)
	if err != nil {
		return 0, "", err
	}
	defer res.Body.Close()
	_, err = io.Copy(io.Discard, res.Body)
	return res.StatusCode, res.Header.Get("Location"), err
}

// Fifty presses at once under one key are one attempt, and all lead to it.
// Two keys at once are two attempts, numbered one after the other.
func TestAtOnce(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	right := b.right()
	id := b.sheet.Issued.Steps[0].ID
	led := b.atOnce(50, func(int) (string, map[string]string) { return "11111111-1111-4111-8111-111111111111", right })
	if len(led) != 1 || led["303 "+b.href+"/attempts/1"] != 50 {
		t.Errorf("50 presses at once led to %v, want all to attempt 1", led)
	}
	led = b.atOnce(2, func(i int) (string, map[string]string) {
		return newKey(), change(right, id, fmt.Sprintf("%d.5", 10+i))
	})
	if len(led) != 2 || led["303 "+b.href+"/attempts/2"] != 1 || led["303 "+b.href+"/attempts/3"] != 1 {
		t.Errorf("two keys at once led to %v, want attempts 2 and 3", led)
	}
	if n := len(b.attempts()); n != 3 {
		t.Errorf("%d attempts, want 3", n)
	}
}

func (b *bench) atOnce(n int, press func(i int) (key string, texts map[string]string)) map[string]int {
	var mu sync.Mutex
	led := map[string]int{}
	var wait sync.WaitGroup
	for i := range n {
		key, texts := press(i)
		form := fields(append([]string{"key", key, "wood", "0"}, fieldsOf(texts)...)...).Encode()
		wait.Go(func() {
			status, to, err := b.pupil.postOnce(b.href+"/attempts", []byte(form))
			mu.Lock()
			defer mu.Unlock()
			if err != nil {
				to = err.Error()
			}
			led[fmt.Sprintf("%d %s", status, to)]++
		})
	}
	wait.Wait()
	return led
}

// The limit of attempts holds also against presses at once.
func TestLimit(t *testing.T) {
	t.Parallel()
	b := newBench(t, "attempts", "2")
	right := b.right()
	id := b.sheet.Issued.Steps[0].ID
	b.pupil.get(b.href).want(t, http.StatusOK, "2 attempts of 2 left")
	led := b.atOnce(8, func(i int) (string, map[string]string) {
		return newKey(), change(right, id, fmt.Sprintf("%d.5", 10+i))
	})
	if len(b.attempts()) != 2 || led["409 "] != 6 {
		t.Errorf("8 presses at once: %v and %d attempts, want 2 attempts and six refusals", led, len(b.attempts()))
	}
	p := b.pupil.get(b.href).want(t, http.StatusOK, "All attempts are used")
	if !hasAttr(p.field(fieldOf(id)), "readonly") {
		t.Error("the fields can still be written in")
	}
	b.pressed(newKey(), right).want(t, http.StatusConflict, "All attempts are used")
}

// Numbers that are sent already are not sent again.
func TestNothingNew(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	right := b.right()
	b.send(right).want(t, http.StatusOK)
	b.pressed(newKey(), right).want(t, http.StatusUnprocessableEntity, "These are the numbers of attempt 1 already")
	if n := len(b.attempts()); n != 1 {
		t.Errorf("%d attempts, want 1", n)
	}
}

// What cannot be read stays in its field with a sentence beside it, and no
// attempt is used.
func TestUnreadable(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	angle, length := b.sheet.Issued.Steps[0].ID, b.sheet.Issued.Steps[1].ID
	for _, c := range []struct{ step, text, want string }{
		{length, "1,234", "can mean two numbers"},
		{angle, "12 mm", ""},
		{angle, "<script>alert(1)</script>", ""},
		{length, "\x00", "a sign in this that cannot be read"},
		{length, "12\x07", "a sign in this that cannot be read"},
		{length, "\xff\xfe", "a sign in this that cannot be read"},
		{length, strings.Repeat("9", 201), "longer than 200 signs"},
		{length, "1e309", ""},
		{length, "NaN", ""},
		{angle, strings.Repeat("(", 199), ""},
	} {
		texts := map[string]string{c.step: c.text}
		for _, where := range []string{"/check", "/attempts"} {
			p := b.pupil.post(b.href+where, append([]string{"key", newKey(), "wood", "0"}, fieldsOf(texts)...)...)
			p.want(t, http.StatusUnprocessableEntity, c.want, "no attempt is used")
			f := p.field(fieldOf(c.step))
			if attr(f, "aria-invalid") != "true" {
				t.Errorf("%q: the field is not marked", c.text)
			}
			if c.text[0] != 0 && c.text[0] != 0xff && attr(f, "value") != c.text {
				t.Errorf("%q: the field holds %q", c.text, attr(f, "value"))
			}
		}
	}
	if n := len(b.attempts()); n != 0 {
		t.Errorf("%d attempts, want 0", n)
	}
}

// The sheet's script gets the same answers as JSON.
func TestScriptAnswers(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	right := b.right()
	b.pupil.Header.Set("Accept", "application/json")
	id := b.sheet.Issued.Steps[0].ID

	var read readingsAnswer
	b.json(b.pupil.post(b.href+"/readings", fieldsOf(map[string]string{id: "14° 30'", b.sheet.Issued.Steps[1].ID: "1,234"})...), http.StatusOK, &read)
	if got := read.Readings[fieldOf(id)].Says; got != "14° 30′ (14.5°)" {
		t.Errorf("reading of 14° 30' = %q", got)
	}
	if got := read.Readings[fieldOf(b.sheet.Issued.Steps[1].ID)]; got.Fault == "" || got.Says != "" {
		t.Errorf("reading of 1,234 = %+v, want a fault", got)
	}

	var sent sentAnswer
	key := newKey()
	b.json(b.pressed(key, right), http.StatusOK, &sent)
	if sent.Attempt != 1 || sent.Href != b.href+"/attempts/1" {
		t.Errorf("sent = %+v, want attempt 1", sent)
	}
	sent = sentAnswer{}
	b.json(b.pressed(key, change(right, id, "x+")), http.StatusUnprocessableEntity, &sent)
	if sent.Key == "" || sent.Key == key || !strings.Contains(sent.Sentence, "other numbers before") {
		t.Errorf("other body = %+v, want a fresh key", sent)
	}
	sent = sentAnswer{}
	b.json(b.pressed(newKey(), change(right, id, "1,234")), http.StatusUnprocessableEntity, &sent)
	if sent.Faults[fieldOf(id)] == "" || len(sent.Faults) != 1 {
		t.Errorf("unreadable = %+v, want one fault", sent)
	}
}

func (b *bench) json(p *page, status int, into any) {
	b.t.Helper()
	if p.Status != status || !strings.HasPrefix(p.Header.Get("Content-Type"), "application/json") {
		b.t.Fatalf("%s = %d %s, want %d as JSON:\n%s", p.Path, p.Status, p.Header.Get("Content-Type"), status, p.Body)
	}
	if err := json.Unmarshal([]byte(p.Body), into); err != nil {
		b.t.Fatal(err)
	}
}
