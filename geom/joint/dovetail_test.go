package joint

import (
	"math"
	"testing"
)

func tan(degrees float64) float64 { return math.Tan(degrees * math.Pi / 180) }
func sin(degrees float64) float64 { return math.Sin(degrees * math.Pi / 180) }
func cos(degrees float64) float64 { return math.Cos(degrees * math.Pi / 180) }

// Slopes of dovetails as books give them, with the angle of each worked out
// exactly. half is half the last digit of what is printed.
func TestSlopesAgainstTheBooks(t *testing.T) {
	for _, c := range []struct {
		slope         float64
		angle, bevel  float64
		half          float64
		source        string
		erratum       float64 // what the book prints instead of the bevel
		erratumWithin float64
	}{
		{slope: 4, angle: 14.036, bevel: 75.964, half: 0.5e-3, source: "from memory: coarse work"},
		// Noyes draws 5/8 in on 3 in and calls it "approximately" 80 degrees,
		// which is a loose rounding: his drawing has 78.23.
		{slope: 4.8, angle: 11.768, bevel: 78.232, half: 0.5e-3, source: "Noyes, Handwork in Wood (1910), joint No. 48", erratum: 80, erratumWithin: 2},
		{slope: 5, angle: 11.310, bevel: 78.690, half: 0.5e-3, source: "exact"},
		{slope: 5.67128182, angle: 10, bevel: 80, half: 0.5e-3, source: "US Navy training text 14119, ch. 3: pins laid out at 10 degrees"},
		{slope: 6, angle: 9.462, bevel: 80.538, half: 0.5e-3, source: "Fairham, Woodwork Joints (about 1920), Angles, p. 134: lower limit"},
		{slope: 7, angle: 8.130, bevel: 81.870, half: 0.5e-3, source: "from memory: common middle value"},
		{slope: 8, angle: 7.125, bevel: 82.875, half: 0.5e-3, source: "Fairham, Woodwork Joints (about 1920), p. 134, Fig. 271: 8 in along, 1 in across"},
	} {
		l, err := throughDovetail.Layout(with(throughDovetail.House, Values{"slope": c.slope}))
		if err != nil || !l.Buildable() {
			t.Fatal(l.Problems, err)
		}
		angle, bevel := l.Quantities["slope_angle"], l.Quantities["bevel_from_end"]
		if math.Abs(angle-c.angle) > c.half || math.Abs(bevel-c.bevel) > c.half {
			t.Errorf("1 in %g: %.4f and %.4f, want %g and %g (%s)", c.slope, angle, bevel, c.angle, c.bevel, c.source)
		}
		if c.erratum != 0 && (math.Abs(bevel-c.erratum) > c.erratumWithin || math.Abs(bevel-c.erratum) < 1) {
			t.Errorf("1 in %g: %.4f, want it off the printed %g by more than a degree, but not two (%s)", c.slope, bevel, c.erratum, c.source)
		}
	}
}

// Over a depth a side goes across by depth/slope. Published: 18 mm at 1 in 8
// gives 2.25 mm on each side, at 1 in 6 3.00 mm, and 3/4 in at 1 in 8 3/32 in.
// The tail's length is the other board's thickness (Noyes, Handwork in Wood,
// No. 48; Fairham, Woodwork Joints, Figs 300-303).
func TestOffsetOverADepth(t *testing.T) {
	for _, c := range []struct{ depth, slope, offset float64 }{
		{18, 8, 2.25}, {18, 6, 3.00}, {0.75 * 25.4, 8, 3.0 / 32 * 25.4},
	} {
		p := with(throughDovetail.House, Values{"pin_thickness": c.depth, "slope": c.slope})
		l, _ := throughDovetail.Layout(p)
		q := l.Quantities
		if got := (q["pin_wide"] - p["pin"]) / 2; math.Abs(got-c.offset) > 1e-12 || q["tail_baseline"] != c.depth {
			t.Errorf("%g deep at 1 in %g: offset %g, baseline %g, want %g and %g", c.depth, c.slope, got, q["tail_baseline"], c.offset, c.depth)
		}
		if got, want := q["tail_at_baseline"]+q["pin_wide"], q["tail_width"]+p["pin"]; math.Abs(got-want) > 1e-12 {
			t.Errorf("tail and pin at the baseline come to %g, at the end to %g", got, want)
		}
	}
}

