package server

import (
	"fmt"
	"html/template"
	"strings"

	"arrisbook/geom/drawing"
	"arrisbook/geom/joint"
	"arrisbook/grading"
)

// shownView is a finished drawing on a page.
type shownView struct {
	SVG             template.HTML
	Letter, Caption string
}

// shownGiven is one size of a blank.
type shownGiven struct{ Name, Text string }

func shownViews(views []drawing.View) []shownView {
	shown := make([]shownView, len(views))
	for i, v := range views {
		// The writer of drawings escapes every text it is given.
		shown[i] = shownView{template.HTML(v.SVG()), v.Letter, v.Caption}
	}
	return shown
}

func shownGivens(ex *grading.Exercise, sheet grading.Sheet, units grading.Units) []shownGiven {
	var shown []shownGiven
	for _, g := range ex.Givens {
		if v, ok := sheet.Parameters[g.ID]; ok {
			shown = append(shown, shownGiven{g.Name, grading.Print(v, g.Unit, units)})
		}
	}
	return shown
}

// keyViews draws the student's own blank in its true shape with the right
// numbers: for the staff, who check the wood against it.
func keyViews(b benchCase) ([]shownView, error) {
	if !hasDrawing(b.exercise) {
		return []shownView{}, nil
	}
	sheet, units := b.sheet.Current(), unitsOf(b.class)
	show := drawing.Sheet{
		Blank: sheet.Parameters, Given: givenTexts(b.exercise, sheet, units), Answers: map[string]string{}, Plain: true,
		Method: drawing.Angle(b.class.Projection),
	}
	key := grading.Key(b.exercise, sheet.Parameters)
	for i, st := range sheet.Steps {
		step, _ := stepOf(b.exercise, st.ID)
		show.Asked = append(show.Asked, drawing.Balloon{Number: i + 1, Quantity: st.ID, Name: step.Name})
		if v, ok := key[st.ID]; ok {
			show.Answers[st.ID] = bare(grading.Print(v, step.Unit, units))
		}
	}
	views, err := drawing.SheetViews(b.exercise.Family, show)
	if err != nil {
		return nil, fmt.Errorf("draw sheet %d for the bench: %w", b.sheet.No, err)
	}
	return shownViews(views), nil
}

// hasFit says whether numbers were sent on this wood whose joint can be built
// and drawn.
func (b benchCase) hasFit() bool {
	last, sent := b.last()
	return sent && hasDrawing(b.exercise) && last.Wood == b.sheet.Wood && last.Result.Fit != nil
}

// fit draws how the last numbers would close, with figures.
func (b benchCase) fit() (*benchFit, error) {
	last, _ := b.last()
	fit, err := b.exercise.Family.Fit(last.Sheet.Parameters, submitted(last.Result))
	if err != nil {
		return nil, fmt.Errorf("fit of sheet %d: %w", b.sheet.No, err)
	}
	views, err := drawing.ReleasedFitViews(b.exercise.Family, last.Sheet.Parameters, fit)
	if err != nil {
		return nil, fmt.Errorf("draw the fit of sheet %d: %w", b.sheet.No, err)
	}
	var exact *float64
	if worst, ok := fit.Worst(); ok {
		exact = &worst.Value.Max
	}
	headline, _ := grading.FitSays(b.exercise.Family, grading.FitBands(b.exercise.Family, last.Result.Fit))
	shown := &benchFit{Headline: strings.TrimSuffix(headline, "."), Views: shownViews(views)}
	if hasGaps(b.exercise.Family) {
		shown.Rule = template.HTML(drawing.FitRule(fit.Word, exact).SVG())
	}
	return shown, nil
}

// submitted are the numbers of a result that could be read.
func submitted(r grading.Result) joint.Values {
	v := joint.Values{}
	for _, st := range r.Steps {
		if st.Reading != nil {
			v[st.ID] = st.Reading.Value
		}
	}
	return v
}
