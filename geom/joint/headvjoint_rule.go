package joint

import "arrisbook/geom"

// vMargin is the wood, both sides together, that must stay beside the V's
// mouth.
const vMargin = 10

// problems is the buildable rule. The sentences hold no figure that a student
// is asked for.
func (g vGivens) problems(hasTip bool, depth float64, most geom.Angle, limited bool) []string {
	var out []string
	if g.mouth > g.width-vMargin && g.mouth > 0 && g.width > 0 {
		out = append(out, "The V is too wide for the blank: at least 5 mm must stay beside its mouth at each edge.")
	}
	if g.tilt == 0 {
		out = append(out, "A head that does not tilt needs no tilted joint: the head angle must be more than 0°.")
	}
	switch {
	case !hasTip || g.finished <= 0 || g.tilt <= 0:
	case g.finished > g.thickness:
		out = append(out, "The head cannot be finished thicker than the blank is.")
	case depth < g.finished:
		out = append(out, "The tongue's tip does not reach as deep as the finished head is thick: the V is too long, or the head tilts too far, for this blank.")
	case limited && g.tilt >= most:
		out = append(out, "The head angle is no smaller than the largest one at which the finished joint is whole.")
	}
	return out
}
