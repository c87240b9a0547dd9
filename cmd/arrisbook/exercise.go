package main

import (
	"fmt"

	"arrisbook/grading"
	"arrisbook/lessons"
)

// exercises are the exercises of the shipped lessons, by id.
type exercises struct {
	byID map[string]*grading.Exercise
	ids  []string // in teaching order
}

func shippedExercises() (exercises, error) {
	library, err := lessons.Shipped()
	if err != nil {
		return exercises{}, fmt.Errorf("the shipped lessons: %w", err)
	}
	all := exercises{byID: map[string]*grading.Exercise{}}
	for _, m := range library.Modules {
		for _, ex := range m.Exercises {
			all.byID[ex.ID] = ex
			all.ids = append(all.ids, ex.ID)
		}
	}
	return all, nil
}

// find finds an exercise, or says which one was probably meant.
func (e exercises) find(id string) (*grading.Exercise, error) {
	if ex, ok := e.byID[id]; ok {
		return ex, nil
	}
	return nil, fmt.Errorf("%s is not an exercise%s", id, meant(id, e.ids))
}
