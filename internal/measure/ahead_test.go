package measure_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"embedcheck/internal/geom"
	"embedcheck/internal/measure"
	"embedcheck/internal/model"
)

func rodItem(radius float64, path ...geom.Vec) *model.Item {
	r := geom.Rod{Path: path, Radius: radius}
	return &model.Item{Bodies: []model.Body{{Rod: &r, Box: r.Box()}}, Box: r.Box()}
}

func meshItem(m *geom.Mesh) *model.Item {
	return &model.Item{Bodies: []model.Body{{Mesh: m, Box: m.Box()}}, Box: m.Box()}
}

func TestWay(t *testing.T) {
	w := measure.Way{Dir: geom.V(1, 0, 0), Radius: 20, Length: 100}
	wall := box(geom.V(80, -500, -500), geom.V(300, 500, 500))
	hole := box(geom.V(70, -30, -30), geom.V(310, 30, 30))
	for _, c := range []struct {
		name string
		got  func() (float64, bool)
		want float64
		ok   bool
	}{
		{"wall ahead", func() (float64, bool) { return w.ToSolid(geom.NewSolid(wall)) }, 80, true},
		{"hole wider than the way", func() (float64, bool) { return w.ToSolid(geom.NewSolid(wall, hole)) }, 0, false},
		{"wall behind", func() (float64, bool) {
			return w.ToSolid(geom.NewSolid(wall.Transform(geom.Identity.Shift(geom.V(-400, 0, 0)))))
		}, 0, false},
		{"wall around", func() (float64, bool) {
			return w.ToSolid(geom.NewSolid(wall.Transform(geom.Identity.Shift(geom.V(-100, 0, 0)))))
		}, 0, true},
		{"wall too far", func() (float64, bool) {
			return w.ToSolid(geom.NewSolid(wall.Transform(geom.Identity.Shift(geom.V(21, 0, 0)))))
		}, 0, false},
		{"wall beside", func() (float64, bool) {
			return w.ToSolid(geom.NewSolid(box(geom.V(0, 21, -500), geom.V(300, 500, 500))))
		}, 0, false},
		{"wall that the way grazes", func() (float64, bool) {
			return w.ToSolid(geom.NewSolid(box(geom.V(30, 19, -500), geom.V(300, 500, 500))))
		}, 30, true},
		{"the axis alone does not graze it", func() (float64, bool) {
			return w.AxisToSolid(geom.NewSolid(box(geom.V(30, 19, -500), geom.V(300, 500, 500))))
		}, 0, false},
		{"box ahead", func() (float64, bool) { return w.ToBox(wall.Box()) }, 80, true},
		{"box beside", func() (float64, bool) { return w.ToBox(geom.BoxOf(geom.V(0, 21, -500), geom.V(300, 500, 500))) }, 0, false},
		{"rod across", func() (float64, bool) { return w.ToItem(rodItem(8, geom.V(60, -200, 0), geom.V(60, 200, 0))) }, 52, true},
		{"rod beside", func() (float64, bool) { return w.ToItem(rodItem(8, geom.V(0, 0, 28.2), geom.V(100, 0, 28.2))) }, 0, false},
		{"plate ahead", func() (float64, bool) { return w.ToItem(meshItem(box(geom.V(40, -50, -50), geom.V(50, 50, 50)))) }, 40, true},
		{"plate in the first place", func() (float64, bool) { return w.ToItem(meshItem(box(geom.V(-5, -50, -50), geom.V(5, 50, 50)))) }, 0, true},
	} {
		if got, ok := c.got(); ok != c.ok || ok && math.Abs(got-c.want) > 0.2 {
			t.Errorf("%s: %v, %v; want %v, %v", c.name, got, ok, c.want, c.ok)
		}
	}
}

// The slow twin: bodies are looked for point by point, on many lines.
func TestWayAgainstPoints(t *testing.T) {
	rnd := rand.New(rand.NewPCG(31, 32))
	n := func(k float64) float64 { return k * (rnd.Float64() - 0.5) }
	met := 0
	for round := range 24 {
		w := measure.Way{From: geom.V(n(50), n(50), n(50)), Dir: geom.V(n(1), n(1), n(1)+0.1).Unit(), Radius: 20, Length: 150}
		a := geom.V(n(200), n(200), n(200))
		mesh := box(a, a.Add(geom.V(60, 60, 60)))
		want := w.Length
		f := geom.FrameZX(w.From, w.Dir, w.Dir.Perp())
		for turn := range 72 {
			for r := 0.0; r <= w.Radius; r += 2 {
				s, c := math.Sincos(2 * math.Pi * float64(turn) / 72)
				for t := 0.0; t < want; t++ {
					if mesh.Contains(f.Apply(geom.V(r*c, r*s, t))) {
						want = t
					}
				}
			}
		}
		got, ok := w.ToItem(meshItem(mesh))
		if ok {
			met++
		}
		if got > want+0.2 || got < want-2.5 { // points miss corners that reach in by less than their spacing
			t.Errorf("round %d: %v, %v; points say %v", round, got, ok, want)
		}
	}
	if met < 4 {
		t.Errorf("only %d ways meet anything: the test says little", met)
	}
}
