package lessons

import (
	"strings"
	"testing"

	"arrisbook/grading/formula"
)

// TestAloud: a formula read aloud keeps its meaning without its brackets being
// seen, and says what inverse functions ask for.
func TestAloud(t *testing.T) {
	cases := map[string]string{
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
	}
	name := func(id string) string {
		if len(id) > 1 {
			return strings.ToUpper(strings.ReplaceAll(id, "_", "-"))
		}
		return id
	}
	for src, want := range cases {
		if got := aloud(formula.MustParse(src).Root(), name); got != want {
			t.Errorf("aloud(%s) = %q, want %q", src, got, want)
		}
	}
}

func TestInSentence(t *testing.T) {
	for name, want := range map[string]string{"Half angle": "half angle", "V length": "V length", "": "", "A": "A", "Δ angle": "Δ angle", "Émail": "émail"} {
		if got := inSentence(name); got != want {
			t.Errorf("inSentence(%q) = %q, want %q", name, got, want)
		}
	}
}

func TestSuggestion(t *testing.T) {
	known := []string{"half_angle", "head_angle", "width", "c"}
	for word, want := range map[string]string{
		"half_angel": ": did you mean half_angle?", "widht": ": did you mean width?", "wdth": ": did you mean width?",
		"zebra": "", "d": "", "": "", "head": "",
	} {
		if got := suggestion(word, known); got != want {
			t.Errorf("suggestion(%q) = %q, want %q", word, got, want)
		}
	}
}
