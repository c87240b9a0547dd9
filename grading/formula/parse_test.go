package formula

import (
	"errors"
	"strings"
	"testing"
)

func TestParse(t *testing.T) {
	tests := []struct{ in, want string }{
		{"1", "1"},
		{"2.50", "2.50"},
		{".5", ".5"},
		{"a+b-c", "a + b - c"},
		{"a-(b-c)", "a - (b - c)"},
		{"a/b/c", "a/b/c"},
		{"a/(b/c)", "a/(b/c)"},
		{"a*(b+c)", "a*(b + c)"},
		{"((v_width/2)/v_length)", "v_width/2/v_length"},
		{"-a^2", "-a^2"},
		{"(-a)^2", "(-a)^2"},
		{"2^3^2", "2^3^2"},
		{"(2^3)^2", "(2^3)^2"},
		{"2^-1", "2^(-1)"},
		{"2^-1*3", "2^(-1)*3"},
		{"-a*b", "-a*b"},
		{"-(a*b)", "-(a*b)"},
		{"a*-b", "a*(-b)"},
		{"a--b", "a - (-b)"},
		{"+a", "a"},
		{"- -a", "-(-a)"},
		{"sqrt(a^2+b^2)", "sqrt(a^2 + b^2)"},
		{"hypot( a,b )", "hypot(a, b)"},
		{"hypot(a;b)", "hypot(a, b)"},
		{"2*pi*r", "2*pi*r"},
		{"asin(t/sqrt(l^2+h^2))-atan(h/l)", "asin(t/sqrt(l^2 + h^2)) - atan(h/l)"},
		// What people type in their working.
		{"=(70−36)÷2", "(70 - 36)/2"},
		{"2×17", "2*17"},
		{"2·17", "2*17"},
		{"18:40", "18/40"},
		{"√(3²+4²)", "sqrt(3^2 + 4^2)"},
		{"√25", "sqrt(25)"},
		{"2πr_1", ""},
		{"2·π", "2*pi"},
		{"sin(14°)", "sin(14)"},
		{"sin 14°", "sin(14)"},
		{"sin(14 deg)", "sin(14)"},
		{"40/cos 10", "40/cos(10)"},
		{"40/cos head_angle", "40/cos(head_angle)"},
		{"sin x + 1", "sin(x) + 1"},
		{"Atan(18/40)", "atan(18/40)"},
		{"arctan(18/40)", "atan(18/40)"},
		{"tan⁻¹(18/40)", "atan(18/40)"},
		{"tan^-1(18/40)", "atan(18/40)"},
		{"sin^-1(0.5)", "asin(0.5)"},
		{"[(70-36)]/{2}", "(70 - 36)/2"},
		{"18 mm/40 mm", "18/40"},
		{"（７０－３６）／２", "(70 - 36)/2"},
		{"70\u00a0-\u200936", "70 - 36"},
	}
	for _, tt := range tests {
		f, err := Parse(tt.in)
		if tt.want == "" {
			if err == nil {
				t.Errorf("Parse(%q) = %q, want an error", tt.in, f.Plain())
			}
			continue
		}
		if err != nil {
			t.Errorf("Parse(%q) = error %v, want %q", tt.in, err, tt.want)
			continue
		}
		if got := f.Plain(); got != tt.want {
			t.Errorf("Parse(%q).Plain() = %q, want %q", tt.in, got, tt.want)
		}
		if got := f.String(); got != tt.in {
			t.Errorf("Parse(%q).String() = %q, want the text as typed", tt.in, got)
		}
	}
}

