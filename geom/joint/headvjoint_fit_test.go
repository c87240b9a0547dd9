package joint

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"testing"

	"arrisbook/geom"
)

func TestMirroredPartsMirrorTheirGaps(t *testing.T) {
	rng := rand.New(rand.NewPCG(43, 44))
	for i := 0; i < 1000; i++ {
		p := randomBlankOf(headVJoint, rng)
		l, _ := headVJoint.Layout(p)
		s := randomSlipOf(headVJoint, rng, l.Quantities)
		near, far := l.Quantities["mouth_near"]+rng.NormFloat64(), l.Quantities["mouth_far"]+rng.NormFloat64()
		s["mouth_near"], s["mouth_far"] = near, far
		f, _ := headVJoint.Fit(p, s)
		s["mouth_near"], s["mouth_far"] = p["width"]-far, p["width"]-near
		g, _ := headVJoint.Fit(p, s)
		for _, pair := range [][2]string{
			{"near_cheek", "far_cheek"}, {"far_cheek", "near_cheek"},
			{"near_shoulder", "far_shoulder"}, {"far_shoulder", "near_shoulder"}, {"travel", "travel"},
		} {
			got, want := value(t, g, pair[1]), value(t, f, pair[0])
			if apart(got, want) > 1e-9 {
				t.Errorf("mirrored %s is %v, want %v", pair[1], got, want)
			}
		}
		if got, want := value(t, g, "lateral").Min, -value(t, f, "lateral").Min; math.Abs(got-want) > 1e-9 {
			t.Errorf("mirrored lateral is %g, want %g", got, want)
		}
	}
}

// Whatever was submitted: what touches is at 0, nothing goes into anything.
func TestSeatedMeansTouchingSomewhereAndNowhereThrough(t *testing.T) {
	rng := rand.New(rand.NewPCG(47, 48))
	for i := 0; i < 1000; i++ {
		p := randomBlankOf(headVJoint, rng)
		l, _ := headVJoint.Layout(p)
		f, _ := headVJoint.Fit(p, randomSlipOf(headVJoint, rng, l.Quantities))
		least := math.Inf(1)
		for _, o := range f.Outcomes {
			if !o.Gap {
				continue
			}
			least = min(least, o.Value.Min)
			if o.Value.Min < -1e-9 || o.Value.Max < o.Value.Min {
				t.Errorf("%v with %v: %s is %v, want 0 or more", p, f.Submitted, o.ID, o.Value)
			}
		}
		if least > 1e-9 {
			t.Errorf("%v with %v: nothing nearer than %g, want contact", p, f.Submitted, least)
		}
	}
}

// Random points are an independent judge: none lies in both parts where they
// came to rest, and pushed further some do.
func TestPartsDoNotInterfere(t *testing.T) {
	rng := rand.New(rand.NewPCG(51, 52))
	pushed := 0
	for i := 0; i < 40; i++ {
		p := randomBlankOf(headVJoint, rng)
		l, _ := headVJoint.Layout(p)
		s := randomSlipOf(headVJoint, rng, l.Quantities)
		parts, err := headVJoint.MadePieces(p, s)
		if err != nil {
			t.Fatal(err)
		}
		neck, head := parts[0].Pieces, parts[1].Pieces
		if v := shared(neck, head); v > 1e-6 {
			t.Errorf("%v with %v: the parts share %g mm³", p, s, v)
		}
		for n := 0; n < 3000; n++ {
			v := geom.Vec{X: rng.Float64()*100 - 30, Y: (rng.Float64() - 0.5) * p["width"], Z: -rng.Float64() * p["thickness"]}
			if within(neck, v, -1e-9) && within(head, v, -1e-9) {
				t.Errorf("%v with %v: point %v is in both parts", p, s, v)
			}
		}
		sin, cos := geom.Deg(p["head_angle"]).SinCos()
		further := geom.Vec{X: 0.2 * cos, Z: -0.2 * sin}
		for j := range neck {
			neck[j] = neck[j].Moved(further)
		}
		if shared(neck, head) > 1e-3 {
			pushed++
		}
	}
	// Where a wrong bevel touches at the mouth, what stops it is the wall's
	// plane, a little before the wall itself begins.
	if pushed < 20 {
		t.Errorf("pushed 0.2 mm further, %d of 40 interfere, want at least half", pushed)
	}
}

