package joint

import "arrisbook/geom"

// Part is one piece of wood as it lies in the assembled joint, in convex
// pieces that touch but do not overlap.
type Part struct {
	Name   string // "neck", "head"
	Pieces []geom.Solid
}

// Pieces are the parts as they should be, in assembled pose. The error is an
// *IDError as for Layout, or a *TroubleError where the parts cannot be made.
func (f *Family) Pieces(parameters Values) ([]Part, error) {
	return f.MadePieces(parameters, nil)
}

// MadePieces are the parts as the submitted numbers would make them, put
// together as [Family.Fit] does. Errors as for Pieces.
func (f *Family) MadePieces(parameters, submitted Values) ([]Part, error) {
	b, err := f.Prepare(parameters)
	if err != nil {
		return nil, err
	}
	fit, err := b.Fit(submitted)
	if err != nil {
		return nil, err
	}
	if fit.Trouble != "" {
		return nil, &TroubleError{Says: fit.Trouble}
	}
	parts, trouble := f.parts(b.layout.Parameters, b.asSubmitted(submitted))
	if trouble != "" {
		return nil, &TroubleError{Says: trouble}
	}
	return parts, nil
}

// TroubleError says in a sentence why parts cannot be made from numbers.
type TroubleError struct{ Says string }

func (e *TroubleError) Error() string { return e.Says }
