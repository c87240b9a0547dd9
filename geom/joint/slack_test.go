package joint

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// Nine tenths of the slack keep the word, to either side; eleven tenths leave
// it to at least one. Every number that a gap depends on has a slack.
func TestSlackIsTheEdgeOfTheWord(t *testing.T) {
	eachFamily(t, func(t *testing.T, f *Family, tf testFamily) {
		rng := rand.New(rand.NewPCG(61, 62))
		found := map[string]bool{}
		for range 100 {
			p := randomBlankOf(f, rng)
			b, err := f.Prepare(p)
			if err != nil {
				t.Fatal(err)
			}
			for _, q := range f.Quantities {
				w := Word(rng.IntN(3))
				s, ok, err := b.Slack(q.ID, w)
				if err != nil || ok && s.Quantity != q.ID {
					t.Fatalf("Slack(%s, %v) = %v %v %v, want one", q.ID, w, s, ok, err)
				}
				found[q.ID] = found[q.ID] || ok
				if !ok || s.Gap == "" {
					continue // nothing reaches the limit within the range
				}
				checkSlack(t, b, s, w)
			}
		}
		for _, q := range f.Quantities {
			if want := touchesAGap(f, tf, q.ID); found[q.ID] != want {
				t.Errorf("Slack(%s) found %v, want %v", q.ID, found[q.ID], want)
			}
		}
	})
}

// touchesAGap says whether a gap, from which the word is taken, depends on a
// quantity.
func touchesAGap(f *Family, tf testFamily, quantity string) bool {
	for _, c := range f.Consequences {
		if c.Gap && slices.Contains(tf.touches[quantity], c.ID) {
			return true
		}
	}
	return false
}

func checkSlack(t *testing.T, b *Blank, s Slack, w Word) {
	t.Helper()
	key := b.Layout().Quantities[s.Quantity]
	word := func(off float64) Word {
		f, _ := b.Fit(Values{s.Quantity: key + off})
		return f.Word
	}
	p := b.Layout().Parameters
	if up, down := word(0.9*s.Deviation), word(-0.9*s.Deviation); up > w || down > w {
		t.Errorf("%v: %s within 0.9 of %g is %v and %v, want %v", p, s.Quantity, s.Deviation, up, down, w)
	}
	if up, down := word(1.1*s.Deviation), word(-1.1*s.Deviation); up <= w && down <= w {
		t.Errorf("%v: %s beyond 1.1 of %g is %v and %v, want worse than %v", p, s.Quantity, s.Deviation, up, down, w)
	}
}

// By hand: a mouth point off by d narrows the mouth and stops the tongue by
// d/2/tan(half_angle); a long tongue stops short by d·cos(head_angle).
func TestSlackByHand(t *testing.T) {
	l, _ := headVJoint.Layout(worked)
	tan := math.Tan(l.Quantities["half_angle"] * math.Pi / 180)
	cos := math.Cos(11 * math.Pi / 180)
	for _, c := range []struct {
		id   string
		word Word
		want float64
	}{
		{"mouth_near", Tight, 2 * 0.10 * tan},
		{"mouth_far", Close, 2 * 0.25 * tan},
		{"face_v_length", Tight, 0.10 / cos},
		{"back_shift", Open, 0.50 / cos},
	} {
		s, ok, err := headVJoint.Slack(worked, c.id, c.word)
		if err != nil || !ok || math.Abs(s.Deviation-c.want) > 1e-8 || s.Gap != "near_shoulder" {
			t.Errorf("Slack(%s, %v) = %+v %v %v, want %g at near_shoulder", c.id, c.word, s, ok, err, c.want)
		}
	}
}

func TestSlackWithoutAnAnswer(t *testing.T) {
	for _, id := range []string{"cheek_length", "shoulder_from_end", "back_shoulder_from_end", "tip_proud", "tip_depth", "max_head_angle"} {
		if s, ok, err := headVJoint.Slack(worked, id, Tight); ok || err != nil {
			t.Errorf("Slack(%s) = %v %v %v, want none: no gap depends on it", id, s, ok, err)
		}
	}
	if s, ok, err := headVJoint.Slack(worked, "half_angle", Failed); ok || err != nil {
		t.Errorf("Slack for failed = %v %v %v, want none: it has no limit", s, ok, err)
	}
	if s, ok, err := headVJoint.Slack(with(worked, Values{"v_length": 0}), "half_angle", Tight); ok || err != nil {
		t.Errorf("Slack without a V = %v %v %v, want none", s, ok, err)
	}
	var unknown *IDError
	if _, _, err := headVJoint.Slack(worked, "halfangle", Tight); !errors.As(err, &unknown) || unknown.Nearest != "half_angle" {
		t.Errorf("Slack(halfangle): %v, want half_angle suggested", err)
	}
}
