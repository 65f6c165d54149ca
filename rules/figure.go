package rules

import (
	"math"
	"strconv"
	"strings"
)

// figure is a length, ratio or angle to one decimal at most.
func figure(v float64) string { return decimals(v, 1) }

func decimals(v float64, n int) string {
	s := strconv.FormatFloat(v, 'f', n, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// figures are two values that differ, with as many decimals as it takes to see
// it: nobody is told that 120 mm are less than 120 mm.
func figures(got, want float64) (string, string) {
	for n := 1; n < 4; n++ {
		if g, w := decimals(got, n), decimals(want, n); g != w || got == want {
			return g, w
		}
	}
	return decimals(got, 4), decimals(want, 4)
}

// bucket numbers the 4 inches that a coordinate in mm lies in. The borders keep
// at least 0.018 mm away from all multiples of 0.05 mm and of 1/64 in, so that
// the noise of an export never carries a usual coordinate, or the middle of two,
// over one.
func bucket(v float64) int64 { return int64(math.Floor((v - bucketBorder) / bucketSize)) }

const (
	bucketSize   = 4 * mmPerInch
	bucketBorder = 13.475
)

// figures2 is figures for ratios: with two decimals to begin with.
func figures2(got, want float64) (string, string) {
	for n := 2; n < 5; n++ {
		if g, w := decimals(got, n), decimals(want, n); g != w || got == want {
			return g, w
		}
	}
	return decimals(got, 5), decimals(want, 5)
}
