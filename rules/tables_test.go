package rules

import (
	"math"
	"slices"
	"testing"
)

// Heights of nuts (ISO 4032, greatest m) and washers (ISO 7089, nominal h), typed
// a second time from the same secondary copies, M22, M27, M33 and from M39 on from
// memory: a slip in either table shows.
func TestHeightsOfMetricHardware(t *testing.T) {
	for _, c := range [][3]float64{
		{8, 6.8, 1.6}, {10, 8.4, 2}, {12, 10.8, 2.5}, {14, 12.8, 2.5}, {16, 14.8, 3}, {18, 15.8, 3}, {20, 18, 3}, {22, 19.4, 3}, {24, 21.5, 4},
		{27, 23.8, 4}, {30, 25.6, 4}, {33, 28.7, 5}, {36, 31, 5}, {39, 33.4, 6}, {42, 34, 8}, {45, 36, 8}, {48, 38, 8},
	} {
		if got, ok := threadOf(c[0]); !ok || got.nut != c[1] || got.washer != c[2] {
			t.Errorf("M%g: nut %g, washer %g; want %g, %g", c[0], got.nut, got.washer, c[1], c[2])
		}
	}
}

// Greatest heights of heavy hexagon nuts in sixty-fourths of an inch (ASME B18.2.2,
// from memory) and thicknesses of plate washers in sixteenths (AISC Design Guide 1,
// Table 2.3, read in a secondary copy).
func TestHeightsOfInchHardware(t *testing.T) {
	for _, c := range [][3]float64{ // bolt in eighths, nut in 64ths, washer in 16ths
		{6, 47, 4}, {7, 55, 5}, {8, 63, 6}, {9, 71, 6}, {10, 78, 8}, {12, 94, 8}, {14, 110, 10}, {16, 126, 12}, {20, 157, 14},
	} {
		got, ok := threadOf(c[0] / 8 * 25.4)
		if !ok || math.Abs(got.nut-c[1]/64*25.4) > 1e-9 || math.Abs(got.washer-c[2]/16*25.4) > 1e-9 {
			t.Errorf("%g/8 in: nut %g, washer %g mm", c[0], got.nut, got.washer)
		}
	}
	small, _ := threadOf(5. / 8 * 25.4) // a plain washer of ASME B18.21.1, greatest 0.177 in (from memory)
	if math.Abs(small.nut-39./64*25.4) > 1e-9 || math.Abs(small.washer-4.4958) > 1e-9 {
		t.Errorf("5/8 in: nut %g, washer %g mm", small.nut, small.washer)
	}
}

// The sizes that shanks come in, worked out anew: inch threads are fractions of an
// inch, bars of ASTM A615 up to number 8 are eighths and from there on as thick as
// square bars of 1, 1 1/8, 1 1/4, 1 1/2 and 2 inches have area (from memory); the
// metric ones are the first and second choice of ISO 261 (read in a secondary
// copy), studs of ISO 13918 and bars of EN 10080 and AS/NZS 4671 (from memory).
func TestSeriesOfDiameters(t *testing.T) {
	want := []float64{
		5, 6, 8, 10, 12, 14, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 42, 45, 48, 52, 56, 60, 64, 72, 80, 90, 100, // threads
		13, 19, 25, // studs
		28, 32, 40, 50, // bars
	}
	for _, d := range want {
		if !slices.Contains(series, d) {
			t.Errorf("%v mm is not in the series", d)
		}
	}
	for _, inches := range []float64{
		1. / 4, 5. / 16, 3. / 8, 1. / 2, 5. / 8, 3. / 4, 7. / 8, 1, 1.125, 1.25, 1.375, 1.5, 1.75, 2, 2.25, 2.5, 2.75, 3, 3.25, 3.5, 3.75, 4,
	} {
		want = append(want, inches*25.4)
	}
	for _, number := range []float64{3, 5, 6, 7, 8} {
		want = append(want, number/8*25.4)
	}
	for _, side := range []float64{1, 1.125, 1.25, 1.5, 2} {
		want = append(want, math.Sqrt(4/math.Pi)*side*25.4)
	}
	for _, w := range want {
		if !slices.ContainsFunc(series, func(s float64) bool { return math.Abs(s-w) < 0.07 }) {
			t.Errorf("%.2f mm is not in the series", w)
		}
	}
	for _, s := range series {
		if !slices.ContainsFunc(want, func(w float64) bool { return math.Abs(s-w) < 0.07 }) {
			t.Errorf("%g mm is in the series, and nothing comes in it", s)
		}
	}
}

// Diameters, coarse pitches (ISO 261) and widths across flats (ISO 4032; heavy
// hexagon nuts of ASME B18.2.2, one and a half diameters and an eighth) typed or
// worked out a second time: a hundredth less in one of them shows.
func TestSizesOfThreads(t *testing.T) {
	for _, c := range [][3]float64{
		{8, 1.25, 13}, {10, 1.5, 16}, {12, 1.75, 18}, {14, 2, 21}, {16, 2, 24}, {18, 2.5, 27}, {20, 2.5, 30}, {22, 2.5, 34}, {24, 3, 36},
		{27, 3, 41}, {30, 3.5, 46}, {33, 3.5, 50}, {36, 4, 55}, {39, 4, 60}, {42, 4.5, 65}, {45, 4.5, 70}, {48, 5, 75},
	} {
		if got, ok := threadOf(c[0]); !ok || got.d != c[0] || got.pitch != c[1] || got.flats != c[2] {
			t.Errorf("M%g: %+v", c[0], got)
		}
	}
	for _, c := range [][2]float64{ // bolt in inches, threads per inch
		{0.625, 11}, {0.75, 10}, {0.875, 9}, {1, 8}, {1.125, 7}, {1.25, 7}, {1.5, 6}, {1.75, 5}, {2, 4.5}, {2.5, 4},
	} {
		got, ok := threadOf(c[0] * 25.4)
		flats := (1.5*c[0] + 0.125) * 25.4
		if !ok || math.Abs(got.d-c[0]*25.4) > 1e-9 || math.Abs(got.pitch-25.4/c[1]) > 1e-9 || math.Abs(got.flats-flats) > 1e-9 {
			t.Errorf("%g in: %+v, want %v across flats", c[0], got, flats)
		}
	}
}
