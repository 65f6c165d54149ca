package geom

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// raster is a set of cells of a grid, a solid whose booleans are exact.
type raster struct {
	n    int
	cell []bool
}

func newRaster(n int) raster { return raster{n, make([]bool, n*n*n)} }

func (r raster) fill(x0, y0, z0, x1, y1, z1 int) {
	for x := x0; x < x1; x++ {
		for y := y0; y < y1; y++ {
			for z := z0; z < z1; z++ {
				r.cell[(x*r.n+y)*r.n+z] = true
			}
		}
	}
}

// volume is the number of cells that keep wants.
func volume(a, b raster, keep func(x, y bool) bool) float64 {
	n := 0
	for i := range a.cell {
		if keep(a.cell[i], b.cell[i]) {
			n++
		}
	}
	return float64(n)
}

// span is two different numbers below n, in order.
func span(r *rand.Rand, n int) (lo, hi int) {
	lo = r.IntN(n)
	hi = lo + 1 + r.IntN(n-lo)
	return lo, hi
}

// checkSolid holds a result against what is known of it.
func checkSolid(t *testing.T, what string, m *Mesh, want, tol float64) {
	t.Helper()
	if v := m.Volume(); !(math.Abs(v-want) <= tol) {
		t.Errorf("%s: volume %.12g, want %.12g", what, v, want)
	}
	if want <= tol && len(m.Tris) == 0 {
		return
	}
	if n := sheetCheck(m); n != 0 {
		t.Errorf("%s: %d open sides", what, n)
	}
	for i := range m.Tris {
		if m.normal2(i).Norm() == 0 {
			t.Errorf("%s: triangle %d has no area", what, i)
		}
	}
}

var (
	less   = func(x, y bool) bool { return x && !y }
	either = func(x, y bool) bool { return x || y }
	both   = func(x, y bool) bool { return x && y }
)

// TestBooleanRaster has random boxes on a grid, so that faces, sides and corners
// coincide all the time, in space and far from zero.
func TestBooleanRaster(t *testing.T) {
	const n = 5
	rnd := rand.New(rand.NewPCG(21, 22))
	for i := range 600 {
		scale := []float64{1, 100, 25.4}[i%3]
		f := []Affine{Identity, randomTurn(rnd, Vec{}), randomTurn(rnd, V(1e5, -2e5, 3e4)), randomTurn(rnd, V(1e9, 2e8, -5e8))}[i/3%4]
		box := func(r raster) *Mesh {
			x0, x1 := span(rnd, n)
			y0, y1 := span(rnd, n)
			z0, z1 := span(rnd, n)
			r.fill(x0, y0, z0, x1, y1, z1)
			return BoxMesh(V(float64(x0), float64(y0), float64(z0)).Mul(scale), V(float64(x1), float64(y1), float64(z1)).Mul(scale)).Transform(f)
		}
		ra, rb := newRaster(n), newRaster(n)
		a := box(ra)
		var cutters []*Mesh
		for range 1 + rnd.IntN(4) {
			cutters = append(cutters, box(rb))
		}
		cube := scale * scale * scale
		tol := cube * (1e-9 + f.T.Norm()*1e-14/scale*20)
		rest := Subtract(a, cutters...)
		checkSolid(t, fmt.Sprint(i, " less"), rest, cube*volume(ra, rb, less), tol)
		rest2 := Subtract(rest, cutters...) // nothing left to cut
		checkSolid(t, fmt.Sprint(i, " less twice"), rest2, cube*volume(ra, rb, less), 2*tol)
		sum := cutters[0]
		for _, c := range cutters[1:] {
			sum = Union(sum, c)
		}
		checkSolid(t, fmt.Sprint(i, " sum"), sum, cube*volume(ra, rb, func(_, y bool) bool { return y }), tol)
		checkSolid(t, fmt.Sprint(i, " both"), Intersect(a, sum), cube*volume(ra, rb, both), tol)
		checkSolid(t, fmt.Sprint(i, " either"), Union(a, sum), cube*volume(ra, rb, either), tol)
		checkSolid(t, fmt.Sprint(i, " back"), Union(rest, Intersect(a, sum)), cube*volume(ra, ra, both), 3*tol)
		if t.Failed() {
			t.Fatalf("frame %+v scale %v", f, scale)
		}
	}
}

// wall is a body that cuts are made in.
func wall() *Mesh { return BoxMesh(V(0, 0, 0), V(1000, 200, 800)) }

