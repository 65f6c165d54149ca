package report

import (
	"math"
	"strconv"

	"embedcheck/internal/finding"
)

// length is a length as a tape is read, to 0.1 mm.
func length(mm float64) string { return strconv.FormatFloat(finding.Round(mm, 1), 'f', -1, 64) }

func signed(mm float64) string {
	s := length(mm)
	if finding.Round(mm, 1) > 0 {
		s = "+" + s
	}
	return s
}

// deviation shows as many decimals as it takes to see that it is beyond its
// tolerance.
func deviation(r *MeasuredRow) string {
	d, limit := r.Deviation(), r.Plus
	if d < 0 {
		limit = r.Minus
	}
	n := 1
	for r.State == Outside && n < 4 && finding.Round(math.Abs(d), n) <= finding.Round(limit, n) {
		n++
	}
	s := strconv.FormatFloat(finding.Round(d, n), 'f', -1, 64)
	if d > 0 && s != "0" {
		s = "+" + s
	}
	return s
}

func tolerance(r *MeasuredRow) string {
	switch {
	case !r.Limited:
		return ""
	case r.Minus == r.Plus:
		return "±" + length(r.Plus)
	}
	return "-" + length(r.Minus) + " +" + length(r.Plus)
}
