package geom

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

func bar(r float64, path ...Vec) Rod { return Rod{Path: path, Radius: r} }

func TestRodRodByHand(t *testing.T) {
	long := bar(8, V(-500, 0, 0), V(500, 0, 0))
	end := bar(8, V(0, 0, 0), V(500, 0, 0)) // its flat end looks to -x
	for _, c := range []struct {
		name string
		a, b Rod
		want float64
	}{
		{"crossing above", long, bar(6, V(0, -300, 34), V(0, 300, 34)), 20},
		{"touching", long, bar(6, V(0, -300, 14), V(0, 300, 14)), 0},
		{"overlapping", long, bar(6, V(0, -300, 10), V(0, 300, 10)), -4},
		{"axes cross", long, bar(6, V(0, -300, 0), V(0, 300, 0)), -14},
		{"parallel", long, bar(6, V(-100, 30, 0), V(900, 30, 0)), 16},
		{"parallel, one behind the other and beside", long, bar(6, V(600, 30, 0), V(900, 30, 0)), math.Hypot(100, 30-14)},
		{"in line", long, bar(6, V(600, 0, 0), V(900, 0, 0)), 100},
		{"in line, overlapping", long, bar(6, V(490, 0, 0), V(900, 0, 0)), -10},
		{"the same", long, long, -16},
		{"end above a bar", end, bar(6, V(-20, -300, 0), V(-20, 300, 0)), 14},
		{"end touching a bar", end, bar(6, V(-6, -300, 0), V(-6, 300, 0)), 0},
		{"end 1 mm into a bar", end, bar(6, V(-5, -300, 0), V(-5, 300, 0)), -1},
		{"beside the rim of an end", end, bar(6, V(-20, -300, 20), V(-20, 300, 20)), math.Hypot(20, 12) - 6},
		{"a rounded end would touch", end, bar(6, V(-13, -300, 0), V(-13, 300, 0)), 7},
		{"rim to rim", end, bar(8, V(-30, 0, 40), V(-500, 0, 40)), math.Hypot(30, 24)},
		{"flat on flat, shifted", end, bar(8, V(-3, 0, 10), V(-500, 0, 10)), 3},
		{"around a bend", bar(8, V(-500, 0, 0), V(0, 0, 0), V(0, 0, 500)), bar(6, V(20, -300, -20), V(20, 300, -20)), 20*math.Sqrt2 - 14},
		{"inside a bend", bar(8, V(-500, 0, 0), V(0, 0, 0), V(0, 0, 500)), bar(6, V(-30, -300, 30), V(-30, 300, 30)), 16},
		{"one point", bar(8, V(0, 0, 0)), bar(6, V(-300, 30, 0), V(300, 30, 0)), 16},
		{"repeated points", bar(8, V(-500, 0, 0), V(0, 0, 0), V(0, 0, 0), V(500, 0, 0), V(500, 0, 0)), bar(6, V(600, 0, 0), V(600, 0, 0), V(900, 0, 0)), 100},
	} {
		for _, s := range []float64{1, 25.4} {
			for _, f := range []Affine{Identity, turned(Vec{}), turned(V(1e6, -1e6, 5e5))} {
				f.X, f.Y, f.Z = f.X.Mul(s), f.Y.Mul(s), f.Z.Mul(s)
				a, _ := c.a.Transform(f)
				b, _ := c.b.Transform(f)
				gap, p, q := RodRod(a, b)
				near(t, c.name, gap, c.want*s, 1e-6)
				near(t, c.name+", points", p.Dist(q), math.Abs(gap), 1e-6)
				back, _, _ := RodRod(b, a)
				near(t, c.name+", the other way round", back, gap, 1e-6)
				for _, limit := range []float64{c.want*s + 1e-3, c.want*s - 1e-3} {
					g, _, _, ok := RodRodWithin(a, b, limit)
					if ok != (limit > c.want*s) || ok && math.Abs(g-gap) > 1e-9 {
						t.Errorf("%s: within %v: %v %v, want %v", c.name, limit, g, ok, gap)
					}
				}
			}
		}
	}
}

