package formula

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestEval(t *testing.T) {
	values := map[string]float64{"l": 40, "b": 36, "x": 30, "bad": math.NaN(), "huge": 1e300}
	tests := []struct {
		in   string
		want float64
	}{
		{"2+3*4", 14},
		{"-2^2", -4},
		{"2^3^2", 512},
		{"10-4-3", 3},
		{"48/4/2", 6},
		{"2^-1", 0.5},
		{"sin(30)", 0.5},
		{"sin x", 0.5},
		{"cos(60)", 0.5},
		{"tan(45)", 1},
		{"sin(180)", 0},
		{"cos(90)", 0},
		{"cos(-270)", 0},
		{"sin(-90)", -1},
		{"cos(180)", -1},
		{"sin(450)", 1},
		{"asin(0.5)", 30},
		{"acos(0.5)", 60},
		{"atan(1)", 45},
		{"atan(b/2/l)", 24.22774531795417},
		{"hypot(3, 4)", 5},
		{"sqrt(3^2+4^2)", 5},
		{"180/pi", 57.29577951308232},
		{"(-8)^3", -512},
	}
	for _, tt := range tests {
		got, err := MustParse(tt.in).Eval(func(id string) (float64, bool) { v, ok := values[id]; return v, ok })
		if err != nil || math.Abs(got-tt.want) > 1e-12*math.Max(1, math.Abs(tt.want)) {
			t.Errorf("Eval(%s) = %v, %v, want %v", tt.in, got, err, tt.want)
		}
	}
	for _, tt := range []struct {
		in   string
		col  int
		says string
	}{
		{"1/0", 2, "Division by nothing"},
		{"1/(l-l)", 2, "Division by nothing"},
		{"1/cos(90)", 2, "Division by nothing"},
		{"tan(90)", 1, "right angle"},
		{"3+tan(-270)", 3, "right angle"},
		{"asin(2)", 1, "-1 and 1"},
		{"acos(0-1.5)", 1, "-1 and 1"},
		{"sqrt(0-1)", 1, "less than nothing"},
		{"(-8)^0.5", 5, "power"},
		{"0^-1", 2, "power"},
		{"10^400", 3, "too large"},
		{"huge*huge", 5, "too large"},
		{"hypot(huge, 1)", 1, "too large"},
		{"1+bad", 3, "bad has no value"},
		{"1+gone", 3, "gone has no value"},
	} {
		got, err := MustParse(tt.in).Eval(func(id string) (float64, bool) { v, ok := values[id]; return v, ok })
		var e *Error
		if !errors.As(err, &e) || e.Col != tt.col || !strings.Contains(e.Msg, tt.says) || got != 0 {
			t.Errorf("Eval(%s) = %v, %v, want column %d and %q", tt.in, got, err, tt.col, tt.says)
		}
	}
}

// Trees that no text gives are refused, not worked out.
func TestEvalOddTrees(t *testing.T) {
	for _, n := range []Node{
		Apply("log", Of(1)), Apply("sin"), Apply("hypot", Of(1)), Op(Of(1), '%', Of(2)),
		Num{Value: math.Inf(1)}, Num{Value: math.NaN()}, Neg{}, Apply("sin", Num{Value: 1e308}, Of(1)),
	} {
		if v, err := FromNode(n).Eval(nil); err == nil {
			t.Errorf("Eval(%v) = %v, want an error", n, v)
		}
	}
}

// sin and cos of degrees agree with those of radians, and of a quarter turn
// further.
func TestSinCosAgainstRadians(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		deg := rapid.Float64Range(-2000, 2000).Draw(t, "degrees")
		s, c := sinCos(deg)
		ws, wc := math.Sincos(deg * math.Pi / 180)
		if math.Abs(s-ws) > 1e-12 || math.Abs(c-wc) > 1e-12 {
			t.Fatalf("sinCos(%v) = %v, %v, want %v, %v", deg, s, c, ws, wc)
		}
	})
	if s, c := sinCos(1e300); math.Abs(s*s+c*c-1) > 1e-12 {
		t.Errorf("sinCos(1e300) = %v, %v, off the circle", s, c)
	}
}

// Working out a formula of usual size asks for no memory.
func TestEvalAllocates(t *testing.T) {
	f := MustParse("asin(t/sqrt(l^2 + h^2)) - atan(h/l)")
	values := func(id string) (float64, bool) {
		switch id {
		case "t":
			return 25, true
		case "l":
			return 40, true
		}
		return 16, true
	}
	if n := testing.AllocsPerRun(100, func() {
		if _, err := f.Eval(values); err != nil {
			t.Fatal(err)
		}
	}); n > 0 {
		t.Errorf("Eval allocates %v times, want 0", n)
	}
}

// The worst formula that is accepted is read, checked and worked out well
// under two milliseconds.
func BenchmarkWorst(b *testing.B) {
	src := "1" + strings.Repeat("^1.1", 99)
	for b.Loop() {
		f, err := Parse(src)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := f.Check(nil); err != nil {
			b.Fatal(err)
		}
		if _, err := f.Eval(nil); err != nil {
			b.Fatal(err)
		}
	}
}
