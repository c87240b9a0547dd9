package server

import (
	"html/template"
	"strconv"
	"strings"

	"arrisbook/geom/drawing"
	"arrisbook/geom/joint"
	"arrisbook/grading"
)

// block is the title block of a student's sheet.
func (d desk) block() []BlockField {
	scale := "not to scale"
	if d.released() {
		scale = "true shape"
	}
	return []BlockField{
		{Label: "Title", Text: d.assignment.Title, Wide: true},
		{Label: "Student", Text: d.sheet.StudentName, Wide: true},
		{Label: "Class", Text: d.class.Name, Wide: true},
		{Label: "Sheet", Text: strconv.Itoa(d.sheet.No)},
		{Label: "Blank", Text: blankText(d.exercise, d.sheet.Current(), d.units())},
		{Label: "Unit", Text: lengthsWord(d.units()) + ", degrees"},
		{Label: "Scale", Text: scale},
		{Label: "Projection", Picture: projectionPicture(d.class.Projection)},
		{Label: "Date", Text: d.now.In(d.zone).Format("2 Jan 2006")},
	}
}

// blankText names a blank by the sizes of its wood: "26 × 60".
func blankText(ex *grading.Exercise, sheet grading.Sheet, units grading.Units) string {
	var sizes []string
	for _, p := range woodOf(ex) {
		if v, ok := sheet.Parameters[p.ID]; ok {
			sizes = append(sizes, bare(grading.Print(v, p.Unit, units)))
		}
	}
	return strings.Join(sizes, " × ")
}

// woodOf lists the givens that are sizes of the wood itself.
func woodOf(ex *grading.Exercise) []joint.Parameter {
	var wood []joint.Parameter
	for _, g := range ex.Givens {
		if g.Measured {
			wood = append(wood, g.Parameter)
		}
	}
	return wood
}

// bare leaves the unit of a length away: drawings and title blocks state it once.
func bare(text string) string {
	for _, unit := range []string{" mm", " in"} {
		text = strings.TrimSuffix(text, unit)
	}
	return text
}

func lengthsWord(u grading.Units) string {
	if u == grading.Inches {
		return "inches"
	}
	return "mm"
}

// projectionPicture is the symbol of a class's projection method.
func projectionPicture(method string) template.HTML {
	// The writer of drawings escapes every text it is given.
	return template.HTML(drawing.ProjectionSymbol(drawing.Angle(method)).SVG())
}
