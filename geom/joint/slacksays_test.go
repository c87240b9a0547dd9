package joint

import "testing"

func TestSlackSays(t *testing.T) {
	f, _ := Lookup("head-v-joint")
	tests := []struct {
		name  string
		slack Slack
		word  Word
		want  string
	}{
		{"angle", Slack{"half_angle", 0.1402, "near_shoulder"}, Tight, "0.14° here is 0.10 mm at the near shoulder."},
		{"length", Slack{"mouth_near", 0.2371, "far_cheek"}, Close, "0.24 mm here is 0.25 mm at the far cheek."},
		{"no gap", Slack{"cheek_length", 5, ""}, Tight, ""},
		{"no limit", Slack{"half_angle", 1, "near_cheek"}, Failed, ""},
		{"no quantity", Slack{"other", 1, "near_cheek"}, Tight, ""},
	}
	for _, tt := range tests {
		if got := tt.slack.Says(f, tt.word); got != tt.want {
			t.Errorf("%s: Says = %q, want %q", tt.name, got, tt.want)
		}
	}
}
