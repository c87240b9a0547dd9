package drawing

import (
	"fmt"
	"maps"
	"math/rand"
	"slices"
	"strings"
	"testing"

	"arrisbook/geom/joint"
)

func headFamily(t testing.TB) *joint.Family {
	f, ok := joint.Lookup("head-v-joint")
	if !ok {
		t.Fatal("head-v-joint is not in the catalogue")
	}
	return f
}

// asked numbers quantities in order; every third is the next one to do.
func asked(f *joint.Family, ids ...string) []Balloon {
	var bs []Balloon
	for i, id := range ids {
		q, _ := f.Quantity(id)
		bs = append(bs, Balloon{Number: i + 1, Quantity: id, Name: q.Name, Next: i == 0})
	}
	return bs
}

func quantityIDs(f *joint.Family) []string {
	var ids []string
	for _, q := range f.Quantities {
		ids = append(ids, q.ID)
	}
	return ids
}

// millimetres writes a blank the way a class in millimetres does.
func millimetres(f *joint.Family, v joint.Values) map[string]string {
	m := map[string]string{}
	for _, p := range f.Parameters {
		m[p.ID] = fmt.Sprintf("%.4g", v[p.ID])
		if p.Unit == joint.Deg {
			m[p.ID] += "°"
		}
	}
	return m
}

// inches writes a blank in sixteenths.
func inches(f *joint.Family, v joint.Values) map[string]string {
	m := map[string]string{}
	for _, p := range f.Parameters {
		switch p.Unit {
		case joint.Deg:
			m[p.ID] = fmt.Sprintf("%.4g°", v[p.ID])
			continue
		case joint.One:
			m[p.ID] = fmt.Sprintf("%.4g", v[p.ID])
			continue
		}
		m[p.ID] = fraction(v[p.ID], 16)
	}
	return m
}

// fraction writes millimetres as inches to one part in a power of two.
func fraction(mm float64, parts int) string {
	n := max(1, int(mm/25.4*float64(parts)+0.5))
	for n%2 == 0 && parts > 1 {
		n, parts = n/2, parts/2
	}
	switch {
	case parts == 1:
		return fmt.Sprintf("%d in", n)
	case n < parts:
		return fmt.Sprintf("%d/%d in", n, parts)
	}
	return fmt.Sprintf("%d %d/%d in", n/parts, n%parts, parts)
}

// answers writes quantities as a released sheet may: long.
func answers(f *joint.Family, l joint.Layout, inch bool) map[string]string {
	m := map[string]string{}
	for _, q := range f.Quantities {
		x, ok := l.Quantities[q.ID]
		switch {
		case !ok:
		case q.Unit == joint.Deg:
			m[q.ID] = fmt.Sprintf("%.2f°", x)
		case inch:
			m[q.ID] = fraction(x, 64)
		default:
			m[q.ID] = fmt.Sprintf("%.2f mm", x)
		}
	}
	return m
}

// randomBlank draws a buildable blank over the sizes the lesson uses.
func randomBlank(t testing.TB, f *joint.Family, r *rand.Rand) (joint.Values, joint.Layout) {
	half := func(lo, hi float64) float64 { return lo + 0.5*float64(r.Intn(int(2*(hi-lo))+1)) }
	for {
		v := joint.Values{
			"thickness": half(24, 32), "width": half(58, 80), "v_length": half(28, 44), "v_width": half(28, 42),
			"head_angle": half(7.5, 14), "head_thickness": half(14, 19), "allowance": half(0.5, 2),
		}
		l, err := f.Layout(v)
		if err != nil {
			t.Fatal(err)
		}
		if l.Buildable() && v["v_width"] <= v["width"]-16 {
			return v, l
		}
	}
}

func checkClear(t *testing.T, f *joint.Family, s Sheet, name string) {
	t.Helper()
	views, err := SheetViews(f, s)
	if err != nil {
		t.Fatal(err)
	}
	seen := map[int]bool{}
	for _, v := range views {
		for _, o := range overlaps(v) {
			t.Errorf("%s, view %s: %s", name, v.ID, o)
		}
		for _, i := range v.items {
			if d, ok := i.(disc); ok {
				if seen[d.Number] {
					t.Errorf("%s: balloon %d stands twice", name, d.Number)
				}
				seen[d.Number] = true
			}
		}
	}
	for _, b := range s.Asked {
		if !seen[b.Number] {
			t.Errorf("%s: %s has no balloon", name, b.Quantity)
		}
	}
}

// Nothing stands on anything before the key is released, whichever numbers are
// asked.
func TestHouseSheetClear(t *testing.T) {
	f := headFamily(t)
	given := []map[string]string{millimetres(f, f.House), inches(f, f.House)}
	ids := quantityIDs(f)
	for _, g := range given {
		for i := range ids {
			for j := i; j < len(ids); j++ {
				for k := j; k < len(ids); k++ {
					set := slices.Compact([]string{ids[i], ids[j], ids[k]})
					checkClear(t, f, Sheet{Blank: f.House, Given: g, Asked: asked(f, set...)}, strings.Join(set, ", "))
					if t.Failed() {
						t.FailNow()
					}
				}
			}
		}
		checkClear(t, f, Sheet{Blank: f.House, Given: g, Asked: asked(f, ids...)}, "all")
	}
}

// Nothing stands on anything after release either, on the student's own blank
// in its true shape, answers written in.
func TestReleasedSheetClear(t *testing.T) {
	f := headFamily(t)
	r := rand.New(rand.NewSource(7))
	for n := 0; n < 200; n++ {
		v, l := randomBlank(t, f, r)
		for _, inch := range []bool{false, true} {
			g := millimetres(f, v)
			if inch {
				g = inches(f, v)
			}
			ids := slices.Sorted(maps.Keys(l.Quantities))
			a := answers(f, l, inch)
			checkClear(t, f, Sheet{Blank: v, Given: g, Asked: asked(f, ids...), Answers: a}, "all")
			for k := 0; k < 6; k++ {
				r.Shuffle(len(ids), func(i, j int) { ids[i], ids[j] = ids[j], ids[i] })
				set := ids[:1+k]
				checkClear(t, f, Sheet{Blank: v, Given: g, Asked: asked(f, set...), Answers: a}, strings.Join(set, ", "))
			}
			if t.Failed() {
				t.Fatalf("blank %v", v)
			}
		}
	}
}
