package survey

import (
	"testing"

	"embedcheck/internal/geom"
)

// TestAgainstSciPy holds a fit of five panel corners, measured on a site grid
// with some millimetres of scatter, to the figures of SciPy 1.10.1,
// scipy.spatial.transform.Rotation.align_vectors of the points less their means.
func TestAgainstSciPy(t *testing.T) {
	refs := pairsOf(
		[]geom.Vec{geom.V(0, 0, 0), geom.V(3000, 0, 0), geom.V(0, 200, 0), geom.V(3000, 0, 2600), geom.V(0, 200, 2600)},
		[]geom.Vec{
			geom.V(512104.2, -88310.5, 4012.0), geom.V(514701.9, -86811.3, 4004.5), geom.V(512003.1, -88135.8, 4010.9),
			geom.V(514693.8, -86806.1, 6607.2), geom.V(511999.6, -88140.2, 6613.0),
		})
	f, err := New(refs)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range [3][3]float64{
		{0.8655522277, 0.5008185302, -0.0003754278},
		{-0.5008186306, 0.8655516139, -0.0010502115},
		{-0.0002010133, 0.0010970341, 0.9999993781},
	} {
		x, y, z := rows(f.Motion.X), rows(f.Motion.Y), rows(f.Motion.Z)
		for j, got := range [3]float64{x[i], y[i], z[i]} {
			near(t, "rotation", got, want[j], 1e-9)
		}
	}
	for i, want := range []float64{3.2822291096, 5.6464905745, 3.5877199223, 4.8450631632, 5.430669342} {
		near(t, "residual", f.Residuals[i].Size(), want, 1e-6)
	}
	near(t, "RMS", f.RMS, 4.658206189807454, 1e-8)
	bolt := f.Apply(geom.V(513200, -87600, 6700))
	near(t, "distance of a bolt", bolt.Dist(geom.V(1305.90887924, 63.7424043476, 2690.5037137437)), 0, 1e-5)
}
