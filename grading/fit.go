package grading

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"strings"

	"arrisbook/geom/joint"
)

// FitResult is how the numbers would close at the bench. Steps not answered
// (or unreadable) are taken as correct.
type FitResult struct {
	Consequences map[string]any `json:"consequences"` // float64 or joint.Spread
	Word         string         `json:"fit"`
}

// NewFitResult is a fit as it is stored and printed.
func NewFitResult(f joint.Fit) *FitResult {
	out := &FitResult{Consequences: make(map[string]any, len(f.Outcomes)), Word: f.Word.String()}
	for _, o := range f.Outcomes {
		if o.Spread {
			out.Consequences[o.ID] = o.Value
		} else {
			out.Consequences[o.ID] = o.Value.Min
		}
	}
	return out
}

// UnmarshalJSON reads a stored fit back with the types it was written from.
func (f *FitResult) UnmarshalJSON(data []byte) error {
	var raw struct {
		Consequences map[string]json.RawMessage `json:"consequences"`
		Word         string                     `json:"fit"`
	}
	if err := json.Unmarshal(data, &raw); err != nil {
		return fmt.Errorf("reading a stored fit: %w", err)
	}
	f.Word, f.Consequences = raw.Word, make(map[string]any, len(raw.Consequences))
	for id, text := range raw.Consequences {
		if bytes.HasPrefix(text, []byte("{")) {
			var s joint.Spread
			if err := json.Unmarshal(text, &s); err != nil {
				return fmt.Errorf("reading a stored fit: %s: %w", id, err)
			}
			f.Consequences[id] = s
			continue
		}
		var v float64
		if err := json.Unmarshal(text, &v); err != nil {
			return fmt.Errorf("reading a stored fit: %s: %w", id, err)
		}
		f.Consequences[id] = v
	}
	return nil
}

// Band is a gap told without figures: the fit word at its smallest and at its
// largest.
type Band struct{ Least, Most joint.Word }

// Bands is the fit told without figures, by gap consequence, for sheets whose
// key is not released: a gap in millimetres would give the key by subtraction.
// In a family without gaps the worst error alone bears the fit's word.
type Bands map[string]Band

// FitBands tells a fit without figures. It is empty for no fit. Wood that
// would have to go through wood counts by how deep it would go, and a number
// on either side of what it should be by how far it is off.
func FitBands(f *joint.Family, r *FitResult) Bands {
	out := Bands{}
	if f == nil || r == nil {
		return out
	}
	if countGaps(f) == 0 {
		return errorBand(f, r)
	}
	for _, c := range f.Consequences {
		if !c.Gap {
			continue
		}
		switch v := r.Consequences[c.ID].(type) {
		case joint.Spread:
			least, most := v.Min, v.Max
			if -least > most {
				most = -least
			}
			out[c.ID] = Band{Least: joint.WordOf(max(least, 0)), Most: joint.WordOf(most)}
		case float64:
			w := joint.WordOf(math.Abs(v))
			out[c.ID] = Band{Least: w, Most: w}
		}
	}
	return out
}

// errorBand gives the word of the fit to the largest error in length. It is
// empty where no error has a value.
func errorBand(f *joint.Family, r *FitResult) Bands {
	out, worst, most := Bands{}, "", -1.0
	for _, c := range f.Consequences {
		if v, ok := r.Consequences[c.ID].(float64); ok && c.Unit == joint.MM && math.Abs(v) > most {
			worst, most = c.ID, math.Abs(v)
		}
	}
	if w, ok := joint.ParseWord(r.Word); ok && worst != "" {
		out[worst] = Band{Least: w, Most: w}
	}
	return out
}

// FitSays tells a fit in words and places, without a figure: a headline that
// names the worst of it ("Close, not tight: the near shoulder stands off.",
// "Close, not tight, by the side gap."), and a sentence for each surface.
func FitSays(f *joint.Family, bands Bands) (headline string, what []string) {
	if f == nil || len(bands) == 0 {
		return "These numbers make no joint that could be put together.", nil
	}
	worst := joint.Tight
	for _, b := range bands {
		worst = max(worst, b.Most)
	}
	if len(bands) < countGaps(f) {
		worst = joint.Failed // a surface that has no gap at all never meets
	}
	groups := grouped(f, bands)
	switch {
	case worst != joint.Tight:
		headline = capitalised(worst.String())
		if worst == joint.Close {
			headline += ", not tight"
		}
		headline += standsOff(groups, worst)
	case anyPlain(groups):
		headline = "Tight: everything comes where it should."
	default:
		headline = "Tight: every surface goes home."
	}
	for _, g := range groups {
		what = append(what, g.says())
	}
	return headline, what
}

func countGaps(f *joint.Family) int {
	n := 0
	for _, c := range f.Consequences {
		if c.Gap {
			n++
		}
	}
	return n
}

// surfaces are gaps that are told in one sentence: the near and the far one of
// a pair where both came out alike.
type surfaces struct {
	name string // "the near cheek", "both cheeks"
	many bool
	// plain says that the gap is one number: nothing is told of where it
	// touches.
	plain bool
	band  Band
}

func anyPlain(groups []surfaces) bool {
	for _, g := range groups {
		if g.plain {
			return true
		}
	}
	return false
}

func standsOff(groups []surfaces, worst joint.Word) string {
	var names []string
	many, plain := false, false
	for _, g := range groups {
		if g.band.Most == worst {
			names, many, plain = append(names, g.name), many || g.many, plain || g.plain
		}
	}
	said := strings.Join(names, " and ")
	switch {
	case said == "":
		return "."
	case plain:
		return ", by " + said + "."
	case many || len(names) > 1:
		return ": " + said + " stand off."
	}
	return ": " + said + " stands off."
}

func (s surfaces) says() string {
	touch, stand := "touches", "stands"
	if s.many {
		touch, stand = "touch", "stand"
	}
	name := capitalised(s.name)
	switch {
	case s.plain:
		return capitalised(strings.TrimPrefix(s.name, "the ")) + ": " + s.band.Most.String() + "."
	case s.band.Most == joint.Tight:
		return name + " " + touch + " all over."
	case s.band.Least == joint.Tight:
		return name + " " + touch + " at one end and " + stand + " off at the other: " + s.band.Most.String() + " there."
	case s.band.Least == s.band.Most:
		return name + " " + stand + " off all along: " + s.band.Most.String() + "."
	}
	return name + " " + stand + " off all along: " + s.band.Least.String() + " at one end, " + s.band.Most.String() + " at the other."
}

// grouped puts near and far together where they came out alike.
func grouped(f *joint.Family, bands Bands) []surfaces {
	var out []surfaces
	done := map[string]bool{}
	for _, c := range f.Consequences {
		b, ok := bands[c.ID]
		if !ok || done[c.ID] {
			continue
		}
		if rest, near := strings.CutPrefix(c.ID, "near_"); near {
			if other, ok := bands["far_"+rest]; ok && other == b {
				done["far_"+rest] = true
				out = append(out, surfaces{name: "both " + strings.ReplaceAll(rest, "_", " ") + "s", many: true, band: b})
				continue
			}
		}
		out = append(out, surfaces{name: "the " + midSentence(c.Name), plain: !c.Spread, band: b})
	}
	return out
}
