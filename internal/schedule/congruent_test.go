package schedule

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// made is a shape of points.
func made(points ...point) shape {
	s := shape{points: points}
	for _, p := range points {
		s.centre = s.centre.Add(p.at)
	}
	s.centre = s.centre.Mul(1 / float64(len(points)))
	for _, p := range points {
		s.reach = append(s.reach, p.at.Dist(s.centre))
	}
	slices.Sort(s.reach)
	return s
}

func moved(s shape, m geom.Affine) shape {
	var out []point
	for _, p := range s.points {
		out = append(out, point{m.Apply(p.at), p.what, p.size})
	}
	return made(out...)
}

func turn(r *rand.Rand) geom.Affine {
	v := func() geom.Vec { return geom.V(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()) }
	return geom.FrameZX(v().Mul(5e4), v(), v())
}

func mirror(m geom.Affine) geom.Affine { m.X = m.X.Neg(); return m }

// slow lays b on a by trying every order of its points: all distances have to
// agree, and the corner that three points make with the centre has to turn the
// same way, or the other way for a mirror image. It shares no code with compare.
func slow(a, b *shape) likeness {
	best := different
	order := make([]int, len(b.points))
	for i := range order {
		order[i] = i
	}
	permute(order, 0, func() {
		for i := range a.points {
			p, q := a.points[i], b.points[order[i]]
			if p.what != q.what || p.size != q.size {
				return
			}
			for k := range i {
				d := p.at.Sub(a.points[k].at).Norm() - q.at.Sub(b.points[order[k]].at).Norm()
				if math.Abs(d) > sameWithin {
					return
				}
			}
		}
		l := same
		if turns(a, []int{0, 1, 2, 3, 4})*turns(b, order) < 0 {
			l = mirrored
		}
		best = max(best, l)
	})
	return best
}

// turns is the largest of the volumes that four points span, with its sign.
func turns(s *shape, order []int) float64 {
	most := 0.0
	o := s.points[order[0]].at
	for i := 1; i < len(order); i++ {
		for k := i + 1; k < len(order); k++ {
			for l := k + 1; l < len(order); l++ {
				v := s.points[order[i]].at.Sub(o).Cross(s.points[order[k]].at.Sub(o)).Dot(s.points[order[l]].at.Sub(o))
				if math.Abs(v) > 1.001*math.Abs(most) {
					most = v
				}
			}
		}
	}
	return most
}

func permute(order []int, from int, visit func()) {
	if from == len(order) {
		visit()
		return
	}
	for i := from; i < len(order); i++ {
		order[from], order[i] = order[i], order[from]
		permute(order, from+1, visit)
		order[from], order[i] = order[i], order[from]
	}
}

// TestCompareAgainstEveryOrder takes points on a coarse lattice, so that many
// are alike, turned, mirrored, shuffled and sometimes one of them shifted.
func TestCompareAgainstEveryOrder(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	var seen [same + 1]int
	for n := range 4000 {
		var pts []point
		for range 5 {
			pts = append(pts, point{geom.V(float64(r.IntN(3)), float64(r.IntN(3)), float64(r.IntN(2))).Mul(100), what(r.IntN(2)), 0})
		}
		if twice(pts) {
			continue
		}
		a := made(pts...)
		m := turn(r)
		if n%2 == 0 {
			m = mirror(m)
		}
		b := moved(a, m)
		r.Shuffle(5, func(i, k int) { b.points[i], b.points[k] = b.points[k], b.points[i] })
		if n%3 == 0 {
			b.points[0].at.X += 30
			b = made(b.points...)
		}
		got, want := compare(&a, &b), slow(&a, &b)
		seen[want]++
		if got != want {
			t.Fatalf("number %d: %d, want %d\n%v\n%v", n, got, want, a.points, b.points)
		}
	}
	for l, n := range seen {
		if n < 50 {
			t.Errorf("only %d pairs of likeness %d", n, l)
		}
	}
}

func twice(pts []point) bool {
	for i := range pts {
		for k := range i {
			if pts[i].at == pts[k].at {
				return true
			}
		}
	}
	return false
}

