package bcf

import (
	"strings"
	"time"
)

// dateLayouts are the ways in which dates are met. The standard asks for
// xs:dateTime; the header of an IFC file has about the same.
var dateLayouts = []string{
	time.RFC3339Nano,
	"2006-01-02T15:04:05.999999999Z0700",
	"2006-01-02T15:04:05.999999999",
	"2006-01-02T15:04Z07:00",
	"2006-01-02T15:04",
	"2006-01-02 15:04:05.999999999",
	"2006-01-02Z07:00",
	"2006-01-02",
}

// ParseDate reads a date. One without a zone is taken as UTC, as 3.0 has it.
func ParseDate(s string) (time.Time, bool) {
	s = strings.TrimSpace(s)
	for _, l := range dateLayouts {
		if t, err := time.Parse(l, s); err == nil {
			return t, true
		}
	}
	return time.Time{}, false
}

// dateText is a date as xs:dateTime in UTC.
func dateText(t time.Time) string { return t.UTC().Format("2006-01-02T15:04:05.999Z") }

// normalDate is a date as xs:dateTime; "" when it cannot be read as one.
func normalDate(s string) string {
	t, ok := ParseDate(s)
	if !ok || t.Year() < 1 || t.Year() > 9999 {
		return ""
	}
	return dateText(t)
}
