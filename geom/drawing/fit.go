package drawing

import "arrisbook/geom/joint"

type fitDrawing struct{}

func headVFit(l joint.Layout, w fitDrawing) []View { return nil }

// FitViews draws how submitted numbers would close, from the house blank,
// with gaps drawn by band: before the key is released, equal bands give equal
// bytes whatever the numbers were.
func FitViews(f *joint.Family, gaps []Gap) ([]View, error) {
	p, l, err := paint(f, f.House)
	if err != nil {
		return nil, err
	}
	return p.fit(l, fitDrawing{}), nil
}

// ReleasedFitViews draws how submitted numbers close on the student's own
// blank, after the key is released: with figures, gaps drawn larger than they
// are by a stated factor.
func ReleasedFitViews(f *joint.Family, blank joint.Values, fit joint.Fit) ([]View, error) {
	p, l, err := paint(f, blank)
	if err != nil {
		return nil, err
	}
	return p.fit(l, fitDrawing{}), nil
}

// FitRule is the rule of the fit words.
func FitRule(word joint.Word, exact *float64) View { return View{ID: "fit-rule", W: Width, H: 60} }

// IntervalStrip shows a share and its interval.
func IntervalStrip(lo, hi, dot float64, label string) View {
	return View{ID: "share", Title: label, W: 200, H: 24}
}
