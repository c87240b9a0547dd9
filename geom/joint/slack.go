package joint

import (
	"fmt"
	"math"
)

// Slack is how far one quantity may be off before a gap leaves a fit word.
type Slack struct {
	Quantity string
	// Deviation is the largest one, on the side that allows less, in the
	// quantity's unit.
	Deviation float64
	// Gap names the consequence that reaches the limit first. It is empty
	// where none does within the search range; Deviation is then its end.
	Gap string
}

// Says puts the slack in a sentence for a fit word: "0.14° here is 0.10 mm at
// the near shoulder." It is empty where no gap reaches the word's limit.
func (s Slack) Says(f *Family, w Word) string {
	q, known := f.Quantity(s.Quantity)
	if !known || s.Gap == "" || w >= Failed {
		return ""
	}
	where := s.Gap
	for _, c := range f.Consequences {
		if c.ID == s.Gap {
			where = c.Name
		}
	}
	unit := " " + string(q.Unit)
	if q.Unit == Deg {
		unit = "°"
	}
	return fmt.Sprintf("%.2g%s here is %.2f mm at the %s.", s.Deviation, unit, w.Limit(), where)
}

const (
	// slackRange is how far a deviation is followed, in mm or degrees.
	slackRange = 5
	// slackExact is how closely the deviation is found: far finer than any
	// tool, so that 0.9 of it always passes and 1.1 always fails.
	slackExact = 1e-9
	// slackMoves is the least change of a gap that counts as depending on a
	// quantity: above rounding, below any shaving.
	slackMoves = 1e-9
)

// Slack finds the deviation of one quantity that just keeps every gap within
// the word, all other quantities being right. ok is false where no gap depends
// on the quantity within 5 mm or 5 degrees, where the quantity has no value on
// this blank, and for [Failed], which has no limit.
func (b *Blank) Slack(quantity string, w Word) (s Slack, ok bool, err error) {
	f := b.family
	if _, known := f.Quantity(quantity); !known {
		reason := "is not a quantity of " + f.ID
		return Slack{}, false, &IDError{ID: quantity, Reason: reason, Nearest: Nearest(quantity, f.quantityIDs())}
	}
	key, has := b.layout.Quantities[quantity]
	if !has || w.Limit() > slackRange || f.seen != nil {
		return Slack{}, false, nil
	}
	t := trial{blank: b, q: b.asSubmitted(nil), made: make([]Made, len(f.Consequences)), id: quantity, key: key, limit: w.Limit()}
	s = Slack{Quantity: quantity, Deviation: slackRange}
	for _, side := range [2]float64{1, -1} {
		dev, gap, depends := t.reach(side)
		ok = ok || depends
		if gap >= 0 && dev <= s.Deviation {
			s.Deviation, s.Gap = dev, f.Consequences[gap].ID
		}
	}
	return s, ok, nil
}

// trial asks the fit itself what one number does.
type trial struct {
	blank *Blank
	q     Values
	made  []Made
	id    string
	key   float64
	limit float64
}

// over is how far the worst gap is beyond the limit when the number is off by
// d, and which gap that is. Where a gap has lost its value, the joint is gone.
func (t *trial) over(d float64) (float64, int) {
	t.q[t.id] = t.key + d
	t.blank.fitInto(t.q, t.made)
	gap, at, whole := t.blank.family.worst(t.made)
	if !whole {
		return math.Inf(1), at
	}
	return gap - t.limit, at
}

// reach follows a deviation to one side until the limit is passed. gap is -1
// where it never is.
func (t *trial) reach(side float64) (dev float64, gap int, depends bool) {
	start, at := t.over(0)
	if start > 0 {
		return 0, at, true // nothing to spare even where all is right
	}
	lo, below := 0.0, start
	for hi := t.limit; ; {
		above, at := t.over(side * hi)
		depends = depends || math.Abs(above-start) > slackMoves
		if above > 0 {
			dev, gap := t.narrow(side, lo, below, hi, above, at)
			return dev, gap, true
		}
		if hi >= slackRange {
			return slackRange, -1, depends
		}
		next := 4 * hi
		if slope := (above - below) / (hi - lo); slope > 0 {
			// Gaps are nearly straight lines: aim a little past the limit.
			next = min(max(hi-1.05*above/slope, 1.2*hi), next)
		}
		lo, below, hi = hi, above, min(next, slackRange)
	}
}

// narrow closes in on the limit between lo, where it holds, and hi, where it
// does not, by false position with the Illinois halving, and by plain halving
// where the joint is gone at hi.
func (t *trial) narrow(side, lo, below, hi, above float64, at int) (float64, int) {
	for n := 0; hi-lo > slackExact && n < 100; n++ {
		mid := lo + (hi-lo)/2
		if !math.IsInf(above, 1) && n%8 != 7 {
			mid = hi - float64(above*(hi-lo))/(above-below)
			// Step over the root by half the exactness, to close the far side too.
			mid = min(max(mid, lo+slackExact/2), hi-slackExact/2)
		}
		here, gap := t.over(side * mid)
		if here > 0 {
			hi, above, at = mid, here, gap
			below /= 2
		} else {
			lo, below = mid, here
			above /= 2
		}
	}
	return lo, at
}
