package server

import (
	_ "embed"
	"fmt"
	"slices"
	"strings"

	"github.com/chromedp/chromedp/kb"
)

// axe is axe-core 4 (MPL 2.0, its licence lies beside it): it finds what keeps
// people with a screen reader, without a mouse or with weak eyes from using a
// page, as far as a program can find that.
//
//go:embed testdata/axe/axe.min.js
var axe string

// axeRun asks for every rule, and for seven to one between letters and ground
// where the guidelines ask for four and a half. Rules about one colour scheme
// are asked alone in the second look.
const axeRun = `axe.run(document, {preload: false, resultTypes: ["violations"], %s}).then((r) => r.violations.map((v) => ({
ID: v.id, Impact: v.impact || "minor", Help: v.help, Where: v.nodes.slice(0, 4).map((n) => n.target.join(" ")).join("; ")})))`

const (
	axeAll     = `rules: {"color-contrast-enhanced": {enabled: true}}`
	axeColours = `runOnly: ["color-contrast", "color-contrast-enhanced", "link-in-text-block"]`
)

// violation is one finding of axe.
type violation struct{ ID, Impact, Help, Where string }

// misfits finds what does not fit a window or a finger: anything wider than
// the window, unless it scrolls within itself, and targets under 48 px. A link
// inside a sentence is as high as its line, and a choice's label belongs to it.
const misfits = `(() => {
const out = [], wide = document.documentElement.clientWidth;
const name = (el) => el.tagName.toLowerCase() + (el.id ? "#" + el.id : "") + (el.getAttribute("class") ? "." + el.getAttribute("class") : "") + " " + JSON.stringify((el.innerText || el.getAttribute("name") || "").slice(0, 40));
const within = (el) => el.parentElement.closest(".scroll, .formula, .drawing");
if (document.documentElement.scrollWidth > wide) {
	const beyond = [...document.querySelectorAll("main *, nav *, footer *")].filter((el) => el.getBoundingClientRect().right > wide + 1 && !within(el));
	out.push("the page is " + document.documentElement.scrollWidth + " px wide in " + wide + ": " + beyond.slice(-3).map(name).join(", "));
}
for (const el of document.querySelectorAll("main *")) {
	if (el.scrollWidth > el.clientWidth + 1 && ["auto", "scroll"].includes(getComputedStyle(el).overflowX) && !el.matches(".scroll, .formula, textarea, input")) out.push("scrolls sideways: " + name(el));
}
for (const el of document.querySelectorAll("a[href], button, input:not([type=hidden]), select, textarea, summary")) {
	if (el.closest("svg") || el.matches(".skip, :disabled") || !el.checkVisibility({visibilityProperty: true})) continue;
	const style = getComputedStyle(el);
	const prose = style.display === "inline" && [...el.parentElement.childNodes].some((n) => n.nodeType === 3 && n.textContent.trim().length > 1);
	if (prose) continue;
	const box = (el.matches("[type=checkbox], [type=radio]") ? el.closest("label") || el : el).getBoundingClientRect();
	if (box.height < 47.5 || box.width < 43.5) out.push("a target of " + Math.round(box.width) + " by " + Math.round(box.height) + " px: " + name(el));
}
return out;
})()`

// look holds the page as it stands to what every page promises: axe finds
// nothing serious with the lamp on and off, nothing scrolls sideways at phone
// size and at four times the size, and fingers hit what they aim at. Each kind
// of page is looked at once in a tab.
func (b *tab) look(kind string) *tab {
	b.t.Helper()
	if b.looked[kind] || b.plain && !differs(kind) {
		return b
	}
	b.looked[kind] = true
	if b.plain {
		// axe needs the clock that scripts have; the page's own stay away until
		// another page is opened.
		b.scripts(true)
		defer b.scripts(false)
	}
	eval[any](b, axe+";0")
	b.lamp(true)
	b.report(kind, "", eval[[]violation](b, fmt.Sprintf(axeRun, axeAll)))
	b.fits(kind)
	if b.size == phone {
		// A desktop has the same colours, and no size below its own.
		b.lamp(false)
		b.report(kind, ", lamp off", eval[[]violation](b, fmt.Sprintf(axeRun, axeColours)))
		b.lamp(true)
		b.resize(narrow)
		b.fits(kind)
		b.resize(phone)
	}
	b.quiet()
	return b
}

// differs says which pages are others without script: the sheet, and the page
// that shows the readings.
func differs(kind string) bool {
	return strings.HasPrefix(kind, "sheet, ") || kind == "check"
}

func (b *tab) report(kind, lamp string, found []violation) {
	b.t.Helper()
	for _, v := range found {
		says := fmt.Sprintf("%s, %d px%s: axe %s (%s): %s at %s", kind, b.size.Width, lamp, v.ID, v.Impact, v.Help, v.Where)
		if v.Impact == "serious" || v.Impact == "critical" {
			b.t.Error(says)
		} else {
			b.t.Log(says)
		}
	}
}

func (b *tab) fits(kind string) {
	b.t.Helper()
	for _, m := range eval[[]string](b, misfits) {
		b.t.Errorf("%s, %d px: %s", kind, b.size.Width, m)
	}
}

// focused tells what has the focus and which of its corners, a little inside,
// are out of the window or under something else.
const focused = `(() => {
const el = document.activeElement;
if (!el || el === document.body) return {Name: ""};
const r = el.getBoundingClientRect(), hidden = [];
for (const [where, x, y] of [["middle", .5, .5], ["top left", .1, .15], ["top right", .9, .15], ["bottom left", .1, .85], ["bottom right", .9, .85]]) {
	const top = document.elementFromPoint(r.x + r.width * x, r.y + r.height * y);
	const round = el.closest("svg") || el.querySelector("svg, i");
	if (!top && !(round && where !== "middle")) hidden.push(where + " outside the window");
	else if (top && !el.contains(top) && !top.contains(el) && top.closest("label") === null && !round) hidden.push(where + " under " + top.tagName + "." + top.className);
}
return {Name: (el.id || el.getAttribute("href") || el.innerText || el.tagName) + " " + el.tagName, Hidden: hidden,
	Outline: getComputedStyle(el).outlineStyle !== "none" || !!el.closest("svg")};
})()`

// walk goes through the page with the tabulator key alone, there and back:
// everything can be reached, and what has the focus is in sight and marked.
func (b *tab) walk(reach ...string) {
	b.t.Helper()
	// With the focus on the body the first key leads to the first stop.
	eval[any](b, `scrollTo(0, 0); document.body.tabIndex = -1; document.body.focus(); document.body.removeAttribute("tabindex"); 0`)
	var seen []string
	for range 200 {
		b.keys(kb.Tab)
		at := eval[struct {
			Name    string
			Hidden  []string
			Outline bool
		}](b, focused)
		if at.Name == "" || len(seen) > 0 && at.Name == seen[0] {
			break
		}
		seen = append(seen, at.Name)
		if len(at.Hidden) > 0 {
			b.t.Errorf("%s: with the keyboard at %s it is not in sight: %s", b.path(), at.Name, strings.Join(at.Hidden, ", "))
		}
		if !at.Outline {
			b.t.Errorf("%s: nothing marks the focus on %s", b.path(), at.Name)
		}
	}
	for _, want := range reach {
		if !slices.ContainsFunc(seen, func(s string) bool { return strings.Contains(s, want) }) {
			b.t.Errorf("%s: the keyboard never reaches %q, only %q", b.path(), want, seen)
		}
	}
	b.t.Logf("%s: %d stops with the keyboard", b.path(), len(seen))
}
