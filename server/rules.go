package server

import (
	"context"
	"slices"

	"arrisbook/grading"
	"arrisbook/server/store"
)

// rules are what an assignment is judged by: its exercise as the key has it,
// and what the instructor set beyond that.
type rules struct {
	no         int               // of the key; 0: as given out
	exercise   *grading.Exercise // as the key has it
	given      *grading.Exercise // as given out
	tolerances map[string]float64
	withdrawn  []string
}

// rulesOf gives the rules of an assignment's newest key.
func (s *server) rulesOf(ctx context.Context, a store.Assignment) (rules, error) {
	return s.rulesUnder(ctx, a, a.KeyNo)
}

// rulesUnder gives the rules of one key of an assignment.
func (s *server) rulesUnder(ctx context.Context, a store.Assignment, key int) (rules, error) {
	r := rules{no: key, tolerances: map[string]float64{}, withdrawn: []string{}}
	var err error
	a.KeyNo = 0
	if r.given, err = s.exerciseOf(ctx, a); err != nil {
		return r, err
	}
	r.exercise = r.given
	if key == 0 {
		return r, nil
	}
	k, err := s.store.Key(ctx, a.ClassID, a.No, key)
	if err != nil {
		return r, err
	}
	if k.Tolerances != nil {
		r.tolerances = k.Tolerances
	}
	if k.Withdrawn != nil {
		r.withdrawn = k.Withdrawn
	}
	a.KeyNo = key
	r.exercise, err = s.exerciseOf(ctx, a)
	return r, err
}

// sheet puts the rules on a sheet that has the class's own tolerances; nil
// where they change nothing of it.
func (r rules) sheet(plain grading.Sheet, shop grading.Shop) (*grading.Sheet, error) {
	if r.no == 0 {
		return nil, nil
	}
	out, err := r.reformed(plain, shop)
	if err != nil {
		return nil, err
	}
	if out, err = grading.Override(r.exercise, out, r.tolerances, shop); err != nil {
		return nil, err
	}
	out = grading.Withdraw(out, r.withdrawn)
	return &out, nil
}

// putRulesOn puts an assignment's key on sheets that are about to be given out.
func (s *server) putRulesOn(ctx context.Context, class store.Class, a store.Assignment, sheets []store.NewSheet) error {
	r, err := s.rulesOf(ctx, a)
	if err != nil {
		return err
	}
	for i := range sheets {
		if sheets[i].Keyed, err = r.sheet(sheets[i].Sheet, shopOf(class)); err != nil {
			return err
		}
	}
	return nil
}

// reformed gives the sheet with the steps whose formula was put right made
// anew; the others keep their tolerances and reasons.
func (r rules) reformed(plain grading.Sheet, shop grading.Shop) (grading.Sheet, error) {
	if !slices.ContainsFunc(r.exercise.Steps, r.corrected) {
		return plain, nil
	}
	fresh, err := grading.OnBlank(r.exercise, plain.Parameters, shop)
	if err != nil {
		return fresh, err
	}
	fresh.Seed = plain.Seed
	for i, st := range fresh.Steps {
		step, _ := stepOf(r.exercise, st.ID)
		was := slices.IndexFunc(plain.Steps, func(o grading.SheetStep) bool { return o.ID == st.ID })
		if was >= 0 && !r.corrected(step) {
			fresh.Steps[i].Tolerance, fresh.Steps[i].Why = plain.Steps[was].Tolerance, plain.Steps[was].Why
		}
	}
	return fresh, nil
}

// corrected says that a step's formula is another than the one given out.
func (r rules) corrected(step grading.Step) bool {
	was, ok := stepOf(r.given, step.ID)
	return !ok || was.Formula.String() != step.Formula.String()
}
