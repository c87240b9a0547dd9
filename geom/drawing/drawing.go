package drawing

import "arrisbook/geom/joint"

// View is one finished view: a display list with its own title and
// description for people who hear the page.
type View struct {
	ID      string // "head", "joined", "neck"
	Letter  string // "A", "B", "C"
	Caption string
	Title   string
	Desc    string // givens and what is asked; never an answer
	W, H    float64
	items   []item
}

type item interface{ item() }

// Balloon ties an asked number to its field.
type Balloon struct {
	Number   int
	Quantity string // the quantity's id: says where the balloon goes
	Name     string // for its link's label
	Next     bool   // drawn with a double ring
}

// Angle is the projection method.
type Angle string

// The two methods of ISO 5456-2.
const (
	FirstAngle Angle = "first"
	ThirdAngle Angle = "third"
)

// Sheet says what the views of a sheet show.
type Sheet struct {
	// Blank is the blank to draw: the family's house blank before the key is
	// released, the student's own afterwards.
	Blank joint.Values
	// Given are the dimension texts by parameter id, as the class prints them.
	Given map[string]string
	// Asked are the balloons.
	Asked []Balloon
	// Answers, after release, are texts shown at quantities' dimensions.
	Answers map[string]string
	Method  Angle
}

// SheetViews draws the views of a family's sheet in reading order.
func SheetViews(f *joint.Family, s Sheet) ([]View, error) { panic("unwritten") }

// Gap is one mating face of a fit picture, told by band only.
type Gap struct {
	Consequence string
	Least, Most joint.Word
}

// FitViews draws how submitted numbers would close, from the house blank,
// with gaps drawn by band: before the key is released, equal bands give equal
// bytes whatever the numbers were.
func FitViews(f *joint.Family, gaps []Gap) ([]View, error) { panic("unwritten") }

// SVG writes the view as one <svg> element. Links go to "#n<number>" and
// balloons carry the id "d<number>"; classes carry the line types so that the
// page's style sheet colours them. No style attribute and no script.
func (v View) SVG() string { panic("unwritten") }

// ProjectionSymbol is the truncated cone of ISO 5456-2.
func ProjectionSymbol(m Angle) View { panic("unwritten") }
