package formula

// Check infers the dimension. dims tells what a name is; an unknown name is an
// *Error at its column, and so is every sum, function or power whose parts do
// not go together.
//
// Numbers written in the formula adapt. An expression of written numbers, pi
// and plain-number names alone, with at least one written number in it, is
// taken as whatever is needed: 90 - x is an angle when x is one, 1.5 + length
// is a length, 180/sides may stand as an angle. Beside a length, an angle or
// an area in a product it is a plain number. Check gives Number for such an
// expression when nothing asks for more; [Formula.CheckAs] asks.
func (f Formula) Check(dims func(name string) (Dim, bool)) (Dim, error) {
	q, err := checker{dims: dims}.whole(f)
	if err != nil {
		return Number, err
	}
	d, ok := q.dim()
	if !ok {
		return Number, errorAt(outermost(f.root), "This gives %s. It must come to a plain number, a length, an angle or an area.", q)
	}
	return d, nil
}

// CheckAs makes sure that the formula can stand where want is asked.
func (f Formula) CheckAs(want Dim, dims func(name string) (Dim, bool)) error {
	q, err := checker{dims: dims}.whole(f)
	if err != nil {
		return err
	}
	return f.asked(q, want)
}

// CheckWorking is CheckAs for what people type, who put some of the sizes in as
// numbers: a written number beside a length may be a length itself, so that
// atan(v_width/2/40) is an angle.
func (f Formula) CheckWorking(want Dim, dims func(name string) (Dim, bool)) error {
	q, err := checker{dims: dims, working: true}.whole(f)
	if err != nil {
		return err
	}
	return f.asked(q, want)
}

func (f Formula) asked(q kind, want Dim) error {
	if !q.fits(kindOf(want)) {
		return errorAt(outermost(f.root), "This gives %s, and %s is asked.", q, want)
	}
	return nil
}

// whole infers the kind of a formula.
func (c checker) whole(f Formula) (kind, error) {
	if f.root == nil {
		return kind{}, errorAt(0, "Nothing is written here yet.")
	}
	k, err := c.infer(f.root)
	if err != nil {
		return kind{}, err
	}
	return k, nil
}

// outermost is the column where an error about the whole formula points.
func outermost(n Node) int {
	if b, ok := n.(Binary); ok {
		return b.Col
	}
	return start(n)
}

type checker struct {
	dims    func(string) (Dim, bool)
	working bool // written numbers may be lengths beside lengths
}

func (c checker) infer(n Node) (kind, *Error) {
	switch n := n.(type) {
	case Num:
		return kind{written: true}, nil
	case Name:
		return c.name(n)
	case Neg:
		return c.infer(n.X)
	case Binary:
		l, err := c.infer(n.L)
		if err != nil {
			return kind{}, err
		}
		r, err := c.infer(n.R)
		if err != nil {
			return kind{}, err
		}
		return c.binary(n, l, r)
	case Call:
		return c.call(n)
	}
	return kind{}, errorAt(0, "Nothing is written here yet.")
}

func (c checker) name(n Name) (kind, *Error) {
	if n.ID == pi {
		return kind{written: true}, nil
	}
	if c.dims != nil {
		if d, ok := c.dims(n.ID); ok {
			return kindOf(d), nil
		}
	}
	return kind{}, errorAt(n.Col, "%s is not known here. Use the names of the givens and of the earlier steps.", n.ID)
}

func (c checker) binary(n Binary, l, r kind) (kind, *Error) {
	switch n.Op {
	case '+', '-':
		k, ok := l.with(r)
		if !ok {
			return kind{}, unlike(n, l, r)
		}
		return k, nil
	case '*':
		return c.times(l, r, 1), nil
	case '/':
		return c.times(l, r, -1), nil
	}
	return c.power(n, l, r)
}

// times multiplies (sign 1) or divides (sign -1) two kinds.
func (c checker) times(l, r kind, sign int) kind {
	k := l.times(r, sign)
	if c.working && (l.written && r.length != 0 || r.written && l.length != 0) {
		k.elastic = true
	}
	return k
}

