package server

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"arrisbook/server/store"
)

// planText writes a plan down for comparison: who is added at which bench, and
// the lines left out with the beginning of the reason.
func planText(p rosterPlan) string {
	var parts []string
	if p.Heading > 0 {
		parts = append(parts, fmt.Sprintf("heading %d", p.Heading))
	}
	for _, st := range p.Add {
		parts = append(parts, fmt.Sprintf("+%s@%d", st.Name, st.Bench))
	}
	for _, row := range p.Ignored {
		parts = append(parts, fmt.Sprintf("-%d %s", row.Line, row.Fault))
	}
	return strings.Join(parts, " | ")
}

func TestPlanRoster(t *testing.T) {
	roster := []store.Student{{No: 1, Name: "Abel Rosén", Bench: 1}, {No: 2, Name: "Bruna Tell", Bench: 3}}
	const abel = "If these are two people, write something that tells them apart."
	for _, test := range []struct{ name, list, want string }{
		{"names only take the free benches", "Cosmo Vale\nDela Ott", "+Cosmo Vale@2 | +Dela Ott@4"},
		{"comma", "Cosmo Vale, 7", "+Cosmo Vale@7"},
		{"semicolon", "Cosmo Vale;7\r\nDela Ott;8", "+Cosmo Vale@7 | +Dela Ott@8"},
		{"cells of a spreadsheet", "Cosmo Vale\t7\nDela Ott\t", "+Cosmo Vale@7 | +Dela Ott@2"},
		{"a free bench is not one that a later line asks for", "Cosmo Vale\nDela Ott, 2", "+Cosmo Vale@4 | +Dela Ott@2"},
		{"heading", "Name, Bench\nCosmo Vale, 7", "heading 1 | +Cosmo Vale@7"},
		{"heading after an empty line, other order", "\nBench;Name\n7;Cosmo Vale", "heading 2 | +Cosmo Vale@7"},
		{"heading with two names", "Surname,First name,Bench\nVale,Cosmo,7", "heading 1 | +Cosmo Vale@7"},
		{"heading with more columns", "Name,Phone,Bench\nCosmo Vale,555 0100,7", "heading 1 | +Cosmo Vale@7"},
		{"heading in capitals and quotes", "\"NAME\",\"BENCH NO.\"\nCosmo Vale,7", "heading 1 | +Cosmo Vale@7"},
		{"a student called Student is no heading", "Student, 7", "+Student@7"},
		{"only the first line can be a heading", "Cosmo Vale, 7\nName, Bench", "+Cosmo Vale@7 | -2 “Bench” is no bench number. If it belongs to the name, put the whole name in quotes or write the first name first without a comma."},
		{"accents stay", "Zoë Łęcka-Ødegård, 7", "+Zoë Łęcka-Ødegård@7"},
		{"accents in two pieces become one", "Zoe\u0308 Ott", "+Zo\u00eb Ott@2"},
		{"a lost letter is told", "Zo\xeb Ott", "-1 A letter of this name was lost on the way here. Copy it once more."},
		{"byte order mark", "\ufeffCosmo Vale", "+Cosmo Vale@2"},
		{"quotes keep the comma", `"Vale, Cosmo", 7`, "+Vale, Cosmo@7"},
		{"doubled quotes", `"Cosmo ""Coz"" Vale",7`, `+Cosmo "Coz" Vale@7`},
		{"a quote inside is a sign", `Cosmo "Coz" Vale, 7`, `+Cosmo "Coz" Vale@7`},
		{"a quote that never ends is a sign and eats no lines", "\"Cosmo Vale, 7\nDela Ott", "+\"Cosmo Vale@7 | +Dela Ott@2"},
		{"apostrophes", "Niamh O’Dell, 7", "+Niamh O’Dell@7"},
		{"spaces", "  Cosmo \t\n", "+Cosmo@2"},
		{"last name first without quotes", "Vale, Cosmo", "-1 “Cosmo” is no bench number. If it belongs to the name, put the whole name in quotes or write the first name first without a comma."},
		{"already on the roster", "abel ROSÉN, 9", "-1 abel ROSÉN is on the roster already, at bench 1. " + abel},
		{"twice in the list", "Cosmo Vale\n\nCosmo  Vale, 9", "+Cosmo Vale@2 | -3 Cosmo Vale is in line 1. " + abel},
		{"no name", ", 7", "-1 There is no name."},
		{"no letters", "77, 7", "-1 A name has letters; this has none."},
		{"bench zero", "Cosmo Vale, 0", "-1 A bench is a whole number from 1 to 999."},
		{"bench with a fraction", "Cosmo Vale, 7.5", "-1 A bench is a whole number from 1 to 999."},
		{"long name", strings.Repeat("o", 61), "-1 This name is too long: 60 characters at most."},
		{"name of sixty letters", strings.Repeat("ö", 60), "+" + strings.Repeat("ö", 60) + "@2"},
		{"only separators", ",,,\n;;\n\t\n", ""},
	} {
		t.Run(test.name, func(t *testing.T) {
			got := planText(planRoster(readRosterList(test.list), roster))
			if got != test.want {
				t.Errorf("planRoster(%q)\n got %s\nwant %s", test.list, got, test.want)
			}
		})
	}
}