func TestBuildableRuleOfDovetails(t *testing.T) {
	checkRule(t, throughDovetail, workedThrough, []ruleCase{
		{"as it is", nil, nil},
		{"one tail", Values{"tails": 1}, nil},
		{"no tail", Values{"tails": 0}, []string{"number of tails must be more than nothing"}},
		{"half a tail", Values{"tails": 2.5}, []string{"number of tails must be a whole number"}},
		{"tails a little too narrow", Values{"tails": 12}, []string{"too narrow at the baseline"}},
		{"no room", Values{"tails": 30}, []string{"do not fit"}},
		{"tails just wide enough", Values{"pin": 16, "half_pin": 7.5, "slope": 93.0 / 28}, nil},
		{"thin pins", Values{"pin": 0.5, "slope": 10}, []string{"pins are too thin"}},
		{"pins just thick enough", Values{"pin": 1, "slope": 10, "pin_thickness": 15}, nil},
		{"no slope", Values{"slope": 0}, []string{"slope must be more than nothing"}},
		{"flat slope", Values{"slope": 31}, []string{"slope over 30 is beyond"}},
		{"no board", Values{"pin_thickness": -4}, []string{"pin board's thickness must be more than nothing"}},
	})
	checkRule(t, lappedDovetail, workedLapped, []ruleCase{
		{"as it is", nil, nil},
		{"no lap", Values{"lap": 0}, []string{"lap must be more than nothing"}},
		{"a lap as thick as the board", Values{"lap": 21}, []string{"lap leaves the tails no length"}},
		{"a lap nearly as thick", Values{"lap": 20}, nil},
	})
}

// By hand on the worked example, three tails at 1 in 7: a millimetre along the
// end is cos(8.13°) of one square to a side.
func TestDovetailFitByHand(t *testing.T) {
	l, _ := throughDovetail.Layout(workedThrough)
	q := l.Quantities
	a, length := q["slope_angle"], q["tail_baseline"]
	c := cos(a)
	for _, tc := range []struct {
		id                       string
		off                      float64
		gap, interference, proud float64
		word                     Word
	}{
		// A tail too wide: its far side goes in by all of it; its middle moves by
		// half, which leaves the near side's mark on the baseline short.
		{"tail_width", 0.4, 0.2 * c, 0.4 * c, 0, Open},
		{"tail_width", -0.4, 0.4 * c, 0.2 * c, 0, Open},
		// A start too far along moves both sides.
		{"first_tail_start", 0.2, 0.2 * c, 0.2 * c, 0, Close},
		{"second_tail_start", -0.3, 0.3 * c, 0.3 * c, 0, Open},
		{"last_tail_end", 0.4, 0.2 * c, 0.4 * c, 0, Open},
		// Steeper sides leave the tails too wide at the baseline.
		{"bevel_from_end", 1, 0, length * (tan(a) - tan(a-1)) * c, 0, Open},
		{"slope_angle", -1, 0, length * (tan(a) - tan(a-1)) * c, 0, Open},
		{"slope_angle", 1, length * (tan(a+1) - tan(a)) * c, 0, 0, Open},
		{"tail_at_baseline", -0.5, 0.25 * c, 0, 0, Close},
		{"tail_at_baseline", 0.5, 0, 0.25 * c, 0, Close},
		// Tails too long stand proud, and where they leave the pins they are
		// narrower than at their end: what stands proud is planed off.
		{"tail_baseline", 0.6, 0.6 / 7 * c, 0, 0.6, Tight},
		// Shy tails are still at their widest where they end.
		{"tail_baseline", -0.6, 0, 0.6 / 7 * c, -0.6, Tight},
		{"pin_wide", 3, 0, 0, 0, Tight},
		{"pin_baseline", 3, 0, 0, 0, Tight},
	} {
		f, err := throughDovetail.Fit(workedThrough, Values{tc.id: q[tc.id] + tc.off})
		if err != nil {
			t.Fatal(err)
		}
		checkOutcomes(t, tc.id, tc.off, f, Values{"gap": tc.gap, "interference": tc.interference, "proud": tc.proud}, tc.word)
	}
}

// The lap is a mate of the tails' ends: too long, they keep the shoulders off.
func TestLappedFitByHand(t *testing.T) {
	l, _ := lappedDovetail.Layout(workedLapped)
	q := l.Quantities
	c := cos(q["slope_angle"])
	for _, tc := range []struct {
		off                      float64
		gap, interference, proud float64
		word                     Word
	}{
		// They stay back by as much, so their sides fit; only the mark for the
		// width at the baseline now lies outside the pin board, 16.3 from the end.
		{0.3, 0, 16.0 / 6 * 0.3 / 16.3 * c, 0.3, Open},
		{-0.3, 0, 0.3 / 6 * c, -0.3, Open},
		{0.08, 0, 16.0 / 6 * 0.08 / 16.08 * c, 0.08, Tight},
		{5, 0, 16.0 / 6 * 5 / 21 * c, 5, Failed}, // the lap forgotten
	} {
		f, err := lappedDovetail.Fit(workedLapped, Values{"tail_baseline": q["tail_baseline"] + tc.off})
		if err != nil {
			t.Fatal(err)
		}
		checkOutcomes(t, "tail_baseline", tc.off, f, Values{"gap": tc.gap, "interference": tc.interference, "proud": tc.proud}, tc.word)
	}
}

