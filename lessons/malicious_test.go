package lessons

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"
	"time"
)

// payloads are what somebody may write into a lesson to make it do more than
// be read.
var payloads = []string{
	`<script>alert(1)</script>`, `<script src="https://example.org/x.js"></script>`, `<img src=x onerror=alert(1)>`,
	`<svg onload=alert(1)>`, `<svg><script>alert(1)</script></svg>`, `<iframe src="javascript:alert(1)"></iframe>`,
	`<a href="javascript:alert(1)">x</a>`, `<style>*{display:none}</style>`, `<p style="position:fixed">x</p>`,
	`<math><mtext><img src=x onerror=alert(1)></mtext></math>`, `<details open ontoggle=alert(1)>`, `<base href="https://example.org/">`,
	`<form action="https://example.org/"><button>x</button></form>`, `<meta http-equiv="refresh" content="0;url=https://example.org/">`,
	`<!--><img src=x onerror=alert(1)>-->`, `<![CDATA[<img src=x onerror=alert(1)>]]>`, `<?php alert(1) ?>`, `<x onclick=alert(1)>`,
	`[x](javascript:alert(1))`, `[x](JaVaScRiPt:alert(1))`, `[x](&#106;avascript:alert(1))`, `[x](javascript&colon;alert(1))`,
	"[x](java\tscript:alert(1))", `[x](%6aavascript:alert(1))`, `[x](vbscript:x)`, `[x](data:text/html,<script>alert(1)</script>)`,
	`[x](<javascript:alert(1)>)`, "[x]( javascript:alert(1))", `[x](\javascript:alert(1))`, `[x](//example.org/x)`, `[x](https://example.org/"onclick="x)`,
	`[x](#a "t"onclick="x")`, `[x](#a '"><script>alert(1)</script>')`, `[x][r]` + "\n\n[r]: javascript:alert(1) '\"><b>'",
	`![x](javascript:alert(1))`, `![x](https://example.org/x.png)`, `![x](data:image/svg+xml,<svg onload=alert(1)>)`, `![x" onerror="alert(1)](plan.png)`,
	`![x](x.png"onerror="alert(1))`, `<javascript:alert(1)>`, `<https://example.org/"onmouseover="x>`, `<x@example.org"onclick="x>`,
	"$</math><script>alert(1)</script>$", `$"><img src=x>$`, `$half_angle" onclick="x$`, `[= </span><script>alert(1)</script>]`, `[= 1" onclick="x]`,
	`&lt;script&gt;alert(1)&lt;/script&gt;`, `&#60;script&#62;alert(1)&#60;/script&#62;`, `&NewLine;javascript&colon;alert(1)`,
	"\x00<script>\x00alert(1)</script>", "\xff\xfe<script>alert(1)</script>", "\u202e<script>alert(1)</script>", "\u2028<img src=x onerror=alert(1)>",
	`x {#id onclick=alert(1) style="x"}`, "`<script>alert(1)</script>`", "{{template \"x\"}}{{.}}", `\<script>alert(1)\</script>`,
}

// places are where it may stand.
var places = []string{
	"%s", "- %s", "> %s", "## A heading %s", "**%s**", "| a | b |\n|--|--|\n| %s | x |", "Term\n: %s", "[%s](#text)", "![%s](plan.png)",
	"```caution\n%s\n```", "```\n%s\n```", "```x%s\ny\n```", "~~~%s\ny\n~~~", "1. a\n\n   %s", "text\n%s\ntext", "<!-- %s -->", "<div\n%s\n>",
	"```figure\nfamily: head-v-joint\nview: head\ncaption: '%s'\nalt: |\n  %[1]s\n```",
	"```figure\nsketch: reversal\ncaption: |\n  %s\nalt: |\n  %[1]s\n```", "%s\n: a meaning", "Term [x](#text) %s\n: %[1]s\n\n  %[1]s",
	"```sizes\nfamily: head-v-joint\ncaption: |\n  %s\nthickness: 27\nwidth: 66\nv_length: 34\nv_width: 33\nhead_angle: 11\nhead_thickness: 17\nallowance: 1.5\n```",
	"```exercise\nid: x\ntitle: |\n  %s\ngiven: {a: {range: 1..5 by 1, unit: mm, name: |\n  %[1]s\n}}\nsteps: [{id: b, unit: mm, formula: 2*a}]\n```",
}

// TestMaliciousText puts every payload into every place: what comes out is
// harmless even where the faults are not heeded, as in a preview.
func TestMaliciousText(t *testing.T) {
	n := 0
	for _, place := range places {
		for _, payload := range payloads {
			n++
			body := fmt.Sprintf("## Text\n\n"+place+"\n", payload)
			start := time.Now()
			checkHarmless(t, anyhow(t, body))
			if took := time.Since(start); took > time.Second {
				t.Errorf("%.200q took %v", body, took)
			}
			if t.Failed() {
				t.Fatalf("body %.400q", body)
			}
		}
	}
	if n < 1000 {
		t.Errorf("%d snippets, want 1000 or more", n)
	}
}

