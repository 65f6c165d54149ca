package geom

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// turned is a rigid frame far from any axis.
func turned(o Vec) Affine { return FrameZX(o, V(0.3, -0.5, 0.8), V(1, 0.4, -0.2)) }

// randomTurn is a rigid frame at o.
func randomTurn(r *rand.Rand, o Vec) Affine {
	v := func() Vec { return V(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()) }
	return FrameZX(o, v(), v())
}

// circle is a polygon with corners on a circle.
func circle(x, y, r float64, n int) []Vec2 {
	out := make([]Vec2, n)
	for i := range out {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		out[i] = Vec2{x + r*c, y + r*s}
	}
	return out
}

// ball is a closed mesh with corners on a sphere.
func ball(c Vec, r float64, n int) *Mesh {
	half := []Vec2{}
	for i := range n + 1 {
		s, k := math.Sincos(math.Pi * float64(i) / float64(n))
		half = append(half, Vec2{r * s, -r * k})
	}
	return Revolve(half, nil, Identity.Shift(c), Vec{}, V(0, 1, 0), 2*math.Pi, 2*n)
}

// sheetCheck is an independent check of closedness: directed sides by place.
func sheetCheck(m *Mesh) int {
	sides := map[[2]Vec]int{}
	for _, t := range m.Tris {
		for k := range t {
			a, b := m.Verts[t[k]], m.Verts[t[(k+1)%3]]
			sides[[2]Vec{a, b}]++
			sides[[2]Vec{b, a}]--
		}
	}
	open := 0
	for _, n := range sides {
		if n > 0 {
			open += n
		}
	}
	return open
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: %.12g, want %.12g", what, got, want)
	}
}

func faceCount(m *Mesh) int {
	f := slices.Clone(m.Face)
	slices.Sort(f)
	return len(slices.Compact(f))
}

func TestPrism(t *testing.T) {
	el := []Vec2{{0, 0}, {30, 0}, {30, 10}, {10, 10}, {10, 40}, {0, 40}}
	cw := slices.Clone(el)
	slices.Reverse(cw)
	mirror := Affine{V(1, 0, 0), V(0, 1, 0), V(0, 0, -1), V(5, 5, 5)}
	for _, c := range []struct {
		name   string
		outer  []Vec2
		holes  [][]Vec2
		frame  Affine
		dir    Vec
		depth  float64
		volume float64
		faces  int
	}{
		{"up", el, nil, Identity, V(0, 0, 1), 7, 600 * 7, 8},
		{"down", el, nil, Identity, V(0, 0, -1), 7, 600 * 7, 8},
		{"clockwise", cw, nil, Identity, V(0, 0, 1), 7, 600 * 7, 8},
		{"turned", el, nil, turned(V(1e6, 2e5, -3e5)), V(0, 0, 1), 7, 600 * 7, 8},
		{"mirrored", el, nil, mirror, V(0, 0, 1), 7, 600 * 7, 8},
		{"skew", el, nil, Identity, V(1, 0, 1), 7 * math.Sqrt2, 600 * 7, 8},
		{"holes", square(0, 0, 10), [][]Vec2{square(1, 1, 2), circle(6, 6, 3, 8)}, turned(Vec{}), V(0, 0, 2), 5, 5 * (100 - 4 - 8*4.5*math.Sin(math.Pi/4)), 2 + 4 + 4 + 8},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := Prism(c.outer, c.holes, c.frame, c.dir, c.depth)
			near(t, "volume", m.Volume(), c.volume, 1e-6*c.volume)
			if got := faceCount(m); got != c.faces {
				t.Errorf("%d faces, want %d", got, c.faces)
			}
			if n := sheetCheck(m); n != 0 {
				t.Errorf("%d open sides", n)
			}
			for i := range m.Tris {
				a, _, _ := m.Tri(i)
				local := c.frame.Local(a)
				if m.Face[i] == 0 && math.Abs(local.Z) > 1e-6 {
					t.Errorf("face 0 is not the profile")
				}
			}
		})
	}
}

