package rules

import (
	"maps"
	"strings"
)

// Details are the figures that a rule file may state of a rule besides its limit,
// under one key.
type Details struct {
	Key  string // "stack"; "" when there are none
	Doc  string
	List []Detail
}

// Detail is one of them: the height of the grout, the number of nuts.
type Detail struct {
	Name    string
	Doc     string
	Entries []Unit // units that it is stated in; nil for a whole number
}

// String says what may be stated, in sentences.
func (d *Details) String() string {
	out := []string{d.Doc}
	for _, one := range d.List {
		unit := "a whole number"
		if one.Entries != nil {
			var names []string
			for _, u := range one.Entries {
				names = append(names, string(u))
			}
			unit = strings.Join(names, ", ")
		}
		out = append(out, one.Name+" ("+unit+"): "+one.Doc)
	}
	return strings.Join(out, " ")
}

// Given are details as a rule file states them, by name. Whole numbers have one
// entry of the unit Count.
type Given map[string]Limit

// Count is the unit of whole numbers among details.
const Count Unit = "count"

// MostCount is the largest number that a detail may have.
const MostCount = 9

// with are the details with others laid over them one by one.
func (s Given) with(over Given) Given {
	out := maps.Clone(s)
	if out == nil {
		out = Given{}
	}
	maps.Copy(out, over)
	return out
}

// count is a whole number; false when it is not stated.
func (s Given) count(name string) (int, bool) {
	t, ok := s[name].term(Count)
	return int(t.Value), ok
}
