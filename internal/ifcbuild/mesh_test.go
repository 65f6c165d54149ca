package ifcbuild

import (
	"math"
	"math/rand/v2"
	"testing"
)

// tris are all triangles of a mesh.
func tris(m *Mesh) [][3]int {
	var out [][3]int
	for _, f := range m.Faces {
		out = append(out, m.triangles(f)...)
	}
	return out
}

// volume is positive when faces run counter-clockwise seen from outside.
func volume(m *Mesh) float64 {
	var v float64
	for _, t := range tris(m) {
		v += m.Verts[t[0]].Dot(m.Verts[t[1]].Cross(m.Verts[t[2]])) / 6
	}
	return v
}

// closed reports whether every side of a triangle is met by one that runs the
// other way.
func closed(m *Mesh) bool {
	sides := map[[2]int]int{}
	for _, t := range tris(m) {
		for k := range t {
			a, b := t[k], t[(k+1)%3]
			sides[[2]int{a, b}]++
			sides[[2]int{b, a}]--
		}
	}
	for _, n := range sides {
		if n != 0 {
			return false
		}
	}
	return true
}

func TestMeshesAreClosedAndOutsideOut(t *testing.T) {
	ell := Poly{Outer: []XY{{0, 0}, {300, 0}, {300, 100}, {100, 100}, {100, 200}, {0, 200}}}
	holed := Poly{
		Outer: []XY{{0, 0}, {0, 300}, {400, 300}, {400, 0}}, // clockwise on purpose
		Holes: [][]XY{{{50, 50}, {150, 50}, {150, 150}, {50, 150}}, {{200, 250}, {300, 250}, {300, 200}, {200, 200}}},
	}
	turned := Facing(V(10, 20, 30), V(1, 2, 3), V(1, 0, 0))
	gon := func(r float64, n int) float64 { return area(Ngon(r, n)) }
	for _, c := range []struct {
		name string
		m    *Mesh
		want float64
	}{
		{"block", BlockMesh(V(1, 2, 3), V(11, 22, 33)), 10 * 20 * 30},
		{"ell", PrismMesh(ell, turned, 50, 8), 40000 * 50},
		{"holes", PrismMesh(holed, turned, 20, 8), (400*300 - 100*100 - 100*50) * 20},
		{"ring", PrismMesh(Round{R: 20, Wall: 5}, turned, 10, 12), 10 * (gon(20, 12) - gon(15, 12))},
		{"rod", RodMesh([]Vec{V(0, 0, 0), V(0, 0, 100)}, 10, 0, 16), 100 * gon(10, 16)},
		{"pipe", RodMesh([]Vec{V(0, 0, 0), V(0, 0, 100)}, 10, 6, 16), 100 * (gon(10, 16) - gon(6, 16))},
		// A mitre takes from one leg what it adds to the other: the length of the
		// centreline counts (Pappus).
		{"bent rod", RodMesh([]Vec{V(0, 0, 100), V(0, 0, 0), V(100, 0, 0), V(100, 80, 40)}, 10, 0, 16), (200 + math.Hypot(80, 40)) * gon(10, 16)},
		{"two bodies", BlockMesh(V(0, 0, 0), V(1, 1, 1)).With(BlockMesh(V(5, 0, 0), V(7, 1, 1))), 3},
		{"moved", BlockMesh(V(0, 0, 0), V(1, 2, 3)).Moved(turned), 6},
	} {
		if !closed(c.m) {
			t.Errorf("%s: not closed", c.name)
		}
		if v := volume(c.m); math.Abs(v-c.want) > 1e-6*c.want {
			t.Errorf("%s: volume %v, want %v", c.name, v, c.want)
		}
	}
	// A bowl of 24 sides lies within the ball and fills most of it:
	// pi h (3 r^2 + h^2) / 6 is the volume of the part of a ball.
	bowl := BowlMesh(turned, 50, 40, 24)
	ball := math.Pi * 40 * (3*50*50 + 40*40) / 6
	if v := volume(bowl); !closed(bowl) || v > ball || v < 0.85*ball {
		t.Errorf("bowl: volume %v of %v, closed: %v", v, ball, closed(bowl))
	}
}

// Stars with holes, against the area that the shoelace formula gives: the
// triangles add up to it, and none is turned over.
func TestTrianglesFillTheirFace(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	for range 500 {
		n := 4 + r.IntN(12)
		outer := make([]XY, n)
		for i := range outer {
			s, c := math.Sincos(2 * math.Pi * (float64(i) + 0.4*r.Float64()) / float64(n))
			l := 50 + 50*r.Float64()
			outer[i] = XY{l * c, l * s}
		}
		p := Poly{Outer: outer}
		for i := range r.IntN(4) { // each hole in a quarter of its own, well inside
			s, c := math.Sincos(math.Pi/4 + math.Pi/2*float64(i))
			p.Rounds = append(p.Rounds, Hole{X: 15 * c, Y: 15 * s, R: 2 + 6*r.Float64()})
		}
		want := area(outer)
		for _, h := range p.rings(9)[1:] {
			want -= area(h)
		}
		m := PrismMesh(p, At(0, 0, 0), 1, 9)
		top := m.Faces[len(m.Faces)-1]
		var got float64
		for _, v := range m.triangles(top) {
			a, b, c := m.Verts[v[0]], m.Verts[v[1]], m.Verts[v[2]]
			one := b.Sub(a).Cross(c.Sub(a)).Z / 2
			if one < -1e-9 {
				t.Fatalf("%v: triangle turned over", outer)
			}
			got += one
		}
		if math.Abs(got-want) > 1e-6 {
			t.Fatalf("%v: area %v, want %v", outer, got, want)
		}
	}
}

// Corners are rounded so that the path keeps to its sides: the length of a bend
// by 90 degrees is that of the corner less 2 r, plus a quarter of a circle.
func TestPathsAreAsLongAsTheyShould(t *testing.T) {
	square := []Vec{V(0, 0, 0), V(0, 0, -300), V(100, 0, -300)}
	for _, c := range []struct {
		name string
		p    Path
		want float64
	}{
		{"straight", Straight(V(0, 0, 0), V(3, 4, 0)), 5},
		{"corner", Straight(square...), 400},
		{"bend", Bent(40, square...), 400 - 80 + 20*math.Pi},
		{"half turn", StartAt(V(0, 0, 0)).LineTo(V(0, 0, -10)).Arc(V(5, 0, -10), V(0, -1, 0), 180), 10 + 5*math.Pi},
		{"no bend in a straight line", Bent(40, V(0, 0, 0), V(0, 0, 100), V(0, 0, 200)), 200},
	} {
		if got := c.p.Len(); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s: length %v, want %v", c.name, got, c.want)
		}
		moved := c.p.Moved(Facing(V(1, 2, 3), V(1, 1, 1), V(1, 0, 0)))
		if got := moved.Len(); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s, moved: length %v, want %v", c.name, got, c.want)
		}
		pts := moved.Points()
		if d := pts[len(pts)-1].Sub(moved.End()).Len(); d > 1e-9 {
			t.Errorf("%s: the chords end %v off", c.name, d)
		}
	}
}
