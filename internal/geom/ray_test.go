package geom

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// specimen is a closed body for tests.
type specimen struct {
	name string
	*Mesh
}

// zoo is closed bodies of all kinds around zero, up to about 100 mm.
func zoo() []specimen {
	return []specimen{
		{"box", BoxMesh(V(-50, -40, -30), V(50, 40, 30))},
		{"el", Prism([]Vec2{{-40, -40}, {50, -40}, {50, -10}, {0, -10}, {0, 60}, {-40, 60}}, nil, turned(Vec{}), V(0, 0, 1), 45)},
		{"plate", Prism(square(-50, -50, 100), [][]Vec2{square(-30, -30, 20), circle(15, 15, 20, 24)}, turned(V(1, 2, 3)), V(0.2, 0, 1), 20)},
		{"ball", ball(V(3, 4, 5), 60, 10)},
		{"ring", Revolve(circle(60, 0, 20, 12), nil, turned(Vec{}), Vec{}, V(0, 1, 0), 2*math.Pi, 24)},
		{"tube", Tube(Rod{Path: []Vec{{-50, 0, 0}, {0, 0, 60}, {50, 40, 0}}, Radius: 20, Inner: 7}, 16)},
		{"hollow", hollow()},
		{"overlap", overlapping()},
		{"touching", touchingBoxes()},
		{"inside out", insideOut(ball(Vec{}, 50, 8))},
	}
}

func hollow() *Mesh {
	return merge(BoxMesh(V(-50, -40, -30), V(50, 40, 30)), insideOut(BoxMesh(V(-20, -20, -20), V(20, 20, 20))))
}

func overlapping() *Mesh {
	return merge(BoxMesh(V(-50, -50, -50), V(20, 20, 20)), BoxMesh(V(-10, -10, -10), V(60, 60, 60)))
}

func touchingBoxes() *Mesh {
	return merge(BoxMesh(V(-50, -50, -50), V(0, 50, 50)), BoxMesh(V(0, -50, -50), V(50, 50, 50)))
}

func insideOut(m *Mesh) *Mesh { return &Mesh{Verts: m.Verts, Tris: flipped(m.Tris), Face: m.Face} }

// merge is both meshes as one, without a boolean.
func merge(a, b *Mesh) *Mesh {
	m := &Mesh{}
	for _, x := range []*Mesh{a, b} {
		n := int32(len(m.Verts))
		m.Verts = append(m.Verts, x.Verts...)
		for i, t := range x.Tris {
			m.Tris = append(m.Tris, [3]int32{t[0] + n, t[1] + n, t[2] + n})
			m.Face = append(m.Face, x.FaceOf(i))
		}
	}
	return m
}

// windingTwin is how often the surface goes around p, by solid angles (van
// Oosterom and Strackee, The solid angle of a plane triangle, 1983).
func windingTwin(m *Mesh, p Vec) float64 {
	var sum float64
	for i := range m.Tris {
		a, b, c := m.Tri(i)
		a, b, c = a.Sub(p), b.Sub(p), c.Sub(p)
		la, lb, lc := a.Norm(), b.Norm(), c.Norm()
		num := a.Dot(b.Cross(c))
		den := la*lb*lc + a.Dot(b)*lc + b.Dot(c)*la + c.Dot(a)*lb
		sum += 2 * math.Atan2(num, den)
	}
	return sum / (4 * math.Pi)
}

func insideTwin(m *Mesh, p Vec) bool { return math.Abs(windingTwin(m, p)) > 0.5 }

func TestContains(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	for _, s := range zoo() {
		name, m := s.name, s.Mesh
		for _, f := range []Affine{Identity, turned(Vec{}), turned(V(1e6, -1e6, 5e5))} {
			moved := m.Transform(f)
			in := 0
			for range 300 {
				p := V(r.Float64()*160-80, r.Float64()*160-80, r.Float64()*160-80)
				want := insideTwin(m, p)
				if got := moved.Contains(f.Apply(p)); got != want {
					t.Errorf("%s at %v: %v, want %v", name, p, got, want)
				}
				if want {
					in++
				}
			}
			if in == 0 {
				t.Errorf("%s: no point was inside", name)
			}
		}
	}
}

