package formula

import (
	"strings"
	"testing"
)

// A formula read aloud keeps its meaning without its brackets being seen, and
// says what inverse functions ask for.
func TestSpeech(t *testing.T) {
	name := func(id string) string {
		if len(id) > 1 {
			return strings.ToUpper(strings.ReplaceAll(id, "_", "-"))
		}
		return id
	}
	for in, want := range map[string]string{
		"a + b - c":            "a + b − c",
		"a - (b + c)":          "a − (b + c)",
		"a*(b + c)/d":          "(a × (b + c)) ÷ d",
		"a/b*c":                "a ÷ b × c",
		"a/(b*c)":              "a ÷ (b × c)",
		"(a/2)/b":              "(a ÷ 2) ÷ b",
		"a/(b/c)":              "a ÷ (b ÷ c)",
		"-a + b":               "−a + b",
		"a*(-b)":               "a × −b",
		"a^2 + b^3":            "a squared + b to the power 3",
		"(a + b)^2":            "(a + b) squared",
		"a^(b + 1)":            "a to the power (b + 1)",
		"sqrt(a^2 + b^2)":      "the square root of (a squared + b squared)",
		"hypot(a, b/2)":        "the square root of (a squared + (b ÷ 2) squared)",
		"atan(a/b)":            "the angle whose tangent is (a ÷ b)",
		"asin(sin(a)*cos(b))":  "the angle whose sine is (sin(a) × cos(b))",
		"2*pi*a":               "2 × π × a",
		"v_length/cos(angle1)": "V-LENGTH ÷ cos(ANGLE1)",
	} {
		if got := MustParse(in).Speech("", name); got != want {
			t.Errorf("Speech(%s) = %q, want %q", in, got, want)
		}
	}
	if got, want := MustParse("v_length/cos(a)").Speech("face_v", nil), "face v = v length ÷ cos(a)"; got != want {
		t.Errorf("Speech with a left side = %q, want %q", got, want)
	}
}
