package shape

import (
	"math"
	"math/rand"
	"testing"

	"embedcheck/internal/geom"
)

func randVec(rng *rand.Rand, size float64) geom.Vec {
	return v(size*(rng.Float64()-0.5), size*(rng.Float64()-0.5), size*(rng.Float64()-0.5))
}

// The point of a spline against the sum over all basis functions of Cox and
// de Boor, written out.
func TestSplineAgreesWithBasisFunctions(t *testing.T) {
	var basis func(k []float64, i, p int, u float64) float64
	basis = func(k []float64, i, p int, u float64) float64 {
		if p == 0 {
			if k[i] <= u && u < k[i+1] {
				return 1
			}
			return 0
		}
		var sum float64
		if d := k[i+p] - k[i]; d > 0 {
			sum += (u - k[i]) / d * basis(k, i, p-1, u)
		}
		if d := k[i+p+1] - k[i+1]; d > 0 {
			sum += (k[i+p+1] - u) / d * basis(k, i+1, p-1, u)
		}
		return sum
	}
	rng := rand.New(rand.NewSource(1))
	for range 200 {
		degree := 1 + rng.Intn(4)
		n := degree + 1 + rng.Intn(6)
		s := &spline{degree: degree}
		for range n {
			s.points = append(s.points, randVec(rng, 100))
			s.weights = append(s.weights, 0.5+rng.Float64())
		}
		k := 0.0
		for range n + degree + 1 {
			k += float64(rng.Intn(3)) / 2 // repeated knots are likely
			s.knots = append(s.knots, k)
		}
		if s.check() != "" {
			continue
		}
		lo, hi := s.domain()
		for range 20 {
			u := lo + (hi-lo)*rng.Float64()*0.999
			var sum geom.Vec
			var w float64
			for i := range n {
				b := basis(s.knots, i, degree, u) * s.weights[i]
				sum, w = sum.Add(s.points[i].Mul(b)), w+b
			}
			if w == 0 {
				continue
			}
			if got := s.at(u); got.Dist(sum.Mul(1/w)) > 1e-9 {
				t.Fatalf("degree %d, knots %v: at %g %v, want %v", degree, s.knots, u, got, sum.Mul(1/w))
			}
		}
	}
}

// A part of a path against a walk in small steps.
func TestTrimsAgreeWithAWalk(t *testing.T) {
	rng := rand.New(rand.NewSource(2))
	for n := range 200 {
		var c path
		at := randVec(rng, 1000)
		for range 1 + rng.Intn(5) {
			to := at.Add(randVec(rng, 500))
			p := line(at, to)
			switch rng.Intn(3) {
			case 0:
				p, _ = arc3(at, at.Lerp(to, 0.5).Add(randVec(rng, 300)), to)
			case 1:
				p = p.reversed()
				p = p.reversed()
			}
			c.pieces = append(c.pieces, p)
			at = p.end()
		}
		if rng.Intn(2) == 0 {
			c = c.reversed()
		}
		fine := c.points(1e-4)
		total := pathLength(fine)
		a, b := total*rng.Float64()*0.5, total*(0.5+rng.Float64()*0.5)
		got := c.trim(a, b, byLength).points(1e-4)
		if l := pathLength(got); math.Abs(l-(b-a)) > 0.2 {
			t.Fatalf("path %d: part of %g is %g long", n, b-a, l)
		}
		if d := got[0].Dist(walk(fine, a)); d > 0.2 {
			t.Fatalf("path %d: part starts %g away", n, d)
		}
		if d := got[len(got)-1].Dist(walk(fine, b)); d > 0.2 {
			t.Fatalf("path %d: part ends %g away", n, d)
		}
	}
}

// walk is the place at a distance along a chain of points.
func walk(pts []geom.Vec, s float64) geom.Vec {
	for i := 1; i < len(pts); i++ {
		d := pts[i].Dist(pts[i-1])
		if s <= d {
			return pts[i-1].Lerp(pts[i], s/d)
		}
		s -= d
	}
	return pts[len(pts)-1]
}

