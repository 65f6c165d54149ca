package rules

import (
	"slices"
	"testing"

	"embedcheck/internal/finding"
)

func TestResolve(t *testing.T) {
	b := Basis{Diameter: 20, BarDiameter: 16, Embedment: 147, Thickness: 200}
	for _, c := range []struct {
		limit   Limit
		rel     finding.Relation
		basis   Basis
		want    float64
		governs Unit
		why     string
	}{
		{Limit{{MM, 50}}, finding.AtLeast, b, 50, MM, ""},
		{Limit{{Inch, 2}}, finding.AtLeast, b, 50.8, Inch, " (2 in)"},
		{Limit{{Diameters, 6}}, finding.AtLeast, b, 120, Diameters, " (6 diameters of 20 mm)"},
		{Limit{{BarDiameters, 1}}, finding.AtLeast, b, 16, BarDiameters, " (1 bar diameter of 16 mm)"},
		{Limit{{Embedments, 1.5}}, finding.AtLeast, b, 220.5, Embedments, " (1.5 embedment depths of 147 mm)"},
		{Limit{{Thicknesses, 0.5}}, finding.AtLeast, b, 100, Thicknesses, " (0.5 member thicknesses of 200 mm)"},
		{Limit{{Ratio, 0.8}}, finding.AtLeast, b, 0.8, Ratio, ""},
		{Limit{{Degrees, 3}}, finding.AtMost, b, 3, Degrees, ""},
		{Limit{{MM, 50}, {Diameters, 6}}, finding.AtLeast, b, 120, Diameters, " (6 diameters of 20 mm govern over 50 mm)"},
		{Limit{{MM, 150}, {Diameters, 6}}, finding.AtLeast, b, 150, MM, " (150 mm govern over 6 diameters)"},
		{Limit{{MM, 10}, {Diameters, 1}}, finding.AtLeast, b, 20, Diameters, " (1 diameter of 20 mm governs over 10 mm)"},
		{Limit{{MM, 50}, {Diameters, 6}}, finding.AtMost, b, 50, MM, " (50 mm govern over 6 diameters)"},
		{Limit{{MM, 50}, {Diameters, 6}}, finding.AtLeast, Basis{}, 50, MM, " (50 mm govern over 6 diameters)"},
	} {
		r, ok := c.limit.Resolve(c.rel, c.basis)
		if !ok || r.Value != c.want || r.Governs != c.governs || r.why() != c.why {
			t.Errorf("%s: got %v %s%s, %v; want %v %s%s", c.limit, r.Value, r.Governs, r.why(), ok, c.want, c.governs, c.why)
		}
	}
	r, ok := Limit{{Diameters, 6}, {Embedments, 1}}.Resolve(finding.AtLeast, Basis{Embedment: -3})
	if ok || !slices.Equal(r.Missing, []Unit{Diameters, Embedments}) {
		t.Errorf("nothing known: got %+v, %v", r, ok)
	}
}

func TestFigures(t *testing.T) {
	for _, c := range []struct {
		got, want float64
		g, w      string
	}{
		{65, 120, "65", "120"},
		{65.04, 120, "65", "120"},
		{119.96, 120, "119.96", "120"},
		{119.998, 120, "119.998", "120"},
		{-0.001, 20, "0", "20"},
		{20, 20, "20", "20"},
	} {
		if g, w := figures(c.got, c.want); g != c.g || w != c.w {
			t.Errorf("%v and %v: got %s and %s", c.got, c.want, g, w)
		}
	}
}

// Coordinates that drawings have, in mm and inches, keep off the borders by far
// more than an export rounds.
func TestBucketBordersKeepOffUsualCoordinates(t *testing.T) {
	for i := -200000; i < 200000; i++ {
		for _, v := range []float64{float64(i) / 20, float64(i) * 25.4 / 64} {
			if bucket(v-0.018) != bucket(v+0.018) {
				t.Fatalf("a border lies within 0.018 mm of %v", v)
			}
		}
	}
	if bucket(0) == bucket(4*mmPerInch) || bucket(14) != bucket(115) {
		t.Error("a bucket is not 4 inches wide")
	}
}
