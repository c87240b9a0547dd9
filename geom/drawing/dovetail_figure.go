package drawing

import "arrisbook/geom/joint"

var dovetailFigureNames = []string{"tail-board", "tail", "flank", "pin-board", "section"}

// dovetailFigure draws one lesson figure: a view of the sheet with symbols and
// values.
func dovetailFigure(f *joint.Family, l joint.Layout, name string) (View, error) {
	g := newDovetail(l)
	s := Sheet{Given: labels(f, l)}
	draw := map[string]func(Sheet) sheetView{
		"tail-board": g.faceView, "tail": g.tailView, "flank": g.flankView, "pin-board": g.pinsView, "section": g.sectionView,
	}
	v := draw[name](s).View
	v.ID, v.Letter = "figure-"+name, ""
	return v, nil
}