// unlike says that two things cannot be added or subtracted, and what to do.
func unlike(n Binary, l, r kind) *Error {
	verb := "added to"
	first, second := l, r
	if n.Op == '-' {
		verb, first, second = "taken from", r, l
	}
	advice := "Both sides must be the same kind."
	switch {
	case isKind(l, r, Length, Angle):
		advice = "Use sin, cos or tan of the angle, times a length."
	case isKind(l, r, Length, Area):
		advice = "Take the square root of the area, or square the length."
	case isKind(l, r, Length, Number):
		advice = "Multiply the plain number by a length."
	case isKind(l, r, Angle, Number):
		advice = "Use atan, asin or acos of the ratio, or sin, cos or tan of the angle."
	}
	return errorAt(n.Col, "%s cannot be %s %s: %s is %s, %s is %s. %s",
		capital(first.String()), verb, second, excerpt(n.L), l, excerpt(n.R), r, advice)
}

func isKind(l, r kind, a, b Dim) bool {
	ka, kb := kindOf(a), kindOf(b)
	return l.alike(ka) && r.alike(kb) || l.alike(kb) && r.alike(ka)
}

// power works out what a power is: the exponent is a plain number, and of a
// length or an angle it must be a whole one that is written down.
func (c checker) power(n Binary, l, r kind) (kind, *Error) {
	if !r.fits(kindOf(Number)) {
		return kind{}, errorAt(n.Col, "The power must be a plain number; %s is %s.", excerpt(n.R), r)
	}
	if l.alike(kindOf(Number)) {
		return l, nil
	}
	e, err := eval(n.R, nil)
	if err != nil {
		return kind{}, errorAt(n.Col, "The power of %s must be written as a number, such as ^2.", l)
	}
	if k, ok := l.power(e); ok {
		return k, nil
	}
	if e == 0.5 {
		return kind{}, errorAt(n.Col, "The square root of %s has no meaning: square the lengths first.", l)
	}
	return kind{}, errorAt(n.Col, "%s to this power has no meaning: write ^2 for the square.", capital(l.String()))
}

func (c checker) call(n Call) (kind, *Error) {
	args := make([]kind, len(n.Args))
	for i, a := range n.Args {
		k, err := c.infer(a)
		if err != nil {
			return kind{}, err
		}
		args[i] = k
	}
	if want, ok := functions[n.Func]; !ok || len(args) != want {
		return kind{}, errorAt(n.Col, "%s is not a function here.", n.Func)
	}
	switch n.Func {
	case "sin", "cos", "tan":
		return c.ofAngle(n, args[0])
	case "asin", "acos", "atan":
		return c.angleOf(n, args[0])
	case "sqrt":
		k, ok := args[0].power(0.5)
		if !ok {
			return kind{}, errorAt(n.Col, "The square root of %s has no meaning: square the lengths inside it first.", args[0])
		}
		return k, nil
	}
	k, ok := args[0].with(args[1])
	if !ok {
		return kind{}, errorAt(n.Col, "hypot takes two of a kind; %s is %s, %s is %s.", excerpt(n.Args[0]), args[0], excerpt(n.Args[1]), args[1])
	}
	return k, nil
}

// ofAngle is the kind of sin, cos and tan: a plain number, still a written one
// when only written numbers are in it (25*tan(9.5) may stand as a length).
func (c checker) ofAngle(n Call, arg kind) (kind, *Error) {
	if arg.fits(kindOf(Angle)) {
		return kind{written: arg.written}, nil
	}
	advice := "Write a" + n.Func + " for the angle that has this " + ratioName[n.Func] + "."
	if !arg.alike(kindOf(Number)) {
		advice = "Divide by a length, and write a" + n.Func + " for the angle of that ratio."
	}
	return kind{}, errorAt(n.Col, "%s takes an angle, and %s is %s. %s", n.Func, excerpt(n.Args[0]), arg, advice)
}

var ratioName = map[string]string{"sin": "sine", "cos": "cosine", "tan": "tangent"}

// angleOf is the kind of asin, acos and atan.
func (c checker) angleOf(n Call, arg kind) (kind, *Error) {
	if arg.fits(kindOf(Number)) {
		return kindOf(Angle), nil
	}
	advice := "Divide by another length."
	if arg.alike(kindOf(Angle)) {
		advice = "Write " + n.Func[1:] + " for the ratio of an angle."
	}
	return kind{}, errorAt(n.Col, "%s takes a ratio, and %s is %s. %s", n.Func, excerpt(n.Args[0]), arg, advice)
}
