package finding

import (
	"math"
	"strconv"
)

// Decimals that files state, and that sentences show, by unit. A tape reads
// 1 mm; model coordinates are good for less than a tenth of it.
var (
	fileDecimals = map[string]int{"mm": 2, "ratio": 3, "degrees": 2, "count": 0}
	textDecimals = map[string]int{"mm": 1, "ratio": 2, "degrees": 1, "count": 0}
)

// finest is where rounding stops: comparisons allow 0.001 mm.
const finest = 4

// Rounded is the measured and the required value as files state them: mm and
// degrees to 0.01, ratios to 0.001, finer only where the two would look alike
// although they are not. Never -0.
func (in *Instance) Rounded() (measured, required float64) {
	d := apart(in.Measured, in.Required, decimals(fileDecimals, in.Unit))
	return Round(in.Measured, d), Round(in.Required, d)
}

// Values are the measured and the required value as a person reads them.
func (in *Instance) Values() (measured, required string) {
	d := apart(in.Measured, in.Required, decimals(textDecimals, in.Unit))
	return amount(in.Measured, d, in.Unit), amount(in.Required, d, in.Unit)
}

// Figures is the comparison in words: "65 mm, at least 100 mm required". It is
// "" when nothing was measured.
func (in *Instance) Figures() string {
	measured, required := in.Values()
	switch in.Relation {
	case None:
		return ""
	case AtLeast:
		required = "at least " + required
	case AtMost:
		required = "at most " + required
	}
	return measured + ", " + required + " required"
}

func decimals(of map[string]int, unit string) int {
	if d, ok := of[unit]; ok {
		return d
	}
	return 3
}

// apart is the least number of decimals from d on that shows a and b as
// different, or d when they are equal.
func apart(a, b float64, d int) int {
	if a == b {
		return d
	}
	for n := d; n <= finest; n++ {
		if Round(a, n) != Round(b, n) {
			return n
		}
	}
	return d
}

// Round rounds half away from zero to d decimals; the result is never -0.
func Round(v float64, d int) float64 {
	p := math.Pow10(d)
	if r := math.Round(v*p) / p; !math.IsInf(r, 0) || math.IsInf(v, 0) {
		return r + 0
	}
	return v
}

func amount(v float64, d int, unit string) string {
	switch {
	case math.IsNaN(v):
		return "no value"
	case math.IsInf(v, 0):
		return "no limit"
	}
	s := strconv.FormatFloat(Round(v, d), 'f', -1, 64)
	switch unit {
	case "", "ratio", "count":
		return s
	case "degrees":
		if s == "1" {
			unit = "degree"
		}
	}
	return s + " " + unit
}
