package rules

import (
	"math"
	"testing"
)

// The tables are held together by figures that come from elsewhere: the stress
// area of a thread is pi/4 (d - 0.9382 P)^2 (ISO 898-1, its table read in a
// secondary copy), and the area that a hexagon nut bears on is 0.866 s^2 less the
// bolt's section, by geometry.
func TestMetricHardware(t *testing.T) {
	for _, c := range []struct{ d, stress, bearing float64 }{
		{8, 36.6, 96}, {10, 58.0, 143}, {12, 84.3, 167}, {14, 115, 228}, {16, 157, 298}, {18, 192, 377}, {20, 245, 465},
		{22, 303, 621}, {24, 353, 670}, {27, 459, 883}, {30, 561, 1126}, {33, 694, 1310}, {36, 817, 1602}, {39, 976, 1923},
		{42, 1121, 2274}, {45, 1306, 2653}, {48, 1473, 3062},
	} {
		got, ok := threadOf(c.d)
		if !ok || got.inch {
			t.Fatalf("M%g: not found among metric threads", c.d)
		}
		if a := math.Pi / 4 * math.Pow(c.d-0.9382*got.pitch, 2); math.Abs(a/c.stress-1) > 0.005 {
			t.Errorf("M%g, pitch %g: stress area %.1f mm2, ISO 898-1 has %g", c.d, got.pitch, a, c.stress)
		}
		if a := math.Sqrt(3)/2*got.flats*got.flats - math.Pi/4*c.d*c.d; math.Abs(a-c.bearing) > 1.5 {
			t.Errorf("M%g, %g across flats: bears on %.0f mm2, want %g", c.d, got.flats, a, c.bearing)
		}
	}
}

// Stress areas and bearing areas of heavy hexagon nuts in square inches: AISC
// Design Guide 1, Tables 4-1 and 4-2 (read in a secondary copy); the area is
// pi/4 (d - 0.9743/n)^2 with n threads per inch.
func TestInchHardware(t *testing.T) {
	for _, c := range []struct{ d, stress, bearing float64 }{
		{5. / 8, 0.226, 0.671}, {3. / 4, 0.334, 0.911}, {7. / 8, 0.462, 1.19}, {1, 0.606, 1.50}, {1.125, 0.763, 1.85},
		{1.25, 0.969, 2.24}, {1.5, 1.41, 3.12}, {1.75, 1.90, 4.14}, {2, 2.50, 5.32}, {2.5, 4.00, 8.10},
	} {
		got, ok := threadOf(c.d * mmPerInch)
		if !ok || !got.inch {
			t.Fatalf("%g in: not found among inch threads", c.d)
		}
		if a := math.Pi / 4 * math.Pow(c.d-0.9743*got.pitch/mmPerInch, 2); math.Abs(a/c.stress-1) > 0.01 {
			t.Errorf("%g in: stress area %.3f in2, want %g", c.d, a, c.stress)
		}
		s := got.flats / mmPerInch
		if a := math.Sqrt(3)/2*s*s - math.Pi/4*c.d*c.d; math.Abs(a-c.bearing) > 0.02 {
			t.Errorf("%g in, %g across flats: bears on %.2f in2, want %g", c.d, s, a, c.bearing)
		}
	}
}

// What every setter-out knows, common practice, no published source: the nut of
// an M16 is 24 across flats, and heights are those of the nuts of today, not the
// 13 mm of the M16 nut that they replaced.
func TestKnownHardware(t *testing.T) {
	if m16, _ := threadOf(16); m16.flats != 24 || m16.nut != 14.8 || m16.pitch != 2 || m16.washer != 3 {
		t.Errorf("M16: got %+v", m16)
	}
	for _, c := range []struct {
		d, want float64 // 0: none
	}{
		{16.1, 16}, {15.875, 15.875}, {15.6, 15.875}, {25.4, 25.4}, {25, 25.4}, {21, 0}, {0, 0}, {500, 0}, {math.NaN(), 0},
	} {
		if got, ok := threadOf(c.d); ok != (c.want > 0) || math.Abs(got.d-c.want) > 1e-9 {
			t.Errorf("%g mm: got %g, %v, want %g", c.d, got.d, ok, c.want)
		}
	}
}