func TestArcsGoThroughTheirPoints(t *testing.T) {
	rng := rand.New(rand.NewSource(3))
	for range 1000 {
		a, m, b := randVec(rng, 100), randVec(rng, 100), randVec(rng, 100)
		p, ok := arc3(a, m, b)
		if !ok {
			t.Fatal("not an arc")
		}
		if p.start().Dist(a) > 1e-6 || p.end().Dist(b) > 1e-6 {
			t.Fatalf("runs from %v to %v, want %v to %v", p.start(), p.end(), a, b)
		}
		if _, d := p.nearest(m); d > 1e-6 {
			t.Fatalf("misses the middle point by %g", d)
		}
	}
}

// A ball with a hollow, its faces turned at random: the mesh must come out with
// the outside out and the hollow in.
func TestFacesTurnedAtRandom(t *testing.T) {
	rng := rand.New(rand.NewSource(4))
	build := func(radius float64, s *shell, cavity bool) {
		b := geom.Revolve(halfDisc(radius), nil, geom.Identity, geom.Vec{}, v(0, 1, 0), 2*math.Pi, 24)
		base := int32(len(s.points))
		s.points = append(s.points, b.Verts...)
		for _, tr := range b.Tris {
			l := []int32{base + tr[0], base + tr[1], base + tr[2]}
			if rng.Intn(2) == 0 {
				l[0], l[1] = l[1], l[0]
			}
			s.faces = append(s.faces, face{loops: [][]int32{l}, cavity: cavity})
		}
	}
	for range 20 {
		s := &shell{}
		build(100, s, false)
		outer := len(s.faces)
		build(50, s, true)
		rng.Shuffle(outer, func(i, j int) { s.faces[i], s.faces[j] = s.faces[j], s.faces[i] })
		m, err := s.mesh()
		if err != nil {
			t.Fatal(err)
		}
		full := geom.Revolve(halfDisc(100), nil, geom.Identity, geom.Vec{}, v(0, 1, 0), 2*math.Pi, 24)
		want := volume(full) * (1 - 1./8)
		if got := volume(m); math.Abs(got-want) > 1e-6*want || leaks(m) > 0 {
			t.Fatalf("volume %g, want %g; %d leaks", got, want, leaks(m))
		}
	}
}

func halfDisc(r float64) []geom.Vec2 {
	var pts []geom.Vec2
	for i := range 13 {
		s, c := math.Sincos(math.Pi * (float64(i)/12 - 0.5))
		pts = append(pts, geom.Vec2{X: r * c, Y: r * s})
	}
	pts[0].X, pts[12].X = 0, 0
	return pts
}

// No triangle of a curved face may lie further off its surface than the chord
// tolerance allows, here looked for by sampling.
func TestCurvedFacesKeepTheChordTolerance(t *testing.T) {
	r := reader(t, "IFC4", mmRad, drum+"#101=IFCCLOSEDSHELL((#140,#150,#200));\n#200=IFCADVANCEDFACE((#201),#160,.T.);\n#201=IFCFACEOUTERBOUND(#202,.T.);\n#202=IFCEDGELOOP((#161,#163,#162,#164));\n")
	s, err := r.solid(get(t, r, 100), 0)
	if err != nil {
		t.Fatal(err)
	}
	m, _ := s.Mesh()
	for i := range m.Tris {
		a, b, c := m.Tri(i)
		n := b.Sub(a).Cross(c.Sub(a)).Unit()
		if math.Abs(n.Z) > 0.5 {
			continue // a lid
		}
		p := a.Add(b).Add(c).Mul(1. / 3)
		if d := 50 - math.Hypot(p.X, p.Y); d < -1e-9 || d > 3*bodyTol {
			t.Errorf("a triangle lies %g inside the surface", d)
		}
	}
}
