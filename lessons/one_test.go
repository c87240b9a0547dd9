package lessons

import (
	"strings"
	"testing"
)

// draftText is a sound module that needs another and links to it.
const draftText = `---
id: marking-gauge
title: The marking gauge
summary: One line, one edge.
needs: [test]
skills:
  halve: Halve a size
version: 3
---

## The line

See [the other module](test#practice). ![A gauge on an edge](gauge.png)
`

func anyPicture(name string) (string, bool) { return "/pictures/0f", name == "gauge.png" }

func TestDraftIsHeldAgainstTheOthers(t *testing.T) {
	beside := load1(t, twoExercises)
	cases := []struct {
		name, from, to string
		want           string // in the one fault; "": none
	}{
		{name: "sound"},
		{name: "needs a module that is not there", from: "needs: [test]", to: "needs: [tset]", want: "draft.md:5: needs the module tset"},
		{name: "takes another module's id", from: "id: marking-gauge", to: "id: test", want: "draft.md:2: the module's id test is taken by another module"},
		{name: "links to a section that is not there", from: "test#practice", to: "test#practise", want: "draft.md:13: the module test has no section #practise"},
		{name: "another name for a skill", from: "halve: Halve a size", to: "equal-division: Something else", want: "draft.md:7: the skill equal-division is called"},
		{name: "a picture that is not there", from: "gauge.png", to: "gage.png", want: "draft.md:13: there is no picture gage.png"},
		{name: "takes another module's exercise", from: "## The line", to: "## Own\n\n```exercise\nid: halves\ntitle: H\ngiven: {board: {range: 10..20 by 1, unit: mm}}\nsteps: [{id: part, unit: mm, formula: board/2}]\n```\n\n## The line",
			want: "draft.md:13: the exercise id halves is taken by the module test"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			text := strings.Replace(draftText, c.from, c.to, 1)
			_, all := Draft{File: "draft.md", Text: []byte(text), Picture: anyPicture}.Check(beside)
			got := Faults(all)
			if c.want == "" {
				if len(got) > 0 {
					t.Errorf("Check(%s) = %v, want no faults", c.name, got)
				}
				return
			}
			if len(got) != 1 || !strings.HasPrefix(got[0].Error(), c.want) {
				t.Errorf("Check(%s) = %v, want %q", c.name, got, c.want)
			}
		})
	}
}

func TestDraftShowsPicturesWhereTheyAre(t *testing.T) {
	m, all := Draft{File: "draft.md", Text: []byte(draftText), Picture: anyPicture}.Read()
	if len(all) > 0 || !strings.Contains(m.HTML, `src="/pictures/0f"`) {
		t.Errorf("Read = %v, %s, want the picture's own address", all, m.HTML)
	}
	m, all = Draft{File: "draft.md", Text: []byte(draftText)}.Read()
	if len(all) != 1 || strings.Contains(m.HTML, "gauge.png") {
		t.Errorf("Read without pictures = %v, %s, want one fault and no address", all, m.HTML)
	}
}

func TestDraftLinksToTheOthers(t *testing.T) {
	for base, want := range map[string]string{"": `href="test#practice"`, "/lessons/": `href="/lessons/test#practice"`} {
		m, _ := Draft{File: "draft.md", Text: []byte(draftText), Picture: anyPicture, Lessons: base}.Read()
		if !strings.Contains(m.HTML, want) {
			t.Errorf("Read with lessons at %q = %s, want %s in it", base, m.HTML, want)
		}
	}
}

func TestDraftTooLongIsRefused(t *testing.T) {
	m, all := Draft{File: "draft.md", Text: make([]byte, maxSize+1)}.Check(&Library{})
	if m != nil || len(all) != 1 {
		t.Errorf("Check of %d bytes = %v, %v, want no module and one fault", maxSize+1, m, all)
	}
}

func TestWithVersion(t *testing.T) {
	cases := []struct{ text, want string }{
		{"---\nid: a\nversion: 3\n---\n\nversion: 7\n", "---\nid: a\nversion: 12\n---\n\nversion: 7\n"},
		{"---\r\nversion:   3   # the third\r\nid: a\r\n---\r\n", "---\r\nversion: 12   # the third\r\nid: a\r\n---\r\n"},
		{"\uFEFF---\nversion: x y\n---\n", "\uFEFF---\nversion: 12 y\n---\n"},
		{"---\nid: a\n---\nversion: 3\n", ""},
		{"version: 3\n", ""},
		{"", ""},
	}
	for _, c := range cases {
		got, ok := WithVersion([]byte(c.text), 12)
		if ok != (c.want != "") || ok && string(got) != c.want {
			t.Errorf("WithVersion(%q) = %q, %v, want %q", c.text, got, ok, c.want)
		}
	}
}
