package formula

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func testSymbol(id string) string {
	return map[string]string{
		"half_angle": "alpha", "v_width": "B", "v_length": "L", "face_v_length": "L_f", "head_angle": "θ",
		"tails": "n", "long": "L′", "near": "m₁", "sum": "Σw", "odd": `<&"`,
	}[id]
}

func TestMathML(t *testing.T) {
	const times, of = "<mo>\u2062</mo>", "<mo>\u2061</mo>"
	const toSymbol = `<mo lspace="0" rspace="0.17em">` + "\u2061</mo>"
	const before = `<mo lspace="0.17em" rspace="0">` + "\u2062</mo>"
	const close, root = `<mo class="txt">)</mo>`, `<mo class="txt">√(</mo>`
	part := func(sign, inside string) string {
		return `<mrow><mo class="txt">` + sign + "</mo>" + inside + "</mrow>"
	}
	squared := part("^", "<mn>2</mn>")
	tests := []struct{ left, in, want string }{
		{"", "2.50", "<mn>2.50</mn>"},
		{"half_angle", "v_width", "<mi>α</mi><mo>=</mo><mi>B</mi>"},
		{"", "v_width/2", "<mfrac><mi>B</mi>" + part("/", "<mn>2</mn>") + "</mfrac>"},
		{"", "(a+b)/2", "<mfrac>" + part("(", "<mi>a</mi><mo>+</mo><mi>b</mi>"+close) + part("/", "<mn>2</mn>") + "</mfrac>"},
		{"", "face_v_length", "<msub><mi>L</mi><mi>f</mi></msub>"},
		{"", "head_thickness", "<mtext>head thickness</mtext>"},
		{"", "2*v_width", "<mn>2</mn>" + times + "<mi>B</mi>"},
		{"", "v_width*2", "<mi>B</mi><mo>×</mo><mn>2</mn>"},
		{"", "2*3", "<mn>2</mn><mo>×</mo><mn>3</mn>"},
		{"", "v_width*v_length", "<mi>B</mi>" + times + "<mi>L</mi>"},
		{"", "v_width*pin", "<mi>B</mi><mo>×</mo><mi>pin</mi>"},
		{"", "pin*v_width", "<mi>pin</mi><mo>×</mo><mi>B</mi>"},
		{"", "2*pi*r", "<mn>2</mn>" + times + "<mi>π</mi>" + times + "<mi>r</mi>"},
		{"", "a-b", "<mi>a</mi><mo>−</mo><mi>b</mi>"},
		{"", "-a", "<mo>−</mo><mi>a</mi>"},
		{"", "a-(b-c)", "<mi>a</mi><mo>−</mo><mrow><mo>(</mo><mi>b</mi><mo>−</mo><mi>c</mi><mo>)</mo></mrow>"},
		{"", "v_width^2", "<msup><mi>B</mi>" + squared + "</msup>"},
		{"", "sqrt(a+b)", "<msqrt>" + root + "<mi>a</mi><mo>+</mo><mi>b</mi>" + close + "</msqrt>"},
		{"", "hypot(a,b)", "<msqrt>" + root + "<msup><mi>a</mi>" + squared + "</msup><mo>+</mo><msup><mi>b</mi>" + squared + "</msup>" + close + "</msqrt>"},
		{"", "cos(head_angle)", "<mi>cos</mi>" + toSymbol + "<mi>θ</mi>"},
		{"", "cos(10)", "<mi>cos</mi>" + toSymbol + `<mn>10</mn><mo lspace="0" rspace="0">°</mo>`},
		{"", "atan(a+1)", "<mi>arctan</mi>" + of + "<mrow><mo>(</mo><mi>a</mi><mo>+</mo><mn>1</mn><mo>)</mo></mrow>"},
		{"", "v_length*tan(head_angle)", "<mi>L</mi>" + before + "<mi>tan</mi>" + toSymbol + "<mi>θ</mi>"},
		{"", "tan(head_angle)^2", "<msup><mrow><mo>(</mo><mi>tan</mi>" + toSymbol + "<mi>θ</mi><mo>)</mo></mrow>" + squared + "</msup>"},
		{"", "long", "<msup><mi>L</mi><mo>′</mo></msup>"},
		{"", "near*2", "<msub><mi>m</mi><mn>1</mn></msub><mo>×</mo><mn>2</mn>"},
		{"", "near*v_width", "<msub><mi>m</mi><mn>1</mn></msub>" + times + "<mi>B</mi>"},
		{"", "atan((v_width/2)/v_length)", "<mi>arctan</mi>" + of + "<mrow><mo>(</mo><mfrac><mrow><mi>B</mi><mo>/</mo><mn>2</mn></mrow>" + part("/", "<mi>L</mi>") + "</mfrac><mo>)</mo></mrow>"},
		{"", "a/(b/(c+d))", "<mfrac><mi>a</mi>" + part("/(", "<mi>b</mi><mo>/</mo><mrow><mo>(</mo><mi>c</mi><mo>+</mo><mi>d</mi><mo>)</mo></mrow>"+close) + "</mfrac>"},
		{"", "odd", "<mi>&lt;&amp;&#34;</mi>"},
	}
	for _, tt := range tests {
		got := MustParse(tt.in).MathML(tt.left, testSymbol, false)
		_, body, _ := strings.Cut(got, "><mrow>")
		if body != tt.want+"</mrow></math>" {
			t.Errorf("MathML(%q, %s) = %s, want %s", tt.left, tt.in, body, tt.want)
		}
	}
}

