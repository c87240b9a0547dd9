package formula

import "testing"

func TestEqual(t *testing.T) {
	tests := []struct {
		a, b string
		want bool
	}{
		{"a+b", "b+a", true},
		{"a*b", "b*a", true},
		{"a+b+c", "c+(b+a)", true},
		{"a-b", "-b+a", true},
		{"a-(b+c)", "a-b-c", true},
		{"a-(b-c)", "a+c-b", true},
		{"a/2/b", "a/(2*b)", true},
		{"a/(b/c)", "a*c/b", true},
		{"-(a*b)", "a*-b", true},
		{"-a/b", "a/-b", true},
		{"-(a+b)", "-a-b", true},
		{"a--b", "a+b", true},
		{"atan((v_width/2)/v_length)", "atan(v_width/v_length/2)", true},
		{"hypot(a,b)", "hypot(b,a)", true},
		{"2.50*a", "a*2.5", true},
		{"a^b", "b^a", false},
		{"a-b", "b-a", false},
		{"a/b", "b/a", false},
		{"sin(a)", "cos(a)", false},
		{"a+b", "a*b", false},
		{"a*b", "a*b*b", false},
		{"a", "a+a", false},
		{"a/b", "a/(b*b)", false},
		{"1/a", "a", false},
		{"2*(a+b)", "2*a+2*b", false}, // not multiplied out
		{"a/2", "a*0.5", false},       // no numbers worked out
		{"ab", "a*b", false},
		{"-a", "a", false},
	}
	for _, tt := range tests {
		a, b := MustParse(tt.a), MustParse(tt.b)
		if got := a.Equal(b); got != tt.want {
			t.Errorf("(%s).Equal(%s) = %v, want %v (keys %s, %s)", tt.a, tt.b, got, tt.want, a.Key(), b.Key())
		}
	}
}
