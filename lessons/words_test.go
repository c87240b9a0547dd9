package lessons

import "testing"

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
