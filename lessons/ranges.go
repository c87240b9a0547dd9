package lessons

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// span is a range of sizes: from, to, by. A single size has from equal to to.
type span struct{ from, to, by float64 }

// errNumber is what a size that cannot be read gets.
var errNumber = errors.New("is not a number (write 24, 0.5, 15/16 or 1 1/4)")

// parseNumber reads a size: 24, 0.5, 15/16 or 1 1/4.
func parseNumber(s string) (float64, error) {
	words := strings.Fields(s)
	total := 0.0
	for i, w := range words {
		v, fraction, err := parseTerm(w)
		if err != nil || len(words) > 2 || len(words) == 2 && fraction != (i == 1) {
			return 0, errNumber
		}
		total += v
	}
	if len(words) == 0 {
		return 0, errNumber
	}
	return total, nil
}

// parseTerm reads one word of a size and says whether it is a fraction.
func parseTerm(w string) (v float64, fraction bool, err error) {
	top, bottom, fraction := strings.Cut(w, "/")
	a, err := plainNumber(top)
	if err != nil || !fraction {
		return a, false, err
	}
	b, err := plainNumber(bottom)
	if err != nil || b == 0 {
		return 0, true, errNumber
	}
	return a / b, true, nil
}

// plainNumber reads digits with at most one dot and a leading minus; not the
// spellings that strconv knows besides (1e9, 0x10, inf, 1_000).
func plainNumber(s string) (float64, error) {
	if len(s) > 12 || strings.Trim(s, "0123456789.-") != "" {
		return 0, errNumber
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		return 0, errNumber
	}
	return v, nil
}

// parseSpan reads “24..32 by 0.5” or one size. The end must lie on the grid
// that starts at the beginning.
func parseSpan(s string) (span, error) {
	ends, by, stepped := strings.Cut(s, " by ")
	low, high, ranged := strings.Cut(ends, "..")
	from, err := parseNumber(low)
	if err != nil {
		return span{}, fmt.Errorf("%q %w", strings.TrimSpace(low), err)
	}
	if !ranged {
		if stepped {
			return span{}, fmt.Errorf("%q is one size and needs no “by”", s)
		}
		return span{from, from, 0}, nil
	}
	to, err := parseNumber(high)
	if err != nil {
		return span{}, fmt.Errorf("%q %w", strings.TrimSpace(high), err)
	}
	if !stepped {
		return span{}, fmt.Errorf("%q does not say the step: write %s..%s by STEP", s, strings.TrimSpace(low), strings.TrimSpace(high))
	}
	step, err := parseNumber(by)
	if err != nil {
		return span{}, fmt.Errorf("%q %w", strings.TrimSpace(by), err)
	}
	return checkSpan(span{from, to, step}, s)
}

// mostSizes bounds the sizes of one range: a finer grid is a slip of the pen.
const mostSizes = 10000

func checkSpan(r span, s string) (span, error) {
	switch n := (r.to - r.from) / r.by; {
	case r.by <= 0:
		return span{}, fmt.Errorf("%q: the step must be above 0", s)
	case r.to < r.from:
		return span{}, fmt.Errorf("%q is empty: it ends below its beginning", s)
	case n > mostSizes:
		return span{}, fmt.Errorf("%q has more than %d sizes", s, mostSizes)
	case math.Abs(n-math.Round(n)) > 1e-6:
		return span{}, fmt.Errorf("%q: the end is not on the grid of steps from the beginning", s)
	}
	return r, nil
}

// times scales a range.
func (r span) times(k float64) span { return span{r.from * k, r.to * k, r.by * k} }
