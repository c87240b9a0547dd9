package skills

import (
	"fmt"
	"math"

	"arrisbook/grading"
)

// HalfLife is how many weeks it takes until an answer weighs half as much.
const HalfLife = 6

// shownFrom is the chance from which a skill is shown.
const shownFrom = 0.75

// Sign is a student's first answer to one asked number.
type Sign struct {
	Skill string
	Score float64 // 0 to 1, see ScoreOf
	Days  int     // how old it is, in full days
}

// ScoreOf says what a verdict counts; ok is false for one that counts nothing,
// because no number was read.
func ScoreOf(v grading.Verdict) (score float64, ok bool) {
	switch v {
	case grading.Right, grading.Follows:
		return 1, true
	case grading.Near:
		return 0.5, true
	case grading.Wrong:
		return 0, true
	}
	return 0, false
}

// State is how a skill stands, in the words that people read.
type State string

// The states.
const (
	NotTried State = "not tried"
	InWork   State = "in work"
	Faded    State = "faded"
	Shown    State = "shown"
)

// Level is how one skill stands.
type Level struct {
	Answers int     // that count
	Score   float64 // their sum, not weighed
	Right   float64 // the weighed sum of what was right
	Weight  float64 // the weighed number of answers
	Chance  float64 // that the next first answer is right, 0 to 1
	State   State
}

// Levels weighs a student's answers by skill. A skill without answers is not in
// it; its zero Level.State is "" and means NotTried.
func Levels(signs []Sign) map[string]Level {
	levels := map[string]Level{}
	for _, s := range signs {
		l := levels[s.Skill]
		w := math.Exp2(-float64(max(0, s.Days)) / (7 * HalfLife))
		l.Answers++
		l.Score += s.Score
		l.Right += float64(w * s.Score)
		l.Weight += w
		levels[s.Skill] = l
	}
	for id, l := range levels {
		l.Chance = succession(l.Right, l.Weight)
		l.State = InWork
		switch {
		case l.Chance >= shownFrom:
			l.State = Shown
		case succession(l.Score, float64(l.Answers)) >= shownFrom:
			l.State = Faded
		}
		levels[id] = l
	}
	return levels
}

// succession is Laplace's rule.
func succession(right, n float64) float64 { return (right + 1) / (n + 2) }

// state is the state of a skill that may have no answers.
func state(l Level) State {
	if l.Answers == 0 {
		return NotTried
	}
	return l.State
}

// Says tells why a skill stands as it does, in one or two sentences.
func (l Level) Says() string {
	if l.Answers == 0 {
		return "No answer yet."
	}
	noun := "first answers"
	if l.Answers == 1 {
		noun = "first answer"
	}
	says := fmt.Sprintf("%s right of %d %s.", plain(l.Score), l.Answers, noun)
	if l.Weight < 0.95*float64(l.Answers) {
		says += fmt.Sprintf(" Older ones weigh less: %s of %s.", plain(l.Right), plain(l.Weight))
	}
	return says
}

// plain writes a count with one decimal where it is not whole.
func plain(v float64) string {
	if v == math.Round(v) {
		return fmt.Sprintf("%.0f", v)
	}
	return fmt.Sprintf("%.1f", v)
}
