package measure_test

import (
	"math"
	"testing"

	"embedcheck/internal/geom"
	"embedcheck/internal/measure"
)

// turned is a frame that no axis of the world lies in.
func turned() geom.Affine {
	return geom.FrameZX(geom.V(5e5, -2e5, 31), geom.V(1, 2, 3), geom.V(-2, 1, 0.3))
}

func TestSizeOfBodies(t *testing.T) {
	panel := geom.BoxMesh(geom.V(0, 0, 0), geom.V(6000, 180, 3000))
	corner := geom.Subtract(panel, geom.BoxMesh(geom.V(-10, -10, 2000), geom.V(900, 190, 3010)))
	for _, c := range []struct {
		name string
		mesh *geom.Mesh
		want measure.Extent
	}{
		{"panel", panel, measure.Extent{Length: 6000, Width: 3000, Thickness: 180}},
		{"panel without a corner", corner, measure.Extent{Length: 6000, Width: 3000, Thickness: 180}},
		{"column", geom.BoxMesh(geom.V(0, 0, 0), geom.V(400, 300, 3600)), measure.Extent{Length: 3600, Width: 400, Thickness: 300}},
	} {
		for name, m := range map[string]*geom.Mesh{"as drawn": c.mesh, "turned": c.mesh.Transform(turned())} {
			got, ok := measure.SizeOf(m)
			if d := math.Max(math.Abs(got.Length-c.want.Length), math.Max(math.Abs(got.Width-c.want.Width), math.Abs(got.Thickness-c.want.Thickness))); !ok || d > 0.01 {
				t.Errorf("%s, %s: %v %v, want %v", c.name, name, got, ok, c.want)
			}
		}
	}
	if _, ok := measure.SizeOf(&geom.Mesh{}); ok {
		t.Error("an empty body has a size")
	}
}