// rayTwin is the crossings of a line in general position, triangle by triangle
// with a linear system for each.
func rayTwin(m *Mesh, o, d Vec) (enter, leave []float64) {
	for i := range m.Tris {
		a, b, c := m.Tri(i)
		det := func(x, y, z Vec) float64 { return x.Dot(y.Cross(z)) }
		e, f := b.Sub(a), c.Sub(a)
		w := det(e, f, d.Neg())
		if math.Abs(w) < 1e-12 {
			continue
		}
		r := o.Sub(a)
		u, v, s := det(r, f, d.Neg())/w, det(e, r, d.Neg())/w, det(e, f, r)/w
		if u < 0 || v < 0 || u+v > 1 {
			continue
		}
		if e.Cross(f).Dot(d) < 0 {
			enter = append(enter, s)
		} else {
			leave = append(leave, s)
		}
	}
	return enter, leave
}

func TestRay(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 14))
	for _, s := range zoo() {
		name, m := s.name, s.Mesh
		for _, f := range []Affine{Identity, turned(V(1e6, -1e6, 5e5))} {
			moved := m.Transform(f)
			for range 300 {
				o := V(r.Float64()*100-50, r.Float64()*100-50, r.Float64()*100-50)
				d := V(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()).Unit()
				enter, leave := rayTwin(m, o, d)
				hits := moved.Ray(f.Apply(o), f.Turn(d))
				if len(hits) != len(enter)+len(leave) {
					t.Fatalf("%s: %d hits, want %d", name, len(hits), len(enter)+len(leave))
				}
				for i, h := range hits {
					if i > 0 && h.T < hits[i-1].T {
						t.Fatalf("%s: not in order", name)
					}
					of := enter
					if !h.Enter {
						of = leave
					}
					found := false
					for _, s := range of {
						found = found || math.Abs(s-h.T) < 1e-6
					}
					if !found || h.Enter != (h.Normal.Dot(f.Turn(d)) < 0) {
						t.Fatalf("%s: hit %+v, want enter %v leave %v", name, h, enter, leave)
					}
				}
			}
		}
	}
}

// TestRayThroughEdgesAndVertices aims lines at corners, edges and diagonals: as
// many must go in as out, each sheet counted once.
func TestRayThroughEdgesAndVertices(t *testing.T) {
	for _, s := range zoo() {
		name, m := s.name, s.Mesh
		for _, f := range []Affine{Identity, turned(Vec{}), turned(V(1e6, -1e6, 5e5))} {
			m := m.Transform(f)
			for i := 0; i < len(m.Tris); i += 1 + len(m.Tris)/60 {
				a, b, c := m.Tri(i)
				for _, o := range []Vec{a, a.Lerp(b, 0.5), a.Lerp(c, 0.3), a.Lerp(b, 0.2).Lerp(c, 0.4)} {
					for _, d := range []Vec{f.X, f.Y, f.Z, b.Sub(a).Unit(), f.X.Add(f.Y).Unit(), f.Apply(V(1, 2, 3)).Sub(o).Unit()} {
						depth, lowest, highest := 0, 0, 0
						hits := m.Ray(o, d)
						for i, h := range hits {
							if h.Enter {
								depth++
							} else {
								depth--
							}
							if i+1 == len(hits) || hits[i+1].T > h.T+1e-7 { // sheets that meet have no order
								lowest, highest = min(lowest, depth), max(highest, depth)
							}
						}
						if depth != 0 {
							t.Fatalf("%s: line %v %v ends at depth %d", name, o, d, depth)
						}
						limit := 1
						if name == "overlap" || name == "touching" {
							limit = 2
						}
						if highest-lowest > limit && !grazes(hits, d) {
							t.Fatalf("%s: line %v %v is %d deep", name, o, d, highest-lowest)
						}
					}
				}
			}
		}
	}
}

// grazes reports whether the line runs in a face that it is said to cross: such
// a crossing has no place of its own.
func grazes(hits []Hit, d Vec) bool {
	for _, h := range hits {
		if math.Abs(h.Normal.Dot(d)) < 1e-9 {
			return true
		}
	}
	return false
}

func TestRayBodyDiagonal(t *testing.T) {
	m := BoxMesh(V(0, 0, 0), V(1, 1, 1))
	for _, d := range []Vec{{1, 1, 1}, {1, 1, 0}, {0, 0, 1}, {-1, -1, -1}} {
		hits := m.Ray(V(0.5, 0.5, 0.5), d)
		if len(hits) != 2 || !hits[0].Enter || hits[1].Enter {
			t.Fatalf("%v: %+v, want one way in and one out", d, hits)
		}
		near(t, "way in", hits[0].T, -0.5, 1e-12)
		near(t, "way out", hits[1].T, 0.5, 1e-12)
	}
}

