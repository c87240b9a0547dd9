package discover

import (
	"math"
	"math/rand/v2"
)

// probes is on how many invented blanks two formulas must agree to be one.
const probes = 3

type probe [probes]float64

// invented gives a given of a kind three sizes in a likely range. They are not
// round, so that nothing agrees by chance.
func invented(k kind, rnd *rand.Rand) (p probe) {
	for i := range p {
		u := rnd.Float64()
		switch k {
		case angle:
			p[i] = 5 + 35*u
		case plain, count:
			p[i] = 3 + 6*u
		case area:
			p[i] = 400 + 4000*u
		default:
			p[i] = 12 + 150*u
		}
	}
	return p
}

// constant says that a formula does not depend on the blank.
func constant(p probe) bool {
	for _, v := range p[1:] {
		if math.Abs(v-p[0]) > 1e-9*math.Abs(p[0]) {
			return false
		}
	}
	return true
}

// hash is the same for numbers that agree to about eleven figures, but for one
// pair in thousands that lies on both sides of a step: a formula more in the
// bank does no harm. Plain numbers, ratios and counts are one kind here.
func (p probe) hash(k kind) uint64 {
	if k == ratio || k == count {
		k = plain
	}
	h := uint64(k) + 1
	for _, v := range p {
		b := math.Float64bits(math.Abs(v))
		h ^= (b + 1<<14) >> 15
		h *= 0x9e3779b97f4a7c15
		h ^= h >> 29
	}
	return h
}

// signed is hash for formulas that work with signs: the other sign is another
// number.
func (p probe) signed() uint64 {
	h := p.hash(plain)
	for i, v := range p {
		if v < 0 {
			h += 0x2545f4914f6cdd1d << i
		}
	}
	return h
}
