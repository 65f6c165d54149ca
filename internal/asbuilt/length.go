package asbuilt

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"unicode"

	"embedcheck/internal/finding"
	"embedcheck/internal/survey"
)

// longest is beyond every coordinate of a grid on earth, mm.
const longest = 1e11

// length reads a cell as a length in mm; nil when it is blank. The header states
// the unit. A cell may repeat it, and in a sheet in inches or feet it may be
// written as they are on a tape: 12 3/8, or 5' 3 1/2".
func (c *columns) length(row, col int, unit survey.Unit) (*float64, error) {
	if col < 0 {
		return nil, nil
	}
	text := c.g.Cell(row, col)
	if unit.Name == "in" || unit.Name == "ft" {
		if v, ok := imperial(text, unit); ok {
			return inRange(v)
		}
	}
	v, ok, err := c.g.Float(row, col)
	switch {
	case err != nil:
		// The row is told already.
		why := strings.TrimPrefix(err.Error(), fmt.Sprintf("%s, row %d, ", c.g.Name, c.g.Rows[row].Number))
		return nil, fmt.Errorf("%s%s", why, otherUnit(text, unit))
	case !ok:
		return nil, nil
	}
	return inRange(v * unit.MM)
}

func inRange(mm float64) (*float64, error) {
	if mm > longest || mm < -longest {
		return nil, fmt.Errorf("%g mm is longer than anything that is built", mm)
	}
	return &mm, nil
}

// otherUnit says so when a cell names a unit: the number before it may be right,
// and whether it is nobody knows but who wrote it.
func otherUnit(text string, unit survey.Unit) string {
	i := strings.LastIndexFunc(text, func(r rune) bool { return unicode.IsDigit(r) || r == '.' || r == ',' })
	u, ok := survey.ParseUnit(text[i+1:])
	switch {
	case i < 0 || !ok:
		return ""
	case u == unit:
		return "; the unit stands in the heading, the cell holds the number only"
	}
	return fmt.Sprintf("; it says %s, the heading says %s", finding.Plain(u.Name), unit.Name)
}

// tape is a length as a tape in inches shows it: feet, inches and a fraction,
// each of which may be missing.
var tape = regexp.MustCompile(`^(-)?(?:(\d+)\s*(?:'|′|ft)\s*-?\s*)?(?:(\d+(?:\.\d+)?)(?:[\s-]+(\d+)/(\d+))?|(\d+)/(\d+))?\s*("|″|in)?$`)

// imperial reads feet, inches and fractions as mm. Plain numbers are left to the
// reader of numbers; without marks a fraction counts in the stated unit.
func imperial(text string, stated survey.Unit) (float64, bool) {
	m := tape.FindStringSubmatch(text)
	if m == nil || !strings.ContainsAny(text, `'′"″/inft`) {
		return 0, false
	}
	number := func(s string) float64 {
		v, _ := strconv.ParseFloat(s, 64) // digits only, or nothing
		return v
	}
	rest := number(m[3])
	for _, f := range [2][2]string{{m[4], m[5]}, {m[6], m[7]}} {
		if f[0] == "" {
			continue
		}
		if number(f[1]) == 0 {
			return 0, false
		}
		rest += number(f[0]) / number(f[1])
	}
	if m[2] == "" && m[3] == "" && m[6] == "" {
		return 0, false
	}
	inch, foot := 25.4, 304.8
	unit := stated.MM
	if m[2] != "" || m[8] != "" {
		unit = inch // behind feet, or marked so
	}
	v := number(m[2])*foot + rest*unit
	if m[1] != "" {
		v = -v
	}
	return v, true
}
