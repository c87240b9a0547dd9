package discover

import (
	"math"
	"testing"

	"arrisbook/geom/joint"
	"arrisbook/grading/formula"
)

// Every rewriting that is tried gives the numbers of the tree that is shown for
// it, comes to what is asked, is over givens alone, and is not the right
// formula.
func TestRewritesAreWhatTheyAreShownAs(t *testing.T) {
	for _, c := range []struct{ family, step string }{
		{"head-v-joint", "cheek_length"}, {"splayed-leg", "leg_length"}, {"through-dovetail", "tail_width"}, {"splayed-box", "corner_angle"},
		{"head-scarf", "glue_area"},
	} {
		ex := exerciseOf(t, c.family)
		m := mustMeasure(t, ex, c.step)
		r := findRewrites(newRewriter(ex, m))
		values := joint.Values{} // none of them special: round numbers meet by chance
		for id, v := range ex.Family.House {
			values[id] = 1.0371 * v
		}
		var cols [][]float64
		for _, s := range ex.Sizes() {
			cols = append(cols, []float64{values[s.ID]})
		}
		named := func(id string) (float64, bool) { v, ok := values[id]; return v, ok }
		seen := map[string]bool{m.Full.Simplify().Key(): true}
		for k, root := range r.roots {
			if k%9 != 0 && len(r.roots) > 1000 {
				continue // making a tree again takes a while
			}
			f, edits := r.writer.tree(r.changes[k])
			if want := int(r.levels[k]); len(edits) != want {
				t.Errorf("%s of %s has %d edits, want %d", f, c.step, len(edits), want)
			}
			if seen[f.Key()] {
				t.Errorf("%s of %s is there twice", f, c.step)
			}
			seen[f.Key()] = true
			for _, id := range f.Names() {
				if _, ok := values[id]; !ok {
					t.Errorf("%s of %s is not over givens", f, c.step)
				}
			}
			want, err := f.Eval(named)
			got := r.work(root, cols, 1)[0]
			if err == nil && math.Abs(got-want) > 1e-9*(1+math.Abs(want)) {
				t.Errorf("%s of %s gives %v, tried as %v", f, c.step, want, got)
			}
		}
		t.Logf("%s: %d rewritings", c.step, len(r.roots))
	}
}

// The slips that a lesson warns of are among the rewritings.
func TestRewritesHoldWhatIsExpected(t *testing.T) {
	for _, c := range []struct{ family, step, want string }{
		{"head-v-joint", "half_angle", "atan(v_width/v_length)"},
		{"head-v-joint", "half_angle", "asin(v_width/2/v_length)"},
		{"head-v-joint", "half_angle", "90 - atan(v_width/v_length)"},
		{"head-v-joint", "face_v_length", "v_length*cos(head_angle)"},
		{"head-v-joint", "face_v_length", "v_length/cos(head_angle) + thickness"},
		{"head-v-joint", "cheek_length", "v_length + v_width/2"},
		{"through-dovetail", "tail_width", "(width - 2*half_pin - tails*pin)/tails"},
		{"splayed-box", "mitre_bevel", "atan(sin(180/sides)*cos(tilt))"},
		{"splayed-box", "mitre_bevel", "asin(sin(360/sides)*cos(tilt))"},
		{"head-scarf", "glue_area", "thickness/tan(head_angle)*width"},
	} {
		ex := exerciseOf(t, c.family)
		r := findRewrites(newRewriter(ex, mustMeasure(t, ex, c.step)))
		p := newPlanter(ex.Sizes())
		want, _ := p.put(formula.MustParse(c.want).Root())
		found := false
		for k := range r.roots {
			f, _ := r.writer.tree(r.changes[k])
			got, _ := p.put(f.Root())
			found = found || p.values[got].signed() == p.values[want].signed()
		}
		if !found {
			t.Errorf("%s is not among the %d rewritings of %s", c.want, len(r.roots), c.step)
		}
	}
}