func TestParseErrors(t *testing.T) {
	tests := []struct {
		in   string
		col  int
		says string // part of the message
	}{
		{"", 1, "Nothing is written"},
		{"   ", 1, "Nothing is written"},
		{"a+", 3, "missing at the end"},
		{"a+*b", 3, "missing before *"},
		{"(a+b", 1, "never closed"},
		{"2*((a+b)", 3, "never closed"},
		{"a+b)", 4, "closes nothing"},
		{"()", 2, "missing before this bracket"},
		{"2(a+b)", 2, "write *"},
		{"2a", 2, "write *"},
		{"(a)(b)", 4, "write *"},
		{"a b", 3, "write *"},
		{"a**2", 2, "with ^"},
		{"sin^2(x)", 4, "sin(…)^2"},
		{"sin", 1, "brackets after sin"},
		{"sin cos x", 1, "brackets after sin"},
		{"tan 2*3", 5, "tan(2) or tan(2*…)"},
		{"atan 18/40", 6, "atan(18) or atan(18/…)"},
		{"sin x^2", 5, "not clear"},
		{"hypot 3", 1, "brackets after hypot"},
		{"hypot(3)", 8, "hypot(30, 40)"},
		{"hypot(1,2,3)", 10, "two lengths"},
		{"atan(18,5/40)", 8, "decimal point as a dot"},
		{"70,5", 3, "decimal point as a dot"},
		{"log(3)", 1, "not a function"},
		{"v_width(3)", 1, "v_width*(…)"},
		{"sqrt^-1(3)", 1, "1/sqrt"},
		{"1.2.3", 1, "more than one dot"},
		{"1e3", 1, "without e"},
		{"2*3e-4", 3, "without e"},
		{strings.Repeat("9", 400), 1, "too large"},
		{"14° 30'", 7, "write 14.5"},
		{"14'", 3, "write 14.5"},
		{"5%", 2, "per cent"},
		{"a = 3", 3, "without ="},
		{"a & b", 3, "not read here"},
		{"a\x00b", 2, "not read here"},
		{"2 cm + 3 cm", 3, "one unit"},
		{"\xff\xfe", 1, "not read here"},
		{strings.Repeat("a", 501), 1, "too long"},
		{"1" + strings.Repeat("+1", 150), 201, "too big"},
	}
	for _, tt := range tests {
		f, err := Parse(tt.in)
		var e *Error
		if !errors.As(err, &e) {
			t.Errorf("Parse(%q) = %q, %v, want an *Error", tt.in, f.Plain(), err)
			continue
		}
		if e.Col != tt.col || !strings.Contains(e.Msg, tt.says) {
			t.Errorf("Parse(%q) = column %d %q, want column %d and %q", tt.in, e.Col, e.Msg, tt.col, tt.says)
		}
	}
}

// The largest formulas are read, and one node more is not.
func TestParseLimit(t *testing.T) {
	largest := "-1" + strings.Repeat("+1", 99)
	f, err := Parse(largest)
	if err != nil || f.Size() != maxNodes {
		t.Errorf("Parse of %d nodes = size %d, %v, want %d", maxNodes, f.Size(), err, maxNodes)
	}
	if _, err := Parse("-" + largest); err == nil {
		t.Errorf("Parse of %d nodes was accepted", maxNodes+1)
	}
	deep := strings.Repeat("(", 249) + "1" + strings.Repeat(")", 249)
	if _, err := Parse(deep); err != nil {
		t.Errorf("Parse of 249 brackets = %v", err)
	}
}

func TestNames(t *testing.T) {
	f := MustParse("asin(t/sqrt(l^2 + h^2)) - atan(h/l)*pi/180")
	if got := strings.Join(f.Names(), " "); got != "t l h" {
		t.Errorf("Names() = %q, want %q", got, "t l h")
	}
	if got := f.Size(); got != 20 {
		t.Errorf("Size() = %d, want 20", got)
	}
}

func TestZeroFormula(t *testing.T) {
	var f Formula
	if f.String() != "" || f.Size() != 0 || f.Names() != nil || f.MathML("a", nil, true) != "" || f.Speech("", nil) != "" {
		t.Errorf("the zero Formula prints %q", f.String())
	}
	if _, err := f.Eval(nil); err == nil {
		t.Error("the zero Formula has a value")
	}
	if _, err := f.Check(nil); err == nil {
		t.Error("the zero Formula has a dimension")
	}
	if !f.Equal(f.Simplify()) {
		t.Error("the zero Formula is not equal to itself")
	}
}
