package server

import (
	"strconv"
	"unicode/utf8"

	"github.com/labstack/echo/v4"

	"arrisbook/server/store"
)

const classNameMost = 80

// defaultSettings are those of a shop with calliper and protractor to a tenth.
var defaultSettings = store.ClassSettings{Units: "mm", Projection: "first", FitWord: "tight", LengthStep: 0.1, AngleStep: 0.1, Paper: "A4"}

// classForm is what an instructor decides about a class.
type classForm struct {
	Name, Zone                                               Field
	Zones                                                    []string
	Units, Projection, FitWord, LengthStep, AngleStep, Paper Choice
}

// Choice is a list of which one is taken.
type Choice struct {
	Name, Label, Note string
	Options           []Option
	Fault             string
}

// The finest settings that tools have: values as stored, in mm and degrees.
var (
	lengthSteps = []string{
		"0.05", "0.05 mm, vernier calliper", "0.1", "0.1 mm, calliper", "0.396875", "1/64 in, fine rule",
		"0.5", "0.5 mm, rule", "0.79375", "1/32 in, rule", "1", "1 mm, folding rule",
	}
	angleSteps = []string{
		"0.1", "0.1°, digital protractor", "0.25", "¼°, fine protractor", "0.5", "½°, bevel gauge", "1", "1°, plain protractor",
	}
)

func unitWords(units string) string {
	if units == "inch" {
		return "inches, in fractions"
	}
	return "millimetres"
}

// toolWords says what a class's tools are set to, as the form does.
func toolWords(class store.Class) string {
	words := func(step float64, known []string) string {
		text := strconv.FormatFloat(step, 'g', -1, 64)
		for i := 0; i < len(known); i += 2 {
			if known[i] == text {
				return known[i+1]
			}
		}
		return text
	}
	return words(class.LengthStep, lengthSteps) + "; " + words(class.AngleStep, angleSteps)
}

func settingsOf(class store.Class) store.ClassSettings {
	return store.ClassSettings{
		Name: class.Name, Zone: class.Zone, Units: class.Units, Projection: class.Projection,
		FitWord: class.FitWord, LengthStep: class.LengthStep, AngleStep: class.AngleStep, Paper: class.Paper,
	}
}

// formOf fills the form with settings.
func formOf(set store.ClassSettings) classForm {
	step := func(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }
	return classForm{
		Name:  Field{Name: "name", Label: "Name of the class", Note: "it stands on cards and sheets", Value: set.Name, Auto: "off", Focus: set.Name == ""},
		Zone:  Field{Name: "zone", Label: "Time zone", Note: "the nearest large city does: Lisbon, Chicago, Europe/Oslo", Value: set.Zone, Auto: "off", List: "zones"},
		Zones: zoneNames,
		Units: Choice{Name: "units", Label: "Lengths", Note: "as sheets print them; both can be typed",
			Options: options(set.Units, "mm", "millimetres", "inch", "inches, in fractions")},
		Projection: Choice{Name: "projection", Label: "Drawings", Note: "how the views stand to each other",
			Options: options(set.Projection, "first", "first-angle projection", "third", "third-angle projection")},
		FitWord: Choice{Name: "fit_word", Label: "A right number makes the joint", Note: "each tolerance is as wide as keeps every gap so, and says why on the sheet",
			Options: options(set.FitWord, "tight", "tight, gaps to 0.10 mm", "close", "close, gaps to 0.25 mm", "open", "open, gaps to 0.50 mm")},
		LengthStep: Choice{Name: "length_step", Label: "Lengths are set to", Note: "the finest mark of the shop’s rule or calliper; no tolerance is under half of it",
			Options: options(step(set.LengthStep), lengthSteps...)},
		AngleStep: Choice{Name: "angle_step", Label: "Angles are set to", Note: "the finest that bevel gauge and protractor hold; no tolerance is under half of it",
			Options: options(step(set.AngleStep), angleSteps...)},
		Paper: Choice{Name: "paper", Label: "Printers hold", Note: "sheets and templates are set for it",
			Options: options(set.Paper, "A4", "A4 paper", "Letter", "Letter paper")},
	}
}

// readClassForm takes the settings out of a form. The form comes back as it
// was typed, with its faults.
func readClassForm(c echo.Context) (classForm, store.ClassSettings, bool) {
	length, _ := strconv.ParseFloat(c.FormValue("length_step"), 64)
	angle, _ := strconv.ParseFloat(c.FormValue("angle_step"), 64)
	set := store.ClassSettings{
		Name: tidyName(c.FormValue("name")), Zone: c.FormValue("zone"), Units: c.FormValue("units"),
		Projection: c.FormValue("projection"), FitWord: c.FormValue("fit_word"), LengthStep: length, AngleStep: angle, Paper: c.FormValue("paper"),
	}
	form := formOf(set)
	switch n := utf8.RuneCountInString(set.Name); {
	case n == 0:
		form.Name.Fault = "Give the class a name, such as its day and its room."
	case n > classNameMost:
		form.Name.Fault = "This name is too long: 80 characters at most."
	}
	if zone, ok := readZone(set.Zone); ok {
		set.Zone, form.Zone.Value = zone, zone
	} else {
		form.Zone.Fault = "No time zone is called so. Take one of the list, or a name like Europe/Lisbon."
	}
	ok := !faulty(&form.Name, &form.Zone)
	for _, choice := range []*Choice{&form.Units, &form.Projection, &form.FitWord, &form.LengthStep, &form.AngleStep, &form.Paper} {
		ok = choice.taken() && ok
	}
	return form, set, ok
}

// taken says whether one of the options is chosen, and leaves a fault if not.
func (c *Choice) taken() bool {
	for _, o := range c.Options {
		if o.Chosen {
			return true
		}
	}
	c.Fault = "Choose one of the list."
	return false
}
