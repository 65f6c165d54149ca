package geom

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// soupOf is the mesh with three vertices of its own for each triangle, each moved
// by up to noise along each axis.
func soupOf(m *Mesh, noise float64) *Mesh {
	r := rand.New(rand.NewPCG(71, 72))
	out := &Mesh{}
	for i := range m.Tris {
		a, b, c := m.Tri(i)
		n := int32(len(out.Verts))
		for _, v := range []Vec{a, b, c} {
			out.Verts = append(out.Verts, v.Add(V(r.Float64()-0.5, r.Float64()-0.5, r.Float64()-0.5).Mul(2*noise)))
		}
		out.Tris, out.Face = append(out.Tris, [3]int32{n, n + 1, n + 2}), append(out.Face, m.FaceOf(i))
	}
	return out
}

func without(m *Mesh, tri int) *Mesh {
	r := &Mesh{Verts: m.Verts}
	for i, t := range m.Tris {
		if i != tri {
			r.Tris, r.Face = append(r.Tris, t), append(r.Face, m.FaceOf(i))
		}
	}
	return r
}

func flipOne(m *Mesh, tri int) *Mesh {
	r := &Mesh{Verts: m.Verts, Tris: append([][3]int32{}, m.Tris...), Face: m.Face}
	t := r.Tris[tri]
	r.Tris[tri] = [3]int32{t[0], t[2], t[1]}
	return r
}

// splitSides is a box with sides cut on one of their two faces only.
func splitSides() *Mesh {
	return bspSubtract(wall(), BoxMesh(V(300, -10, 300), V(400, 150, 400)), BoxMesh(V(350, -10, 390), V(700, 190, 500)))
}

func TestClosed(t *testing.T) {
	box := BoxMesh(V(0, 0, 0), V(10, 20, 30))
	nan := BoxMesh(V(0, 0, 0), V(10, 20, 30))
	nan.Verts[2].Y = math.NaN()
	for _, c := range []struct {
		name string
		m    *Mesh
		open int // -1: closed
	}{
		{"box", box, -1},
		{"inside out", insideOut(box), -1},
		{"two", touchingBoxes(), -1},
		{"hollow", hollow(), -1},
		{"vertices of their own", soupOf(box, 0), -1},
		{"apart by less than the limit", soupOf(box, 2e-4), -1},
		{"apart by more than the limit", soupOf(box, 3e-2), 36},
		{"split sides", splitSides(), -1},
		{"a triangle missing", without(box, 3), 3},
		{"a triangle missing, vertices of their own", without(soupOf(box, 1e-4), 3), 3},
		{"a triangle the other way", flipOne(box, 3), 6},
		{"a triangle twice", box.Append(&Mesh{Verts: box.Verts, Tris: box.Tris[:1], Face: box.Face[:1]}), 3},
		{"empty", &Mesh{}, 0},
		{"points only", &Mesh{Verts: []Vec{{}, {1, 0, 0}, {2, 0, 0}}, Tris: [][3]int32{{0, 0, 0}, {1, 1, 2}}}, 0},
		{"not finite", nan, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			for _, f := range []Affine{Identity, turned(V(1e5, 1e5, -1e5))} {
				got := c.m.Transform(f).Closed()
				if got.OK != (c.open < 0) || got.OpenEdges != max(c.open, 0) || got.OK != (got.Why == "") {
					t.Errorf("%+v, want %d open", got, c.open)
				}
			}
		})
	}
	if why := without(box, 3).Closed().Why; !strings.Contains(why, "3 edges") {
		t.Errorf("%q does not say how many edges are open", why)
	}
}

