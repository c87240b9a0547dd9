package server

import (
	"strings"
	"testing"
)

func TestReadCode(t *testing.T) {
	for _, test := range []struct {
		text, want string
		ok         bool
	}{
		{"KX4M7TQP", "KX4M7TQP", true},
		{"kx4m 7tqp", "KX4M7TQP", true},
		{" KX4M-7TQP\t", "KX4M7TQP", true},
		{"KX4M–7TQP", "KX4M7TQP", true},
		{"ＫＸ４Ｍ７ＴＱＰ", "KX4M7TQP", true}, // full-width, from a phone's keyboard
		{"KX4M7TOP", "KX4M7TQP", true},
		{"KX4M7T0P", "KX4M7TQP", true},
		{"1i|l", "LLLL", true},
		{"", "", false},
		{"   ", "", false},
		{"KX4M7TÄP", "", false},
		{"KX4M7T<P", "", false},
	} {
		if got, ok := readCode(test.text); got != test.want || ok != test.ok {
			t.Errorf("readCode(%q) = %q, %v, want %q, %v", test.text, got, ok, test.want, test.ok)
		}
	}
}

// Every code that is drawn reads back as itself, also the way it is printed.
func TestNewCodeReadsBack(t *testing.T) {
	seen := map[rune]bool{}
	for range 500 {
		code := newCode(personalCodeLen)
		for _, text := range []string{code, groups(code), strings.ToLower(groups(code))} {
			if got, ok := readCode(text); got != code || !ok {
				t.Fatalf("readCode(%q) = %q, %v, want %q", text, got, ok, code)
			}
		}
		for _, r := range code {
			seen[r] = true
		}
	}
	if len(seen) != 32 {
		t.Errorf("500 codes used %d different signs, want 32", len(seen))
	}
	for _, r := range "0O1I" {
		if seen[r] {
			t.Errorf("a code holds %c", r)
		}
	}
}

// Whatever is typed, what is read has code letters only and reads back as
// itself.
func FuzzReadCode(f *testing.F) {
	for _, text := range []string{"kx4m 7tqp", "O0I1l", "ＫＸ", "ß", "\x00", "ﬁ"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		code, ok := readCode(text)
		if !ok {
			if code != "" {
				t.Fatalf("readCode(%q) = %q without ok", text, code)
			}
			return
		}
		if strings.Trim(code, codeLetters) != "" || code == "" {
			t.Fatalf("readCode(%q) = %q", text, code)
		}
		if again, ok := readCode(code); again != code || !ok {
			t.Fatalf("readCode(%q) = %q, but that reads as %q", text, code, again)
		}
	})
}
