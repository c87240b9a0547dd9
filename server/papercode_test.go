package server

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// A code reads back as the sheet that it was made for, however it is typed.
func TestSheetCodesReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		class := rapid.Int64Range(1, 1<<30-1).Draw(t, "class")
		sheet := rapid.IntRange(1, 1<<30-1).Draw(t, "sheet")
		code := sheetCode(class, sheet)
		for _, typed := range []string{code, strings.ToLower(sheetCodeGroups(code)), " " + strings.Join(strings.Split(code, ""), "-") + " "} {
			c, s, ok := readSheetCode(typed)
			if !ok || c != class || s != sheet {
				t.Fatalf("readSheetCode(%q) = %d, %d, %v, want %d, %d", typed, c, s, ok, class, sheet)
			}
		}
	})
}

// Codes of a school with 200 classes of 500 sheets each are short and all
// different, and neighbours do not look alike.
func TestSheetCodesAreShort(t *testing.T) {
	seen := map[string]bool{}
	for class := int64(1); class <= 200; class++ {
		last := ""
		for sheet := 1; sheet <= 500; sheet++ {
			code := sheetCode(class, sheet)
			if len(code) != 5 || seen[code] {
				t.Fatalf("sheetCode(%d, %d) = %q, want five letters not seen before", class, sheet, code)
			}
			seen[code] = true
			if alike := lettersAlike(code, last); alike > 3 {
				t.Errorf("sheetCode(%d, %d) = %q has %d letters in common with the one before, %q", class, sheet, code, alike, last)
			}
			last = code
		}
	}
}

func lettersAlike(a, b string) int {
	n := 0
	for i := range min(len(a), len(b)) {
		if a[i] == b[i] {
			n++
		}
	}
	return n
}

// One letter typed wrong, or two neighbours swapped, is never taken for
// another sheet.
func TestSheetCodesCatchSlips(t *testing.T) {
	for _, c := range []struct {
		class int64
		sheet int
	}{{1, 1}, {3, 17}, {12, 400}, {5000, 2}, {1 << 29, 9}} {
		code := sheetCode(c.class, c.sheet)
		for i := range code {
			for _, r := range codeLetters {
				wrong := code[:i] + string(r) + code[i+1:]
				if _, _, ok := readSheetCode(wrong); ok && wrong != code {
					t.Errorf("%q for %q is taken", wrong, code)
				}
			}
			if i > 0 && code[i] != code[i-1] {
				swapped := code[:i-1] + string(code[i]) + string(code[i-1]) + code[i+1:]
				if _, _, ok := readSheetCode(swapped); ok {
					t.Errorf("%q for %q is taken", swapped, code)
				}
			}
		}
	}
	for _, text := range []string{"", "A", "2222", "not a code!", "AAAAAAAAAAAAAA", strings.Repeat("Z", 13)} {
		if c, s, ok := readSheetCode(text); ok {
			t.Errorf("readSheetCode(%q) = %d, %d, want none", text, c, s)
		}
	}
}
