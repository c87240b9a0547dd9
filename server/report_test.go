package server

import (
	"context"
	"encoding/csv"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/net/html"
	"golang.org/x/net/html/atom"

	"arrisbook/grading"
)

func TestHarmless(t *testing.T) {
	t.Parallel()
	for in, want := range map[string]string{
		"Wanda": "Wanda", "": "", "5": "5", "-5": "-5", "+1.5e3": "+1.5e3", "-0.25": "-0.25",
		"=1+1": "'=1+1", "+49 5": "'+49 5", "-2+3": "'-2+3", "@SUM(A1)": "'@SUM(A1)", "\tx": "'\tx", "\rx": "'\rx", "\nx": "'\nx",
		"  =1": "'  =1", "\u00a0=1": "'\u00a0=1", "＝1": "'＝1", "a=b": "a=b", "O'Hara": "O'Hara", "1:6": "1:6",
	} {
		if got := harmless(in); got != want {
			t.Errorf("harmless(%q) = %q, want %q", in, got, want)
		}
	}
}

// tableRows reads the rows of a page's n-th table: name, then numbers.
func (p *page) tableRows(t *testing.T, n int) (names []string, rows [][]int) {
	t.Helper()
	var tables []*html.Node
	for d := range p.Doc.Descendants() {
		if d.DataAtom == atom.Table {
			tables = append(tables, d)
		}
	}
	if n >= len(tables) {
		t.Fatalf("%s has %d tables, want more than %d", p.Path, len(tables), n)
	}
	for d := range tables[n].Descendants() {
		if d.DataAtom != atom.Tr || d.Parent.DataAtom == atom.Thead {
			continue
		}
		var name string
		var row []int
		for c := range d.Descendants() {
			switch c.DataAtom {
			case atom.Th:
				name = textOf(c)
			case atom.Td:
				v, err := strconv.Atoi(textOf(c))
				if err != nil {
					t.Fatalf("%s: cell %q is no number", p.Path, textOf(c))
				}
				row = append(row, v)
			}
		}
		names, rows = append(names, name), append(rows, row)
	}
	return names, rows
}

// wantSums fails unless the last row of a table is the sum of the others.
func (p *page) wantSums(t *testing.T, n int) []int {
	t.Helper()
	names, rows := p.tableRows(t, n)
	last := len(rows) - 1
	if last < 1 || names[last] != "All" {
		t.Fatalf("%s, table %d: rows %v, want some and All", p.Path, n, names)
	}
	sum := make([]int, len(rows[last]))
	for _, row := range rows[:last] {
		for i, v := range row {
			sum[i] += v
		}
	}
	if !slices.Equal(sum, rows[last]) {
		t.Errorf("%s, table %d: All = %v, want the sum of its rows, %v", p.Path, n, rows[last], sum)
	}
	return sum
}

// Totals are the sums of their rows, on the page, in the file and in the
// database, and nobody's sheet is counted twice or left out.
func TestReportSums(t *testing.T) {
	t.Parallel()
	k := newKeyWorld(t, "head-v-joint-first")
	ctx := context.Background()
	k.send(1, map[string]string{"tip_depth": "1.234", "half_angle": ""})
	no := k.send(1, nil)
	k.must(k.Store.Clear(ctx, k.class.ID, 1, no, 0, k.rosa.ID, k.Now()))
	k.send(2, map[string]string{"half_angle": k.doubled(2, "half_angle")})
	k.given = k.give(k.class, k.rosa, "hip-rafter", k.students[:2], 300, nil)
	k.send(4, map[string]string{k.given.exercise.Steps[0].ID: "77.777"})
	k.harness.students(k.class, k.rosa, "=cmd|' /C calc'!A0")
	mine := k.harness.students(k.class, k.rosa, "Gone Soon")
	k.give(k.class, k.rosa, "head-v-joint-first", mine, 900, nil)
	k.must(k.Store.RemoveStudent(ctx, k.class.ID, mine[0].No, k.Now()))

	p := k.get(classHref(k.class)+"/report").want(t, 200, "3 of 5 sheets begun, 1 cleared", "Wanda Petersen", "Ines Brandt").lacks(t, "Gone Soon")
	sums := p.wantSums(t, 0)
	if want := queryOne[int](k.world, `SELECT count(*) FROM attempts`); sums[0] != 5 || sums[2] != want {
		t.Errorf("sheets and attempts = %d, %d, want 5, %d", sums[0], sums[2], want)
	}
	if _, works := p.tableRows(t, 1); !slices.Equal(addUp(works), sums) {
		t.Errorf("by assignment = %v, want the same sums as by student, %v", addUp(works), sums)
	}
	skills := p.wantSums(t, 2)
	if skills[0] != sums[4] || skills[0] != skills[1]+skills[2]+skills[3]+skills[4]+skills[5] {
		t.Errorf("skills = %v, want %d asked, and its parts to add up", skills, sums[4])
	}
	if want := queryOne[int](k.world, `SELECT sum(answers) FROM progress`); skills[6] != want {
		t.Errorf("answers = %d, want %d", skills[6], want)
	}
	rows := k.csvOf(t, classHref(k.class)+"/report.csv")
	if len(rows) != 6 || columnSum(t, rows, "attempts") != sums[2] || columnSum(t, rows, "right") != sums[3] || columnSum(t, rows, "asked") != sums[4] {
		t.Errorf("report.csv = %d rows, attempts %d, right %d, asked %d, want 6 with its head, and %v", len(rows), columnSum(t, rows, "attempts"), columnSum(t, rows, "right"), columnSum(t, rows, "asked"), sums)
	}
	rows = k.csvOf(t, classHref(k.class)+"/skills.csv")
	for i, name := range []string{"asked", "right", "near", "follows", "wrong", "not answered", "answers"} {
		if got := columnSum(t, rows, name); got != skills[i] {
			t.Errorf("skills.csv: %s = %d, want %d as on the page", name, got, skills[i])
		}
	}
	p = k.get(studentHref(k.class, 1)+"/report").want(t, 200, "Wanda Petersen: 2 of 2 sheets begun, 1 cleared", "cleared ")
	own := p.wantSums(t, 0)
	p.wantSums(t, 1)
	if rows := k.csvOf(t, studentHref(k.class, 1)+"/report.csv"); len(rows) != 3 || columnSum(t, rows, "attempts") != own[2] {
		t.Errorf("a student's report.csv = %v, want two sheets with %d attempts", rows, own[2])
	}
}

