package server

import (
	"testing"

	"arrisbook/server/store"
)

func TestShortName(t *testing.T) {
	for _, test := range []struct{ name, want string }{
		{"Wanda Petersen", "Wanda P."},
		{"Wanda", "Wanda"},
		{"Ana van der Berg", "Ana B."},
		{"Zoë östlund", "Zoë Ö."},
		{"Wanda P.", "Wanda P."},
		{"Niamh O’Dell", "Niamh O."},
		{"Miro (left)", "Miro L."},
		{"Miro 2", "Miro 2"},
		{"", ""},
	} {
		if got := shortName(test.name); got != test.want {
			t.Errorf("shortName(%q) = %q, want %q", test.name, got, test.want)
		}
	}
}

func TestTidyName(t *testing.T) {
	for _, test := range []struct{ text, want string }{
		{"  Wanda \u00a0 Petersen\t", "Wanda Petersen"},
		{"Wan\u200bda", "Wanda"},
		{"Wan\x00da\u202e", "Wanda"},
		{"Zoe\u0308", "Zo\u00eb"},
		{"\ufeff", ""},
		{"می\u200cخواهم", "می\u200cخواهم"},
	} {
		if got := tidyName(test.text); got != test.want {
			t.Errorf("tidyName(%q) = %q, want %q", test.text, got, test.want)
		}
	}
}

func TestReadZone(t *testing.T) {
	for _, test := range []struct {
		text, want string
		ok         bool
	}{
		{"Europe/Lisbon", "Europe/Lisbon", true},
		{"lisbon", "Europe/Lisbon", true},
		{"New York", "America/New_York", true},
		{"europe/oslo", "Europe/Oslo", true},
		{"Atlantic/Faroe", "Atlantic/Faroe", true}, // not in the list
		{"UTC", "UTC", true},
		{"", "", false},
		{"Local", "", false},
		{"Europe/Nowhere", "", false},
		{"../etc/passwd", "", false},
		{"Europe/../Oslo", "", false},
	} {
		if got, ok := readZone(test.text); got != test.want || ok != test.ok {
			t.Errorf("readZone(%q) = %q, %v, want %q, %v", test.text, got, ok, test.want, test.ok)
		}
	}
}

// Every proposed zone exists, and no two have the same city, so that a city
// alone can be typed.
func TestZoneNames(t *testing.T) {
	for _, name := range zoneNames {
		if got, ok := readZone(name); got != name || !ok {
			t.Errorf("readZone(%q) = %q, %v", name, got, ok)
		}
		if zone := zoneOf(store.Class{Zone: name}); zone.String() != name {
			t.Errorf("zone %q is %v", name, zone)
		}
	}
}
