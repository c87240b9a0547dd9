package server

import (
	"strings"
	"testing"
)

func TestPasswordFault(t *testing.T) {
	near := []string{"Ada Sawyer", "ada.sawyer@fennelyard.example", "Wednesday evening"}
	long := "a plank has two faces, two edges and two ends, and only one of each may be the one that you measure from; mark it before you begin, and again after planing"[:128]
	for _, test := range []struct{ name, password, want string }{
		{"empty", "", "At least 15"},
		{"fourteen characters", "seven slow sna", "At least 15 characters are needed; these are 14"},
		{"fifteen characters", "seven slow snai", ""},
		{"letters count, not bytes", "ähnlich möchte", "these are 14"},
		{"any script", "шуршит стружка да", ""},
		{"signs and spaces", "🪚 oak 🪚 and 🪵 glue", ""},
		{"no rule about which signs", "onlysmallletters", ""},
		{"128 characters", long, ""},
		{"129 characters", long + "g", "At most 128"},
		{"cut inside a letter", "seven slow snails\xff", "cannot be read"},
		{"one sign", strings.Repeat("a", 20), "fewer than 5 different"},
		{"four signs", "abcdabcdabcdabcdd", "fewer than 5 different"},
		{"a piece over and over", "oaktreeoaktreeoaktree", "repeats one short piece"},
		{"a piece and its beginning", "chisel7chisel7chis", "repeats one short piece"},
		{"alphabet", "abcdefghijklmnop", "row of the alphabet"},
		{"alphabet backwards", "zyxwvutsrqponmlk", "row of the alphabet"},
		{"figures", "0123456789012345", "row of"},
		{"keyboard rows", "qwertyuiopasdfgh", "row of"},
		{"keyboard row and year", "qwertyuiop2026!!", "row of"},
		{"part of a row is no fault", "1234 slow snails go", ""},
		{"our own name", "arrisbook-arrisbook1", "“arrisbook”"},
		{"usual word", "Password2026!!!!", "“password”"},
		{"own name", "AdaSawyer-2026-", "“sawyer”"},
		{"own e-mail", "ada.sawyer@fennelyard", "“fennelyard”"},
		{"class", "wednesday-evening", "“wednesday”"},
		{"a near word with enough beside it", "sawyer likes slow snails", ""},
	} {
		t.Run(test.name, func(t *testing.T) {
			got := passwordFault(test.password, near...)
			if test.want == "" && got != "" || !strings.Contains(got, test.want) {
				t.Errorf("passwordFault(%q) = %q, want %q", test.password, got, test.want)
			}
		})
	}
}

// One keyboard sends é as one letter, another as two.
func TestTidyPasswordIsOneSpelling(t *testing.T) {
	if one, two := tidyPassword("caf\u00e9"), tidyPassword("cafe\u0301"); one != two {
		t.Errorf("%q and %q differ", one, two)
	}
}

// Whatever is typed is judged without harm, and what is accepted is long enough.
func FuzzPassword(f *testing.F) {
	f.Add("seven slow snails", "Ada Sawyer")
	f.Add("\xff\x00", "")
	f.Fuzz(func(t *testing.T, password, near string) {
		if passwordFault(password, near) == "" && len([]rune(tidyPassword(password))) < passwordLeast {
			t.Errorf("accepted %q", password)
		}
	})
}
