package drawing

import (
	"slices"

	"arrisbook/geom/joint"
)

// View is one finished view: a display list with its own title and
// description for people who hear the page.
type View struct {
	// ID is unique among the views of one sheet ("head", "joined", "neck").
	// It names the view's title and description in the SVG, so set another
	// one before calling SVG where the same view stands twice on a page. A
	// small view without an ID carries its title as a label.
	ID      string
	Letter  string // "A", "B", "C"; empty where a view needs no letter
	Caption string
	Title   string
	Desc    string // givens and what is asked; never an answer
	// W and H are in units of a quarter millimetre of paper, which are also
	// CSS pixels where the view is shown [Width] pixels wide.
	W, H float64

	class string // a further class of the SVG, "" for a view of full width
	items []item
}

// Numbers lists the numbers that have a balloon in the view, smallest
// first.
func (v View) Numbers() []int {
	var ns []int
	for _, i := range v.items {
		if d, ok := i.(disc); ok {
			ns = append(ns, d.Number)
		}
	}
	slices.Sort(ns)
	return ns
}

// Width is the width of every full view: 354 units are a phone's 354 CSS
// pixels, and 88.5 mm on paper. Lettering is 13 units and more.
const Width = 354

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
	// Given are the dimension texts by parameter id, as the class prints
	// them, best without the unit: the title block states it once.
	Given map[string]string
	// Asked are the balloons.
	Asked []Balloon
	// Answers, after release, are texts shown at the asked quantities'
	// dimensions, by quantity id.
	Answers map[string]string
	// Method is the sheet's projection method. Each view is a figure of its
	// own, named by letter and arrow, so it decides the symbol in the title
	// block and nothing inside a view.
	Method Angle
	// Plain draws balloons without links: on paper, and where the fields
	// they would lead to are not on the page.
	Plain bool
}

// Gap is one mating face of a fit picture, told by band only.
type Gap struct {
	Consequence string
	Least, Most joint.Word
	// Negative says that the consequence is below zero, as of a piece that
	// will not enter or a step the other way: Least and Most are then the
	// words of its size.
	Negative bool
	// Touches says that the wood touches where the gap is least. Least being
	// tight does not say so: a tight gap may still be a gap.
	Touches bool
	// LeastAt and MostAt say where on the face the gap is least and most, in
	// words such as "face", "back mouth", "tip"; empty where it is the same
	// all over.
	LeastAt, MostAt string
}