func TestSubtractByHand(t *testing.T) {
	const full = 1000 * 200 * 800
	drum := func(x, z, r, y0, y1 float64) *Mesh {
		return Prism(circle(0, 0, r, 24), nil, FrameZX(V(x, y0, z), V(0, 1, 0), V(1, 0, 0)), V(0, 0, 1), y1-y0)
	}
	round := func(r float64) float64 { return 12 * r * r * math.Sin(math.Pi/12) }
	for _, c := range []struct {
		name    string
		cutters []*Mesh
		gone    float64
		faces   int // planar, -1: not looked at
		tris    int // 0: not looked at
	}{
		{"nothing", nil, 0, 6, 12},
		{"beside", []*Mesh{BoxMesh(V(2000, 0, 0), V(2100, 100, 100))}, 0, 6, 12},
		{"box beside a corner", []*Mesh{BoxMesh(V(1000, 200, 800), V(1100, 300, 900))}, 0, 6, 12},
		{"resting on a face", []*Mesh{BoxMesh(V(100, 200, 100), V(200, 300, 200))}, 0, 6, 12},
		{"resting on a face and an edge", []*Mesh{BoxMesh(V(0, 200, 100), V(200, 300, 200))}, 0, 6, 12},
		{"through, flush", []*Mesh{BoxMesh(V(100, 0, 100), V(200, 200, 300))}, 100 * 200 * 200, 10, 32},
		{"through, sticking out", []*Mesh{BoxMesh(V(100, -50, 100), V(200, 250, 300))}, 100 * 200 * 200, 10, 32},
		{"recess", []*Mesh{BoxMesh(V(100, 150, 100), V(200, 250, 300))}, 100 * 50 * 200, 11, 0},
		{"inside", []*Mesh{BoxMesh(V(100, 50, 100), V(200, 150, 300))}, 100 * 100 * 200, 12, 24},
		{"corner", []*Mesh{BoxMesh(V(900, 100, 700), V(1000, 200, 800))}, 1e6, 9, 0},
		{"corner, sticking out", []*Mesh{BoxMesh(V(900, 100, 700), V(1100, 300, 900))}, 1e6, 9, 0},
		{"rebate", []*Mesh{BoxMesh(V(-5, 150, 750), V(1005, 205, 805))}, 1000 * 50 * 50, 8, 20},
		{"end cut off", []*Mesh{BoxMesh(V(600, -5, -5), V(1100, 300, 900))}, 400 * 200 * 800, 6, 12},
		{"end cut off, flush", []*Mesh{BoxMesh(V(600, 0, 0), V(1000, 200, 800))}, 400 * 200 * 800, 6, 12},
		{"middle cut out", []*Mesh{BoxMesh(V(400, -5, -5), V(600, 300, 900))}, 200 * 200 * 800, 12, 24},
		{"two that touch", []*Mesh{BoxMesh(V(100, 0, 100), V(200, 200, 300)), BoxMesh(V(200, 0, 100), V(300, 200, 300))}, 200 * 200 * 200, 10, 40},
		{"two that touch in an edge", []*Mesh{BoxMesh(V(100, 0, 100), V(200, 200, 300)), BoxMesh(V(200, 0, 300), V(300, 200, 400))}, 100*200*200 + 100*200*100, 14, 0},
		{"two that overlap", []*Mesh{BoxMesh(V(100, 0, 100), V(200, 200, 300)), BoxMesh(V(150, -5, 200), V(300, 205, 400))}, 200 * (100*200 + 150*200 - 50*100), 14, 0},
		{"one in another", []*Mesh{BoxMesh(V(100, 0, 100), V(400, 200, 400)), BoxMesh(V(200, 0, 200), V(300, 200, 300))}, 300 * 200 * 300, 10, 32},
		{"the same twice", []*Mesh{BoxMesh(V(100, 0, 100), V(200, 200, 300)), BoxMesh(V(100, 0, 100), V(200, 200, 300))}, 100 * 200 * 200, 10, 32},
		{"inside out", []*Mesh{insideOut(BoxMesh(V(100, 0, 100), V(200, 200, 300)))}, 100 * 200 * 200, 10, 32},
		{"all of it", []*Mesh{wall()}, full, 0, 0},
		{"all of it and more", []*Mesh{BoxMesh(V(-1, 0, 0), V(1001, 200, 800))}, full, 0, 0},
		{"round", []*Mesh{drum(500, 400, 100, -1, 201)}, 200 * round(100), 6 + 24, 0},
		{"round, flush", []*Mesh{drum(500, 400, 100, 0, 200)}, 200 * round(100), 6 + 24, 0},
		{"round, blind", []*Mesh{drum(500, 400, 100, 50, 200)}, 150 * round(100), 6 + 25, 0},
		{"round, touching a face along a line", []*Mesh{drum(100, 400, 100, -1, 201)}, 200 * round(100), -1, 0},
		{"round, over the edge", []*Mesh{drum(0, 400, 100, -1, 201)}, 100 * round(100), 7 + 12, 0},
		{"round twice, one in another", []*Mesh{drum(500, 400, 100, 150, 300), drum(500, 400, 50, -1, 201)}, 50*round(100) + 150*round(50), 6 + 24 + 1 + 24, 0},
		{"a ring leaves its core", []*Mesh{Prism(square(100, 100, 300), [][]Vec2{square(200, 200, 100)}, FrameZX(V(0, 300, 0), V(0, -1, 0), V(1, 0, 0)), V(0, 0, 1), 400)}, 200 * (300*300 - 100*100), 10 + 6, 0},
	} {
		for _, f := range []Affine{Identity, turned(Vec{}), turned(V(1e6, 1e6, -1e6)), turned(V(1e9, -1e9, 1e9))} {
			a := wall().Transform(f)
			var cutters []*Mesh
			for _, k := range c.cutters {
				cutters = append(cutters, k.Transform(f))
			}
			m := Subtract(a, cutters...)
			checkSolid(t, c.name, m, full-c.gone, 1e-3+f.T.Norm())
			if got := len(m.PlanarFaces()); c.faces >= 0 && got != c.faces {
				t.Errorf("%s: %d faces, want %d", c.name, got, c.faces)
			}
			if c.tris > 0 && len(m.Tris) != c.tris {
				t.Errorf("%s: %d triangles, want %d", c.name, len(m.Tris), c.tris)
			}
			if t.Failed() {
				t.FailNow()
			}
		}
	}
}

