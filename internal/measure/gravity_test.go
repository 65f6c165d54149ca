package measure_test

import (
	"math/rand/v2"
	"testing"

	"embedcheck/internal/geom"
	"embedcheck/internal/measure"
)

func box(a, b geom.Vec) *geom.Mesh {
	m := &geom.Mesh{Tris: [][3]int32{{0, 2, 1}, {0, 3, 2}, {4, 5, 6}, {4, 6, 7}, {0, 1, 5}, {0, 5, 4}, {1, 2, 6}, {1, 6, 5}, {2, 3, 7}, {2, 7, 6}, {3, 0, 4}, {3, 4, 7}}}
	for _, z := range [2]float64{a.Z, b.Z} {
		m.Verts = append(m.Verts, geom.V(a.X, a.Y, z), geom.V(b.X, a.Y, z), geom.V(b.X, b.Y, z), geom.V(a.X, b.Y, z))
	}
	return m
}

// Worked by hand: volumes times middles.
func TestCentreOfGravity(t *testing.T) {
	panel := box(geom.V(0, 0, 0), geom.V(4000, 200, 3000))
	door := box(geom.V(2500, -10, -10), geom.V(3500, 210, 2000))
	notch := box(geom.V(3800, -10, 2500), geom.V(4100, 210, 3100)) // reaches out of the panel
	dimple := box(geom.V(100, -5, 2000), geom.V(190, 30, 2090))
	for _, c := range []struct {
		name string
		less []*geom.Mesh
		want geom.Vec
	}{
		{"whole", nil, geom.V(2000, 100, 1500)},
		{"door", []*geom.Mesh{door}, geom.V((12*2000-2*3000)/10.0, 100, (12*1500-2*1000)/10.0)},
		{"door and notch", []*geom.Mesh{door, notch}, geom.V((12*2000-2*3000-0.1*3900)/9.9, 100, (12*1500-2*1000-0.1*2750)/9.9)},
		{"two openings that overlap", []*geom.Mesh{door, door}, geom.V((12*2000-2*3000)/10.0, 100, (12*1500-2*1000)/10.0)},
		{"a dimple moves it by next to nothing", []*geom.Mesh{door, dimple}, geom.V((12*2000-2*3000)/10.0, 100, (12*1500-2*1000)/10.0)},
	} {
		for where, at := range map[string]geom.Affine{
			"as drawn": geom.Identity, "askew": geom.FrameZX(geom.V(120, -3000, 450), geom.V(1, 2, 3), geom.V(3, -1, 0.5)),
		} {
			var less []*geom.Mesh
			for _, m := range c.less {
				less = append(less, m.Transform(at))
			}
			got, ok := measure.CentreOfGravity(geom.NewSolid(panel.Transform(at), less...))
			if !ok || got.Dist(at.Apply(c.want)) > 0.5 {
				t.Errorf("%s, %s: got %v, %v; want %v", c.name, where, got, ok, at.Apply(c.want))
			}
		}
	}
	inside := geom.NewSolid(panel, box(geom.V(-10, -10, -10), geom.V(4010, 210, 3010)))
	if got, ok := measure.CentreOfGravity(inside); ok {
		t.Errorf("nothing is left, but its centre of gravity is %v", got)
	}
}

// The slow twin: the mean of points that are asked one by one.
func TestCentreOfGravityAgainstPoints(t *testing.T) {
	rnd := rand.New(rand.NewPCG(21, 22))
	for round := range 6 {
		var less []*geom.Mesh
		for range 1 + rnd.IntN(4) {
			a := geom.V(20*float64(rnd.IntN(40)), -20, 20*float64(rnd.IntN(40)))
			less = append(less, box(a, a.Add(geom.V(40+20*float64(rnd.IntN(15)), 240, 40+20*float64(rnd.IntN(15))))))
		}
		s := geom.NewSolid(box(geom.V(0, 0, 0), geom.V(1000, 200, 1000)), less...)
		var sum geom.Vec
		n := 0.0
		for x := 10.0; x < 1000; x += 20 {
			for z := 10.0; z < 1000; z += 20 {
				if p := geom.V(x, 100, z); s.Contains(p) {
					sum, n = sum.Add(p), n+1
				}
			}
		}
		got, ok := measure.CentreOfGravity(s)
		if want := sum.Mul(1 / n); !ok || got.Dist(want) > 0.5 {
			t.Errorf("round %d: got %v, points say %v", round, got, want)
		}
	}
}

// Wherever the openings lie, the centre is within the bounds.
func TestGravityBounds(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 6))
	body := box(geom.V(0, 0, 0), geom.V(4000, 200, 3000))
	for round := range 60 {
		var less []*geom.Mesh
		for range rnd.IntN(5) {
			a := geom.V(rnd.Float64()*4200-200, rnd.Float64()*150-50, rnd.Float64()*3200-200)
			less = append(less, box(a, a.Add(geom.V(10+rnd.Float64()*900, 10+rnd.Float64()*300, 10+rnd.Float64()*900))))
		}
		s := geom.NewSolid(body, less...)
		near, slack, ok := measure.GravityBounds(s)
		exact, ok2 := measure.CentreOfGravity(s)
		if !ok || !ok2 || exact.Dist(near) > slack {
			t.Errorf("round %d: %v moved to %v, by %.1f mm; at most %.1f (%v, %v)", round, near, exact, exact.Dist(near), slack, ok, ok2)
		}
		if len(less) == 0 && slack > 1 {
			t.Errorf("round %d: nothing is cut out, and it may move by %v mm", round, slack)
		}
	}
	if _, _, ok := measure.GravityBounds(geom.NewSolid(body, box(geom.V(-10, -10, -10), geom.V(4010, 210, 3010)))); ok {
		t.Error("bounds for nothing")
	}
}