func TestRayDegenerate(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	broken := &Mesh{
		Verts: []Vec{{0, 0, 0}, {1, 0, 0}, {2, 0, 0}, {nan, 0, 0}, {inf, 1, 1}, {0, 1, 0}},
		Tris:  [][3]int32{{0, 1, 2}, {0, 0, 0}, {0, 1, 3}, {0, 4, 5}, {3, 4, 3}, {0, 1, 5}},
	}
	for _, m := range []*Mesh{{}, broken} {
		for _, d := range []Vec{{0, 0, 1}, {1, 0, 0}, {}, {nan, 0, 0}, {inf, 0, 0}, {1e-300, 0, 0}} {
			for _, o := range []Vec{{}, {0.2, 0.2, -1}, {nan, 0, 0}, {inf, 0, 0}} {
				m.Ray(o, d)
				m.Inside(o, d)
				m.Contains(o)
				m.Nearest(o)
			}
		}
	}
	if hits := broken.Ray(V(0.2, 0.2, -1), V(0, 0, 1)); len(hits) != 1 || hits[0].Tri != 5 {
		t.Errorf("%+v, want the one sound triangle", hits)
	}
}

func TestInside(t *testing.T) {
	type part [2]float64
	open := BoxMesh(V(0, 0, 0), V(10, 10, 10))
	open.Tris = open.Tris[:len(open.Tris)-1]
	wide := merge(BoxMesh(V(0, 0, 0), V(10, 10, 10)), BoxMesh(V(10.5, 0, 0), V(20, 10, 10)))
	close := merge(BoxMesh(V(0, 0, 0), V(10, 10, 10)), BoxMesh(V(10+1e-7, 0, 0), V(20, 10, 10)))
	thin := merge(BoxMesh(V(0, 0, 0), V(10, 10, 10)), BoxMesh(V(12, 0, 0), V(12+1e-7, 10, 10)))
	for _, c := range []struct {
		name string
		m    *Mesh
		o, d Vec
		want []part
	}{
		{"box", BoxMesh(V(0, 0, 0), V(10, 10, 10)), V(-5, 5, 5), V(1, 0, 0), []part{{5, 15}}},
		{"from within", BoxMesh(V(0, 0, 0), V(10, 10, 10)), V(4, 5, 5), V(1, 0, 0), []part{{-4, 6}}},
		{"backwards", BoxMesh(V(0, 0, 0), V(10, 10, 10)), V(4, 5, 5), V(-1, 0, 0), []part{{-6, 4}}},
		{"beside", BoxMesh(V(0, 0, 0), V(10, 10, 10)), V(4, 15, 5), V(-1, 0, 0), nil},
		{"hollow", hollow(), V(0, 0, 0), V(1, 0, 0), []part{{-50, -20}, {20, 50}}},
		{"overlap", overlapping(), V(0, 0, 0), V(1, 0, 0), []part{{-50, 60}}},
		{"touching", touchingBoxes(), V(0, 0, 0), V(1, 0, 0), []part{{-50, 50}}},
		{"inside out", insideOut(ball(Vec{}, 50, 8)), V(0, 0, 0), V(0, 1, 0), []part{{-50, 50}}},
		{"gap", wide, V(0, 5, 5), V(1, 0, 0), []part{{0, 10}, {10.5, 20}}},
		{"gap below the limit", close, V(0, 5, 5), V(1, 0, 0), []part{{0, 20}}},
		{"part below the limit", thin, V(0, 5, 5), V(1, 0, 0), []part{{0, 10}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := c.m.Inside(c.o, c.d)
			if len(got) != len(c.want) {
				t.Fatalf("%+v, want %v", got, c.want)
			}
			for i, in := range got {
				near(t, "from", in.From, c.want[i][0], 1e-6)
				near(t, "to", in.To, c.want[i][1], 1e-6)
				if in.FromHit.T != in.From || in.ToHit.T != in.To {
					t.Error("the hits are not those of the ends")
				}
			}
		})
	}
}