func TestBooleanFaceNumbers(t *testing.T) {
	a := wall() // 0 and 1 at z, 2 at y 0, 3 at x 1000, 4 at y 200, 5 at x 0
	first := BoxMesh(V(100, -50, 100), V(200, 250, 300))
	second := Prism(circle(0, 0, 50, 24), nil, FrameZX(V(600, -1, 400), V(0, 1, 0), V(1, 0, 0)), V(0, 0, 1), 1000, make([]int, 24))
	m := Subtract(a, first, second)
	for i := range m.Tris {
		p, q, r := m.Tri(i)
		mid := p.Add(q).Add(r).Mul(1. / 3)
		var want int32
		switch n := m.normal2(i).Unit(); {
		case mid.Dist(V(600, mid.Y, 400)) < 51 && math.Abs(n.Y) < 0.5:
			want = 6 + 6 + 2 // one face all round
		case mid.X > 99 && mid.X < 201 && mid.Z > 99 && mid.Z < 301 && math.Abs(n.Y) < 0.5:
			switch { // the cutter's faces look the other way now
			case n.Z > 0.5:
				want = 6 + 0
			case n.Z < -0.5:
				want = 6 + 1
			case n.X < -0.5:
				want = 6 + 3
			default:
				want = 6 + 5
			}
		default:
			want = map[Vec]int32{{0, 0, -1}: 0, {0, 0, 1}: 1, {0, -1, 0}: 2, {1, 0, 0}: 3, {0, 1, 0}: 4, {-1, 0, 0}: 5}[Vec{math.Round(n.X), math.Round(n.Y), math.Round(n.Z)}]
		}
		if m.Face[i] != want {
			t.Errorf("triangle %d at %v: face %d, want %d", i, mid, m.Face[i], want)
		}
	}
	plain := &Mesh{Verts: a.Verts, Tris: a.Tris}
	if got := faceCount(Subtract(plain, first)); got != 10 {
		t.Errorf("without numbers: %d faces, want 10", got)
	}
	if got := faceCount(Union(a, BoxMesh(V(1000, 0, 0), V(1100, 200, 800)))); got != 10 {
		t.Errorf("boxes end to end: %d faces, want those of both but for the common ones", got)
	}
}

// TestSubtractLeavesTheRestAlone looks at triangles that no cutter touches.
func TestSubtractLeavesTheRestAlone(t *testing.T) {
	a := merge(ball(V(-500, 0, 0), 100, 12), wall())
	m := Subtract(a, BoxMesh(V(100, -50, 100), V(200, 250, 300)))
	have := map[[3]Vec]bool{}
	for i := range m.Tris {
		p, q, r := m.Tri(i)
		have[[3]Vec{p, q, r}], have[[3]Vec{q, r, p}], have[[3]Vec{r, p, q}] = true, true, true
	}
	kept := 0
	o := a.Box().Center() // coordinates go there and back
	there := func(v Vec) Vec { return v.Sub(o).Add(o) }
	for i := range a.Tris {
		p, q, r := a.Tri(i)
		if have[[3]Vec{there(p), there(q), there(r)}] {
			kept++
		}
	}
	if want := len(a.Tris) - 4; kept != want {
		t.Errorf("%d triangles are as they were, want %d", kept, want)
	}
}