// What is unusual about somebody to be added stands beside the name.
func TestPlanRosterNotes(t *testing.T) {
	roster := []store.Student{{No: 1, Name: "Abel Rosén", Bench: 1}}
	for _, test := range []struct{ list, want string }{
		{"Cosmo Vale, 2", ""},
		{"Cosmo Vale", "Next free bench"},
		{"Cosmo Vale, 1", "Shares the bench with Abel Rosén"},
		{"Cosmo Vale, 1, left-handed", "“left-handed” is left out; shares the bench with Abel Rosén"},
		{"Cosmo Vale 7", "Next free bench; there is a number in the name; a comma before it makes it the bench"},
	} {
		plan := planRoster(readRosterList(test.list), roster)
		if len(plan.Add) != 1 || plan.Add[0].Note != test.want {
			t.Errorf("planRoster(%q) = %+v, want the note %q", test.list, plan, test.want)
		}
	}
}

func TestPlanRosterHoldsTwoHundred(t *testing.T) {
	var lines []string
	for i := range 205 {
		lines = append(lines, fmt.Sprintf("Learner %c%c", 'A'+i/26, 'a'+i%26))
	}
	plan := planRoster(readRosterList(strings.Join(lines, "\n")), nil)
	if len(plan.Add) != 200 || len(plan.Ignored) != 5 || plan.Ignored[0].Line != 201 {
		t.Errorf("added %d, ignored %d, want 200 and 5", len(plan.Add), len(plan.Ignored))
	}
}

// Every line of any text is added, ignored with a reason, empty or the
// heading; whoever is added can be stored, and nobody twice.
func FuzzRoster(f *testing.F) {
	for _, text := range []string{
		"Cosmo Vale, 7\nDela Ott", "Name;Bench\n\"a;b\";3", "\"\"\"", "a\t\t\t", "\x00\xff, 1", "\"x\" y, 2", "Surname,First name\nA,B",
	} {
		f.Add(text)
	}
	roster := []store.Student{{No: 1, Name: "Abel Rosén", Bench: 1}}
	f.Fuzz(func(t *testing.T, text string) {
		list := readRosterList(text)
		plan := planRoster(list, roster)
		if len(plan.Add)+len(plan.Ignored) != len(list.Rows) {
			t.Fatalf("%d rows became %d added and %d ignored", len(list.Rows), len(plan.Add), len(plan.Ignored))
		}
		names := []string{sameName("Abel Rosén")}
		for _, st := range plan.Add {
			if n := utf8.RuneCountInString(st.Name); n < 1 || n > studentNameMost || !utf8.ValidString(st.Name) || strings.ContainsRune(st.Name, 0) {
				t.Fatalf("cannot store the name %q", st.Name)
			}
			if st.Bench < 1 || st.Bench > benchMost {
				t.Fatalf("cannot store bench %d", st.Bench)
			}
			if slices.Contains(names, sameName(st.Name)) {
				t.Fatalf("%q twice", st.Name)
			}
			names = append(names, sameName(st.Name))
		}
		for _, row := range plan.Ignored {
			if row.Fault == "" || row.Line < 1 {
				t.Fatalf("ignored without a reason: %+v", row)
			}
		}
	})
}