// TestInsideSplitSide has a side divided on one of its two faces only, and
// corners moved apart by the noise of a file.
func TestInsideSplitSide(t *testing.T) {
	m := BoxMesh(V(0, 0, 0), V(10, 10, 10))
	for i, v := range m.Tris {
		a, b, c := m.Tri(i)
		if a.Z == 10 && b.Z == 10 && c.Z == 10 {
			for k := range v {
				p, q := m.Verts[v[k]], m.Verts[v[(k+1)%3]]
				if p.Y == 0 && q.Y == 0 {
					n := int32(len(m.Verts))
					m.Verts = append(m.Verts, V(4, 1e-4, 10)) // not quite on the side
					m.Tris[i] = [3]int32{v[k], n, v[(k+2)%3]}
					m.Tris = append(m.Tris, [3]int32{n, v[(k+1)%3], v[(k+2)%3]})
					m.Face = append(m.Face, m.Face[i])
					break
				}
			}
		}
	}
	for _, y := range []float64{-1, 0, 1e-5, 3e-5, 5e-5, 1e-4, 1} {
		got := m.Inside(V(4, y, -5), V(0, 0, 1))
		if y <= 0 {
			continue // outside, or on the surface
		}
		if len(got) != 1 || math.Abs(got[0].From-5) > 1e-3 || math.Abs(got[0].To-15) > 1e-3 {
			t.Errorf("y %v: %+v, want 5 to 15", y, got)
		}
	}
}

func TestNearest(t *testing.T) {
	r := rand.New(rand.NewPCG(15, 16))
	for _, s := range zoo() {
		name, m := s.name, s.Mesh
		for range 20 {
			p := V(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()).Mul(70)
			q, d, tri := m.Nearest(p)
			near(t, name+" distance", q.Dist(p), d, 1e-9)
			want := math.Inf(1)
			for i := range m.Tris {
				a, b, c := m.Tri(i)
				want = min(want, triangleTwin(p, a, b, c))
			}
			near(t, name, d, want, 1e-6)
			a, b, c := m.Tri(tri)
			near(t, name+" on its triangle", triangleTwin(q, a, b, c), 0, 1e-6)
		}
	}
	if _, d, tri := new(Mesh).Nearest(Vec{}); !math.IsInf(d, 1) || tri != -1 {
		t.Error("a mesh without triangles has a nearest point")
	}
}

// triangleTwin is the distance of p from a triangle by nested golden sections
// over its two parameters, the distance being convex.
func triangleTwin(p, a, b, c Vec) float64 {
	return golden(func(u float64) float64 {
		return golden(func(v float64) float64 {
			return a.Add(b.Sub(a).Mul(u)).Add(c.Sub(a).Mul(v * (1 - u))).Dist(p)
		})
	})
}

// golden is the least value of a convex function on 0..1.
func golden(f func(float64) float64) float64 {
	const g = 0.6180339887498949
	lo, hi := 0.0, 1.0
	x, y := hi-g*(hi-lo), lo+g*(hi-lo)
	fx, fy := f(x), f(y)
	for hi-lo > 1e-8 {
		if fx < fy {
			hi, y, fy = y, x, fx
			x = hi - g*(hi-lo)
			fx = f(x)
		} else {
			lo, x, fx = x, y, fy
			y = lo + g*(hi-lo)
			fy = f(y)
		}
	}
	return min(fx, fy, f(0), f(1))
}

func BenchmarkRay(b *testing.B) {
	for _, n := range []int{4, 16, 64} {
		m := ball(Vec{}, 100, n)
		m.Tree()
		b.Run(fmt.Sprintf("triangles=%d", len(m.Tris)), func(b *testing.B) {
			i := 0.0
			for b.Loop() {
				m.Ray(V(math.Mod(i, 90), 3, 5), V(0.1, 0.2, 0.9))
				i += 0.37
			}
		})
	}
}

func BenchmarkContains(b *testing.B) {
	m := ball(Vec{}, 100, 64)
	for b.Loop() {
		m.Contains(V(30, 20, 10))
	}
}

func BenchmarkTree(b *testing.B) {
	m := ball(Vec{}, 100, 64)
	b.ReportMetric(float64(len(m.Tris)), "triangles")
	for b.Loop() {
		fresh := &Mesh{Verts: m.Verts, Tris: m.Tris}
		fresh.Tree()
	}
}