func TestMathMLFrame(t *testing.T) {
	f := MustParse("atan((v_width/2)/v_length)")
	inline, block := f.MathML("half_angle", testSymbol, false), f.MathML("", nil, true)
	if want := `<math alttext="half_angle = atan(v_width/2/v_length)">`; !strings.HasPrefix(inline, want) {
		t.Errorf("inline begins %.70s, want %s", inline, want)
	}
	if want := `<math display="block" alttext="atan(v_width/2/v_length)">`; !strings.HasPrefix(block, want) {
		t.Errorf("block begins %.70s, want %s", block, want)
	}
}

// Any formula becomes well-formed XML in which every fraction and power has
// exactly two parts.
func TestMathMLWellFormed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := FromNode(trees(4).Draw(t, "tree"))
		m := f.MathML("v_width", testSymbol, true)
		if err := wellFormed(m); err != nil {
			t.Fatalf("MathML(%s) = %s: %v", f, m, err)
		}
	})
}

// asText turns the text inside a formula's MathML into what Parse reads: a name
// or number that stands without brackets behind its function gets them, and
// what has no width becomes the sign it stands for.
func asText(m string) string {
	text := tags.ReplaceAllString(m, "")
	text = bare.ReplaceAllString(text, "($1)")
	return strings.NewReplacer("\u2061", "", "\u2062", "*", "√", "sqrt", "−", "-", "×", "*").Replace(text)
}

var (
	tags = regexp.MustCompile(`<[^>]*>`)
	bare = regexp.MustCompile("\u2061([0-9.a-z]+)°?")
)

// The text inside the MathML of any formula reads as that formula.
func TestMathMLReadsAsText(t *testing.T) {
	values := func(id string) (float64, bool) {
		return map[string]float64{"a": 3, "b": 0.7, "c": 11, "x": 1.9}[id], true
	}
	rapid.Check(t, func(t *rapid.T) {
		f := FromNode(lettered(trees(4).Draw(t, "tree")))
		text := asText(f.MathML("", nil, true))
		again, err := Parse(text)
		if err != nil {
			t.Fatalf("the MathML of %s reads %q: %v", f, text, err)
		}
		want, wantErr := f.Eval(values)
		got, gotErr := again.Eval(values)
		if (wantErr == nil) != (gotErr == nil) || wantErr == nil && math.Abs(got-want) > 1e-6*(1+math.Abs(want)) {
			t.Fatalf("the MathML of %s reads %q = %v (%v), want %v (%v)", f, text, got, gotErr, want, wantErr)
		}
	})
}

// lettered gives every name of a tree one letter, so that names side by side
// can be told apart from one long name.
func lettered(n Node) Node {
	switch n := n.(type) {
	case Name:
		return Name{ID: string("abcx"[len(n.ID)%4])}
	case Neg:
		return Neg{X: lettered(n.X)}
	case Binary:
		return Op(lettered(n.L), n.Op, lettered(n.R))
	case Call:
		args := make([]Node, len(n.Args))
		for i, a := range n.Args {
			args[i] = lettered(a)
		}
		return Call{Func: n.Func, Args: args}
	}
	return n
}

func wellFormed(m string) error {
	d := xml.NewDecoder(strings.NewReader(m))
	var open []string
	var parts []int
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return err
		}
		switch tok := tok.(type) {
		case xml.StartElement:
			if len(parts) > 0 {
				parts[len(parts)-1]++
			}
			open, parts = append(open, tok.Name.Local), append(parts, 0)
		case xml.EndElement:
			last := len(open) - 1
			switch open[last] {
			case "mfrac", "msup", "msub":
				if parts[last] != 2 {
					return fmt.Errorf("%s with %d parts", open[last], parts[last])
				}
			}
			open, parts = open[:last], parts[:last]
		}
	}
}