func TestRodRodNothing(t *testing.T) {
	nan := math.NaN()
	for _, r := range []Rod{{}, {Radius: 5}, bar(nan, V(0, 0, 0), V(1, 0, 0)), bar(5, V(nan, 0, 0), V(1, 0, 0)), bar(5, V(math.Inf(1), 0, 0), V(1, 0, 0))} {
		for _, o := range []Rod{r, bar(5, V(0, 0, 0), V(0, 0, 9))} {
			RodRod(r, o)
			RodRod(o, r)
			RodMesh(r, BoxMesh(V(0, 0, 0), V(1, 1, 1)))
		}
	}
	if g, _, _ := RodRod(Rod{}, bar(5, V(0, 0, 0), V(0, 0, 9))); !math.IsInf(g, 1) {
		t.Errorf("no path: %v, want +Inf", g)
	}
	if g, _, _ := RodMesh(bar(5, V(0, 0, 0), V(0, 0, 9)), &Mesh{}); !math.IsInf(g, 1) {
		t.Errorf("no triangles: %v, want +Inf", g)
	}
}

// cylinderTwin is the distance of p from a flat-ended cylinder, 0 inside, in its
// half plane: radius and height.
func cylinderTwin(p, a, b Vec, r float64) float64 {
	d := b.Sub(a)
	l := d.Norm()
	h := p.Sub(a).Dot(d) / l
	rad := math.Sqrt(max(0, p.Sub(a).Norm2()-h*h))
	return math.Hypot(max(0, rad-r), max(0, -h, h-l))
}

// cylinderSurface is n random points of a cylinder's surface, many on its rims.
func cylinderSurface(r *rand.Rand, a, b Vec, rad float64, n int) []Vec {
	f := FrameZX(a, b.Sub(a), Vec{})
	l := b.Dist(a)
	out := make([]Vec, n)
	for i := range out {
		s, c := math.Sincos(2 * math.Pi * r.Float64())
		h, k := l*r.Float64(), rad
		switch r.IntN(4) {
		case 0:
			h = 0
		case 1:
			h = l
		case 2:
			h, k = math.Round(r.Float64())*l, rad*math.Sqrt(r.Float64())
		}
		out[i] = f.Apply(V(k*c, k*s, h))
	}
	return out
}

// TestRodRodFlatEnds has short thick rods, so that ends matter, and proves each
// distance: both points lie on their rods, and a plane parts the rods by the
// whole distance.
func TestRodRodFlatEnds(t *testing.T) {
	r := rand.New(rand.NewPCG(61, 62))
	apartCount, overlapCount := 0, 0
	for i := range 4000 {
		v := func(s float64) Vec { return V(r.Float64()-0.5, r.Float64()-0.5, r.Float64()-0.5).Mul(s) }
		a0, b0 := v(60), v(60)
		a1, b1 := a0.Add(v(60)), b0.Add(v(60))
		switch r.IntN(5) {
		case 0:
			b1 = b0.Add(a1.Sub(a0)) // parallel
		case 1:
			b1 = b0.Add(a1.Sub(a0).Cross(v(1))) // at a right angle
		case 2:
			b1 = b0.Add(a1.Sub(a0)).Add(v(1e-5))
		}
		ra, rb := 1+10*r.Float64(), 1+10*r.Float64()
		gap, p, q := RodRod(bar(ra, a0, a1), bar(rb, b0, b1))
		what := fmt.Sprintf("%d: %v %v %v, %v %v %v", i, a0, a1, ra, b0, b1, rb)
		if gap <= 0 {
			overlapCount++
			if gap > -1e-6 {
				continue
			}
			// The rods have a common point, and after the move none.
			common := false
			for _, s := range append(cylinderSurface(r, a0, a1, ra, 3000), a0, a1) {
				common = common || cylinderTwin(s, b0, b1, rb) == 0
			}
			for _, s := range append(cylinderSurface(r, b0, b1, rb, 3000), b0, b1) {
				common = common || cylinderTwin(s, a0, a1, ra) == 0
			}
			if !common && gap < -0.1 {
				t.Errorf("%s: gap %v, but no common point", what, gap)
			}
			continue
		}
		apartCount++
		near(t, what+" a", cylinderTwin(p, a0, a1, ra), 0, 1e-6)
		near(t, what+" b", cylinderTwin(q, b0, b1, rb), 0, 1e-6)
		near(t, what, p.Dist(q), gap, 1e-6)
		if gap < 1e-4 {
			continue
		}
		w := q.Sub(p).Unit()
		reach := func(a, b Vec, r float64, d Vec) float64 { // of a cylinder along d
			x := b.Sub(a).Unit().Dot(d)
			return max(a.Dot(d), b.Dot(d)) + r*math.Sqrt(max(0, 1-x*x))
		}
		near(t, what+" plane", -reach(b0, b1, rb, w.Neg())-reach(a0, a1, ra, w), gap, 1e-6)
		if t.Failed() {
			t.FailNow()
		}
	}
	if apartCount < 500 || overlapCount < 200 {
		t.Errorf("%d apart, %d overlapping: not a fair choice", apartCount, overlapCount)
	}
}

