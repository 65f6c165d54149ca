package rules

import (
	"math"
	"math/rand/v2"
	"testing"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// grid are anchors at all crossings of columns and rows.
func grid(depth, edge float64, xs, ys []float64) *pad {
	p := &pad{edge: edge}
	for _, x := range xs {
		for _, y := range ys {
			p.at = append(p.at, geom.Vec2{X: x, Y: y})
			p.depth = append(p.depth, depth)
		}
	}
	return p
}

func (p *pad) within(x0, y0, x1, y1 float64) *pad {
	p.outline = [][]geom.Vec2{{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}}
	return p
}

const far = 1e4

// Published and recomputed examples, in the units that they are given in: the
// figures are ratios or areas, and a unit of length is a unit of length.
func TestConeAgainstWorkedExamples(t *testing.T) {
	for _, c := range []struct {
		name            string
		pad             *pad
		area, one, edge float64
		depth           float64
	}{
		{"AISC Design Guide 1, 3rd ed., example 4.7-3 (in): 2 x 2 at 4, 15 deep, no edges",
			grid(15, far, []float64{0, 4}, []float64{0, 4}).within(-far, -far, far, far), 2401, 2025, 1, 15},
		{"AISC Design Guide 1, 3rd ed., example 4.7-5 (in): 2 at 8.5 along an edge at 10.75, 12 deep",
			grid(12, 10.75, []float64{0}, []float64{0, 8.5}).within(-10.75, -far, far, far), 1279.4, 1296, 0.87917, 12},
		{"AISC Design Guide 1, 3rd ed., example 4.7-7 (in): spans of 28 and 6.5, 24 deep",
			grid(24, far, []float64{0, 8, 14, 20, 28}, []float64{0, 3.25, 6.5}).within(-far, -far, far, far), 7850, 5184, 1, 24},
		{"AISC Design Guide 1, 3rd ed., example 4.7-9 (in): 2 at 6, 12 deep",
			grid(12, far, []float64{0, 6}, []float64{0}).within(-far, -far, far, far), 1512, 1296, 1, 12},
		{"AISC Design Guide 1, 3rd ed., example 4.7-11 (in): 2 at 12, 18 deep",
			grid(18, far, []float64{0, 12}, []float64{0}).within(-far, -far, far, far), 3564, 2916, 1, 18},
		{"ACI 318, figure R17.6.2.1.2 (in), from memory: edges at 5, 6 and 4, 9 apart, 5.5 deep",
			grid(5.5, 4, []float64{0, 9}, []float64{0}).within(-5, -6, far, 4), 200, 144, 0.9, 4},
		{"PCA notes on ACI 318, example 34.2 (in), from memory: 2 x 2 at 6 and an edge at 3, 4.5 deep",
			grid(4.5, 3, []float64{0, 6}, []float64{0, 6}).within(-3, -far, far, far), 307.125, 182.25, 0.83333, 4.5},
		{"EN 1992-4 formula (mm): single, edge at 150, 200 deep",
			grid(200, 150, []float64{0}, []float64{0}).within(-150, -far, far, far), 270000, 360000, 0.85, 200},
		{"EN 1992-4 formula (mm): 2 x 2 at 100, edge at 100, 150 deep",
			grid(150, 100, []float64{0, 100}, []float64{0, 100}).within(-100, -far, far, far), 233750, 202500, 0.83333, 150},
		{"EN 1992-4 formula (mm): pier 400 x 400, 2 x 2 at 200, 300 deep",
			grid(300, 100, []float64{0, 200}, []float64{0, 200}).within(-100, -100, 300, 300), 160000, 40000, 1, 66.667},
	} {
		got := c.pad.cone()
		for _, v := range []struct {
			what      string
			got, want float64
		}{{"area", got.Area, c.area}, {"area of one", got.One, c.one}, {"edge factor", got.Edge, c.edge}, {"depth", got.Depth, c.depth}} {
			if math.Abs(v.got-v.want) > 1e-4*v.want {
				t.Errorf("%s: %s is %v, want %v", c.name, v.what, v.got, v.want)
			}
		}
	}
}

func TestConeShare(t *testing.T) {
	for _, c := range []struct {
		name   string
		pad    *pad
		want   float64
		narrow bool
	}{
		{"no edge", grid(100, far, []float64{0}, []float64{0}).within(-far, -far, far, far), 1, false},
		{"2 x 2, no edge", grid(100, far, []float64{0, 50}, []float64{0, 50}).within(-far, -far, far, far), 1, false},
		{"edge at 1.5 depths", grid(100, 150, []float64{0}, []float64{0}).within(-150, -far, far, far), 1, false},
		{"edge at 0.75 depths", grid(100, 75, []float64{0}, []float64{0}).within(-75, -far, far, far), 0.75 * 0.85, false},
		// 106.139 kN against 253.298 kN x 1100^2 / 900^2 by the formula of EN 1992-4.
		{"pier", grid(300, 100, []float64{0, 200}, []float64{0, 200}).within(-100, -100, 300, 300), 106.139 / (253.298 * 1.493827), true},
	} {
		got := c.pad.cone()
		if math.Abs(got.Share-c.want) > 1e-4 || got.Narrow != c.narrow {
			t.Errorf("%s: share %v, narrow %v; want %v, %v", c.name, got.Share, got.Narrow, c.want, c.narrow)
		}
	}
}

func TestConcreteCone(t *testing.T) {
	at := func(kind model.Kind, x float64) func(*scene) {
		return func(s *scene) {
			c := bolt("A", x, 1000) // 147 mm deep: the cone reaches 220.5 mm
			c.kind = kind
			s.add(s.wall("W"), c)
		}
	}
	limit := limitFor(ConcreteCone, Term{Ratio, 0.8})
	share := func(x float64) float64 { return (x + 220.5) / 441 * (0.7 + 0.3*x/220.5) }
	check(t, ConcreteCone, limit, "0.805", nil, at(model.Bolt, 165)) // share 0.8085
	check(t, ConcreteCone, limit, "0.79", []float64{share(160)}, at(model.Bolt, 160))
	check(t, ConcreteCone, Builtin(), "built-in", []float64{share(40)}, at(model.Bolt, 40))
	check(t, ConcreteCone, Builtin(), "built-in, far enough", nil, at(model.Bolt, 90))
	check(t, ConcreteCone, Builtin(), "a sleeve is not asked", nil, at(model.Sleeve, 40))
	check(t, ConcreteCone, limit, "beside an opening", []float64{(441*441 - (220.5-100)*441) / (441.0 * 441) * (0.7 + 0.3*100/220.5)}, func(s *scene) {
		s.bolt(s.wallWithOpening("W"), "A", 900, 1100)
	})

	s := newScene(geom.Identity)
	at(model.Lifter, 40)(s)
	if got := only(t, ConcreteCone, s.m); len(got) != 1 || got[0].Priority.String() != "note" {
		t.Errorf("lifter: got %+v", got)
	}
	got := text(t, ConcreteCone, Builtin(), func(s *scene) {
		w := s.wall("W")
		s.set("HB-1", s.bolt(w, "a", 40, 1000), s.bolt(w, "b", 40, 1200))
	})
	want := "the edges leave 0.45 of the breakout cone that HB-1 (2 anchors) would have in the open; 0.5 asked for: projected area 0.86 times that of one anchor, edge factor 0.75."
	if got != want {
		t.Errorf("got %s\nwant %s", got, want)
	}
	got = text(t, ConcreteCone, Builtin(), func(s *scene) {
		s.add(s.wall("W"), spec{kind: model.Bolt, name: "A", open: geom.V(60, 100, 2600), dir: geom.V(0, 0, -1), d: 20, length: 413, head: 13})
	})
	want = "the edges leave 0.07 of the breakout cone that A would have in the open; 0.5 asked for: projected area 0.8 times that of one anchor, edge factor 0.88, three or more edges near, so that a depth of 66.7 mm counts."
	if got != want {
		t.Errorf("got %s\nwant %s", got, want)
	}
}

// The area of shapes on whole millimetres is a number of cells.
func TestCoveredAreaAgainstCells(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 4))
	n := func(k int) float64 { return float64(rnd.IntN(k)) }
	for range 200 {
		var squares []square
		for range 1 + rnd.IntN(4) {
			squares = append(squares, square{geom.Vec2{X: n(40), Y: n(40)}, 1 + n(10)})
		}
		x, y := n(20), n(20)
		w, h := 10+n(20), 10+n(20)
		hole := rect(x+2, y+2, x+4, y+5)
		outline := [][]geom.Vec2{rect(x, y, x+w, y+h), hole}
		cells := 0
		for i := -20; i < 60; i++ {
			for k := -20; k < 60; k++ {
				c := geom.Vec2{X: float64(i) + 0.5, Y: float64(k) + 0.5}
				in := false
				for _, q := range squares {
					in = in || math.Abs(c.X-q.at.X) < q.half && math.Abs(c.Y-q.at.Y) < q.half
				}
				if in && c.X > x && c.X < x+w && c.Y > y && c.Y < y+h && !(c.X > x+2 && c.X < x+4 && c.Y > y+2 && c.Y < y+5) {
					cells++
				}
			}
		}
		if got := coveredArea(squares, outline); math.Abs(got-float64(cells)) > 1e-9 {
			t.Fatalf("squares %v in %v: got %v, want %d", squares, outline[0], got, cells)
		}
	}
}