// TestSubtractNearlyFlush has a cutter that ends a little before or after the
// far face.
func TestSubtractNearlyFlush(t *testing.T) {
	for _, c := range []struct {
		short float64
		faces int
	}{{0, 10}, {1e-7, 10}, {1e-5, 10}, {4e-4, 10}, {9e-4, 10}, {-9e-4, 10}, {-4e-4, 10}, {-1e-7, 10}, {-5, 10}, {2e-3, 11}, {1, 11}} {
		for _, tilt := range []float64{0, 3e-7} {
			cutter := BoxMesh(V(300, -10, 300), V(400, 200-c.short, 400)).Transform(rotation(V(350, 200-c.short, 350), V(0, 0, 1), tilt))
			m := Subtract(wall(), cutter)
			if got := len(m.PlanarFaces()); got != c.faces || !m.Closed().OK {
				t.Errorf("%v mm short, %v turned: %d faces, want %d; %v", c.short, tilt, got, c.faces, m.Closed())
			}
			near(t, "volume", m.Volume(), 1000*200*800-100*100*200, 100*100*max(1e-3, c.short)*1.01)
		}
	}
}

func TestBooleanOddOperands(t *testing.T) {
	nan := math.NaN()
	broken := BoxMesh(V(0, 0, 0), V(10, 10, 10))
	broken.Verts[3] = V(nan, 0, math.Inf(1))
	open := BoxMesh(V(0, 0, 0), V(10, 10, 10))
	open.Tris = open.Tris[:7]
	flat := BoxMesh(V(0, 0, 0), V(10, 10, 0))
	list := []*Mesh{{}, broken, open, flat, wall(), {Verts: []Vec{{}, {1, 0, 0}, {2, 0, 0}}, Tris: [][3]int32{{0, 1, 2}, {0, 0, 0}}}}
	for _, a := range list {
		for _, b := range list {
			Subtract(a, b)
			Union(a, b)
			Intersect(a, b)
			a.Clip(Plane{V(0, 0, 1), 5})
		}
	}
	checkSolid(t, "less nothing", Subtract(wall(), &Mesh{}), 1.6e8, 1e-3)
	checkSolid(t, "less a flat body", Subtract(wall(), flat), 1.6e8, 1e-3)
	checkSolid(t, "nothing and a wall", Union(&Mesh{}, wall()), 1.6e8, 1e-3)
	checkSolid(t, "common to nothing", Intersect(&Mesh{}, wall()), 0, 1e-3)
}

// TestBooleanTakesSplitSides has an operand with sides cut on one face only.
func TestBooleanTakesSplitSides(t *testing.T) {
	cutter := BoxMesh(V(300, -10, 300), V(400, 150, 400))
	shredded := bspSubtract(wall(), cutter, BoxMesh(V(350, -10, 390), V(700, 190, 500)))
	if sheetCheck(shredded) == 0 {
		t.Fatal("the operand has no split sides")
	}
	m := Subtract(shredded, BoxMesh(V(380, 50, -5), V(420, 120, 900)))
	want := bspSubtract(shredded, BoxMesh(V(380, 50, -5), V(420, 120, 900)))
	near(t, "volume", m.Volume(), want.Volume(), 1)
	if c := m.Closed(); !c.OK {
		t.Error(c.Why)
	}
}

