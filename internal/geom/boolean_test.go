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
