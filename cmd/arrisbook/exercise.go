package main

import (
	"flag"
	"fmt"
	"os"

	"arrisbook/grading"
	"arrisbook/lessons"
)

// exercises are those that a command can speak of, by id.
type exercises struct {
	byID map[string]*grading.Exercise
	ids  []string // in teaching order
}

// lessonsFlag lets a command speak of the exercises of somebody's own modules.
func lessonsFlag(flags *flag.FlagSet) *string {
	return flags.String("lessons", "", "a `folder` of own lesson modules, whose exercises are known as well")
}

// exercisesIn gives the shipped exercises and, when a folder is named, those of
// its modules; of two with one id, the folder's.
func exercisesIn(folder string) (exercises, error) {
	library, err := lessons.Shipped()
	if err != nil {
		return exercises{}, fmt.Errorf("the shipped lessons: %w", err)
	}
	all := exercises{byID: map[string]*grading.Exercise{}}
	all.add(library)
	if folder == "" {
		return all, nil
	}
	if info, err := os.Stat(folder); err != nil {
		return exercises{}, err
	} else if !info.IsDir() {
		return exercises{}, fmt.Errorf("%s is not a folder", folder)
	}
	own, err := lessons.Load(os.DirFS(folder), library)
	if err != nil {
		return exercises{}, fmt.Errorf("the lessons in %s have faults:\n%w", folder, err)
	}
	all.add(own)
	return all, nil
}

func (e *exercises) add(library *lessons.Library) {
	for _, m := range library.Modules {
		for _, ex := range m.Exercises {
			if e.byID[ex.ID] == nil {
				e.ids = append(e.ids, ex.ID)
			}
			e.byID[ex.ID] = ex
		}
	}
}

// find finds an exercise, or says which one was probably meant.
func (e exercises) find(id string) (*grading.Exercise, error) {
	if ex, ok := e.byID[id]; ok {
		return ex, nil
	}
	return nil, fmt.Errorf("%s is not an exercise%s", id, meant(id, e.ids))
}