func TestPrismRuns(t *testing.T) {
	outer := circle(0, 0, 10, 8)
	for _, c := range []struct {
		name string
		run  []int
		want []int32
	}{
		{"none", nil, []int32{2, 3, 4, 5, 6, 7, 8, 9}},
		{"wrong length", []int{1, 1}, []int32{2, 3, 4, 5, 6, 7, 8, 9}},
		{"round", []int{4, 4, 4, 4, 4, 4, 4, 4}, []int32{2, 2, 2, 2, 2, 2, 2, 2}},
		{"two", []int{1, 1, 1, 1, 2, 2, 2, 2}, []int32{2, 2, 2, 2, 3, 3, 3, 3}},
		{"past the start", []int{1, 1, 2, 2, 3, 4, 1, 1}, []int32{2, 2, 3, 3, 4, 5, 2, 2}},
		{"same number apart", []int{1, 2, 1, 2, 1, 2, 1, 3}, []int32{2, 3, 4, 5, 6, 7, 8, 9}},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := Prism(outer, nil, Identity, V(0, 0, 1), 5, c.run)
			var got []int32
			for i := range m.Tris {
				if m.Face[i] > 1 {
					got = append(got, m.Face[i])
				}
			}
			var want []int32
			for _, f := range c.want {
				want = append(want, f, f)
			}
			if !slices.Equal(got, want) {
				t.Errorf("%v, want %v", got, want)
			}
		})
	}
}

func TestRevolve(t *testing.T) {
	ring := []Vec2{{10, 0}, {20, 0}, {20, 5}, {10, 5}}
	onAxis := []Vec2{{0, 0}, {10, 0}, {0, 10}}
	// Pappus: area by the way of its centroid; a polygon of n steps goes shorter
	// by sin(a)/a, a the angle of a step.
	short := func(angle float64, n int) float64 { a := angle / float64(n); return math.Sin(a) / a }
	for _, c := range []struct {
		name   string
		outer  []Vec2
		holes  [][]Vec2
		angle  float64
		steps  int
		volume float64
	}{
		{"full", ring, nil, 2 * math.Pi, 64, 50 * 15 * 2 * math.Pi * short(2*math.Pi, 64)},
		{"more than full", ring, nil, 9, 64, 50 * 15 * 2 * math.Pi * short(2*math.Pi, 64)},
		{"quarter", ring, nil, math.Pi / 2, 10, 50 * 15 * math.Pi / 2 * short(math.Pi/2, 10)},
		{"backwards", ring, nil, -math.Pi / 2, 10, 50 * 15 * math.Pi / 2 * short(math.Pi/2, 10)},
		{"touching the axis", onAxis, nil, 2 * math.Pi, 32, math.Pi * 100 * 10 / 3 * short(2*math.Pi, 32)},
		{"half, touching the axis", onAxis, nil, math.Pi, 32, math.Pi * 100 * 10 / 6 * short(math.Pi, 32)},
		{"hollow", []Vec2{{10, 0}, {20, 0}, {20, 10}, {10, 10}}, [][]Vec2{square(12, 2, 6)}, 2 * math.Pi, 48, (100 - 36) * 15 * 2 * math.Pi * short(2*math.Pi, 48)},
	} {
		for _, f := range []Affine{Identity, turned(V(1e5, 0, 3e4))} {
			m := Revolve(c.outer, c.holes, f, Vec{}, V(0, 3, 0), c.angle, c.steps)
			near(t, c.name, m.Volume(), c.volume, 1e-6*c.volume)
			if n := sheetCheck(m); n != 0 {
				t.Errorf("%s: %d open sides", c.name, n)
			}
		}
	}
}

