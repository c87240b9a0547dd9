package server

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"sync"

	"arrisbook/geom/joint"
	"arrisbook/grading"
	"arrisbook/server/store"
)

// exerciseShelf keeps exercises as they were first given out. A version is
// never changed, so what is built from it once is good for ever.
type exerciseShelf struct{ built sync.Map } // exerciseKey → *grading.Exercise

type exerciseKey struct {
	id      string
	version int
	// class, assignment and key are 0 for the version as given out, else they
	// name a key that was made for one assignment later.
	class           int64
	assignment, key int
}

// exerciseOf gives the exercise of an assignment in the version that was given
// out, or as its newest key has it, whatever the lesson says by now.
func (s *server) exerciseOf(ctx context.Context, a store.Assignment) (*grading.Exercise, error) {
	key := exerciseKey{id: a.Exercise, version: a.Version}
	if a.KeyNo > 0 {
		key.class, key.assignment, key.key = a.ClassID, a.No, a.KeyNo
	}
	if ex, ok := s.shelf.built.Load(key); ok {
		return ex.(*grading.Exercise), nil
	}
	spec, err := s.specOf(ctx, a)
	if err != nil {
		return nil, err
	}
	return s.shelve(key, spec)
}

// specOf reads an assignment's exercise as written down under its key.
func (s *server) specOf(ctx context.Context, a store.Assignment) ([]byte, error) {
	if a.KeyNo == 0 {
		return s.store.ExerciseSpec(ctx, a.Exercise, a.Version)
	}
	k, err := s.store.Key(ctx, a.ClassID, a.No, a.KeyNo)
	return k.Spec, err
}

// keepExercise writes an exercise down before it is given out, and gives it as
// it is written down. Where a lesson was changed without a new version number,
// that is the older text, and the log says so.
func (s *server) keepExercise(ctx context.Context, ex *grading.Exercise) (*grading.Exercise, error) {
	spec, err := json.Marshal(writtenOut(ex))
	if err != nil {
		return nil, fmt.Errorf("write down exercise %s: %w", ex.ID, err)
	}
	kept, err := s.store.KeepExercise(ctx, ex.ID, ex.Version, spec)
	if err != nil {
		return nil, err
	}
	out, err := s.shelve(exerciseKey{id: ex.ID, version: ex.Version}, kept)
	if err != nil {
		return nil, err
	}
	if again, err := json.Marshal(out.Spec()); err == nil && string(again) != string(spec) {
		s.log.Warn("an exercise was changed without a new version: the version given out before is used", "exercise", ex.ID, "version", ex.Version)
	}
	return out, nil
}

// writtenOut is an exercise with nothing left to the catalogue: names, units
// and formulas stand in it as they are today, so that a program that teaches
// another formula tomorrow still judges old sheets by the old one.
func writtenOut(ex *grading.Exercise) grading.Spec {
	spec := ex.Spec()
	tolerances := map[string]string{}
	for _, st := range spec.Steps {
		tolerances[st.ID] = st.Tolerance
	}
	spec.Steps = make([]grading.StepSpec, len(ex.Steps))
	for i, st := range ex.Steps {
		spec.Steps[i] = grading.StepSpec{
			ID: st.ID, Name: st.Name, Symbol: st.Symbol, Unit: string(st.Unit), From: st.From,
			Formula: st.Formula.String(), Carries: st.Carries, Alone: len(st.Carries) == 0, Across: st.Across,
			Tolerance: tolerances[st.ID], Skill: st.Skill, View: st.View, Hints: st.Hints, Explain: st.Explain,
		}
		if st.Follow.Root() != nil {
			spec.Steps[i].Follow = st.Follow.String()
		}
	}
	return spec
}

// shelve builds an exercise from its written form and keeps it.
func (s *server) shelve(key exerciseKey, text []byte) (*grading.Exercise, error) {
	var spec grading.Spec
	if err := json.Unmarshal(text, &spec); err != nil {
		return nil, fmt.Errorf("read exercise %s, version %d: %w", key.id, key.version, err)
	}
	ex, faults := grading.NewExercise(spec)
	if len(faults) > 0 {
		all := make([]error, len(faults))
		for i, f := range faults {
			all[i] = f
		}
		return nil, fmt.Errorf("build exercise %s, version %d: %w", key.id, key.version, errors.Join(all...))
	}
	s.shelf.built.Store(key, ex)
	return ex, nil
}

// shopOf is what a class's room allows.
func shopOf(c store.Class) grading.Shop {
	shop := grading.ShopFor(unitsOf(c))
	shop.LengthStep, shop.AngleStep = c.LengthStep, c.AngleStep
	if w, ok := joint.ParseWord(c.FitWord); ok {
		shop.Word = w
	}
	return shop
}

// unitsOf is how a class writes lengths.
func unitsOf(c store.Class) grading.Units { return grading.Units(c.Units) }

// stepsOf gives the steps that a sheet asks, in its order.
func stepsOf(ex *grading.Exercise, sheet grading.Sheet) []grading.Step {
	steps := make([]grading.Step, len(sheet.Steps))
	for i, st := range sheet.Steps {
		steps[i], _ = stepOf(ex, st.ID)
	}
	return steps
}
