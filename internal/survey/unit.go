package survey

import (
	"math"
	"slices"
	"strings"
)

// Unit is a unit of length that sheets are filled in with.
type Unit struct {
	Name string  // as a header states it
	Word string  // as a sentence says it, plural
	MM   float64 // of one
}

// Units are the units that are known, millimetres first. The foot is the
// international one; that of old American surveys differs by two millionths.
var Units = []Unit{
	{"mm", "millimetres", 1},
	{"cm", "centimetres", 10},
	{"m", "metres", 1000},
	{"in", "inches", 25.4},
	{"ft", "feet", 304.8},
}

var unitWords = map[string]string{
	"millimetre": "mm", "millimeter": "mm", "centimetre": "cm", "centimeter": "cm", "metre": "m", "meter": "m",
	"inch": "in", "inches": "in", `"`: "in", "foot": "ft", "feet": "ft", "'": "ft",
}

// ParseUnit reads the name or the word of a unit.
func ParseUnit(s string) (Unit, bool) {
	s = strings.ToLower(strings.TrimSuffix(strings.TrimSpace(s), "."))
	if n, ok := unitWords[s]; ok {
		s = n
	} else if n, ok := unitWords[strings.TrimSuffix(s, "s")]; ok {
		s = n
	}
	for _, u := range Units {
		if u.Name == s {
			return u, true
		}
	}
	return Unit{}, false
}

// unitShare is by how much a ratio of lengths may miss that of two units, which
// lie further apart: setting out and taping wrong makes less.
const unitShare = 0.02

// Misstated looks for the unit that values must be in when they were read in
// the stated one and come out by the given factor too small.
func Misstated(factor float64, stated Unit) (Unit, bool) {
	i := slices.IndexFunc(Units, func(u Unit) bool {
		return u != stated && math.Abs(factor*stated.MM/u.MM-1) < unitShare
	})
	if i < 0 {
		return Unit{}, false
	}
	return Units[i], true
}

// median is the middle value, of an even number the lower one; 0 of none.
func median(list []float64) float64 {
	if len(list) == 0 {
		return 0
	}
	list = slices.Sorted(slices.Values(list))
	return list[(len(list)-1)/2]
}
