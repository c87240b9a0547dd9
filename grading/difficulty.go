package grading

import (
	"math"
	"slices"

	"arrisbook/geom/joint"
)

// Difficulty is what makes one blank harder to work with than another of the
// same exercise: how many numbers are asked, how many digits the givens have
// when they are written down, and how many given angles have a sine, cosine or
// tangent that people know by heart.
type Difficulty struct {
	Steps, Digits, Special int
}

// DifficultyOf measures a sheet as a class with these units would see it.
func DifficultyOf(ex *Exercise, sheet Sheet, units Units) Difficulty {
	out := Difficulty{Steps: len(sheet.Steps)}
	for _, g := range ex.ranges(units) {
		out.add(sheet.Parameters[g.ID], g.Unit, units)
	}
	return out
}

func (d *Difficulty) add(v float64, u joint.Unit, units Units) {
	d.Digits += digitsIn(v, u, units)
	if u == joint.Deg && isSpecial(v) {
		d.Special++
	}
}

// digitsIn counts the digits of a size as [Print] writes it.
func digitsIn(v float64, u joint.Unit, units Units) int {
	n := 0
	for _, c := range Print(v, u, units) {
		if c >= '0' && c <= '9' {
			n++
		}
	}
	return n
}

// isSpecial says that an angle is a multiple of 30 or 45 degrees.
func isSpecial(angle float64) bool {
	for _, of := range [2]float64{30, 45} {
		if off := math.Abs(math.Remainder(angle, of)); off < 1e-9 {
			return true
		}
	}
	return false
}

// evenness is what every blank of an exercise keeps to, so that no student has
// the harder numbers.
type evenness struct {
	fewest, most int // digits
	special      int // angles, at most
}

// sideways is how far the digits of a blank may lie from what is usual.
const sideways = 1

// newEvenness looks at draws that keep the rules: the usual number of digits,
// and the fewest special angles.
func (m *model) newEvenness(ex *Exercise, units Units) evenness {
	const samples = 200
	var digits []int
	special := len(m.names)
	s, vals, givens := newStream(0), make([]float64, len(m.names)), ex.ranges(units)
	for range samples {
		m.draw(ex, givens, s, vals)
		if !m.keepsEarly(vals) {
			continue
		}
		d := m.difficulty(givens, vals, units)
		digits, special = append(digits, d.Digits), min(special, d.Special)
	}
	if len(digits) == 0 {
		return evenness{most: math.MaxInt, special: special}
	}
	slices.Sort(digits)
	usual := digits[len(digits)/2]
	return evenness{fewest: usual - sideways, most: usual + sideways, special: special}
}

func (m *model) evennessFor(u Units) evenness {
	if u == Inches {
		return m.even[1]
	}
	return m.even[0]
}

// difficulty measures the blank in the slots.
func (m *model) difficulty(givens []Given, vals []float64, units Units) Difficulty {
	var d Difficulty
	for _, g := range givens {
		d.add(vals[m.slots[g.ID]], g.Unit, units)
	}
	return d
}

// keepsEarly asks the rules over givens alone.
func (m *model) keepsEarly(vals []float64) bool {
	for _, r := range m.keep {
		if r.early && !r.holds(vals) {
			return false
		}
	}
	return true
}

// holds says that a blank is as hard as the others.
func (e evenness) holds(d Difficulty) bool {
	return d.Digits >= e.fewest && d.Digits <= e.most && d.Special <= e.special
}

// Spread is how far the blanks of an exercise differ in difficulty.
type Spread struct {
	Blanks      int
	Least, Most Difficulty
	Digits      map[int]int // blanks by number of digits
	Failed      int         // seeds that gave no blank
}

// DifficultySpread draws the blanks of so many seeds, from first on.
func DifficultySpread(ex *Exercise, first uint64, count int, shop Shop) Spread {
	out := Spread{Digits: map[int]int{}}
	for i := range count {
		sheet, err := Generate(ex, first+uint64(i), shop)
		if err != nil {
			out.Failed++
			continue
		}
		out.add(DifficultyOf(ex, sheet, shop.Units))
	}
	return out
}

func (s *Spread) add(d Difficulty) {
	if s.Blanks == 0 {
		s.Least, s.Most = d, d
	}
	s.Blanks++
	s.Digits[d.Digits]++
	s.Least = Difficulty{min(s.Least.Steps, d.Steps), min(s.Least.Digits, d.Digits), min(s.Least.Special, d.Special)}
	s.Most = Difficulty{max(s.Most.Steps, d.Steps), max(s.Most.Digits, d.Digits), max(s.Most.Special, d.Special)}
}
