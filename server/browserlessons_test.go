package server

import (
	"context"
	"testing"
)

// testLessons looks at every lesson on a phone and on a desktop.
func testLessons(t *testing.T, chromium context.Context) {
	h := startServer(t, func(c *Config) { c.Lessons = shippedLessons(t) })
	for _, size := range []window{phone, desktop} {
		s := &story{t: t, chromium: chromium, h: h, size: size, script: true}
		b := s.device()
		for _, m := range shippedLessons(t).Modules {
			b.open("/lessons/"+m.ID).want(200, m.Title).look("lesson " + m.ID)
			for _, flaw := range eval[[]string](b, flatMaths) {
				t.Errorf("%s, %d px: %s", m.ID, size.Width, flaw)
			}
		}
	}
}

// flatMaths finds formulas that are not set as formulas: fractions whose upper
// part is not above the lower one, signs that only text shows, and a page
// without any formula.
const flatMaths = `(() => {
const out = [], all = [...document.querySelectorAll("math")].filter((m) => m.checkVisibility());
if (all.length < 3) out.push("the page shows " + all.length + " formulas");
for (const m of all) {
	const box = m.getBoundingClientRect();
	if (box.width < 4 || box.height < 4) out.push("a formula of " + box.width + " by " + box.height + " px: " + m.getAttribute("alttext"));
	for (const f of m.querySelectorAll("mfrac")) {
		const [top, foot] = [...f.children].map((c) => c.getBoundingClientRect());
		if (!(top.bottom <= foot.top + 1)) out.push("a flat fraction: " + m.getAttribute("alttext"));
	}
	if ([...m.querySelectorAll(".txt")].some((e) => e.checkVisibility())) out.push("a sign for readers of text shows: " + m.getAttribute("alttext"));
}
return out;
})()`
