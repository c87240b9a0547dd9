package grading

import (
	"strings"
	"unicode"

	"arrisbook/geom/joint"
)

// The hints. Each says what the number is ("This is the number you get if …")
// and asks a question. None holds a figure, and none names the right way: the
// question sends the reader back to the wood or the drawing.

// wording is what a hint may speak of.
type wording struct {
	about string // the name of the measure it is about, "" when none
	angle bool   // an angle is asked
}

const getIf = "This is the number you get if "

// hint gives the sentence for a slip on a step: the exercise's own where it
// has one.
func (q subject) hint(k patternKind, v variant) string {
	return q.d.hint(k.id, v.detail, k.says(wording{about: q.ex.nameOf(v.about), angle: q.d.unit == joint.Deg}))
}

func ownSays(p OwnPattern) string {
	if p.Hint == "" {
		return p.Says
	}
	if p.Says == "" {
		return p.Hint
	}
	return p.Says + " " + p.Hint
}

// nameOf gives the name of a given or a quantity inside a sentence: "the head
// angle", "the V width".
func (ex *Exercise) nameOf(id string) string {
	if id == "" {
		return ""
	}
	name := strings.ReplaceAll(id, "_", " ")
	for _, p := range ex.parameters() {
		if p.ID == id && p.Name != "" {
			name = p.Name
		}
	}
	if ex.Family != nil {
		for _, q := range ex.Family.Quantities {
			if q.ID == id && q.Name != "" {
				name = q.Name
			}
		}
	}
	for _, s := range ex.Steps {
		if s.ID == id && s.Name != "" {
			name = s.Name
		}
	}
	return "the " + midSentence(name)
}

// midSentence takes the capital off a name's first word, unless the word is a
// letter's name ("V width").
func midSentence(name string) string {
	r := []rune(name)
	if len(r) > 1 && unicode.IsUpper(r[0]) && unicode.IsLower(r[1]) {
		r[0] = unicode.ToLower(r[0])
	}
	return string(r)
}

func saysComplement(wording) string {
	return getIf + "the angle is taken against the other line of the square. From which line is it measured here?"
}

func saysSupplement(wording) string {
	return getIf + "the angle on the other side of the line is read. Is this corner sharp or blunt?"
}

func saysFarEdge(wording) string {
	return getIf + "the measure is taken from the other edge. Which edge carries the mark?"
}

func saysOtherQuantity(w wording) string {
	return getIf + w.about + " is worked out. Is that what this number asks for?"
}

func saysDouble(wording) string {
	return getIf + "it is counted twice over. From where to where does it reach?"
}

func saysHalf(wording) string {
	return getIf + "only half of it is counted. From where to where does it reach?"
}

func saysInchesAsMM(wording) string {
	return getIf + "a length in inches is written down as millimetres. Which unit stands beside this field?"
}

func saysMMAsInches(wording) string {
	return getIf + "a length in millimetres is written down as inches. Which unit stands beside this field?"
}

func saysRadians(wording) string {
	return getIf + "the angle stays in radians. What does your calculator show for the angle whose tangent is one?"
}

func saysDecimalShift(w wording) string {
	if w.angle {
		return getIf + "the decimal point slips by one place. Hold a bevel to that angle: does it look like the joint?"
	}
	return getIf + "the decimal point slips by one place. Show that length between two fingers: does it look like the joint?"
}

func saysRuleFromOne(wording) string {
	return getIf + "the rule is held at its first numbered mark. Where does your rule begin?"
}

func saysHalfForgotten(wording) string {
	return getIf + "something is taken whole. Does your triangle reach from side to side, or from the middle to one side?"
}

func saysTiltIgnored(w wording) string {
	return getIf + w.about + " is taken as nothing. Would this be the same on a joint without it?"
}

func saysAllowanceForgotten(w wording) string {
	return getIf + w.about + " is left out. What did the blank give you besides the joint's own sizes?"
}

func saysAllowanceSubtracted(w wording) string {
	return getIf + w.about + " goes the other way. Does it leave wood standing, or take it off?"
}

func saysRatioInverted(wording) string {
	return getIf + "two numbers of a ratio change places. Which of them lies across from the angle, which along it?"
}

func saysInverseMissing(wording) string {
	return getIf + "you stop at the ratio. Is a ratio asked, or an angle?"
}

func saysFactorInverted(wording) string {
	return getIf + "a multiplying and a dividing change places. Should it come out larger or smaller than the measure you began with?"
}

func saysWrongFunction(wording) string {
	return getIf + "another function of the angle is used. Which two sides of the triangle do you have, and which of them is the longest?"
}

func saysSignFlipped(wording) string {
	return getIf + "a plus and a minus change places. Which way does this move, and on from where?"
}

func saysWrongMeasure(w wording) string {
	return getIf + w.about + " goes in. Is that the measure this number rests on?"
}

func saysOneSided(wording) string {
	return getIf + "one side is counted where both belong, or both where one does. How many sides does this reach over?"
}

func saysHalvedTwice(wording) string {
	return getIf + "the half is taken twice. Was the measure you began with a half already?"
}

func saysSlopeForRun(wording) string {
	return getIf + "a length along a slope and a length along its run change places. Which line is this measured along?"
}

func saysSlopesCombined(wording) string {
	return getIf + "two slopes are put together in a way that belongs to other slopes. Draw them from above: which line leans both ways?"
}

func saysAddedForMultiplied(wording) string {
	return getIf + "one number is added to another, or taken from it. Are these two of a kind that can be added?"
}

func saysRadianMode(wording) string {
	return getIf + "the calculator is set to radians. What does it show for the sine of a right angle?"
}

func saysRoundedEarly(wording) string {
	return getIf + "a number is rounded to a whole one on the way. Where did you round?"
}

const saysDigitsSwapped = getIf + "two digits change places. Is it written here as it stands on your paper?"

// Unexplained is what a page says of a wrong number that no slip gives.
const Unexplained = "No known slip gives this number. Which measures did you begin with, and what did you do first?"
