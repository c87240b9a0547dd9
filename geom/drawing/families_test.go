package drawing

import (
	"fmt"
	"maps"
	"math/rand"
	"regexp"
	"slices"
	"strings"
	"testing"

	"arrisbook/geom/joint"
)

// eachFamily runs a test for every family that has drawings, side by side.
func eachFamily(t *testing.T, test func(t *testing.T, f *joint.Family)) {
	t.Helper()
	for _, f := range joint.All() {
		if _, ok := painters[f.ID]; !ok {
			t.Errorf("%s has no drawings", f.ID)
			continue
		}
		t.Run(f.ID, func(t *testing.T) {
			t.Parallel()
			test(t, f)
		})
	}
}

// wrongWith lists what is wrong with finished views, a line each.
func wrongWith(views []View) []string {
	var bad []string
	for _, v := range views {
		for _, o := range overlaps(v) {
			bad = append(bad, v.ID+": "+o)
		}
		if v.ID == "" || v.Title == "" || v.Desc == "" || v.Caption == "" {
			bad = append(bad, fmt.Sprintf("%q lacks an id, a title, a description or a caption", v.ID))
		}
		if v.W != Width || v.H <= 0 || v.H > 2*Width {
			bad = append(bad, fmt.Sprintf("%s is %g by %g", v.ID, v.W, v.H))
		}
	}
	return bad
}

// Nothing stands on anything before the key is released, whichever of the
// numbers are asked, in millimetres, inches and the longest texts.
func TestHouseSheetsOfAllFamilies(t *testing.T) {
	eachFamily(t, func(t *testing.T, f *joint.Family) {
		long := millimetres(f, f.House)
		for _, p := range f.Parameters {
			switch p.Unit {
			case joint.MM:
				long[p.ID] = "1234.5"
			case joint.Deg:
				long[p.ID] = "12.5°"
			}
		}
		ids := keyIDs(t, f, f.House)
		for _, given := range []map[string]string{millimetres(f, f.House), bareInches(f, f.House), long} {
			for i := range ids {
				for j := i; j < len(ids); j++ {
					set := slices.Compact([]string{ids[i], ids[j]})
					checkSheet(t, f, Sheet{Blank: f.House, Given: given, Asked: asked(f, set...)})
				}
			}
			checkSheet(t, f, Sheet{Blank: f.House, Given: given, Asked: asked(f, ids...)})
		}
	})
}

// keyIDs are the quantities that have a value on a blank, in the family's
// order.
func keyIDs(t testing.TB, f *joint.Family, blank joint.Values) []string {
	t.Helper()
	l, err := f.Layout(blank)
	if err != nil {
		t.Fatal(err)
	}
	var ids []string
	for _, q := range f.Quantities {
		if _, ok := l.Quantities[q.ID]; ok {
			ids = append(ids, q.ID)
		}
	}
	return ids
}

// bareInches are givens as a class in inches has them on its drawings.
func bareInches(f *joint.Family, v joint.Values) map[string]string {
	m := inches(f, v)
	for _, p := range f.Parameters {
		if p.Unit == joint.One {
			m[p.ID] = fmt.Sprintf("%.4g", v[p.ID])
		}
		m[p.ID] = strings.TrimSuffix(m[p.ID], " in")
	}
	return m
}

// checkSheet draws a sheet and holds it to what a draughtsman would; every
// asked number has its balloon, once.
func checkSheet(t *testing.T, f *joint.Family, s Sheet) {
	t.Helper()
	views, err := SheetViews(f, s)
	if err != nil {
		t.Fatal(err)
	}
	bad := wrongWith(views)
	var numbers []int
	for _, v := range views {
		numbers = append(numbers, v.Numbers()...)
	}
	slices.Sort(numbers)
	var want []int
	for _, b := range s.Asked {
		want = append(want, b.Number)
	}
	if !slices.Equal(numbers, want) {
		bad = append(bad, fmt.Sprintf("balloons %v, want %v", numbers, want))
	}
	if len(bad) > 0 {
		t.Errorf("blank %v, given %v, asked %d: %s", s.Blank, s.Given, len(s.Asked), strings.Join(bad, "; "))
	}
}

// After the release nothing stands on anything on any of two hundred shipped
// blanks, drawn in true shape at a standard scale with the answers written in.
func TestReleasedSheetsOfAllFamilies(t *testing.T) {
	eachFamily(t, func(t *testing.T, f *joint.Family) {
		for _, blank := range shippedBlanks(t, f) {
			l, err := f.Layout(blank)
			if err != nil {
				t.Fatal(err)
			}
			ids := keyIDs(t, f, blank)
			checkSheet(t, f, Sheet{Blank: blank, Given: millimetres(f, blank), Asked: asked(f, ids...), Answers: answers(f, l, false)})
			checkSheet(t, f, Sheet{Blank: blank, Given: bareInches(f, blank), Asked: asked(f, ids...), Answers: answers(f, l, true), Plain: true})
		}
	})
}

