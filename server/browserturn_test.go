package server

import (
	"context"
	"testing"

	"arrisbook/geom/joint"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// testTurning shows every joint in 3-D on its lesson: drawn on request only,
// turned by keys, slid home by the slider.
func testTurning(t *testing.T, chromium context.Context) {
	s := newDay(t, chromium)
	b := s.device()
	for _, f := range joint.All() {
		b.turnOn(s.lessonOf(f))
	}
	b.look("lesson with a joint to turn")
	b.scripts(false)
	b.open(s.lessonOf(joint.All()[0]))
	if shown := eval[bool](b, `document.querySelector(".turn").checkVisibility()`); shown {
		t.Error("without script the turning view is offered")
	}
}

// lessonOf is the address of the lesson about a joint.
func (s *story) lessonOf(f *joint.Family) string {
	ex, ok := s.h.Server.cfg.Lessons.Exercise(f.ID)
	if !ok {
		s.t.Fatalf("no exercise %s", f.ID)
	}
	return "/lessons/" + ex.Module
}

// turnOn opens a lesson, asks for the parts and turns them.
func (b *tab) turnOn(path string) {
	b.t.Helper()
	const fetched = `performance.getEntriesByType("resource").some(r => r.name.includes("turn.view"))`
	b.open(path).want(200)
	if eval[bool](b, fetched) {
		b.t.Errorf("%s fetches the view before anybody asks", path)
	}
	b.choose(named("Show the parts"))
	b.await("Shown:")
	const drawn = `(() => {
		const canvas = document.querySelector(".turn canvas"), gl = canvas.getContext("webgl2");
		const w = gl.drawingBufferWidth, h = gl.drawingBufferHeight, px = new Uint8Array(4 * w * h);
		gl.readPixels(0, 0, w, h, gl.RGBA, gl.UNSIGNED_BYTE, px);
		let seen = 0, sum = 0;
		for (let i = 0; i < px.length; i += 4) if (px[i + 3] > 0) { seen++; sum = (sum * 31 + px[i] + i) % 1000003; }
		return seen / (w * h) + sum;
	})()`
	apart := eval[float64](b, drawn)
	if apart == 0 {
		b.t.Errorf("%s: nothing is drawn", path)
	}
	changes := func(what string, from float64) float64 {
		now := eval[float64](b, drawn)
		if now == from {
			b.t.Errorf("%s: %s changes nothing", path, what)
		}
		return now
	}
	eval[chromedp.Void](b, `document.querySelector(".turn canvas").focus()`)
	b.keys(kb.ArrowRight)
	last := changes("an arrow key", apart)
	b.keys("+")
	last = changes("plus", last)
	b.choose(named("From above"))
	last = changes("a look from above", last)
	if eval[bool](b, `document.querySelector(".turn .slide").checkVisibility()`) {
		// From above, what slides down looks the same all the way.
		b.choose(named("From a corner"))
		last = changes("a look from a corner", last)
		eval[chromedp.Void](b, `document.querySelector("#slidehome").focus()`)
		b.keys(kb.End)
		changes("sliding home", last)
		if says := eval[string](b, `document.querySelector("#slidehome").getAttribute("aria-valuetext")`); says != "home" {
			b.t.Errorf("%s: at its end the slider says %q, want home", path, says)
		}
	}
}