// TestBothSidesOfTheTolerance shifts one stud of four.
func TestBothSidesOfTheTolerance(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	plate := func(shift, diameter, volume float64) shape {
		return made(
			point{geom.V(0, 0, 0), open, 16}, point{geom.V(100+shift, 0, 0), open, diameter}, point{geom.V(100, 150, 0), open, 16}, point{geom.V(0, 150, 0), open, 16},
			point{geom.V(40, 60, 10), middle, volume},
		)
	}
	a := plate(0, 16, 1e6)
	for _, c := range []struct {
		name                    string
		shift, diameter, volume float64
		want                    likeness
	}{
		{"the same", 0, 16, 1e6, same},
		{"0.45 mm aside", 0.45, 16, 1e6, same},
		{"0.55 mm aside", 0.55, 16, 1e6, different},
		{"0.09 mm thicker", 0, 16.09, 1e6, same},
		{"0.11 mm thicker", 0, 16.11, 1e6, different},
		{"3.9 percent lighter", 0, 16, 0.961e6, same},
		{"4.1 percent lighter", 0, 16, 0.959e6, different},
	} {
		b := moved(plate(c.shift, c.diameter, c.volume), turn(r))
		if got := compare(&a, &b); got != c.want {
			t.Errorf("%s: %d, want %d", c.name, got, c.want)
		}
		if got := compare(&b, &a); got != c.want {
			t.Errorf("%s, the other way round: %d, want %d", c.name, got, c.want)
		}
	}
}

// TestShapesWithoutWidth: all points in one place, or on one line, have turns
// of their own, and the way they look counts.
func TestShapesWithoutWidth(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	line := made(point{geom.V(0, 0, 0), open, 20}, point{geom.V(0, 0, 300), deep, 30}, point{geom.V(0, 0, 290), middle, 5000})
	other := made(point{geom.V(0, 0, 0), open, 20}, point{geom.V(0, 0, 300), deep, 30}, point{geom.V(0, 0, 10), middle, 5000})
	one := made(point{geom.V(7, 7, 7), middle, 9})
	for range 20 {
		m := turn(r)
		for _, s := range []*shape{&line, &one} {
			b, c := moved(*s, m), moved(*s, mirror(m))
			if compare(s, &b) != same || compare(s, &c) != same {
				t.Error("a line or a point is not what it was, turned or mirrored")
			}
		}
		if b := moved(other, m); compare(&line, &b) != different {
			t.Error("a head at the other end is no other thing")
		}
	}
	if compare(&line, &one) != different {
		t.Error("a point is a line")
	}
}

// TestBodiesOfManyCorners are known by volume and extents: a disk of 500 sides,
// wider by a little less and a little more than rounding explains.
func TestBodiesOfManyCorners(t *testing.T) {
	disk := func(across float64) shape {
		var rim []geom.Vec2
		for i := range 500 {
			s, c := math.Sincos(2 * math.Pi * float64(i) / 500)
			rim = append(rim, geom.Vec2{X: across / 2 * c, Y: 100 * s})
		}
		m := prism(rim, 20)
		return shapeOf([]*model.Item{{Kind: model.Other, Bodies: []model.Body{{Mesh: m.Transform(turn(rand.New(rand.NewPCG(5, 6))))}}}})
	}
	a := disk(300)
	if len(a.points) > 10 {
		t.Fatalf("%d points", len(a.points))
	}
	for across, want := range map[float64]likeness{300: same, 300.4: same, 300.7: different} {
		b := disk(across)
		if got := compare(&a, &b); got != want {
			t.Errorf("%g mm: %d, want %d", across, got, want)
		}
	}
}

// prism stands on an outline.
func prism(rim []geom.Vec2, high float64) *geom.Mesh {
	m := &geom.Mesh{}
	n := int32(len(rim))
	for _, z := range []float64{0, high} {
		for _, p := range rim {
			m.Verts = append(m.Verts, geom.V(p.X, p.Y, z))
		}
	}
	for i := range n {
		k := (i + 1) % n
		m.Tris = append(m.Tris, [3]int32{i, k, n + i}, [3]int32{k, n + k, n + i})
		if i > 0 && k > 0 {
			m.Tris = append(m.Tris, [3]int32{0, k, i}, [3]int32{n, n + i, n + k})
		}
	}
	return m
}

func TestDividingAPath(t *testing.T) {
	arc := func(n int) []geom.Vec { // quarter of a circle with a straight start
		out := []geom.Vec{geom.V(0, 0, 500)}
		for i := range n + 1 {
			s, c := math.Sincos(math.Pi / 2 * float64(i) / float64(n))
			out = append(out, geom.V(100-100*c, 0, -100*s))
		}
		return out
	}
	coarse, fine := divided(arc(8), rodPoints), divided(arc(64), rodPoints)
	if len(coarse) != rodPoints+1 || len(fine) != rodPoints+1 {
		t.Fatalf("%d and %d points", len(coarse), len(fine))
	}
	for i := range coarse {
		if d := coarse[i].Dist(fine[i]); d > sameWithin {
			t.Errorf("point %d: %.3f mm from that of the finer curve", i, d)
		}
	}
	if got := divided([]geom.Vec{{}, {}}, 4); len(got) > 1 {
		t.Errorf("a path without length has points %v", got)
	}
}