func TestWeld(t *testing.T) {
	r := rand.New(rand.NewPCG(73, 74))
	for range 200 {
		tol := math.Pow(10, float64(r.IntN(4)-3))
		pts := make([]Vec, 60)
		for i := range pts {
			pts[i] = V(float64(r.IntN(3)), float64(r.IntN(3)), float64(r.IntN(3))).Mul(20 * tol)
			pts[i] = pts[i].Add(V(r.Float64(), r.Float64(), r.Float64()).Mul(tol / 4)).Sub(V(7, 7, 7).Mul(tol))
		}
		at, kept := weld(pts, tol)
		for i := range pts {
			if pts[i].Dist(kept[at[i]]) >= tol {
				t.Fatalf("point %d moved by %v, tolerance %v", i, pts[i].Dist(kept[at[i]]), tol)
			}
			for k := range i {
				if near := pts[i].Dist(pts[k]) < tol; near != (at[i] == at[k]) { // clusters are far apart
					t.Fatalf("points %v and %v: one is %v", pts[i], pts[k], at[i] == at[k])
				}
			}
		}
	}
	m := &Mesh{
		Verts: []Vec{{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {1e-4, 0, 0}, {5, 5, 5}},
		Tris:  [][3]int32{{0, 1, 2}, {0, 3, 2}, {3, 1, 4}}, Face: []int32{7, 8, 9},
	}
	w := m.Weld(1e-3)
	if len(w.Tris) != 2 || w.Face[0] != 7 || w.Face[1] != 9 || w.Tris[1][0] != 0 {
		t.Errorf("%+v, want the triangle without area gone", w)
	}
	if n := len(m.Weld(1e-5).Tris); n != 3 {
		t.Errorf("below the distance: %d triangles, want 3", n)
	}
	nan := math.NaN()
	weld([]Vec{{nan, 0, 0}, {math.Inf(1), 0, 0}, {1e300, 0, 0}, {-1e300, nan, 0}, {}}, 1e-3)
	weld([]Vec{{}, {}}, 0)
}

func TestShells(t *testing.T) {
	three := soupOf(touchingBoxes().Append(ball(V(500, 0, 0), 30, 6)), 1e-5)
	shells := three.Shells() // boxes that touch are one
	if len(shells) != 2 {
		t.Fatalf("%d shells, want 2", len(shells))
	}
	near(t, "boxes", shells[0].Volume(), 1e6, 10)
	near(t, "both", shells[0].Volume()+shells[1].Volume(), three.Volume(), 10)
	if len(shells[0].Face) != len(shells[0].Tris) {
		t.Error("face numbers are lost")
	}
	box := BoxMesh(V(0, 0, 0), V(1, 1, 1))
	if s := box.Shells(); len(s) != 1 || s[0] != box {
		t.Error("a mesh of one piece is not returned as it is")
	}
}

func TestOriented(t *testing.T) {
	box := BoxMesh(V(0, 0, 0), V(10, 20, 30))
	far := BoxMesh(V(100, 0, 0), V(110, 20, 30))
	mixed := BoxMesh(V(0, 0, 0), V(10, 20, 30))
	for _, i := range []int{1, 4, 5, 9} {
		mixed = flipOne(mixed, i)
	}
	for _, c := range []struct {
		name string
		m    *Mesh
		want float64
		same bool
	}{
		{"right", box, 6000, true},
		{"inside out", insideOut(box), 6000, false},
		{"inside out, vertices of their own", soupOf(insideOut(box), 1e-5), 6000, false},
		{"one of two inside out", box.Append(insideOut(far)), 12000, false},
		{"triangles that disagree", mixed, 6000, false},
		{"triangles that disagree, beside another", mixed.Append(insideOut(far)), 12000, false},
		{"hollow", hollow(), 480000 - 64000, true},
		{"hollow inside out", insideOut(hollow()), 480000 - 64000, false},
		{"body in a body", BoxMesh(V(-50, -40, -30), V(50, 40, 30)).Append(BoxMesh(V(-20, -20, -20), V(20, 20, 20))), 480000 + 64000, true},
		{"split sides", insideOut(splitSides()), splitSides().Volume(), false},
		{"empty", &Mesh{}, 0, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := c.m.Oriented()
			near(t, "volume", got.Volume(), c.want, 1e-3+1e-9*c.want)
			if (got == c.m) != c.same {
				t.Errorf("returned as it is: %v, want %v", got == c.m, c.same)
			}
			if c.want > 0 && !got.Closed().OK {
				t.Error(got.Closed().Why)
			}
			if again := got.Oriented(); again != got {
				t.Error("not settled")
			}
		})
	}
}

func TestStitched(t *testing.T) {
	m := splitSides()
	w, of := m.stitched()
	if !w.joined() {
		t.Error("sides are left open")
	}
	near(t, "volume", w.Volume(), m.Volume(), 1e-3)
	area := make([]float64, len(m.Tris))
	for i := range w.Tris {
		area[of[i]] += w.normal2(i).Norm()
	}
	for i := range m.Tris {
		near(t, "area", area[i], m.normal2(i).Norm(), 1e-3)
	}
	box := BoxMesh(V(0, 0, 0), V(1, 1, 1))
	if w, of := box.stitched(); w != box || of != nil {
		t.Error("a whole mesh is not returned as it is")
	}
}

func TestAppend(t *testing.T) {
	a, b := BoxMesh(V(0, 0, 0), V(1, 1, 1)), BoxMesh(V(5, 0, 0), V(7, 1, 1))
	m := a.Append(b)
	near(t, "volume", m.Volume(), 3, 1e-12)
	if faceCount(m) != 12 || len(a.Tris) != 12 {
		t.Errorf("%d faces, want 12", faceCount(m))
	}
	if (&Mesh{Verts: a.Verts, Tris: a.Tris}).Append(b).Face != nil {
		t.Error("face numbers of one operand only are kept")
	}
}
