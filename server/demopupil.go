package server

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"

	"arrisbook/geom/joint"
	"arrisbook/grading"
)

// pupil is an invented student of the demo: how often a number comes right,
// which mistakes are made until somebody points them out, and how numbers are
// written. Every answer is worked out from the student's own blank.
type pupil struct {
	Name  string
	Care  float64           // share of numbers that come right at the first go
	Slips map[string]string // step → error pattern that is held on to
	Hand  hand
}

// hand is a way of writing numbers.
type hand int

const (
	plainHand   hand = iota // 14.5
	commaHand               // 14,5
	unitHand                // 14.5 mm, 20.9°
	minutesHand             // 20° 52′
)

// class18 is the demo's class. All names are invented.
var class18 = []pupil{
	{"Anouk Verrill", 0.92, nil, plainHand},
	{"Bastian Crowe", 0.80, map[string]string{"tip_depth": "tilt-ignored"}, plainHand},
	{"Céline Marsh", 0.95, nil, commaHand},
	{"Dario Finch", 0.60, map[string]string{"tip_depth": "tilt-ignored", "half_angle": "half-forgotten"}, plainHand},
	{"Elif Tanner", 0.85, map[string]string{"face_half_angle": "other-quantity"}, unitHand},
	{"Faolan Reed", 0.75, map[string]string{"shoulder_from_end": "allowance-forgotten", "tip_depth": "tilt-ignored"}, plainHand},
	{"Gwen Ashby", 0.97, nil, minutesHand},
	{"Henrik Stroud", 0.70, map[string]string{"back_shoulder_from_end": "sign-flipped", "face_half_angle": "other-quantity"}, commaHand},
	{"Ilse Karrow", 0.88, map[string]string{"tip_depth": "tilt-ignored"}, plainHand},
	{"Jamal Whitlow", 0.82, map[string]string{"cheek_tilt": "complement"}, unitHand},
	{"Käthe Brunn", 0.90, nil, commaHand},
	{"Lorcan Pryde", 0.65, map[string]string{"half_angle": "half-forgotten", "shoulder_from_end": "allowance-forgotten"}, plainHand},
	{"Mirela Stone", 0.86, map[string]string{"tip_depth": "tilt-ignored"}, plainHand},
	{"Noor Hadley", 0.93, map[string]string{"face_half_angle": "other-quantity"}, minutesHand},
	{"Oskar Thorne", 0.78, map[string]string{"mouth_far": "far-edge", "face_v_length": "tilt-ignored"}, plainHand},
	{"Paloma Dyce", 0.84, map[string]string{"tip_depth": "tilt-ignored"}, commaHand},
	{"Ragna Weir", 0.72, map[string]string{"back_shift": "factor-inverted", "mouth_near": "far-edge"}, plainHand},
	{"Søren Tull", 0.90, nil, unitHand},
}

// worker is a pupil at work on one sheet.
type worker struct {
	pupil pupil
	ex    *grading.Exercise
	sheet grading.Sheet
	key   joint.Values
	dice  *rand.Rand
	held  map[string]bool // slips not yet pointed out, by step
	texts map[string]string
}

func newWorker(p pupil, ex *grading.Exercise, sheet grading.Sheet, dice *rand.Rand) *worker {
	w := &worker{pupil: p, ex: ex, sheet: sheet, dice: dice,
		key: grading.Key(ex, sheet.Parameters), held: map[string]bool{}, texts: map[string]string{}}
	for _, st := range sheet.Steps {
		w.texts[st.ID] = ""
		w.held[st.ID] = p.Slips[st.ID] != ""
	}
	return w
}

// goOn fills in the next numbers and works those out again that were judged
// wrong. up is how many numbers may be filled in by now; insight is how likely
// a hint is understood.
func (w *worker) goOn(last *grading.Result, up int, insight float64) {
	for i, st := range w.sheet.Steps {
		switch {
		case i >= up:
		case w.texts[st.ID] == "":
			w.texts[st.ID] = w.answer(st.ID, w.pupil.Care)
		case last != nil && !fine(*last, st.ID):
			// The slip is seen through, or something else is tried. Who is stuck
			// is stuck on a slip of their own, not on every number.
			likely := insight
			if w.pupil.Slips[st.ID] == "" {
				likely = max(likely, 0.7)
			}
			seen := w.dice.Float64() < likely
			w.held[st.ID] = false
			care := 0.0
			if seen {
				care = 1
			}
			w.texts[st.ID] = w.answer(st.ID, care)
		}
	}
}

// fine says that a number was judged right or near.
func fine(r grading.Result, step string) bool {
	for _, st := range r.Steps {
		if st.ID == step {
			return st.Verdict == grading.Right || st.Verdict == grading.Near
		}
	}
	return false
}

// answer works one number out: by the slip that is held on to, by the right
// way, or with an error of arithmetic.
func (w *worker) answer(step string, care float64) string {
	value := w.key[step]
	if w.held[step] {
		if v, ok := w.slip(step, w.pupil.Slips[step]); ok {
			return w.write(v, step)
		}
	}
	if w.dice.Float64() > care {
		value = w.stumble(step, value)
	}
	return w.write(value, step)
}

// slip is what an error pattern gives on this blank. ok is false where it does
// not apply.
func (w *worker) slip(step, id string) (float64, bool) {
	for _, p := range grading.Patterns(w.ex, w.sheet, step) {
		if p.ID == id && (id != "other-quantity" || p.Detail == "half_angle") {
			return p.Value, true
		}
	}
	return 0, false
}

// usualSlips are the patterns that a stumble is drawn from.
var usualSlips = []string{
	"complement", "half", "double", "half-forgotten", "far-edge", "wrong-function", "ratio-inverted",
	"factor-inverted", "tilt-ignored", "allowance-forgotten", "sign-flipped", "radian-mode",
}

// stumble is a usual slip, or a digit added up wrongly. Nobody writes a number
// that the eye refuses: one below nothing, or many times too long.
func (w *worker) stumble(step string, key float64) float64 {
	all := grading.Patterns(w.ex, w.sheet, step)
	all = slices.DeleteFunc(all, func(p grading.Pattern) bool {
		return p.Harmless || !slices.Contains(usualSlips, p.ID) || p.Value < key/3 || p.Value > 3*key
	})
	// Whoever has a slip of their own on a number falls from one into another.
	if len(all) > 0 && (w.pupil.Slips[step] != "" || w.dice.IntN(4) > 0) {
		return all[w.dice.IntN(len(all))].Value
	}
	return key + float64(1+w.dice.IntN(9))*[2]float64{0.5, -0.5}[w.dice.IntN(2)]
}

// write puts a number down to one decimal in the pupil's hand.
func (w *worker) write(v float64, step string) string {
	st, _ := stepOf(w.ex, step)
	text := strconv.FormatFloat(v, 'f', 1, 64)
	switch {
	case w.pupil.Hand == commaHand:
		return strings.Replace(text, ".", ",", 1)
	case w.pupil.Hand == unitHand && st.Unit == joint.Deg:
		return text + "°"
	case w.pupil.Hand == unitHand:
		return text + " mm"
	case w.pupil.Hand == minutesHand && st.Unit == joint.Deg && v >= 0:
		minutes := int(v*60 + 0.5)
		return fmt.Sprintf("%d° %d′", minutes/60, minutes%60)
	}
	return text
}
