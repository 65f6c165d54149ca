package measure_test

import (
	"math"
	"testing"

	"embedcheck/internal/geom"
	"embedcheck/internal/measure"
	"embedcheck/internal/model"
)

// Two blocks stand side by side, 40 mm from an anchor in one of them: a gap that
// only the model has is no edge, a joint is one.
func TestCracksAreNoEdges(t *testing.T) {
	for _, c := range []struct {
		gap, want float64
	}{{0, 300}, {1e-6, 300}, {0.05, 300}, {0.2, 40}, {10, 40}} {
		for name, at := range map[string]geom.Affine{
			"as drawn": geom.Identity, "askew": geom.FrameZX(geom.V(120, -3000, 450), geom.V(1, 2, 3), geom.V(3, -1, 0.5)),
		} {
			blocks := box(geom.V(-1000, -300, -500), geom.V(40, 1000, 0)).Append(box(geom.V(40+c.gap, -300, -500), geom.V(1000, 1000, 0)))
			a := &model.Anchor{Open: at.Apply(geom.V(0, 0, 100)), Dir: at.Turn(geom.V(0, 0, -1)), Length: 300, Diameter: 20, Bearing: 300, Deepest: 300}
			a.Entry = measure.Entry(a, geom.NewSolid(blocks.Transform(at)), false)
			e, ok := measure.EdgeDistance(a)
			if !ok || math.Abs(e.Dist-c.want) > 1e-3 {
				t.Errorf("gap of %v mm, %s: %v, %v; want %v", c.gap, name, e.Dist, ok, c.want)
			}
		}
	}
}
