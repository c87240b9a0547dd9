package server

import (
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"maps"
	"net/url"
	"regexp"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"arrisbook/geom/joint"
	"arrisbook/grading"
	"arrisbook/server/store"
)

// numbersForm is what a student typed, step by step, with the key of the press.
type numbersForm struct {
	Key   string // uuid, "" when it is none
	Wood  int    // the measuring of the blank that the page showed; -1 when not told
	KeyNo int    // the assignment's key that it is judged by
	Paper bool   // typed in from paper by the staff
	Texts map[string]string
	// Gone are steps withdrawn meanwhile, with what a page of before still sent
	// for them: it counts for nothing, but tells one press from another.
	Gone [][2]string
}

// entryMost is the longest entry in characters. Working for the longest
// formula of the catalogue has less than half of it.
const entryMost = 200

// fieldOf is the name of a step's field.
func fieldOf(step string) string { return "n-" + step }

var uuidShape = regexp.MustCompile(`^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$`)

// parseNumbers reads the form. Texts are kept exactly as typed; what is not
// asked on the sheet is passed over.
func parseNumbers(v url.Values, sheet grading.Sheet) numbersForm {
	f := numbersForm{Wood: -1, Texts: make(map[string]string, len(sheet.Steps))}
	if key := strings.ToLower(v.Get("key")); uuidShape.MatchString(key) {
		f.Key = key
	}
	if n, err := strconv.Atoi(v.Get("wood")); err == nil && n >= 0 {
		f.Wood = n
	}
	for _, st := range sheet.Steps {
		f.Texts[st.ID] = v.Get(fieldOf(st.ID))
	}
	for _, id := range sheet.Withdrawn {
		f.Gone = append(f.Gone, [2]string{id, v.Get(fieldOf(id))})
	}
	return f
}

// empty says that nothing is filled in.
func (f numbersForm) empty() bool {
	for _, text := range f.Texts {
		if strings.TrimSpace(text) != "" {
			return false
		}
	}
	return true
}

// bodyHash names the numbers: the same texts on the same wood have the same
// hash, whatever else the form held.
func (f numbersForm) bodyHash() []byte {
	// Maps are written with sorted keys, so the text is canonical.
	texts := maps.Clone(f.Texts)
	for _, g := range f.Gone {
		texts[g[0]] = g[1]
	}
	text, err := json.Marshal(struct {
		Wood  int
		Texts map[string]string
	}{f.Wood, texts})
	if err != nil {
		panic(fmt.Sprint("server: texts cannot be written as JSON: ", err)) // strings always can
	}
	sum := sha256.Sum256(text)
	return sum[:]
}

// entry is how one text was understood.
type entry struct {
	Says  string // "24.2°"; "" when empty or not understood
	Fault string // why it was not understood
}

// readEntries understands the texts of a form exactly as the grader would.
func readEntries(ex *grading.Exercise, sheet grading.Sheet, texts map[string]string, units grading.Units) map[string]entry {
	out := make(map[string]entry, len(texts))
	readable := make(map[string]string, len(texts))
	for id, text := range texts {
		if fault := unreadableText(text); fault != "" {
			out[id] = entry{Fault: fault}
			continue
		}
		readable[id] = text
	}
	for _, r := range grading.Grade(ex, sheet, readable, units).Steps {
		switch {
		case r.Reading != nil:
			out[r.ID] = entry{Says: r.Reading.Says}
		case r.Verdict == grading.Unreadable:
			out[r.ID] = entry{Fault: r.Reason}
		}
	}
	return out
}

// saidIn are the readings of an attempt in words, by step. What is kept is the
// number that was understood; its words are made again from the text.
func saidIn(ex *grading.Exercise, a store.Attempt, units grading.Units) map[string]string {
	said := map[string]string{}
	for id, e := range readEntries(ex, a.Sheet, a.Answers, units) {
		said[id] = e.Says
	}
	return said
}

// unreadableText refuses what no number is written with, before anything looks
// at it: it could not be kept as typed.
func unreadableText(text string) string {
	switch {
	case utf8.RuneCountInString(text) > entryMost:
		return fmt.Sprintf("This is longer than %d signs. Write the number, or shorter working.", entryMost)
	case !utf8.ValidString(text) || strings.ContainsFunc(text, unicode.IsControl) || strings.ContainsRune(text, utf8.RuneError):
		return "There is a sign in this that cannot be read. Type the number again."
	}
	return ""
}

// faultsIn picks the entries that were not understood.
func faultsIn(entries map[string]entry) map[string]string {
	faults := map[string]string{}
	for id, e := range entries {
		if e.Fault != "" {
			faults[id] = e.Fault
		}
	}
	return faults
}

// unitWord is a unit as labels name it.
func unitWord(u joint.Unit, units grading.Units) string {
	switch {
	case u == joint.Deg:
		return "degrees"
	case u == joint.MM && units == grading.Inches:
		return "inches"
	case u == joint.MM:
		return "mm"
	case u == joint.MM2 && units == grading.Inches:
		return "square inches"
	case u == joint.MM2:
		return "mm²"
	}
	return "a plain number"
}
