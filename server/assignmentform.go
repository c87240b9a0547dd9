package server

import (
	"fmt"
	"net/url"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"arrisbook/grading"
	"arrisbook/server/store"
)

// termsForm are the terms of an assignment as typed, with what is wrong.
type termsForm struct {
	Due, Attempts, Release                string
	DueFault, AttemptsFault, ReleaseFault string
}

// assignmentForm is a new assignment as typed, with what is wrong.
type assignmentForm struct {
	Exercise, Title, Who, Opens         string
	Chosen                              map[int]bool // students, for Who "some"
	ExerciseFault, WhoFault, OpensFault string
	TitleFault                          string
	Terms                               termsForm
}

// assignmentPlan is a new assignment as understood.
type assignmentPlan struct {
	exercise *grading.Exercise
	title    string
	students []store.Student
	opens    time.Time
	terms    store.Terms
}

// attemptsMost is the largest number of attempts that can be set.
const attemptsMost = 99

// parseAssignment reads the form. students are those of the class, exercises
// what can be given out. ok is false when something is wrong.
func parseAssignment(v url.Values, students []store.Student, exercises []*grading.Exercise, zone *time.Location, now time.Time) (f assignmentForm, p assignmentPlan, ok bool) {
	f = assignmentForm{
		Exercise: v.Get("exercise"), Title: tidyName(v.Get("title")), Who: v.Get("who"), Opens: strings.TrimSpace(v.Get("opens")),
		Chosen: map[int]bool{},
	}
	for _, text := range v["student"] {
		if no, err := strconv.Atoi(text); err == nil {
			f.Chosen[no] = true
		}
	}
	p.exercise, f.ExerciseFault = chooseExercise(f.Exercise, exercises)
	p.title, f.TitleFault = titleOf(f.Title, p.exercise)
	p.students, f.WhoFault = chooseStudents(f.Who, f.Chosen, students)
	p.opens = now
	if f.Opens != "" {
		p.opens, f.OpensFault = parseWall(f.Opens, zone, theFirst)
	}
	var termsOK bool
	f.Terms, p.terms, termsOK = parseTerms(v, p.opens, zone)
	return f, p, termsOK && f.ExerciseFault == "" && f.TitleFault == "" && f.WhoFault == "" && f.OpensFault == ""
}

func chooseExercise(id string, exercises []*grading.Exercise) (*grading.Exercise, string) {
	for _, ex := range exercises {
		if ex.ID == id {
			return ex, ""
		}
	}
	return nil, "Choose one of the exercises."
}

// titleMost is the longest title in characters: it heads a phone's page.
const titleMost = 60

// titleOf is what students read over their sheets: the title typed, else the
// exercise's own.
func titleOf(typed string, ex *grading.Exercise) (title, fault string) {
	switch {
	case utf8.RuneCountInString(typed) > titleMost:
		return "", fmt.Sprintf("Keep the title under %d letters.", titleMost)
	case typed == "" && ex != nil:
		return ex.Title, ""
	}
	return typed, ""
}

func chooseStudents(who string, chosen map[int]bool, students []store.Student) ([]store.Student, string) {
	if len(students) == 0 {
		return nil, "There is nobody in the class yet. Put students on the roster first."
	}
	switch who {
	case "all":
		return students, ""
	case "some":
		var some []store.Student
		for _, st := range students {
			if chosen[st.No] {
				some = append(some, st)
			}
		}
		if len(some) == 0 {
			return nil, "Tick at least one student, or choose everybody."
		}
		return some, ""
	}
	return nil, "Choose everybody, or some."
}

// parseTerms reads what may also be changed later. opens is when the
// assignment begins.
func parseTerms(v url.Values, opens time.Time, zone *time.Location) (f termsForm, t store.Terms, ok bool) {
	f = termsForm{
		Due: strings.TrimSpace(v.Get("due")), Attempts: strings.TrimSpace(v.Get("attempts")), Release: v.Get("release"),
	}
	if f.Due != "" {
		// In the hour that comes twice the later one is meant: nobody loses time.
		due, fault := parseWall(f.Due, zone, theSecond)
		if fault == "" && !due.After(opens) {
			fault = "The due time has to come after the beginning."
		}
		t.DueAt, f.DueFault = &due, fault
	}
	t.Attempts, f.AttemptsFault = parseAttempts(f.Attempts)
	t.Release, f.ReleaseFault = parseRelease(f)
	return f, t, f.DueFault == "" && f.AttemptsFault == "" && f.ReleaseFault == ""
}

func parseAttempts(text string) (int, string) {
	if text == "" {
		return 0, ""
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < 0 || n > attemptsMost {
		return 0, fmt.Sprintf("Write a whole number from 0 to %d; 0 is as many as wanted.", attemptsMost)
	}
	return n, ""
}

func parseRelease(f termsForm) (release, fault string) {
	switch f.Release {
	case store.ReleaseByHand, store.ReleaseCleared:
		return f.Release, ""
	case store.ReleaseDue:
		if f.Due == "" {
			return "", "Set a due time, or release the key in another way."
		}
		return f.Release, ""
	}
	return "", "Choose when the key is released."
}

// termsFormOf fills the form from what is stored.
func termsFormOf(a store.Assignment, zone *time.Location) termsForm {
	f := termsForm{Attempts: strconv.Itoa(a.Attempts), Release: a.Release}
	if a.DueAt != nil {
		f.Due = wallForm(*a.DueAt, zone)
	}
	return f
}
