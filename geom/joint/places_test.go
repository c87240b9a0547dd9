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