// TestRodRodEndOverlap compares the way out of overlaps at flat ends with the
// best of many directions.
func TestRodRodEndOverlap(t *testing.T) {
	r := rand.New(rand.NewPCG(63, 64))
	tested := 0
	for range 400 {
		v := func(s float64) Vec { return V(r.Float64()-0.5, r.Float64()-0.5, r.Float64()-0.5).Mul(s) }
		a := piece{a: v(20), r: 2 + 8*r.Float64(), flatA: true, flatB: true}
		b := piece{a: v(20), r: 2 + 8*r.Float64(), flatA: true, flatB: true}
		a.b, b.b = a.a.Add(v(60)), b.a.Add(v(60))
		a.axis, b.axis = a.b.Sub(a.a).Unit(), b.b.Sub(b.a).Unit()
		x := nearestSegments(a.a, a.b, b.a, b.b)
		if !a.atFlatEnd(x.p) && !b.atFlatEnd(x.q) {
			continue
		}
		gap, p, q := RodRod(bar(a.r, a.a, a.b), bar(b.r, b.a, b.b))
		if gap >= 0 || !a.beyond(x.p, x.q.Sub(x.p)) && !b.beyond(x.q, x.p.Sub(x.q)) {
			continue
		}
		tested++
		best := math.Inf(-1)
		for i := range 20000 { // spread evenly on a ball
			z := 1 - (2*float64(i)+1)/20000
			s, c := math.Sincos(float64(i) * 2.399963229728653)
			k := math.Sqrt(1 - z*z)
			best = max(best, apart(&a, &b, V(k*c, k*s, z)))
		}
		if gap < best-1e-6 {
			t.Errorf("%+v %+v: gap %v, but %v frees them", a, b, gap, best)
		}
		if w := q.Sub(p).Unit(); gap > best+0.3 || math.Abs(apart(&a, &b, w)-gap) > 1e-6 {
			t.Errorf("%+v %+v: gap %v along %v does not free them; %v does", a, b, gap, w, best)
		}
	}
	if tested < 20 {
		t.Errorf("only %d overlaps", tested)
	}
}

// rodTwin is the distance of p from a rod with bends: cylinders, and balls at the
// bends.
func rodTwin(p Vec, r Rod) float64 {
	best := math.Inf(1)
	for i := 1; i < len(r.Path); i++ {
		best = min(best, cylinderTwin(p, r.Path[i-1], r.Path[i], r.Radius))
		if i+1 < len(r.Path) {
			best = min(best, max(0, p.Dist(r.Path[i])-r.Radius))
		}
	}
	return best
}

// TestRodRodBends compares bent rods with a sampling of their surfaces.
func TestRodRodBends(t *testing.T) {
	r := rand.New(rand.NewPCG(65, 66))
	for i := range 60 {
		walk := func() Rod {
			p := V(r.Float64(), r.Float64(), r.Float64()).Mul(120)
			rod := Rod{Radius: 2 + 6*r.Float64()}
			for range 2 + r.IntN(5) {
				rod.Path = append(rod.Path, p)
				p = p.Add(V(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()).Mul(40))
			}
			return rod
		}
		a, b := walk(), walk()
		gap, _, _ := RodRod(a, b)
		best := math.Inf(1)
		for _, x := range [2][2]Rod{{a, b}, {b, a}} {
			for k := 1; k < len(x[0].Path); k++ {
				for _, p := range cylinderSurface(r, x[0].Path[k-1], x[0].Path[k], x[0].Radius, 3000) {
					best = min(best, rodTwin(p, x[1]))
				}
				for range 500 {
					d := V(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()).Unit()
					if k+1 < len(x[0].Path) {
						best = min(best, rodTwin(x[0].Path[k].Add(d.Mul(x[0].Radius)), x[1]))
					}
				}
			}
		}
		if gap > best+1e-6 {
			t.Errorf("%d: gap %v, but a sample is %v", i, gap, best)
		}
		if max(gap, 0) < best-1.5 {
			t.Errorf("%d: gap %v, but samples are no nearer than %v", i, gap, best)
		}
	}
}