// TestBooleanZoo has bodies of all kinds in random places, some with parallel
// faces, some turned against each other by very little: results are closed,
// volumes add up, places are inside what they should be, and the volume agrees
// with that of the twin.
func TestBooleanZoo(t *testing.T) {
	all := zoo()[:7]
	for i := range 150 {
		r := rand.New(rand.NewPCG(31, uint64(i)))
		a, b := all[r.IntN(len(all))], all[r.IntN(len(all))]
		fa := randomTurn(r, V(r.Float64(), r.Float64(), r.Float64()).Mul(50))
		fb := randomTurn(r, V(r.Float64(), r.Float64(), r.Float64()).Mul(50))
		switch i % 4 {
		case 0: // the same way round, on a grid
			fb = fa
			fb.T = fa.Apply(V(float64(r.IntN(5)), float64(r.IntN(5)), float64(r.IntN(5))).Mul(10))
		case 1:
			fb = fa.Mul(rotation(Vec{}, V(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()).Unit(), math.Pow(10, -1-6*r.Float64())))
		}
		am, bm := a.Mesh.Transform(fa), b.Mesh.Transform(fb)
		results := [4]*Mesh{Subtract(am, bm), Subtract(bm, am), Intersect(am, bm), Union(am, bm)}
		for k, m := range results {
			if n := sheetCheck(m); n != 0 {
				t.Errorf("%d: %s and %s: result %d has %d open sides", i, a.name, b.name, k, n)
			}
		}
		va, vb := am.Volume(), bm.Volume()
		less, back, common, sum := results[0].Volume(), results[1].Volume(), results[2].Volume(), results[3].Volume()
		near(t, fmt.Sprint(i, " a"), less+common, va, 1e-5*va)
		near(t, fmt.Sprint(i, " b"), back+common, vb, 1e-5*vb)
		near(t, fmt.Sprint(i, " sum"), sum+common, va+vb, 1e-5*(va+vb))
		if i%5 == 0 {
			near(t, fmt.Sprint(i, " twin"), less, bspSubtract(am, bm).Volume(), 1e-4*va)
		}
		for range 20 {
			p := fa.Apply(V(r.Float64()*140-70, r.Float64()*140-70, r.Float64()*140-70))
			_, da, _ := am.Nearest(p)
			_, db, _ := bm.Nearest(p)
			if min(da, db) < 0.01 {
				continue
			}
			ia, ib := insideTwin(am, p), insideTwin(bm, p)
			for k, want := range [4]bool{ia && !ib, ib && !ia, ia && ib, ia || ib} {
				if got := insideTwin(results[k], p); got != want {
					t.Errorf("%d: %s and %s: %v in result %d: %v, want %v", i, a.name, b.name, p, k, got, want)
				}
			}
		}
		if t.Failed() {
			t.FailNow()
		}
	}
}

func TestBooleanIsTheSameEverywhere(t *testing.T) {
	cutters := []*Mesh{
		BoxMesh(V(100, -50, 100), V(200, 250, 300)),
		Prism(circle(0, 0, 50, 24), nil, FrameZX(V(600, -1, 400), V(0, 1, 0.2), V(1, 0, 0)), V(0, 0, 1), 1000),
		ball(V(800, 200, 600), 80, 8),
	}
	want := Subtract(wall(), cutters...)
	for i, f := range []Affine{
		turned(Vec{}), turned(V(1e6, -1e6, 1e6)),
		{V(25.4, 0, 0), V(0, 25.4, 0), V(0, 0, 25.4), Vec{}},
		{V(-1, 0, 0), V(0, 1, 0), V(0, 0, 1), Vec{}},
	} {
		var moved []*Mesh
		for _, c := range cutters {
			moved = append(moved, c.Transform(f))
		}
		got := Subtract(wall().Transform(f), moved...)
		checkSolid(t, fmt.Sprint(i), got, want.Volume()*math.Abs(f.Det()), want.Volume()*math.Abs(f.Det())*1e-9)
		if len(got.Tris) != len(want.Tris) {
			t.Errorf("%d: %d triangles, want %d", i, len(got.Tris), len(want.Tris))
		}
	}
}

// rasterOpenings is n openings on a 100 mm raster in a wall, as in many models:
// most faces lie in common planes, and many openings touch.
func rasterOpenings(n int) (host *Mesh, openings []*Mesh) {
	r := rand.New(rand.NewPCG(41, 42))
	for range n {
		x, z := float64(r.IntN(55))*100, float64(r.IntN(25))*100
		openings = append(openings, BoxMesh(V(x, -10, z), V(x+float64(1+r.IntN(5))*100, 210, z+float64(1+r.IntN(5))*100)))
	}
	return BoxMesh(V(0, 0, 0), V(6000, 200, 3000)), openings
}

func BenchmarkSubtract(b *testing.B) {
	for _, n := range []int{1, 3, 10, 30, 100} {
		host, openings := rasterOpenings(n)
		b.Run(fmt.Sprintf("openings=%d", n), func(b *testing.B) {
			for b.Loop() {
				Subtract(host, openings...)
			}
		})
		b.Run(fmt.Sprintf("twin/openings=%d", n), func(b *testing.B) {
			if n > 30 {
				b.Skip("too slow")
			}
			for b.Loop() {
				bspSubtract(host, openings...)
			}
		})
	}
	curved := ball(Vec{}, 1000, 64)
	drill := Tube(Rod{Path: []Vec{{0, 0, 900}, {0, 0, 1100}}, Radius: 20}, 24)
	b.Run("drilled ball", func(b *testing.B) {
		for b.Loop() {
			Subtract(curved, drill)
		}
	})
}
