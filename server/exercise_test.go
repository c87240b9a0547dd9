package server

import (
	"encoding/json"
	"errors"
	"reflect"
	"strings"
	"testing"

	"arrisbook/grading"
	"arrisbook/lessons"
	"arrisbook/server/store"
)

// An exercise that was written down and read back hands out the same sheets
// and judges answers alike, and nothing of it is left to the catalogue.
func TestWrittenOut(t *testing.T) {
	t.Parallel()
	lib, err := lessons.Shipped()
	if err != nil {
		t.Fatal(err)
	}
	s := &server{}
	for _, m := range lib.Modules {
		for _, ex := range m.Exercises {
			text, err := json.Marshal(writtenOut(ex))
			if err != nil {
				t.Fatal(err)
			}
			again, err := s.shelve(exerciseKey{id: ex.ID, version: ex.Version}, text)
			if err != nil {
				t.Fatalf("%s: %v", ex.ID, err)
			}
			for _, st := range writtenOut(ex).Steps {
				if st.Formula == "" || st.Name == "" || st.Unit == "" {
					t.Errorf("%s: step %s is not written out: %+v", ex.ID, st.ID, st)
				}
			}
			sameWork(t, ex, again)
		}
	}
}

func sameWork(t *testing.T, ex, again *grading.Exercise) {
	t.Helper()
	for _, units := range []grading.Units{grading.Millimetres, grading.Inches} {
		for seed := range uint64(5) {
			a, errA := grading.Generate(ex, seed, grading.ShopFor(units))
			b, errB := grading.Generate(again, seed, grading.ShopFor(units))
			if errA != nil || errB != nil || !reflect.DeepEqual(a, b) {
				t.Fatalf("%s, seed %d: %v %v, or another sheet", ex.ID, seed, errA, errB)
			}
			answers := map[string]string{}
			for i, st := range a.Steps {
				answers[st.ID] = []string{"12", "14.5", "90", "1/2", "3.3"}[i%5]
			}
			if !reflect.DeepEqual(grading.Grade(ex, a, answers, units), grading.Grade(again, a, answers, units)) {
				t.Errorf("%s, seed %d: judged differently", ex.ID, seed)
			}
		}
	}
}

// A lesson that changes without a new version number does not change what was
// given out.
func TestVersionsStay(t *testing.T) {
	t.Parallel()
	h := startServer(t, withLessons(t))
	shipped, _ := h.Server.cfg.Lessons.Exercise("head-v-joint-first")
	first, err := h.Server.keepExercise(t.Context(), shipped)
	if err != nil {
		t.Fatal(err)
	}
	spec := shipped.Spec()
	spec.Title = "Quite another title"
	changed, faults := grading.NewExercise(spec)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	second, err := h.Server.keepExercise(t.Context(), changed)
	if err != nil {
		t.Fatal(err)
	}
	if second.Title != first.Title {
		t.Errorf("kept title = %q, want %q", second.Title, first.Title)
	}
	if !strings.Contains(h.Log.String(), "changed without a new version") {
		t.Error("the log does not say that the lesson changed")
	}
	h.Server.shelf.built.Clear() // as after a restart
	loaded, err := h.Server.exerciseOf(t.Context(), store.Assignment{Exercise: shipped.ID, Version: shipped.Version})
	if err != nil || loaded.Title != first.Title {
		t.Errorf("exerciseOf = %v, %v, want the first version", loaded, err)
	}
}

// Blanks of one assignment are all different; an exercise with too few of them
// is refused and does not run for ever.
func TestIssue(t *testing.T) {
	t.Parallel()
	lib, err := lessons.Shipped()
	if err != nil {
		t.Fatal(err)
	}
	ex, _ := lib.Exercise("head-v-joint-first")
	students := make([]store.Student, 40)
	for i := range students {
		students[i].No = i + 1
	}
	seed := uint64(0)
	// Every seed comes twice, so every second draw is somebody's already.
	next := func() uint64 { seed++; return seed / 2 }
	sheets, err := issue(ex, students, nil, grading.DefaultShop(), next)
	if err != nil || len(sheets) != 40 {
		t.Fatalf("issue = %d sheets, %v, want 40", len(sheets), err)
	}
	for i, a := range sheets {
		for _, b := range sheets[:i] {
			if reflect.DeepEqual(a.Sheet.Parameters, b.Sheet.Parameters) {
				t.Errorf("students %d and %d have one blank", a.StudentNo, b.StudentNo)
			}
		}
	}
	_, err = issue(ex, students, nil, grading.DefaultShop(), func() uint64 { return 7 })
	if !errors.Is(err, errTooFewBlanks) {
		t.Errorf("issue with one blank = %v, want %v", err, errTooFewBlanks)
	}
}
