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

// A side that leans out is nearest at the face, one that leans in at the bearing
// depth; worked by similar triangles.
func TestDepthOfTheNearestEdge(t *testing.T) {
	for _, c := range []struct {
		lean, want, depth float64 // mm over 500 mm of depth
	}{{100, 40, 0.02}, {20, 40, 0.02}, {-20, 40 - 20*299.98/500, 299.98}, {-50, 40 - 50*299.98/500, 299.98}} {
		for name, at := range map[string]geom.Affine{
			"as drawn": geom.Identity, "askew": geom.FrameZX(geom.V(120, -3000, 450), geom.V(1, 2, 3), geom.V(3, -1, 0.5)),
		} {
			block := box(geom.V(-1000, -700, -500), geom.V(40, 1000, 0))
			for i, v := range block.Verts {
				if v.X > 0 && v.Z < 0 {
					block.Verts[i].X += c.lean
				}
			}
			a := &model.Anchor{Open: at.Apply(geom.V(0, 0, 100)), Dir: at.Turn(geom.V(0, 0, -1)), Length: 400, Diameter: 20, Bearing: 400, Deepest: 400}
			a.Entry = measure.Entry(a, geom.NewSolid(block.Transform(at)), false)
			e, ok := measure.EdgeDistance(a)
			if !ok || math.Abs(e.Dist-c.want) > 5e-3 || math.Abs(e.Depth-c.depth) > 1e-3 {
				t.Errorf("leaning %v, %s: %.4f at a depth of %.4f, %v; want %.4f at %.4f", c.lean, name, e.Dist, e.Depth, ok, c.want, c.depth)
			}
		}
	}
}