func TestRodMeshByHand(t *testing.T) {
	box := BoxMesh(V(0, 0, 0), V(100, 100, 100))
	el := Prism([]Vec2{{0, 0}, {100, 0}, {100, 10}, {10, 10}, {10, 100}, {0, 100}}, nil, Identity, V(0, 0, 1), 100)
	for _, c := range []struct {
		name string
		r    Rod
		m    *Mesh
		want float64
	}{
		{"above a face", bar(8, V(10, 50, 120), V(90, 50, 120)), box, 12},
		{"standing above a face", bar(8, V(50, 50, 120), V(50, 50, 300)), box, 20},
		{"standing on a face", bar(8, V(50, 50, 100), V(50, 50, 300)), box, 0},
		{"tilted above a face, rim first", bar(8, V(50, 50, 120), V(150, 50, 220)), box, 20 - 8*math.Sqrt2/2},
		{"along an edge", bar(8, V(10, 130, 140), V(90, 130, 140)), box, 50 - 8},
		{"at a corner", bar(8, V(103, 104, 300), V(103, 104, 112)), box, 12}, // the corner lies under the flat end
		{"at a corner, beyond the rim", bar(8, V(112, 116, 300), V(112, 116, 115)), box, math.Hypot(15, 20-8)},
		{"half in", bar(8, V(10, 50, 100), V(90, 50, 100)), box, -8},
		{"a little in", bar(8, V(10, 50, 105), V(90, 50, 105)), box, -3},
		{"axis inside", bar(8, V(10, 50, 95), V(90, 50, 95)), box, -13},
		{"end 3 mm in", bar(8, V(50, 50, 97), V(50, 50, 300)), box, -3},
		{"through", bar(8, V(50, 50, -300), V(50, 50, 300)), box, -58},
		{"wholly inside", bar(8, V(50, 50, 20), V(50, 50, 80)), box, -58},
		{"wholly inside, near a face", bar(8, V(50, 80, 20), V(50, 80, 60)), box, -28},
		{"around it", bar(500, V(50, 50, -300), V(50, 50, 300)), box, -300},
		{"in the corner of an angle", bar(8, V(30, 40, 20), V(30, 40, 80)), el, 12},
		{"a little in an angle", bar(8, V(15, 40, 20), V(15, 40, 80)), el, -3},
		{"bent around a corner", bar(8, V(-20, 50, 50), V(-20, 50, 120), V(50, 50, 120)), box, 12},
	} {
		for _, s := range []float64{1, 25.4} {
			for _, f := range []Affine{Identity, turned(Vec{}), turned(V(1e6, -1e6, 5e5))} {
				f.X, f.Y, f.Z = f.X.Mul(s), f.Y.Mul(s), f.Z.Mul(s)
				r, _ := c.r.Transform(f)
				m := c.m.Transform(f)
				gap, p, q := RodMesh(r, m)
				near(t, c.name, gap, c.want*s, 1e-5*s)
				near(t, c.name+", points", p.Dist(q), math.Abs(gap), 1e-5*s)
				for _, limit := range []float64{c.want*s + 1e-2, c.want*s - 1e-2} {
					g, _, _, ok := RodMeshWithin(r, m, limit)
					if ok != (limit > c.want*s) || ok && math.Abs(g-gap) > 1e-6 {
						t.Errorf("%s: within %v: %v %v, want %v", c.name, limit, g, ok, gap)
					}
				}
			}
		}
	}
}