func TestTube(t *testing.T) {
	const n = 16
	area := func(r float64) float64 { return n * r * r / 2 * math.Sin(2*math.Pi/n) }
	for _, c := range []struct {
		name   string
		rod    Rod
		volume float64
	}{
		{"straight", Rod{Path: []Vec{{}, {0, 0, 100}}, Radius: 10}, 100 * area(10)},
		{"repeated points", Rod{Path: []Vec{{}, {}, {0, 0, 50}, {0, 0, 50}, {0, 0, 100}}, Radius: 10}, 100 * area(10)},
		{"bent", Rod{Path: []Vec{{}, {0, 0, 100}, {60, 0, 100}}, Radius: 10}, 160 * area(10)},
		{"hollow", Rod{Path: []Vec{{}, {0, 0, 100}, {60, 30, 100}, {60, 30, 200}}, Radius: 10, Inner: 6}, (200 + math.Hypot(60, 30)) * (area(10) - area(6))},
	} {
		m := Tube(c.rod, n)
		near(t, c.name, m.Volume(), c.volume, 1e-6*c.volume)
		if k := sheetCheck(m); k != 0 {
			t.Errorf("%s: %d open sides", c.name, k)
		}
	}
	nan := math.NaN()
	for _, r := range []Rod{{}, {Path: []Vec{{}}, Radius: 1}, {Path: []Vec{{}, {}}, Radius: 1}, {Path: []Vec{{}, {1, 0, 0}}, Radius: nan}} {
		if m := Tube(r, 8); len(m.Tris) != 0 {
			t.Errorf("%v: %d triangles, want none", r, len(m.Tris))
		}
	}
	Tube(Rod{Path: []Vec{{}, {1, 0, 0}, {}, {nan, 0, 0}}, Radius: 1}, -1) // turns back, no number: no panic
}

func TestLoft(t *testing.T) {
	// A frustum: heights and end areas by the prismoid formula.
	lift := func(l []Vec2, z float64) []Vec {
		var out []Vec
		for _, p := range l {
			out = append(out, V(p.X, p.Y, z))
		}
		return out
	}
	bottom := [][]Vec{lift(square(0, 0, 20), 0), lift(square(5, 5, 10), 0)}
	top := [][]Vec{lift(square(5, 5, 10), 30), lift(square(8, 8, 4), 30)}
	m := Loft(bottom, top)
	frustum := func(a, b float64) float64 { return 30.0 / 3 * (a*a + a*b + b*b) }
	near(t, "volume", m.Volume(), frustum(20, 10)-frustum(10, 4), 1e-6)
	if n := sheetCheck(m); n != 0 {
		t.Errorf("%d open sides", n)
	}
	if got := Loft(bottom, top[:1]); len(got.Tris) != 0 {
		t.Error("profiles that do not match gave a body")
	}
	if got := Loft(bottom, [][]Vec{top[0], top[1][:3]}); len(got.Tris) != 0 {
		t.Error("loops that do not match gave a body")
	}
}

func TestBoxMeshTakesCornersInAnyOrder(t *testing.T) {
	near(t, "volume", BoxMesh(V(3, 0, 9), V(1, 5, 2)).Volume(), 70, 1e-9)
}

func TestMeasures(t *testing.T) {
	for _, o := range []Vec{{}, {1e6, -1e6, 1e6}, {1e9, 0, 0}} {
		m := BoxMesh(V(0, 0, 0), V(10, 20, 30)).Transform(turned(o))
		near(t, "volume", m.Volume(), 6000, 6000*1e-6)
		near(t, "area", m.Area(), 2200, 2200*1e-6)
		near(t, "centroid", m.Centroid().Dist(turned(o).Apply(V(5, 10, 15))), 0, 1e-6+o.Norm()*1e-15)
		near(t, "scaled", m.Transform(Affine{V(25.4, 0, 0), V(0, 25.4, 0), V(0, 0, 25.4), Vec{}}).Volume(), 6000*25.4*25.4*25.4, 0.1+o.Norm()*1e-3)
	}
	var empty Mesh
	if empty.Volume() != 0 || empty.Area() != 0 {
		t.Error("an empty mesh has a size")
	}
}
