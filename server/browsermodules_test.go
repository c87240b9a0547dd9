package server

import (
	"context"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// testModules writes a module in the browser, from its first line to its use,
// and looks at every page on the way.
func testModules(t *testing.T, chromium context.Context) {
	for _, size := range []window{desktop, phone} {
		s := newDay(t, chromium)
		s.size = size
		b := s.device()
		b.open("/signin?to=/modules")
		b.fill("email", "ada@shop.example")
		b.fill("password", testPassword)
		b.leads(chromedp.KeyEvent(kb.Enter))
		b.want(200, "No module of your own yet").look("modules, none")
		s.write(b)
		s.useModule(b)
		s.moduleFiles(b)
	}
}

// write types a fault, is told of it before anything is sent, goes to its line
// and puts it right.
func (s *story) write(b *tab) {
	b.press("Write a module").want(200, "Nothing is wrong with it").look("module, new")
	atEnd := func(keys string) {
		eval[chromedp.Void](b, `((t) => { t.focus(); t.setSelectionRange(t.value.length, t.value.length); })(`+field("module_text")+`)`)
		b.keys(keys)
	}
	set := func(text string) {
		eval[chromedp.Void](b, field("module_text")+`.value = `+quoted(text))
		atEnd(" ")
	}
	plain := strings.Replace(gaugeText, "![A gauge on its edge](gauge.png)", "", 1)
	set(strings.Replace(plain, "/ 3\n", "/ 3 + half_angel\n", 1))
	b.await("half_angel is not known here")
	b.look("module, faults while typing")
	b.choose(named("Line 38"))
	if got := eval[string](b, `(() => { const t = document.getElementById("module_text"); return t.value.slice(t.selectionStart, t.selectionEnd); })()`); strings.TrimSpace(got) != "formula: (board_width - strip) / 3 + half_angel" {
		s.t.Errorf("the fault leads to %q, want its line", got)
	}
	b.press("Save").want(200, "one fault left").look("module, saved with a fault")
	set(plain)
	b.await("Nothing is wrong with it")
	b.press("Save").want(200, "Saved as save 2").look("module, sound")

	// What was typed and not saved is there after the page was lost.
	atEnd("not saved yet")
	b.await("Nothing is wrong with it")
	b.open(b.path()).want(200, "that was not saved").look("module, text that was not saved")
	b.choose(named("Show it"))
	if got := eval[string](b, field("module_text")+`.value`); !strings.Contains(got, "not saved yet") {
		s.t.Errorf("what was not saved comes back as %.200q", got)
	}
	set(plain)
	b.await("Nothing is wrong with it")
	b.press("Save").want(200, "Saved as save 3")
	if strings.Contains(b.text(), "that was not saved") {
		s.t.Error("what is saved is told as not saved")
	}
}

// useModule tries the module as a student and puts it in use.
func (s *story) useModule(b *tab) {
	b.press("Next: see it through").want(200, "is a draft").look("module, draft")
	b.press("Next: try it as a student").want(200, "How the tool works it out").look("module, tried")
	b.fill("n-gauge_line", "12")
	b.press("Grade these numbers").want(200, "None of one right").look("module, graded")
	b.choose(`document.querySelector("details.working summary")`)
	b.look("module, the tool’s working")
	b.press("Back to the module").want(200)
	b.press("Put save 3 in use").want(200, "is in use, edition 1").look("module, in use")
	b.press("What differs").want(200, "No line differs").look("module, no differences")
	b.open(strings.Replace(b.path(), "from=2", "from=1", 1)).want(200, "One line added").look("module, differences")
	b.press("Back to the module")
	b.press("Save 1").want(200, "Save 1 of 3").look("module, an older save")
	b.open("/lessons/marking-gauge").want(200, "A line runs").look("lesson of one’s own")
	b.open("/modules").want(200, "One module of your own").look("modules")
	b.open(classPath(s.class, "/course")).want(200, "One assignment").look("course")
}

// moduleFiles looks at what files would add.
func (s *story) moduleFiles(b *tab) {
	sender := s.h.browser()
	sender.post("/signin", "email", "ada@shop.example", "password", testPassword).want(s.t, 200)
	p := sender.look(packed(s.t, textNamed("another")))
	b.open(p.Path).want(200, "One module comes in").look("file, a module")
	p = sender.look(packed(s.t, "no front matter"))
	b.open(p.Path).want(200, "This cannot be taken in").look("file, refused")
	p = sender.look(sender.download(classPath(s.class, "/course/file")))
	b.open(p.Path).want(200, "A class with one assignment").look("file, a course")
	b.press("Make this class").want(422, "Give the class a name").look("file, a course, with faults")
	b.fill("name", "Next year")
	eval[chromedp.Void](b, field("first_day")+`.value = "2027-01-12"`)
	b.press("Make this class").want(200, "The class is made")
	b.open("/modules").want(200, "Take it back").look("modules, with an import")
	b.press("Take it back").want(200, "It is taken back")
}
