package server

import (
	"fmt"
	"slices"
	"time"

	// Classes choose their time zone by name, and small machines have no list.
	_ "time/tzdata"

	"arrisbook/server/store"
)

// zoneOf gives a class's time zone. A name the list does not know (it was
// checked when the class was made) falls back to UTC, which every page names.
func zoneOf(c store.Class) *time.Location {
	zone, err := time.LoadLocation(c.Zone)
	if err != nil {
		return time.UTC
	}
	return zone
}

// when writes a moment as a class reads it: "Wed 25 Nov 2026, 18:41".
func when(t time.Time, zone *time.Location) string {
	return t.In(zone).Format("Mon 2 Jan 2006, 15:04")
}

// clock writes the time of day, with the date where that is another day than
// now: "18:41", "Wed 25 Nov, 18:41".
func clock(t, now time.Time, zone *time.Location) string {
	t, now = t.In(zone), now.In(zone)
	if t.YearDay() == now.YearDay() && t.Year() == now.Year() {
		return t.Format("15:04")
	}
	return t.Format("Mon 2 Jan, 15:04")
}

// onDay writes a moment with its day, and with the year where that is another
// one than now.
func onDay(t, now time.Time, zone *time.Location) string {
	t, now = t.In(zone), now.In(zone)
	if t.Year() == now.Year() {
		return t.Format("Mon 2 Jan, 15:04")
	}
	return t.Format("Mon 2 Jan 2006, 15:04")
}

// wallLayouts are what browsers send for a datetime-local field, and what
// people type where the field is a plain one.
var wallLayouts = []string{"2006-01-02T15:04", "2006-01-02T15:04:05", "2006-01-02 15:04"}

// wallForm is how a datetime-local field is filled.
func wallForm(t time.Time, zone *time.Location) string { return t.In(zone).Format(wallLayouts[0]) }

// which of the two moments a wall time means in the hour that comes twice
// when the clocks go back.
type which int

const (
	theFirst which = iota
	theSecond
)

// parseWall reads a wall time of a zone. The sentence says what is wrong: the
// text is no time, or the clocks skip it.
func parseWall(text string, zone *time.Location, w which) (t time.Time, sentence string) {
	for _, layout := range wallLayouts {
		wall, err := time.Parse(layout, text)
		if err != nil {
			continue
		}
		if y := wall.Year(); y < 2000 || y > 2199 {
			return time.Time{}, "The year has to lie between 2000 and 2199."
		}
		moments := momentsOf(wall, zone)
		if len(moments) == 0 {
			return time.Time{}, skipped(wall, zone)
		}
		if w == theSecond {
			return moments[len(moments)-1], ""
		}
		return moments[0], ""
	}
	return time.Time{}, "Write the day and the time like 2026-11-25 18:30."
}

// momentsOf gives every moment at which the zone's clocks show a wall time, in
// order: usually one, two in the hour that comes twice, none in the hour that
// is left out. Go's own time.Date quietly chooses in both cases.
func momentsOf(wall time.Time, zone *time.Location) []time.Time {
	var found []time.Time
	// No zone changes its clocks twice within a day, so the offsets that can
	// hold at this wall time are those of the day before and the day after.
	for _, around := range []time.Duration{-25 * time.Hour, 25 * time.Hour} {
		_, offset := wall.Add(around).In(zone).Zone()
		t := wall.Add(-time.Duration(offset) * time.Second).In(zone)
		if t.Format(time.DateTime) == wall.Format(time.DateTime) && !slices.ContainsFunc(found, t.Equal) {
			found = append(found, t.UTC())
		}
	}
	slices.SortFunc(found, time.Time.Compare)
	return found
}

// skipped says that the clocks jump over a wall time.
func skipped(wall time.Time, zone *time.Location) string {
	return fmt.Sprintf("There is no %s on %s in %s: the clocks go forward there. Choose a time before or after.",
		wall.Format("15:04"), wall.Format("2 January 2006"), zone)
}
