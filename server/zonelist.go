package server

import (
	"strings"
	"time"
)

// zoneNames are proposed in the form of a class; every other IANA name can be
// typed. One or two of each offset and continent, from memory.
var zoneNames = []string{
	"Africa/Cairo", "Africa/Johannesburg", "Africa/Lagos", "Africa/Nairobi",
	"America/Anchorage", "America/Argentina/Buenos_Aires", "America/Bogota", "America/Chicago",
	"America/Denver", "America/Halifax", "America/Lima", "America/Los_Angeles", "America/Mexico_City",
	"America/New_York", "America/Phoenix", "America/Santiago", "America/Sao_Paulo", "America/St_Johns",
	"America/Toronto", "America/Vancouver",
	"Asia/Bangkok", "Asia/Dhaka", "Asia/Dubai", "Asia/Hong_Kong", "Asia/Jakarta", "Asia/Jerusalem",
	"Asia/Karachi", "Asia/Kathmandu", "Asia/Kolkata", "Asia/Manila", "Asia/Seoul", "Asia/Shanghai",
	"Asia/Singapore", "Asia/Taipei", "Asia/Tashkent", "Asia/Tehran", "Asia/Tokyo",
	"Atlantic/Azores", "Atlantic/Reykjavik",
	"Australia/Adelaide", "Australia/Brisbane", "Australia/Darwin", "Australia/Perth", "Australia/Sydney",
	"Europe/Amsterdam", "Europe/Athens", "Europe/Berlin", "Europe/Bucharest", "Europe/Dublin",
	"Europe/Helsinki", "Europe/Istanbul", "Europe/Kyiv", "Europe/Lisbon", "Europe/London", "Europe/Madrid",
	"Europe/Oslo", "Europe/Paris", "Europe/Prague", "Europe/Rome", "Europe/Stockholm", "Europe/Vienna",
	"Europe/Warsaw", "Europe/Zurich",
	"Pacific/Auckland", "Pacific/Honolulu", "UTC",
}

// readZone finds the time zone that a text names: an IANA name, or the city
// alone where the list has exactly one of it.
func readZone(text string) (string, bool) {
	text = strings.ReplaceAll(strings.TrimSpace(text), " ", "_")
	found := ""
	for _, name := range zoneNames {
		if strings.EqualFold(name, text) {
			return name, true
		}
		if city := name[strings.LastIndexByte(name, '/')+1:]; strings.EqualFold(city, text) {
			found = name
		}
	}
	if found != "" {
		return found, true
	}
	// Without a stroke it would be "Local" or a file beside the zones.
	if len(text) > 40 || !strings.Contains(text, "/") {
		return "", false
	}
	if _, err := time.LoadLocation(text); err != nil {
		return "", false
	}
	return text, true
}