func rect(x0, y0, x1, y1 float64) []geom.Vec2 {
	return []geom.Vec2{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}
}

// Slanted outlines against sampling.
func TestCoveredAreaAgainstSampling(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 6))
	for range 8 {
		var loop []geom.Vec2
		for i := range 7 { // a star around the middle: simple, not convex
			w, r := 2*math.Pi*float64(i)/7, 3+7*rnd.Float64()
			loop = append(loop, geom.Vec2{X: r * math.Cos(w), Y: r * math.Sin(w)})
		}
		squares := []square{{geom.Vec2{X: 4*rnd.Float64() - 2, Y: 0}, 4}, {geom.Vec2{X: 3, Y: 4*rnd.Float64() - 2}, 2.5}}
		const step = 0.02
		count := 0
		for x := -10.0; x < 10; x += step {
			for y := -10.0; y < 10; y += step {
				for _, q := range squares {
					if math.Abs(x-q.at.X) < q.half && math.Abs(y-q.at.Y) < q.half {
						if wind(geom.Vec2{X: x, Y: y}, loop) {
							count++
						}
						break
					}
				}
			}
		}
		want := float64(count) * step * step
		if got := coveredArea(squares, [][]geom.Vec2{loop}); math.Abs(got-want) > 0.01*want+0.2 {
			t.Fatalf("loop %v: got %v, sampling %v", loop, got, want)
		}
	}
}

// wind is a point-in-loop test by the sum of angles.
func wind(p geom.Vec2, loop []geom.Vec2) bool {
	var sum float64
	for i, a := range loop {
		u, v := a.Sub(p), loop[(i+1)%len(loop)].Sub(p)
		sum += math.Atan2(u.Cross(v), u.Dot(v))
	}
	return math.Abs(sum) > math.Pi
}