// checkOutcomes holds a fit to what was worked out by hand.
func checkOutcomes(t *testing.T, id string, off float64, f Fit, want Values, word Word) {
	t.Helper()
	for c, x := range want {
		if got := value(t, f, c).Max; math.Abs(got-x) > 1e-9 {
			t.Errorf("%s off by %g: %s = %.9f, want %.9f", id, off, c, got, x)
		}
	}
	if f.Word != word {
		t.Errorf("%s off by %g: %v, want %v", id, off, f.Word, word)
	}
}

func TestTailsThatCannotBeMade(t *testing.T) {
	for _, c := range []struct {
		name      string
		submitted Values
	}{
		{"no length", Values{"tail_baseline": 0}},
		{"negative width", Values{"tail_width": -3}},
		{"nothing at the baseline", Values{"tail_at_baseline": 0}},
		{"a side along the end", Values{"slope_angle": 90}},
		{"a bevel along the end", Values{"bevel_from_end": 0}},
		{"a bevel turned right over", Values{"bevel_from_end": 180}},
	} {
		f, err := throughDovetail.Fit(workedThrough, c.submitted)
		if err != nil || f.Word != Failed || f.Trouble == "" || len(f.Outcomes) != 0 {
			t.Errorf("%s: %v %q %v %v, want failed with a reason", c.name, f.Word, f.Trouble, f.Outcomes, err)
		}
	}
	// Tails that run into each other have no parts, though their sides can be
	// judged.
	wide := Values{"tail_width": 60}
	f, err := throughDovetail.Fit(workedThrough, wide)
	if _, refused := throughDovetail.MadePieces(workedThrough, wide); err != nil || f.Word != Failed || f.Trouble != "" || refused == nil {
		t.Errorf("tails of 60: %v %q %v, parts refused: %v; want failed, and parts refused", f.Word, f.Trouble, err, refused)
	}
}

// Tails, pins and lap together fill the corner, and with each board's body the
// whole of both blanks is accounted for.
func TestDovetailsFillTheCorner(t *testing.T) {
	for _, c := range []struct {
		f *Family
		p Values
	}{{throughDovetail, workedThrough}, {lappedDovetail, workedLapped}} {
		parts, err := c.f.Pieces(c.p)
		if err != nil || len(parts) != 2 {
			t.Fatal(parts, err)
		}
		w, tails, pins := c.p["width"], c.p["tail_thickness"], c.p["pin_thickness"]
		corner := volume(parts[0].Pieces[1:]) + volume(parts[1].Pieces[1:])
		if want := w * tails * pins; math.Abs(corner/want-1) > 1e-12 {
			t.Errorf("%s: tails and pins have %g, the corner %g", c.f.ID, corner, want)
		}
		// One tail is a trapezium in plan.
		l, _ := c.f.Layout(c.p)
		q := l.Quantities
		tail := (q["tail_width"] + q["tail_at_baseline"]) / 2 * q["tail_baseline"] * tails
		for _, piece := range parts[0].Pieces[1:] {
			if math.Abs(piece.Volume()/tail-1) > 1e-12 {
				t.Errorf("%s: a tail has %g, want %g", c.f.ID, piece.Volume(), tail)
			}
		}
	}
}

// Tails marked too wide are shown going into the pins, by the prism that is
// too much.
func TestTooWideTailsAreShownInThePins(t *testing.T) {
	l, _ := throughDovetail.Layout(workedThrough)
	parts, err := throughDovetail.MadePieces(workedThrough, Values{"last_tail_end": l.Quantities["last_tail_end"] + 0.4})
	if err != nil {
		t.Fatal(err)
	}
	want := 0.4 * workedThrough["pin_thickness"] * workedThrough["tail_thickness"]
	if got := shared(parts[0].Pieces, parts[1].Pieces); math.Abs(got/want-1) > 1e-9 {
		t.Errorf("the boards share %g mm³, want %g", got, want)
	}
}
