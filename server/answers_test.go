package server

import (
	"bytes"
	"encoding/json"
	"errors"
	"net/url"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"arrisbook/grading"
	"arrisbook/lessons"
	"arrisbook/server/store"
)

// firstSix is the shipped exercise of six numbers with one of its sheets.
func firstSix(t testing.TB) (*grading.Exercise, grading.Sheet) {
	t.Helper()
	lib, err := lessons.Shipped()
	if err != nil {
		t.Fatal(err)
	}
	ex, ok := lib.Exercise("head-v-joint-first")
	if !ok {
		t.Fatal("no exercise head-v-joint-first")
	}
	sheet, err := grading.Generate(ex, 1, grading.DefaultShop())
	if err != nil {
		t.Fatal(err)
	}
	return ex, sheet
}

func TestParseNumbers(t *testing.T) {
	t.Parallel()
	_, sheet := firstSix(t)
	key := "3a0c0f6e-1f4b-4f0a-8c1d-2b7e9a5d6c41"
	f := parseNumbers(url.Values{
		"key": {strings.ToUpper(key)}, "wood": {"2"}, "n-half_angle": {"  14° 30′ ", "second"}, "n-max_head_angle": {"9"}, "half_angle": {"1"},
	}, sheet)
	if f.Key != key || f.Wood != 2 {
		t.Errorf("parseNumbers: key %q, wood %d, want %q, 2", f.Key, f.Wood, key)
	}
	if got := f.Texts["half_angle"]; got != "  14° 30′ " {
		t.Errorf("text = %q, want it exactly as typed", got)
	}
	if len(f.Texts) != len(sheet.Steps) {
		t.Errorf("%d texts, want those of the %d asked numbers and no others", len(f.Texts), len(sheet.Steps))
	}
	for _, wood := range []string{"", "-1", "x", "99999999999999999999"} {
		if got := parseNumbers(url.Values{"wood": {wood}}, sheet).Wood; got != -1 {
			t.Errorf("wood %q = %d, want -1", wood, got)
		}
	}
}

func TestBodyHash(t *testing.T) {
	t.Parallel()
	base := numbersForm{Key: "a", Wood: 0, Texts: map[string]string{"a": "1", "b": "2"}}
	for _, c := range []struct {
		name string
		f    numbersForm
		same bool
	}{
		{"another key", numbersForm{Key: "b", Wood: 0, Texts: map[string]string{"b": "2", "a": "1"}}, true},
		{"another text", numbersForm{Wood: 0, Texts: map[string]string{"a": "1", "b": "2 "}}, false},
		{"texts changed round", numbersForm{Wood: 0, Texts: map[string]string{"a": "2", "b": "1"}}, false},
		{"another wood", numbersForm{Wood: 1, Texts: map[string]string{"a": "1", "b": "2"}}, false},
		{"one number less", numbersForm{Wood: 0, Texts: map[string]string{"a": "1"}}, false},
	} {
		if got := bytes.Equal(base.bodyHash(), c.f.bodyHash()); got != c.same {
			t.Errorf("%s: same hash = %v, want %v", c.name, got, c.same)
		}
	}
}

