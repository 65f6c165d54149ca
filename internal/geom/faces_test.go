package geom

import (
	"cmp"
	"math"
	"slices"
	"testing"
)

func TestPlanarFaces(t *testing.T) {
	el := Prism([]Vec2{{0, 0}, {100, 0}, {100, 10}, {10, 10}, {10, 100}, {0, 100}}, nil, Identity, V(0, 0, 1), 100)
	plate := Prism(square(0, 0, 100), [][]Vec2{square(10, 10, 20), circle(60, 60, 20, 16)}, Identity, V(0, 0, 1), 20)
	for _, c := range []struct {
		name    string
		m       *Mesh
		corners []int // of all loops, outer ones and holes, face by face, largest first
	}{
		{"box", BoxMesh(V(0, 0, 0), V(10, 20, 30)), []int{4, 4, 4, 4, 4, 4}},
		{"el", el, []int{4, 4, 4, 4, 6, 6, 4, 4}},
		{"vertices of their own", soupOf(el, 1e-4), []int{4, 4, 4, 4, 6, 6, 4, 4}},
		{"split sides", splitSides(), nil},
		{"plate", plate, []int{24, 24, 4, 4, 4, 4, 4, 4, 4, 4, 4, 4, 4, 4, 4, 4, 4, 4, 4, 4, 4, 4, 4, 4, 4, 4}},
		{"boxes that touch", touchingBoxes(), nil},
		{"points on sides", Prism([]Vec2{{0, 0}, {5, 0}, {9, 0}, {10, 0}, {10, 20}, {0, 20}, {0, 3}}, nil, Identity, V(0, 0, 1), 30), []int{4, 4, 4, 4, 4, 4}},
	} {
		for _, f := range []Affine{Identity, turned(V(1e6, -1e6, 5e5))} {
			m := c.m.Transform(f)
			faces := m.PlanarFaces()
			var area float64
			var corners []int
			slices.SortStableFunc(faces, func(a, b PlanarFace) int { return cmp.Compare(math.Round(b.Area), math.Round(a.Area)) })
			seen := map[int32]bool{}
			for _, p := range faces {
				n := 0
				var loops float64
				for i, l := range p.Outline {
					n += len(l)
					a := NewellNormal(l).Dot(p.Plane.N) / 2
					loops += a
					if (a > 0) != (i == 0) {
						t.Errorf("%s: loop %d runs the wrong way", c.name, i)
					}
					for _, v := range l {
						near(t, c.name+" off the plane", p.Plane.Dist(v), 0, 1e-3)
					}
				}
				near(t, c.name+" outline's area", loops, p.Area, 0.1)
				for _, tri := range p.Tris {
					if seen[tri] {
						t.Errorf("%s: triangle %d is in two faces", c.name, tri)
					}
					seen[tri] = true
					if d := m.normal2(int(tri)).Unit().Dot(p.Plane.N); d < 0.999 {
						t.Errorf("%s: a triangle looks elsewhere", c.name)
					}
				}
				corners = append(corners, n)
				area += p.Area
			}
			near(t, c.name+" area", area, m.Area(), 1e-3*m.Area())
			if len(seen) != len(m.Tris) {
				t.Errorf("%s: %d of %d triangles", c.name, len(seen), len(m.Tris))
			}
			if c.corners != nil && !slices.Equal(corners, c.corners) {
				t.Errorf("%s: %v corners, want %v", c.name, corners, c.corners)
			}
		}
	}
}

// TestPlanarFacesLimit has a roof whose halves turn by little.
func TestPlanarFacesLimit(t *testing.T) {
	for _, c := range []struct {
		rise float64
		want int
	}{{0, 6}, {5e-4, 6}, {2e-3, 7}, {5, 7}} {
		m := Prism([]Vec2{{0, 0}, {200, 0}, {200, 50}, {100, 50 + c.rise}, {0, 50}}, nil, Identity, V(0, 0, 1), 30)
		if got := len(m.PlanarFaces()); got != c.want {
			t.Errorf("rise of %v: %d faces, want %d", c.rise, got, c.want)
		}
	}
}

func TestFeatureEdges(t *testing.T) {
	for _, c := range []struct {
		name   string
		m      *Mesh
		n      int
		length float64
	}{
		{"box", BoxMesh(V(0, 0, 0), V(10, 20, 30)), 12, 4 * 60},
		{"vertices of their own", soupOf(BoxMesh(V(0, 0, 0), V(10, 20, 30)), 1e-5), 12, 4 * 60},
		{"points on sides", Prism([]Vec2{{0, 0}, {5, 0}, {9, 0}, {10, 0}, {10, 20}, {0, 20}, {0, 3}}, nil, Identity, V(0, 0, 1), 30), 12, 4 * 60},
		{"hole", Prism(square(0, 0, 100), [][]Vec2{square(10, 10, 20)}, Identity, V(0, 0, 1), 20), 24, 8*100 + 8*20 + 8*20},
		{"split sides", bspSubtract(wall(), BoxMesh(V(300, -10, 300), V(400, 210, 400))), 24, 4*2000 + 8*100 + 4*200},
		{"open", without(BoxMesh(V(0, 0, 0), V(30, 40, 50)), 0), 13, 4*120 + 50},
	} {
		edges := c.m.Transform(turned(V(1e5, 0, 0))).FeatureEdges()
		sum := 0.0
		for _, e := range edges {
			sum += e[0].Dist(e[1])
		}
		if len(edges) != c.n {
			t.Errorf("%s: %d edges, want %d", c.name, len(edges), c.n)
		}
		near(t, c.name, sum, c.length, 0.1)
	}
}

// TestPatch goes over sides that turn by less than an angle.
func TestPatch(t *testing.T) {
	drum := Prism(circle(0, 0, 50, 24), nil, Identity, V(0, 0, 1), 100) // turns by 15 degrees
	side := -1
	for i := range drum.Tris {
		if drum.Face[i] == 2 {
			side = i
		}
	}
	for _, c := range []struct {
		degrees float64
		want    int
	}{{0, 2}, {14.9, 2}, {15.1, 48}, {89, 48}, {91, len(drum.Tris)}} {
		if got := marked(drum.Patch(side, c.degrees*math.Pi/180)); got != c.want {
			t.Errorf("%v degrees: %d triangles, want %d", c.degrees, got, c.want)
		}
	}
}

func marked(list []bool) int {
	n := 0
	for _, is := range list {
		if is {
			n++
		}
	}
	return n
}