// anyhow renders a body whatever its faults are.
func anyhow(t testing.TB, body string) string {
	t.Helper()
	fsys := fstest.MapFS{"lesson.md": {Data: []byte(front + body)}, "plan.png": {Data: []byte("x")}}
	var f faults
	p := readModule(fsys, "lesson.md", &f)
	if p == nil {
		t.Fatalf("no page of %.80q (%d bytes)", body, len(body))
	}
	return p.module.HTML
}

// TestHostileShapes bounds the time that text made to be slow can cost, at the
// full size a file may have.
func TestHostileShapes(t *testing.T) {
	cases := map[string]string{
		"quotations":       fill(">", " "),
		"quotation ladder": ladder("> ", 300),
		"lists":            fill("- ", "\n"),
		"list ladder":      ladder("  ", 340),
		"list of lists":    fill("- - - - - a", "\n"),
		"brackets":         fill("[", ""),
		"images":           fill("![", ""),
		"links":            fill("[a](", ""),
		"link titles":      fill("[a](b \"", "\n"),
		"link labels":      fill("[a][", "\n"),
		"link tails":       fill("[", "")[:maxSize/3] + "\n" + fill("](#a)", "")[:maxSize/3],
		"stars":            fill("*a ", "\n"),
		"mixed stars":      fill("**a *b __c _d ", "\n"),
		"underscores":      fill("_a__", ""),
		"ragged ticks":     ragged("`", 80),
		"dollars":          fill("$ a", ""),
		"results":          fill("[= a", ""),
		"angles":           fill("<a ", "\n"),
		"attributes":       fill("<a b=\"", "\n"),
		"comments":         fill("<!--", "\n"),
		"instructions":     fill("<?", "\n"),
		"data":             fill("<![CDATA[", "\n"),
		"entities":         fill("&#x", ""),
		"references":       fill("[a]: b", "\n"),
		"many references":  references(3000),
		"table":            "|" + strings.Repeat("a|", 23) + "\n|" + strings.Repeat("-|", 23) + "\n" + strings.Repeat("|\n", 3900),
		"tables":           strings.Repeat("|a|\n|-|\n\n", 1300),
		"definitions":      strings.Repeat("a\n: b\n\n", 1300),
		"fences":           fill("```x", "\n"),
		"headings":         strings.Repeat("## a\n", 3900),
		"quotes":           fill("\"'", " "),
		"formula":          "$" + strings.Repeat("(", 3900) + "$",
		"formulas":         fill("$half_angle + half_angle$", " "),
		"long formula":     "$1" + strings.Repeat("+1", 1900) + "$",
		"yaml":             "```exercise\n" + strings.Repeat("[", 3900) + "\n```",
		"yaml ladder":      "```exercise\n" + yamlLadder(400) + "```",
		"yaml keys":        "```exercise\n" + strings.Repeat("a: b\n", 3900) + "```",
		"yaml aliases":     "```exercise\na: &a [x,x,x]\nb: &b [*a,*a,*a]\nc: &c [*b,*b,*b]\nid: *c\n```",
		"nested cautions":  "``````caution\n`````caution\n````caution\n```caution\nx\n```\n````\n`````\n``````",
		"many cautions":    strings.Repeat("```caution\nx\n```\n\n", 950),
	}
	for name, body := range cases {
		start := time.Now()
		page := anyhow(t, "## Text\n\n"+body+"\n")
		took := time.Since(start)
		if took > 2*time.Second {
			t.Errorf("%s: took %v, want less than 2 s", name, took)
		}
		if testing.Verbose() {
			t.Logf("%-16s %8v for %d kB, %d kB out", name, took.Round(time.Millisecond), len(body)>>10, len(page)>>10)
		}
	}
}

// fill repeats a text up to the size of a file, with something between, in
// lines as long as may be.
func fill(text, between string) string {
	var b strings.Builder
	line := 0
	for b.Len() < maxSize-1000 {
		if between == "\n" && line > 60 || line+len(text)+len(between) > maxLine {
			b.WriteByte('\n')
			line = 0
		}
		b.WriteString(text)
		line += len(text)
		if between != "\n" {
			b.WriteString(between)
			line += len(between)
		}
	}
	return b.String()
}

// references defines as many links as lines and uses each.
func references(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "[a%d]: #text\n", i)
	}
	for i := range n / 10 {
		fmt.Fprintf(&b, "[a%d] ", i)
	}
	return b.String()
}

// ladder nests one level deeper on each line.
func ladder(mark string, levels int) string {
	var b strings.Builder
	for i := range levels {
		b.WriteString(strings.Repeat(mark, i) + "- a\n")
	}
	return b.String()
}

// ragged writes runs of every length.
func ragged(mark string, longest int) string {
	var b strings.Builder
	for i := range longest {
		b.WriteString(strings.Repeat(mark, i+1) + " ")
	}
	return b.String()
}

func yamlLadder(levels int) string {
	var b strings.Builder
	for i := range levels {
		b.WriteString(strings.Repeat(" ", i) + "a:\n")
	}
	return b.String()
}
