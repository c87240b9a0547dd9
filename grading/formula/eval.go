package formula

import "math"

// Eval works the formula out, angles in degrees. What has no finite value
// (division by nothing, asin of 2, the tangent of 90) is an *Error, never NaN
// or Inf. Messages hold no worked-out numbers.
func (f Formula) Eval(values func(name string) (float64, bool)) (float64, error) {
	v, err := eval(f.root, values)
	if err != nil {
		return 0, err
	}
	return v, nil
}

func eval(n Node, values func(string) (float64, bool)) (float64, *Error) {
	switch n := n.(type) {
	case Num:
		if !isFinite(n.Value) {
			return 0, errorAt(n.Col, "This number is too large.")
		}
		return n.Value, nil
	case Name:
		return evalName(n, values)
	case Neg:
		v, err := eval(n.X, values)
		return -v, err
	case Binary:
		l, err := eval(n.L, values)
		if err != nil {
			return 0, err
		}
		r, err := eval(n.R, values)
		if err != nil {
			return 0, err
		}
		return evalBinary(n, l, r)
	case Call:
		return evalCall(n, values)
	}
	return 0, errorAt(0, "Nothing is written here yet.")
}

func evalName(n Name, values func(string) (float64, bool)) (float64, *Error) {
	if n.ID == pi {
		return math.Pi, nil
	}
	if values != nil {
		if v, ok := values(n.ID); ok {
			if isFinite(v) {
				return v, nil
			}
		}
	}
	return 0, errorAt(n.Col, "%s has no value here.", n.ID)
}

func isFinite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

func evalBinary(n Binary, l, r float64) (float64, *Error) {
	var v float64
	switch n.Op {
	case '+':
		v = l + r
	case '-':
		v = l - r
	case '*':
		v = l * r
	case '/':
		if r == 0 {
			return 0, errorAt(n.Col, "Division by nothing has no value here.")
		}
		v = l / r
	case '^':
		v = math.Pow(l, r)
		if math.IsNaN(v) || l == 0 && r < 0 {
			return 0, errorAt(n.Col, "This power has no value here.")
		}
	default:
		return 0, errorAt(n.Col, "%q is not an operator.", string(n.Op))
	}
	if !isFinite(v) {
		return 0, errorAt(n.Col, "This is too large and has no value here.")
	}
	return v, nil
}

func evalCall(n Call, values func(string) (float64, bool)) (float64, *Error) {
	if want, ok := functions[n.Func]; !ok || len(n.Args) != want {
		return 0, errorAt(n.Col, "%s has no value here.", n.Func)
	}
	x, err := eval(n.Args[0], values)
	if err != nil {
		return 0, err
	}
	y := 0.0
	if len(n.Args) == 2 {
		if y, err = eval(n.Args[1], values); err != nil {
			return 0, err
		}
	}
	v, ok := apply(n.Func, x, y)
	if !ok {
		return 0, errorAt(n.Col, "%s", noValue[n.Func])
	}
	return v, nil
}

// noValue says for each function what went wrong.
var noValue = map[string]string{
	"sin":   "The sine of so large an angle has no value here.",
	"cos":   "The cosine of so large an angle has no value here.",
	"tan":   "The tangent of a right angle has no value here.",
	"asin":  "No angle has this sine: it has no value here. A sine lies between -1 and 1.",
	"acos":  "No angle has this cosine: it has no value here. A cosine lies between -1 and 1.",
	"atan":  "This arctangent has no value here.",
	"sqrt":  "The square root of less than nothing has no value here.",
	"hypot": "This is too large and has no value here.",
}

// apply works one function out; ok is false where it has no finite value.
func apply(fn string, x, y float64) (v float64, ok bool) {
	switch fn {
	case "sin":
		v, _ = sinCos(x)
	case "cos":
		_, v = sinCos(x)
	case "tan":
		s, c := sinCos(x)
		v = s / c
	case "asin":
		v = degrees(math.Asin(x))
	case "acos":
		v = degrees(math.Acos(x))
	case "atan":
		v = degrees(math.Atan(x))
	case "sqrt":
		v = math.Sqrt(x)
	case "hypot":
		// The products are rounded one by one: the same bits on every machine.
		v = math.Sqrt(float64(x*x) + float64(y*y))
	}
	return v, isFinite(v)
}

func degrees(radians float64) float64 { return radians * (180 / math.Pi) }

// sinCos takes degrees and is exact at the quarters of the circle, so that
// cos(90) is nothing and 1/cos(90) has no value. Reduction to the nearest
// quarter is exact too: the remainder of two floating-point numbers is.
func sinCos(deg float64) (sin, cos float64) {
	rest := math.Remainder(deg, 90)
	s, c := math.Sincos(rest * (math.Pi / 180))
	switch int64(math.Remainder(math.Round((deg-rest)/90), 4)) & 3 {
	case 0:
		return s, c
	case 1:
		return c, -s
	case 2:
		return -s, -c
	default:
		return -c, s
	}
}
