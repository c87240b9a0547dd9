package grading

import (
	"errors"
	"math"
	"regexp"
	"strings"

	"arrisbook/geom/joint"
	"arrisbook/grading/formula"
)

// exactness is the half step of an answer given as working: a billionth of it.
func exactness(v float64) float64 { return 1e-9 * math.Max(1, math.Abs(v)) }

var (
	// lastUnit is a unit after the working: behind a space, or straight behind
	// a digit, a bracket or a mark, so that a name such as pin stays whole.
	lastUnit = regexp.MustCompile(`^(.*?(?: |[^a-z_ ]))(` + wordsMM + `|` + wordsCM + `|` + wordsInch + `)(²|\^?2)?$`)
	// mixedInside is a mixed number inside working.
	mixedInside = regexp.MustCompile(`(^|[^\d.a-z_])(\d+) (\d+)/(\d+)`)
	// commaInside is a decimal comma inside working.
	commaInside = regexp.MustCompile(`(\d),(\d)`)
	innerMM     = regexp.MustCompile(`\d ?mm\b`)
)

// working reads an entry as a formula and works it out. Its numbers are in the
// unit written after it, else in the class's.
func working(e entry) (Reading, string) {
	w := job{entry: e, unit: e.classUnit()}
	if reason := w.takeUnit(); reason != "" {
		return Reading{}, reason
	}
	if reason := w.prepare(); reason != "" {
		return Reading{}, reason
	}
	f, err := formula.Parse(w.text)
	if err != nil {
		return Reading{}, w.explain(err)
	}
	if reason := w.check(f); reason != "" {
		return Reading{}, reason
	}
	v, err := f.Eval(w.value)
	if err != nil {
		return Reading{}, w.explain(err)
	}
	r := Reading{Value: w.unit.toStep(v), Working: f.String()}
	r.Half = exactness(r.Value)
	r.Says = w.says(v, r.Value)
	return r, ""
}

// job is one working being read: text is prepared step by step.
type job struct {
	entry
	unit unit
	// scale turns lengths from millimetres into what the numbers are in.
	scale unit
}

// takeUnit takes the unit off the end.
func (w *job) takeUnit() string {
	w.scale = w.unit
	if w.unit.tenths == 0 {
		w.scale = entry{Asked: Asked{Unit: joint.MM, Units: w.Units}}.classUnit()
	}
	m := lastUnit.FindStringSubmatch(w.text)
	if m == nil {
		return ""
	}
	u := lengthWord(m[2])
	if m[3] != "" {
		u = u.squared()
	}
	if u.power != w.unit.power {
		kind := "a length"
		if u.power == 2 {
			kind = "an area"
		}
		return w.wrongKind(kind)
	}
	w.text = strings.TrimSpace(m[1])
	w.unit, w.scale = u, u
	return ""
}

// prepare writes decimal commas and mixed numbers as the formula language has
// them, and refuses millimetres beside inches.
func (w *job) prepare() string {
	if w.scale.tenths != millimetre && innerMM.MatchString(w.text) {
		return "Write all lengths of the working in one unit, with mm at the end for millimetres."
	}
	if !strings.Contains(w.text, "hypot") {
		w.text = commaInside.ReplaceAllString(w.text, "$1.$2")
	}
	w.text = mixedInside.ReplaceAllString(w.text, "$1($2+$3/$4)")
	return ""
}

// explain turns an error of the formula language into a sentence that quotes
// the place.
func (w *job) explain(err error) string {
	var at *formula.Error
	if !errors.As(err, &at) {
		return "This cannot be read. " + w.example()
	}
	runes := []rune(w.text)
	if at.Col < 2 || at.Col > len(runes) {
		return at.Msg
	}
	from := string(runes[at.Col-1 : min(len(runes), at.Col+11)])
	return "At “" + from + "”: " + at.Msg
}

// check makes sure that every name has a value and that the working gives the
// kind of number asked.
func (w *job) check(f formula.Formula) string {
	for _, id := range f.Names() {
		if reason := w.checkName(id); reason != "" {
			return reason
		}
	}
	want := DimOf(w.Unit)
	dim, strict := f.Check(w.dim)
	if err := f.CheckWorking(want, w.dim); err != nil {
		switch {
		case want == formula.Angle && isQuotient(f.Root()) && strict == nil && (dim == formula.Number || dim == formula.Length):
			return "This gives a ratio, and an angle is asked here: write atan(…), asin(…) or acos(…) for the angle of a ratio."
		case strict == nil:
			return "This gives " + dim.String() + ", and " + want.String() + " is asked here."
		}
		return w.explain(err)
	}
	if want == formula.Angle && dim == formula.Number && isQuotient(f.Root()) && !inDegrees.MatchString(w.text) {
		return "This can mean two things: write atan(…) for the angle of a slope, or (…)° for degrees."
	}
	return ""
}

// inDegrees finds a degree sign at the end.
var inDegrees = regexp.MustCompile(`(?:°|\bdeg(?:ree)?s?)$`)

func isQuotient(n formula.Node) bool {
	b, ok := n.(formula.Binary)
	return ok && b.Op == '/'
}

// checkName makes sure that a name can be worked with.
func (w *job) checkName(id string) string {
	if w.Names == nil {
		return "Names such as " + id + " are not read here: write the number. " + w.example()
	}
	if _, ok := w.Names(id); !ok {
		return id + " is not a size given on this sheet. " + w.example()
	}
	if w.nameDim(id) == formula.Any && w.scale.tenths != millimetre {
		return "Write the number in place of " + id + "."
	}
	return ""
}

// nameDim is the dimension of a name, Any where nothing is known of it.
func (w *job) nameDim(id string) formula.Dim {
	unitOf := w.UnitOf
	if unitOf == nil {
		unitOf = catalogueUnit
	}
	if u, ok := unitOf(id); ok {
		return DimOf(u)
	}
	return formula.Any
}

func (w *job) dim(id string) (formula.Dim, bool) { return w.nameDim(id), true }

// value is the value of a name in the unit that the working's numbers are in.
func (w *job) value(id string) (float64, bool) {
	v, ok := w.Names(id)
	return w.scale.fromStep(v, w.nameDim(id)), ok
}

// says is the value of working to two decimals of the unit, and in inches to
// four.
func (w *job) says(v, value float64) string {
	if w.unit.isInch() {
		return digitsUpTo(v, 4) + w.unit.beside(value)
	}
	return digitsUpTo(value, 2) + w.unit.suffix
}

// catalogueUnit is the unit of an id of the catalogue: an id has one unit
// wherever it stands.
func catalogueUnit(id string) (joint.Unit, bool) {
	for _, f := range joint.All() {
		for _, p := range f.Parameters {
			if p.ID == id {
				return p.Unit, true
			}
		}
		for _, q := range f.Quantities {
			if q.ID == id {
				return q.Unit, true
			}
		}
	}
	return "", false
}
