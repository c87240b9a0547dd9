package server

import (
	"strings"
	"testing"
	"time"
)

func zone(t *testing.T, name string) *time.Location {
	t.Helper()
	z, err := time.LoadLocation(name)
	if err != nil {
		t.Fatal(err)
	}
	return z
}

func TestParseWall(t *testing.T) {
	for _, c := range []struct {
		name, text, zone string
		which            which
		want             string // RFC 3339, UTC
	}{
		{"winter", "2026-11-25T18:30", "Europe/Berlin", theFirst, "2026-11-25T17:30:00Z"},
		{"summer", "2026-07-01T18:30", "Europe/Berlin", theFirst, "2026-07-01T16:30:00Z"},
		{"with seconds", "2026-07-01T18:30:15", "Europe/Berlin", theFirst, "2026-07-01T16:30:15Z"},
		{"typed with a space", "2026-07-01 18:30", "Europe/Berlin", theFirst, "2026-07-01T16:30:00Z"},
		{"minute before the gap", "2026-03-29T01:59", "Europe/Berlin", theFirst, "2026-03-29T00:59:00Z"},
		{"first minute after the gap", "2026-03-29T03:00", "Europe/Berlin", theFirst, "2026-03-29T01:00:00Z"},
		{"twice, the first", "2026-10-25T02:30", "Europe/Berlin", theFirst, "2026-10-25T00:30:00Z"},
		{"twice, the second", "2026-10-25T02:30", "Europe/Berlin", theSecond, "2026-10-25T01:30:00Z"},
		{"twice, west of Greenwich, the first", "2026-11-01T01:30", "America/New_York", theFirst, "2026-11-01T05:30:00Z"},
		{"twice, west of Greenwich, the second", "2026-11-01T01:30", "America/New_York", theSecond, "2026-11-01T06:30:00Z"},
		{"half an hour twice", "2026-04-05T01:45", "Australia/Lord_Howe", theSecond, "2026-04-04T15:15:00Z"},
		{"far east", "2026-01-01T00:10", "Pacific/Kiritimati", theFirst, "2025-12-31T10:10:00Z"},
		{"no summer time", "2026-03-29T02:30", "UTC", theSecond, "2026-03-29T02:30:00Z"},
	} {
		got, sentence := parseWall(c.text, zone(t, c.zone), c.which)
		if sentence != "" || got.Format(time.RFC3339) != c.want {
			t.Errorf("%s: parseWall(%q, %s) = %s %q, want %s", c.name, c.text, c.zone, got.Format(time.RFC3339), sentence, c.want)
		}
	}
}

func TestParseWallRefuses(t *testing.T) {
	for _, c := range []struct{ name, text, zone, want string }{
		{"the hour left out in spring", "2026-03-29T02:30", "Europe/Berlin", "There is no 02:30 on 29 March 2026 in Europe/Berlin"},
		{"its first minute", "2026-03-29T02:00", "Europe/Berlin", "There is no 02:00"},
		{"west of Greenwich", "2026-03-08T02:15", "America/New_York", "There is no 02:15 on 8 March 2026"},
		{"half an hour left out", "2026-10-04T02:10", "Australia/Lord_Howe", "There is no 02:10"},
		{"a day left out", "2011-12-30T12:00", "Pacific/Apia", "There is no 12:00 on 30 December 2011"},
		{"no time", "tomorrow", "UTC", "Write the day and the time"},
		{"nothing", "", "UTC", "Write the day and the time"},
		{"no such day", "2026-02-30T10:00", "UTC", "Write the day and the time"},
		{"year 10000", "10000-01-01T10:00", "UTC", "Write the day and the time"},
		{"year 1", "0001-01-01T10:00", "UTC", "between 2000 and 2199"},
	} {
		got, sentence := parseWall(c.text, zone(t, c.zone), theFirst)
		if !strings.Contains(sentence, c.want) || !got.IsZero() {
			t.Errorf("%s: parseWall(%q, %s) = %v %q, want a sentence with %q", c.name, c.text, c.zone, got, sentence, c.want)
		}
	}
}

// What a field was filled with reads back as the same minute, at every quarter
// of an hour of a year, in zones with odd rules.
func TestWallRoundTrip(t *testing.T) {
	for _, name := range []string{"Europe/Berlin", "America/New_York", "Australia/Lord_Howe", "Asia/Kathmandu", "Africa/Casablanca", "UTC"} {
		z := zone(t, name)
		for at := time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC); at.Year() == 2026; at = at.Add(15 * time.Minute) {
			first, s1 := parseWall(wallForm(at, z), z, theFirst)
			second, s2 := parseWall(wallForm(at, z), z, theSecond)
			if s1 != "" || s2 != "" || (!first.Equal(at) && !second.Equal(at)) {
				t.Fatalf("%s: parseWall(%q) = %v %v, want %v", name, wallForm(at, z), first, second, at)
			}
		}
	}
}
