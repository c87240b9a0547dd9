package discover

import "math"

// hits and its kin count how many numbers lie in the students' windows and in
// the decoy's. They are the inner loops of the search; the slices are cut to
// one length so that the compiler leaves out the bounds checks.
func hits(x []float64, w []window) (own, decoy int) {
	w = w[:len(x)]
	for i, v := range x {
		a, b := v-w[i].mid, v-w[i].decoyMid
		if a*a <= w[i].reach {
			own++
		}
		if b*b <= w[i].decoyReach {
			decoy++
		}
	}
	return own, decoy
}

func hitsAdd(x, y []float64, w []window) (own, decoy int) {
	y, w = y[:len(x)], w[:len(x)]
	for i, v := range x {
		v += y[i]
		a, b := v-w[i].mid, v-w[i].decoyMid
		if a*a <= w[i].reach {
			own++
		}
		if b*b <= w[i].decoyReach {
			decoy++
		}
	}
	return own, decoy
}

func hitsSub(x, y []float64, w []window) (own, decoy int) {
	y, w = y[:len(x)], w[:len(x)]
	for i, v := range x {
		v -= y[i]
		a, b := v-w[i].mid, v-w[i].decoyMid
		if a*a <= w[i].reach {
			own++
		}
		if b*b <= w[i].decoyReach {
			decoy++
		}
	}
	return own, decoy
}

func hitsApart(x, y []float64, w []window) (own, decoy int) {
	y, w = y[:len(x)], w[:len(x)]
	for i, v := range x {
		v = math.Abs(v - y[i])
		a, b := v-w[i].mid, v-w[i].decoyMid
		if a*a <= w[i].reach {
			own++
		}
		if b*b <= w[i].decoyReach {
			decoy++
		}
	}
	return own, decoy
}

func hitsMul(x, y []float64, w []window) (own, decoy int) {
	y, w = y[:len(x)], w[:len(x)]
	for i, v := range x {
		v *= y[i]
		a, b := v-w[i].mid, v-w[i].decoyMid
		if a*a <= w[i].reach {
			own++
		}
		if b*b <= w[i].decoyReach {
			decoy++
		}
	}
	return own, decoy
}

func hitsDiv(x, y []float64, w []window) (own, decoy int) {
	y, w = y[:len(x)], w[:len(x)]
	for i, v := range x {
		v /= y[i]
		a, b := v-w[i].mid, v-w[i].decoyMid
		if a*a <= w[i].reach {
			own++
		}
		if b*b <= w[i].decoyReach {
			decoy++
		}
	}
	return own, decoy
}

func hitsSquares(x, y []float64, w []window) (own, decoy int) {
	y, w = y[:len(x)], w[:len(x)]
	for i, v := range x {
		v = float64(v*v) + float64(y[i]*y[i])
		a, b := v-w[i].mid, v-w[i].decoyMid
		if a*a <= w[i].reach {
			own++
		}
		if b*b <= w[i].decoyReach {
			decoy++
		}
	}
	return own, decoy
}

// hitsOf counts the hits of a last step on two numbers. squared are the windows
// of the square.
func hitsOf(o op, x, y []float64, w, squared []window) (own, decoy int) {
	switch o {
	case opAdd:
		return hitsAdd(x, y, w)
	case opSub:
		return hitsSub(x, y, w)
	case opApart:
		return hitsApart(x, y, w)
	case opMul:
		return hitsMul(x, y, w)
	case opDiv:
		return hitsDiv(x, y, w)
	}
	return hitsSquares(x, y, squared)
}
