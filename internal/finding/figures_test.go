package finding

import (
	"math"
	"testing"
)

func TestFigures(t *testing.T) {
	for _, c := range []struct {
		measured, required float64
		unit               string
		relation           Relation
		want               string
	}{
		{65, 100, "mm", AtLeast, "65 mm, at least 100 mm required"},
		{64.96, 100, "mm", AtLeast, "65 mm, at least 100 mm required"},
		{64.94, 100, "mm", AtLeast, "64.9 mm, at least 100 mm required"},
		{-3.04, 0, "mm", AtLeast, "-3 mm, at least 0 mm required"},
		{-0.01, 20, "mm", AtLeast, "0 mm, at least 20 mm required"},
		{99.998, 100, "mm", AtLeast, "99.998 mm, at least 100 mm required"},
		{100.04, 100, "mm", AtMost, "100.04 mm, at most 100 mm required"},
		{0.716, 0.8, "ratio", AtLeast, "0.72, at least 0.8 required"},
		{0.7999, 0.8, "ratio", AtLeast, "0.7999, at least 0.8 required"},
		{3, 4, "count", Equal, "3, 4 required"},
		{2.25, 1, "degrees", AtMost, "2.3 degrees, at most 1 degree required"},
		{math.NaN(), 20, "mm", AtLeast, "no value, at least 20 mm required"},
		{5, 0, "mm", None, ""},
	} {
		in := Instance{Measured: c.measured, Required: c.required, Unit: c.unit, Relation: c.relation}
		if got := in.Figures(); got != c.want {
			t.Errorf("%v against %v: got %q, want %q", c.measured, c.required, got, c.want)
		}
	}
}

func TestRoundedKeepsApartWhatDiffers(t *testing.T) {
	for _, c := range []struct {
		measured, required, wantM, wantR float64
		unit                             string
	}{
		{65.004999, 100, 65, 100, "mm"},
		{65.006, 100, 65.01, 100, "mm"},
		{99.998, 100, 99.998, 100, "mm"},
		{100, 100, 100, 100, "mm"},
		{0.71649, 0.8, 0.716, 0.8, "ratio"},
		{-1e-9, 20, 0, 20, "mm"},
	} {
		in := Instance{Measured: c.measured, Required: c.required, Unit: c.unit}
		m, r := in.Rounded()
		if m != c.wantM || r != c.wantR || math.Signbit(m) != math.Signbit(c.wantM) {
			t.Errorf("%v against %v: got %v, %v", c.measured, c.required, m, r)
		}
	}
}

func TestRoundLeavesWhatCannotBeRounded(t *testing.T) {
	for _, v := range []float64{math.MaxFloat64, math.Inf(1), math.Inf(-1)} {
		if got := Round(v, 2); got != v {
			t.Errorf("Round(%v) = %v", v, got)
		}
	}
	if !math.IsNaN(Round(math.NaN(), 2)) {
		t.Error("NaN became a number")
	}
	if got := Round(math.Copysign(0, -1), 2); math.Signbit(got) {
		t.Error("-0 stays -0")
	}
}