func addUp(rows [][]int) []int {
	var sum []int
	for _, row := range rows {
		for i, v := range row {
			if i == len(sum) {
				sum = append(sum, 0)
			}
			sum[i] += v
		}
	}
	return sum
}

func (k *keyWorld) csvOf(t *testing.T, path string) [][]string {
	t.Helper()
	p := k.get(path)
	if p.Status != 200 || !strings.HasPrefix(p.Header.Get("Content-Type"), "text/csv") || !strings.Contains(p.Header.Get("Content-Disposition"), "attachment") {
		t.Fatalf("GET %s = %d, %v, want a CSV file", path, p.Status, p.Header)
	}
	if strings.Count(p.Body, "\r\n") != strings.Count(p.Body, "\n") || !strings.HasSuffix(p.Body, "\r\n") {
		t.Errorf("GET %s: lines do not all end with CR LF", path)
	}
	rows, err := csv.NewReader(strings.NewReader(p.Body)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

func columnSum(t *testing.T, rows [][]string, name string) int {
	t.Helper()
	at := slices.Index(rows[0], name)
	if at < 0 {
		t.Fatalf("no column %q in %v", name, rows[0])
	}
	sum := 0
	for _, row := range rows[1:] {
		v, err := strconv.Atoi(row[at])
		if err != nil {
			t.Fatalf("%s: %q is no number", name, row[at])
		}
		sum += v
	}
	return sum
}

// The same wrong number from different wood is shown, with careful words; what
// two can each have come to by themselves is not.
func TestAlike(t *testing.T) {
	t.Parallel()
	k := newKeyWorld(t, "head-v-joint-first")
	alike := assignmentHref(k.class, 1) + "/alike"
	k.get(alike).want(t, 200, "No two benches share a wrong number")
	k.send(1, map[string]string{"tip_depth": "18.73", "mouth_near": "11.39"})
	k.send(2, map[string]string{"half_angle": k.doubled(2, "half_angle")})
	k.send(3, map[string]string{"half_angle": k.doubled(3, "half_angle")})
	k.get(alike).want(t, 200, "No two benches share a wrong number")
	k.send(2, map[string]string{"tip_depth": "18.73 mm"})
	k.get(alike).want(t, 200, "Single numbers in common", "Tip depth: 18.73 and 18.73 mm, wrong for both")
	k.send(2, map[string]string{"mouth_near": "11.39"})
	k.send(3, map[string]string{"back_shift": k.off(1, "back_shift", 0)})
	k.get(alike).want(t, 200, "One pair of benches has the same numbers from different wood", "Ask, don’t accuse.", "Bench 1, Wanda Petersen", "bench 2, Oskar Hale",
		"Near mouth point: 11.39, wrong for both")
}

func TestInCommon(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		a, b sentNumber
		want string // whose it is right for: a, b, "" for neither, "-" for nothing in common
	}{
		{"wrong for both", sentNumber{"18.7", 18.7, grading.Wrong, false}, sentNumber{"18,70", 18.7, grading.Wrong, false}, ""},
		{"one explained", sentNumber{"18.7", 18.7, grading.Wrong, true}, sentNumber{"18.7", 18.7, grading.Wrong, false}, ""},
		{"both explained", sentNumber{"18.7", 18.7, grading.Wrong, true}, sentNumber{"18.7", 18.7, grading.Wrong, true}, "-"},
		{"right for the first", sentNumber{"18.7", 18.7, grading.Right, false}, sentNumber{"18.7", 18.7, grading.Wrong, false}, "a"},
		{"right for the second", sentNumber{"18.7", 18.7, grading.Wrong, false}, sentNumber{"18.7", 18.7, grading.Right, false}, "b"},
		{"right for both", sentNumber{"18.7", 18.7, grading.Right, false}, sentNumber{"18.7", 18.7, grading.Right, false}, "-"},
		{"another number", sentNumber{"18.7", 18.7, grading.Wrong, false}, sentNumber{"18.8", 18.8, grading.Wrong, false}, "-"},
	} {
		n, ok := inCommon([]sentNumber{{"1", 1, grading.Wrong, false}, c.a}, []sentNumber{c.b})
		got := n.RightFor
		if !ok {
			got = "-"
		}
		if got != c.want {
			t.Errorf("%s: inCommon = %q, want %q (%s)", c.name, got, c.want, fmt.Sprint(n))
		}
	}
}