// Drawings that are true to scale say so, and the scale is a standard one.
func TestReleasedSheetsOfAllFamiliesStateTheirScale(t *testing.T) {
	stated := regexp.MustCompile(`scale (1 : (1|2|5|10|20|50|100|200|500)|(2|5|10) : 1)$|much enlarged`)
	eachFamily(t, func(t *testing.T, f *joint.Family) {
		for _, blank := range shippedBlanks(t, f)[:20] {
			l, err := f.Layout(blank)
			if err != nil {
				t.Fatal(err)
			}
			s := Sheet{Blank: blank, Given: millimetres(f, blank), Asked: asked(f, keyIDs(t, f, blank)...), Answers: answers(f, l, false)}
			views, err := SheetViews(f, s)
			if err != nil {
				t.Fatal(err)
			}
			for _, v := range views {
				if !stated.MatchString(strings.ReplaceAll(v.Caption, "\u00a0", " ")) {
					t.Errorf("view %s: caption %q, want one that states a standard scale", v.ID, v.Caption)
				}
			}
		}
	})
}

// Every part that is pictured by itself is one of the family's.
func TestShownPartsAreParts(t *testing.T) {
	for _, f := range joint.All() {
		parts, err := f.Pieces(f.House)
		if err != nil {
			t.Fatal(err)
		}
		if len(shownParts[f.ID]) == 0 {
			t.Errorf("%s pictures no part by itself", f.ID)
		}
		for _, name := range shownParts[f.ID] {
			if !slices.ContainsFunc(parts, func(p joint.Part) bool { return p.Name == name }) {
				t.Errorf("%s has no part %q", f.ID, name)
			}
		}
	}
}

// Lesson figures are clear on every shipped blank.
func TestFiguresOfAllFamilies(t *testing.T) {
	eachFamily(t, func(t *testing.T, f *joint.Family) {
		for _, blank := range shippedBlanks(t, f) {
			for _, name := range FigureNames(f) {
				v, err := Figure(f, name, blank)
				if err != nil {
					t.Errorf("blank %v: %v", blank, err)
					continue
				}
				if bad := wrongWith([]View{v}); len(bad) > 0 {
					t.Errorf("blank %v, figure %s: %s", blank, name, strings.Join(bad, "; "))
				}
			}
		}
	})
}

// wrongNumbers are submitted numbers, one or two of them off by as much as
// slips are.
func wrongNumbers(f *joint.Family, l joint.Layout, r *rand.Rand) joint.Values {
	ids := slices.Sorted(maps.Keys(l.Quantities))
	v := joint.Values{}
	for range 1 + r.Intn(2) {
		id := ids[r.Intn(len(ids))]
		off := []float64{0.05, 0.2, 0.6, 3}[r.Intn(4)]
		v[id] = l.Quantities[id] + off*(2*r.Float64()-1)
	}
	return v
}

// Fits are clear too, by bands before the release and in figures after it.
func TestFitsOfAllFamilies(t *testing.T) {
	eachFamily(t, func(t *testing.T, f *joint.Family) {
		r := rand.New(rand.NewSource(31))
		drawn := 0
		for _, blank := range shippedBlanks(t, f) {
			l, err := f.Layout(blank)
			if err != nil {
				t.Fatal(err)
			}
			submitted := wrongNumbers(f, l, r)
			gaps, err := Gaps(f, blank, submitted)
			if err != nil {
				t.Fatal(err)
			}
			views, err := FitViews(f, gaps)
			if err != nil {
				t.Fatal(err)
			}
			fit, err := f.Fit(blank, submitted)
			if err != nil {
				t.Fatal(err)
			}
			released, err := ReleasedFitViews(f, blank, fit)
			if err != nil {
				t.Fatal(err)
			}
			drawn += len(views)
			if bad := wrongWith(slices.Concat(views, released)); len(bad) > 0 {
				t.Errorf("blank %v, submitted %v, gaps %+v: %s", blank, submitted, gaps, strings.Join(bad, "; "))
			}
		}
		if drawn < 150 {
			t.Errorf("only %d fit pictures were drawn", drawn)
		}
	})
}

// Before the release a drawing holds nothing of a student's blank but the
// givens, as texts: sheets whose givens are texts of the same lengths have the
// same bytes once the texts are taken out, and no text holds a figure that is
// not a given's. A thousand sheets a family.
func TestUnreleasedSheetsOfAllFamiliesTellNothing(t *testing.T) {
	lettering := regexp.MustCompile(`(<text[^>]*>)[^<]*(</text>)|<desc.*?</desc>`)
	eachFamily(t, func(t *testing.T, f *joint.Family) {
		blanks := shippedBlanks(t, f)
		ids := keyIDs(t, f, f.House)
		first := map[string]string{}
		r := rand.New(rand.NewSource(37))
		for n := 0; n < 1000; n++ {
			blank := blanks[n%len(blanks)]
			given := millimetres(f, blank)
			if n%2 == 1 {
				given = bareInches(f, blank)
			}
			if n >= 2*len(blanks) { // sizes that nobody was given, as long as somebody's
				for _, p := range f.Parameters {
					given[p.ID] = otherDigits(given[p.ID], r)
				}
			}
			views, err := SheetViews(f, Sheet{Blank: f.House, Given: given, Asked: asked(f, ids...)})
			if err != nil {
				t.Fatal(err)
			}
			svg := svgs(views)
			key := lengths(f, given)
			bare := lettering.ReplaceAllString(svg, "$1$2")
			if was, ok := first[key]; ok && was != bare {
				t.Fatalf("given %v: other coordinates than for %s", given, key)
			}
			first[key] = bare
			if got := figuresBeside(views, given); got != "" {
				t.Fatalf("given %v: a figure that is not given: %q", given, got)
			}
		}
		if len(first) > 600 {
			t.Errorf("%d kinds of givens in 1000 sheets: too few alike to compare", len(first))
		}
	})
}

