package shape

import (
	"math"
	"testing"
)

// Areas from the section tables of EN 10365 (IPE, HEA, U with tapered flanges),
// EN 10056-1 (angles), EN 10055 (tees); values from memory, in cm2.
func TestSteelSectionAreas(t *testing.T) {
	slope8 := math.Atan(0.08)
	slope2 := math.Atan(0.02)
	for _, c := range []struct {
		name string
		at   []corner
		cm2  float64
		tol  float64
	}{
		{"IPE 300", iSection{300, 7.1, flange{150, 10.7, 0, 0}, flange{150, 10.7, 0, 0}, 15, 15}.outline(), 53.81, 0.05},
		{"HEA 200", iSection{190, 6.5, flange{200, 10, 0, 0}, flange{200, 10, 0, 0}, 18, 18}.outline(), 53.83, 0.05},
		{"IPN 200", iSection{200, 7.5, flange{90, 11.3, 4.5, math.Atan(0.14)}, flange{90, 11.3, 4.5, math.Atan(0.14)}, 7.5, 7.5}.outline(), 33.4, 0.1},
		{"UPN 200", uOutline(200, 75, 8.5, 11.5, 11.5, 6, slope8), 32.2, 0.1},
		{"UPE 200", uOutline(200, 80, 6, 11, 13, 0, 0), 29.0, 0.1},
		{"L 100x100x10", lOutline(100, 100, 10, 12, 6, 0), 19.2, 0.05},
		{"L 150x100x12", lOutline(150, 100, 12, 12, 6, 0), 28.7, 0.1},
		{"T 100", tSection{100, 100, 11, 11, 11, 5.5, 3, slope2, slope2}.outline(), 20.9, 0.1},
	} {
		pts, err := rounded(c.at)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if got := area(pts) / 100; math.Abs(got-c.cm2) > c.tol {
			t.Errorf("%s: %.3f cm2, the table has %.2f", c.name, got, c.cm2)
		}
	}
}
