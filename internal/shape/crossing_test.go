package shape

import (
	"math"
	"math/rand/v2"
	"testing"

	"embedcheck/internal/geom"
)

func TestOutlinesOfOneLoop(t *testing.T) {
	for _, c := range []struct {
		name string
		want bool
		loop []geom.Vec2
	}{
		{"triangle", true, []geom.Vec2{{X: 0}, {X: 50}, {Y: 50}}},
		{"backwards", true, []geom.Vec2{{Y: 50}, {X: 50}, {X: 0}}},
		{"triangle twice", false, []geom.Vec2{{X: 0}, {X: 50}, {Y: 50}, {X: 0}, {X: 50}, {Y: 50}}},
		{"twice, and back along a side", false, []geom.Vec2{{}, {X: 10}, {X: 50, Y: 50}, {Y: 50}, {}, {X: 50}, {X: 50, Y: 50}, {}, {Y: 10}}},
		{"bow tie", false, []geom.Vec2{{X: 0}, {X: 50, Y: 50}, {X: 50}, {Y: 50}}},
		{"hole cut in along a seam", true, []geom.Vec2{{}, {X: 50}, {X: 50, Y: 50}, {Y: 50}, {}, {X: 10, Y: 10}, {X: 10, Y: 30}, {X: 30, Y: 30}, {X: 30, Y: 10}, {X: 10, Y: 10}}},
		{"there and back", true, []geom.Vec2{{}, {X: 50}, {X: 90}, {X: 50}, {X: 50, Y: 50}, {Y: 50}}},
		{"corner on a side", true, []geom.Vec2{{}, {X: 50}, {X: 50, Y: 50}, {X: 25}, {Y: 50}}},
		{"corner through a side, less than the tolerance", true, []geom.Vec2{{}, {X: 50}, {X: 50, Y: 50}, {X: 25, Y: -joinTol / 2}, {Y: 50}}},
		{"corner through a side", false, []geom.Vec2{{}, {X: 50}, {X: 50, Y: 50}, {X: 25, Y: -3 * joinTol}, {Y: 50}}},
		{"ring that ends over itself", false, []geom.Vec2{{}, {X: 50}, {X: 50, Y: 50}, {Y: 50}, {Y: -10}, {X: 10, Y: -10}, {X: 10, Y: 40}, {X: 40, Y: 40}, {X: 40, Y: 10}, {Y: 10}}},
	} {
		for _, turn := range []float64{0, 0.3, 2} {
			sin, cos := math.Sincos(turn)
			turned := make([]geom.Vec2, len(c.loop))
			for i, p := range c.loop {
				turned[i] = geom.Vec2{X: cos*p.X - sin*p.Y + 4000, Y: sin*p.X + cos*p.Y - 900}
			}
			if got := (region{outer: turned}).sound(); (got == nil) != c.want {
				t.Errorf("%s, turned by %g: %v", c.name, turn, got)
			}
		}
	}
}

func TestOutlinesWithHoles(t *testing.T) {
	box := func(x, y, w, h float64) []geom.Vec2 {
		return []geom.Vec2{{X: x, Y: y}, {X: x + w, Y: y}, {X: x + w, Y: y + h}, {X: x, Y: y + h}}
	}
	ell := []geom.Vec2{{}, {X: 100}, {X: 100, Y: 50}, {X: 50, Y: 50}, {X: 50, Y: 100}, {Y: 100}}
	for _, c := range []struct {
		name  string
		want  error
		holes [][]geom.Vec2
	}{
		{"inside", nil, [][]geom.Vec2{box(10, 10, 30, 30)}},
		{"two that touch", nil, [][]geom.Vec2{box(10, 10, 30, 30), box(40, 10, 30, 30)}},
		{"touches the outline", nil, [][]geom.Vec2{box(0, 10, 30, 30)}},
		{"out by less than the tolerance", nil, [][]geom.Vec2{box(-joinTol/2, 10, 30, 30)}},
		{"out by more than the tolerance", errCrossed, [][]geom.Vec2{box(-3*joinTol, 10, 30, 30)}},
		{"in the corner that is not there", errOutside, [][]geom.Vec2{box(60, 60, 30, 30)}},
		{"far away", errOutside, [][]geom.Vec2{box(200, 10, 30, 30)}},
		{"two that overlap", errCrossed, [][]geom.Vec2{box(10, 10, 30, 30), box(20, 20, 30, 20)}},
		{"twice around", errTwice, [][]geom.Vec2{append(box(10, 10, 30, 30), box(10, 10, 30, 30)...)}},
	} {
		if got := (region{outer: ell, holes: c.holes}).sound(); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// The slow twin looks for the point of two sides, each side with each.
func TestCrossingsAgreeWithASlowTwin(t *testing.T) {
	rnd := rand.New(rand.NewPCG(4, 4))
	crossed := 0
	for range 3000 {
		loop := make([]geom.Vec2, 3+rnd.IntN(6))
		for i := range loop {
			loop[i] = geom.Vec2{X: 100 * rnd.Float64(), Y: 100 * rnd.Float64()}
		}
		want, near := false, false
		for i := range loop {
			for k := i + 2; k < len(loop); k++ {
				if i == 0 && k == len(loop)-1 {
					continue
				}
				a, u := loop[i], loop[i+1].Sub(loop[i])
				b, v := loop[k], loop[(k+1)%len(loop)].Sub(loop[k])
				det := u.Y*v.X - u.X*v.Y
				w := b.Sub(a)
				s, r := (w.Y*v.X-w.X*v.Y)/det, (u.X*w.Y-u.Y*w.X)/det
				in := min(s, 1-s, r, 1-r)
				want = want || in > 0
				near = near || math.Abs(in) < 0.01
			}
		}
		if want {
			crossed++
		}
		if got := cross(loop); !near && got != want {
			t.Fatalf("%v: %v", loop, got)
		}
	}
	if crossed < 500 || crossed > 2500 {
		t.Errorf("%d of 3000 cross themselves", crossed)
	}
}