// otherDigits is a text with other digits, none of them a leading zero.
func otherDigits(s string, r *rand.Rand) string {
	b := []byte(s)
	for i, c := range b {
		if c >= '0' && c <= '9' {
			b[i] = byte('1' + r.Intn(9))
		}
	}
	return string(b)
}

// lengths says how long each given's text is.
func lengths(f *joint.Family, given map[string]string) string {
	var b strings.Builder
	for _, p := range f.Parameters {
		fmt.Fprintf(&b, "%s %d, ", p.ID, len(given[p.ID]))
	}
	return b.String()
}

// figuresBeside is the first text of the views that has a digit left when the
// givens are taken out of it; "" where there is none. Balloons are no texts.
func figuresBeside(views []View, given map[string]string) string {
	for _, v := range views {
		texts := []string{v.Caption, v.Title}
		for _, i := range v.items {
			if tx, ok := i.(text); ok {
				texts = append(texts, tx.words)
			}
		}
		for _, words := range texts {
			rest := strings.TrimPrefix(words, "1 : ") // a slope is one across in so many along
			for _, g := range given {
				rest = strings.ReplaceAll(rest, g, "")
			}
			if strings.ContainsAny(rest, "0123456789") && !isGiven(words, given) {
				return words
			}
		}
	}
	return ""
}

func isGiven(words string, given map[string]string) bool {
	for _, g := range given {
		if g == words || strings.HasPrefix(words, g+" ") {
			return true
		}
	}
	return false
}

// Before the release a fit picture tells words and places: equal bands give
// equal bytes whatever the blank and the numbers were, and no figure stands
// in them.
func TestUnreleasedFitsOfAllFamiliesTellBandsOnly(t *testing.T) {
	eachFamily(t, func(t *testing.T, f *joint.Family) {
		r := rand.New(rand.NewSource(41))
		seen := map[string]string{}
		blanks := shippedBlanks(t, f)
		for n := 0; n < 1000; n++ {
			blank := blanks[n%len(blanks)]
			l, err := f.Layout(blank)
			if err != nil {
				t.Fatal(err)
			}
			gaps, err := Gaps(f, blank, wrongNumbers(f, l, r))
			if err != nil {
				t.Fatal(err)
			}
			views, err := FitViews(f, gaps)
			if err != nil {
				t.Fatal(err)
			}
			if got := figuresBeside(views, nil); got != "" {
				t.Fatalf("a figure in an unreleased fit: %q", got)
			}
			key, got := fmt.Sprintf("%+v", gaps), svgs(views)
			if was, ok := seen[key]; ok && was != got {
				t.Fatalf("%s: two pictures", key)
			}
			seen[key] = got
		}
		if len(seen) < 3 || len(seen) > 500 {
			t.Errorf("%d different bands in 1000 attempts", len(seen))
		}
	})
}

// A sheet's drawings are small, well formed and always the same.
func TestSheetsOfAllFamiliesAreSmall(t *testing.T) {
	eachFamily(t, func(t *testing.T, f *joint.Family) {
		l, err := f.Layout(f.House)
		if err != nil {
			t.Fatal(err)
		}
		s := Sheet{Blank: f.House, Given: millimetres(f, f.House), Asked: asked(f, keyIDs(t, f, f.House)...), Answers: answers(f, l, false)}
		views, err := SheetViews(f, s)
		if err != nil {
			t.Fatal(err)
		}
		again, err := SheetViews(f, s)
		if err != nil {
			t.Fatal(err)
		}
		for _, v := range views {
			parse(t, v.SVG())
		}
		got := svgs(views)
		if got != svgs(again) {
			t.Error("the same sheet gave other bytes")
		}
		if len(got) > 40_000 {
			t.Errorf("the sheet's drawings take %d bytes, want at most 40,000", len(got))
		}
	})
}

func BenchmarkSheets(b *testing.B) {
	for _, f := range joint.All() {
		if _, ok := painters[f.ID]; !ok {
			continue
		}
		s := Sheet{Blank: f.House, Given: millimetres(f, f.House), Asked: asked(f, keyIDs(b, f, f.House)...)}
		b.Run(f.ID, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				views, err := SheetViews(f, s)
				if err != nil {
					b.Fatal(err)
				}
				svgs(views)
			}
		})
	}
}