// TestRodMeshTwin compares with all triangles without a tree, and proves the
// distance from the nearest one.
func TestRodMeshTwin(t *testing.T) {
	r := rand.New(rand.NewPCG(67, 68))
	for _, s := range zoo() {
		for range 30 {
			d := V(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()).Unit()
			a := d.Mul(90 + 40*r.Float64())
			b := a.Add(V(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()).Mul(30))
			rad := 1 + 8*r.Float64()
			gap, p, q := RodMesh(bar(rad, a, b), s.Mesh)
			best := math.Inf(1)
			for _, x := range cylinderSurface(r, a, b, rad, 1500) {
				_, d, _ := s.Nearest(x)
				if insideTwin(s.Mesh, x) {
					d = 0
				}
				best = min(best, d)
			}
			for i := range s.Tris {
				for _, w := range [][3]float64{{1, 0, 0}, {0.5, 0.5, 0}, {1. / 3, 1. / 3, 1. / 3}} {
					u, v, x := s.Tri(i)
					best = min(best, cylinderTwin(u.Mul(w[0]).Add(v.Mul(w[1])).Add(x.Mul(w[2])), a, b, rad))
				}
			}
			if gap > best+1e-6 || max(gap, 0) < best-4 {
				t.Errorf("%s: gap %v, samples %v", s.name, gap, best)
			}
			if gap > 1e-6 {
				near(t, s.name+" rod", cylinderTwin(p, a, b, rad), 0, 1e-6)
				_, d, _ := s.Nearest(q)
				near(t, s.name+" mesh", d, 0, 1e-6)
				near(t, s.name, p.Dist(q), gap, 1e-6)
			}
		}
	}
}

// TestRodMeshEscape compares the way out of a convex body with the best of many
// directions.
func TestRodMeshEscape(t *testing.T) {
	r := rand.New(rand.NewPCG(69, 70))
	bodies := []*Mesh{
		BoxMesh(V(-50, -30, -10), V(50, 30, 10)),
		Prism(circle(0, 0, 30, 7), nil, turned(V(0, 0, -20)), V(0, 0, 1), 40),
		ball(Vec{}, 40, 6),
	}
	for i := range 60 {
		m := bodies[i%len(bodies)]
		h := m.hull()
		if h == nil {
			t.Fatal("a convex body has no hull")
		}
		a := V(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()).Mul(15)
		b := a.Add(V(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()).Mul(30))
		c := piece{a: a, b: b, r: 1 + 8*r.Float64(), axis: b.Sub(a).Unit(), flatA: true, flatB: true}
		gap, p, q := RodMesh(bar(c.r, a, b), m)
		if gap >= 0 {
			continue
		}
		best := math.Inf(-1)
		for k := range 20000 {
			z := 1 - (2*float64(k)+1)/20000
			s, co := math.Sincos(float64(k) * 2.399963229728653)
			best = max(best, apart(&c, h, V(math.Sqrt(1-z*z)*co, math.Sqrt(1-z*z)*s, z)))
		}
		if gap < best-1e-6 {
			t.Errorf("%d: gap %v, but %v frees them", i, gap, best)
		}
		if w := q.Sub(p).Unit(); math.Abs(apart(&c, h, w)-gap) > 1e-6 {
			t.Errorf("%d: gap %v along %v does not free them", i, gap, w)
		}
	}
}

func BenchmarkRodRod(b *testing.B) {
	long := bar(8, V(-500, 0, 0), V(500, 0, 0))
	hook := bar(8, V(0, 40, 300), V(0, 40, 50), V(0, 46, 30), V(0, 62, 20), V(0, 200, 20))
	for _, c := range []struct {
		name string
		a, b Rod
	}{
		{"crossing", long, bar(6, V(0, -300, 34), V(0, 300, 34))},
		{"flat ends", bar(8, V(0, 0, 0), V(500, 0, 0)), bar(8, V(-30, 0, 40), V(-500, 10, 70))},
		{"end overlap", bar(8, V(0, 0, 0), V(500, 0, 0)), bar(8, V(3, 0, 10), V(-500, 10, 70))},
		{"hook", long, hook},
	} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				RodRod(c.a, c.b)
			}
		})
	}
}

func BenchmarkRodMesh(b *testing.B) {
	m := ball(Vec{}, 100, 32)
	for _, c := range []struct {
		name string
		r    Rod
	}{
		{"side", bar(8, V(-200, 0, 130), V(200, 0, 130))},
		{"end", bar(8, V(0, 0, 130), V(0, 0, 330))},
		{"through", bar(8, V(0, 0, -200), V(0, 0, 330))},
	} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				RodMesh(c.r, m)
			}
		})
	}
}