// As they should be, the parts fill what they are cut from: the head is its
// slab less the V prism, and the tongue fills the V as deep as it reaches.
func TestPiecesHaveTheirVolumes(t *testing.T) {
	rng := rand.New(rand.NewPCG(53, 54))
	for i := 0; i < 200; i++ {
		p := randomBlankOf(headVJoint, rng)
		parts, err := headVJoint.Pieces(p)
		if err != nil || len(parts) != 2 {
			t.Fatal(parts, err)
		}
		head := parts[1].Pieces
		vee := p["v_width"] * p["v_length"] / 2 * p["thickness"]
		want := (p["v_length"]+p["width"])*p["width"]*p["thickness"] - vee
		if got := head[0].Volume() + head[1].Volume(); math.Abs(got/want-1) > 1e-12 {
			t.Errorf("head has %g, want %g", got, want)
		}
		if d := head[0].Volume() - head[1].Volume(); math.Abs(d)/want > 1e-12 {
			t.Errorf("the head's halves differ by %g", d)
		}
		if v := shared(parts[0].Pieces[:1], parts[0].Pieces[1:]); v > 1e-6 {
			t.Errorf("body and tongue share %g", v)
		}
		// The tongue is a triangle in plan, between two parallel slanting
		// planes a thickness apart: plan area times its height along z,
		// whatever the tilt. Its plan is the head's V seen through the tilt.
		tilt := p["head_angle"] * math.Pi / 180
		if got, want := parts[0].Pieces[1].Volume(), p["v_width"]*p["v_length"]/math.Cos(tilt)/2*p["thickness"]; math.Abs(got/want-1) > 1e-12 {
			t.Errorf("tongue has %g, want %g", got, want)
		}
	}
}

func TestFitOfNumbersThatMakeNoParts(t *testing.T) {
	for _, c := range []struct {
		name      string
		submitted Values
		outcomes  int
		trouble   bool
	}{
		{"half angle of nothing", Values{"half_angle": 0}, 0, true},
		{"half angle square", Values{"half_angle": 90}, 0, true},
		{"negative half angle on the neck", Values{"face_half_angle": -20}, 0, true},
		{"table on edge", Values{"cheek_tilt": 90}, 0, true},
		{"no tongue", Values{"face_v_length": 0}, 0, true},
		{"beyond any workshop", Values{"mouth_far": 1e300}, 0, true},
		{"mouth points exchanged", Values{"mouth_near": 49.5, "mouth_far": 16.5}, 6, false},
		{"a tongue wider than the neck has no shoulders", Values{"face_v_length": 100}, 4, false},
		{"a tongue that passes above the head", Values{"face_v_length": 300}, 0, true},
		{"a tongue like a needle", Values{"face_v_length": 1.6}, 6, false},
	} {
		f, err := headVJoint.Fit(worked, c.submitted)
		if err != nil || len(f.Outcomes) != c.outcomes || (f.Trouble != "") != c.trouble || f.Word != Failed {
			t.Errorf("%s: %v, %d consequences, trouble %q, %v; want failed, %d, trouble %v",
				c.name, f.Word, len(f.Outcomes), f.Trouble, err, c.outcomes, c.trouble)
		}
	}
}

// An unbuildable blank is fitted where there is a joint to fit.
func TestFitOfAnUnbuildableBlank(t *testing.T) {
	f, err := headVJoint.Fit(with(worked, Values{"head_angle": 25}), nil)
	if err != nil || f.Word != Tight || len(f.Outcomes) != 6 {
		t.Errorf("tilted too far: %v %v %q, want tight with six consequences", f.Word, err, f.Trouble)
	}
	f, err = headVJoint.Fit(with(worked, Values{"v_length": -1}), nil)
	if err != nil || f.Word != Failed || f.Trouble == "" {
		t.Errorf("negative V: %v %v %q, want failed with a reason", f.Word, err, f.Trouble)
	}
}

func TestConsequencesAsJSON(t *testing.T) {
	l, _ := headVJoint.Layout(worked)
	f, _ := headVJoint.Fit(worked, Values{"mouth_far": l.Quantities["mouth_far"] - 0.5})
	text, err := json.Marshal(f.Consequences())
	if err != nil {
		t.Fatal(err)
	}
	var got map[string]any
	if err := json.Unmarshal(text, &got); err != nil {
		t.Fatal(err)
	}
	if _, ok := got["travel"].(float64); !ok {
		t.Errorf("travel in %s, want a number", text)
	}
	cheek, ok := got["near_cheek"].(map[string]any)
	if !ok || len(cheek) != 2 || cheek["min"] == nil || cheek["max"] == nil {
		t.Errorf("near_cheek in %s, want min and max", text)
	}
}
