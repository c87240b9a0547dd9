package joint

import (
	"maps"
	"testing"
)

// Where a wrong number makes the joint touch and where it makes it stand off.
// The places follow from the meaning of each number: a bevel copied from the
// head is too wide for the neck, so the cheeks jam at the mouth; a shoulder
// line marked too far back on the back meets the head on the face first.
func TestPlacesHeadVJoint(t *testing.T) {
	blank := Values{"thickness": 27, "width": 66, "v_length": 34, "v_width": 33, "head_angle": 11, "head_thickness": 17, "allowance": 1.5}
	l, err := headVJoint.Layout(blank)
	if err != nil {
		t.Fatal(err)
	}
	q := l.Quantities
	all := Place{}
	cases := []struct {
		name            string
		submitted       Values
		cheek, shoulder Place
	}{
		{"all right", Values{}, all, all},
		{"back shift too large", Values{"back_shift": q["back_shift"] + 0.3}, all, Place{"face", "back"}},
		{"back shift too small", Values{"back_shift": q["back_shift"] - 0.3}, all, Place{"back", "face"}},
		{"bevel copied from the head", Values{"face_half_angle": q["half_angle"]}, Place{"mouth", "tip"}, all},
		// At the tip the neck's face stands proud of the head's, so there the
		// cheek has already turned some way when it enters the socket.
		{"cheek not tilted", Values{"cheek_tilt": 0}, Place{"back", "face mouth"}, all},
		{"head angle set on the table", Values{"cheek_tilt": 11}, Place{"face mouth", "back"}, all},
	}
	for _, tc := range cases {
		got, err := headVJoint.Places(blank, tc.submitted)
		if err != nil {
			t.Fatal(err)
		}
		want := map[string]Place{"near_cheek": tc.cheek, "far_cheek": tc.cheek, "near_shoulder": tc.shoulder, "far_shoulder": tc.shoulder}
		if !maps.Equal(got, want) {
			t.Errorf("%s: Places = %v, want %v", tc.name, got, want)
		}
	}
}

// Numbers that no parts can be made from have no places, and unknown ids are
// an error as everywhere.
func TestPlacesOfNothing(t *testing.T) {
	got, err := headVJoint.Places(headVJoint.House, Values{"half_angle": 95})
	if err != nil || len(got) != 0 {
		t.Errorf("Places of an impossible half angle = %v, %v, want none", got, err)
	}
	if _, err := headVJoint.Places(headVJoint.House, Values{"half_angel": 20}); err == nil {
		t.Error("Places with an unknown id gave no error")
	}
}

// Where the mitre of two widths and the shoulders of a slanting rail stand off
// follows from which way the wrong number leans: a mitre that is too large, so
// nearer to square, takes wood away at the outer corner, and a shoulder sawn at
// too large a bevel, nearer to square too, touches the front leg on the inner
// face first.
func TestPlacesBySide(t *testing.T) {
	for _, tc := range []struct {
		family           *Family
		face, id         string
		more, less       Place // with the number too large, too small
		quantityDeviates float64
	}{
		{unequalMitre, "gap", "mitre_a", Place{"inner", "outer"}, Place{"outer", "inner"}, 1},
		{angledTenon, "shoulder_gap", "shoulder_bevel", Place{"front-inner", "front-outer"}, Place{"front-outer", "front-inner"}, 1},
		{angledTenon, "shoulder_gap", "shoulder_shift", Place{"front-outer", "front-inner"}, Place{"front-inner", "front-outer"}, 0.4},
	} {
		l, err := tc.family.Layout(tc.family.House)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range []struct {
			by   float64
			want Place
		}{{tc.quantityDeviates, tc.more}, {-tc.quantityDeviates, tc.less}, {0, Place{}}} {
			got, err := tc.family.Places(tc.family.House, Values{tc.id: l.Quantities[tc.id] + c.by})
			if err != nil {
				t.Fatal(err)
			}
			if got[tc.face] != c.want {
				t.Errorf("%s off by %v: %s = %v, want %v", tc.id, c.by, tc.face, got[tc.face], c.want)
			}
		}
	}
}