func TestJudge(t *testing.T) {
	t.Parallel()
	ex, sheet := firstSix(t)
	now := time.Date(2026, 11, 25, 18, 0, 0, 0, time.UTC)
	right := written(grading.Key(ex, sheet.Parameters), sheet)
	last := func(texts map[string]string, wood int) *store.Attempt {
		return &store.Attempt{No: 4, Wood: wood, Answers: texts}
	}
	for _, c := range []struct {
		name    string
		texts   map[string]string
		wood    int // of the form
		row     store.Sheet
		last    *store.Attempt
		want    string // part of the refusal; "" when it is kept
		fresh   int    // answers that are new
		allDone bool
	}{
		{"first numbers", right, 0, store.Sheet{}, nil, "", 6, true},
		{"one number only", map[string]string{"half_angle": right["half_angle"]}, 0, store.Sheet{}, nil, "", 1, false},
		{"one is new", change(right, "tip_depth", "99"), 0, store.Sheet{Attempts: 4}, last(right, 0), "", 1, false},
		{"one is taken out", change(right, "tip_depth", ""), 0, store.Sheet{Attempts: 4}, last(right, 0), "", 1, false},
		{"the same on other wood", right, 1, store.Sheet{Attempts: 4, Wood: 1}, last(right, 0), "", 6, true},
		{"nothing", map[string]string{}, 0, store.Sheet{}, nil, "Nothing is filled in yet", 0, false},
		{"blanks", map[string]string{"half_angle": " \t"}, 0, store.Sheet{}, nil, "Nothing is filled in yet", 0, false},
		{"the same once more", right, 0, store.Sheet{Attempts: 4}, last(right, 0), "attempt 4 already", 0, false},
		{"one cannot be read", change(right, "tip_depth", "1,234"), 0, store.Sheet{}, nil, "One number could not be read", 0, false},
		{"two cannot be read", change(right, "tip_depth", "1,234", "half_angle", "?"), 0, store.Sheet{}, nil, "Two numbers could not be read", 0, false},
		{"the name of a right number", change(right, "tip_depth", "tip_depth"), 0, store.Sheet{}, nil, "One number could not be read", 0, false},
		{"a page from before the measuring", right, 0, store.Sheet{Wood: 1}, nil, "measured again", 0, false},
		{"a page that does not say", right, -1, store.Sheet{}, nil, "measured again", 0, false},
	} {
		c.row.Issued = sheet
		f := numbersForm{Wood: c.wood, Texts: c.texts}
		j, err := f.judge(ex, grading.Millimetres, now)(store.Before{Sheet: c.row, Last: c.last})
		var refused *refusal
		if errors.As(err, &refused); (refused != nil) != (c.want != "") || refused != nil && !strings.Contains(refused.Sentence, c.want) {
			t.Errorf("%s: judge = %v, want a refusal with %q", c.name, err, c.want)
			continue
		}
		if refused == nil && (len(j.New) != c.fresh || j.KeepAsked != c.allDone || j.Wood != c.row.Wood) {
			t.Errorf("%s: judge = %d new, all done %v, wood %d, want %d, %v, %d", c.name, len(j.New), j.KeepAsked, j.Wood, c.fresh, c.allDone, c.row.Wood)
		}
	}
}

// Near is good enough for the instructor's own eyes, what only follows from an
// earlier slip is not.
func TestComplete(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		verdicts []grading.Verdict
		want     bool
	}{
		{nil, false},
		{[]grading.Verdict{grading.Right, grading.Right}, true},
		{[]grading.Verdict{grading.Right, grading.Near}, true},
		{[]grading.Verdict{grading.Right, grading.Follows}, false},
		{[]grading.Verdict{grading.Right, grading.Wrong}, false},
		{[]grading.Verdict{grading.Right, grading.Blank}, false},
		{[]grading.Verdict{grading.Unreadable}, false},
	} {
		var r grading.Result
		for _, v := range c.verdicts {
			r.Steps = append(r.Steps, grading.StepResult{Verdict: v})
		}
		if got := complete(r); got != c.want {
			t.Errorf("complete(%v) = %v, want %v", c.verdicts, got, c.want)
		}
	}
}

// Whatever is typed into the fields: it is either refused with a sentence and
// stays as typed, or it is judged, can be kept by the database, and is judged
// alike once more.
func FuzzJudge(f *testing.F) {
	for _, text := range []string{"14.5", "14° 30'", "atan(33/2/40)", "1,234", "", " ", "\x00", "\xff", "½", "１４．５", "−3", "1e309", "NaN", "((((", "<b>", "tip_depth", "half_angle*2", "3 5/16\""} {
		f.Add(text, "13.5", "0")
	}
	ex, sheet := firstSix(f)
	now := time.Date(2026, 11, 25, 18, 0, 0, 0, time.UTC)
	f.Fuzz(func(t *testing.T, a, b, wood string) {
		form := parseNumbers(url.Values{"n-half_angle": {a}, "n-tip_depth": {b}, "wood": {wood}}, sheet)
		if form.Texts["half_angle"] != a || form.Texts["tip_depth"] != b {
			t.Fatalf("texts = %q, want %q and %q", form.Texts, a, b)
		}
		judge := form.judge(ex, grading.Millimetres, now)
		row := store.Sheet{Issued: sheet, Wood: max(form.Wood, 0)}
		j, err := judge(store.Before{Sheet: row})
		var refused *refusal
		if errors.As(err, &refused) {
			if refused.Sentence == "" || strings.Contains(refused.Sentence, "%!") {
				t.Fatalf("refused without a sentence: %+v", refused)
			}
			for id, fault := range refused.Faults {
				if fault == "" || !utf8.ValidString(fault) {
					t.Fatalf("%s refused with %q", id, fault)
				}
			}
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		first, err := json.Marshal(j)
		if err != nil {
			t.Fatalf("cannot be kept: %v", err)
		}
		if bytes.Contains(first, []byte(`\u0000`)) || !utf8.Valid(first) {
			t.Fatalf("PostgreSQL cannot keep %s", first)
		}
		again, err := judge(store.Before{Sheet: row})
		if err != nil {
			t.Fatal(err)
		}
		if second, _ := json.Marshal(again); !bytes.Equal(first, second) {
			t.Fatalf("judged twice: %s\nand %s", first, second)
		}
	})
}
