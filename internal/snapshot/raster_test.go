package snapshot

import (
	"math"
	"math/rand/v2"
	"testing"
)

// slowFill marks each sample whose middle lies in a triangle, by the signs of
// three turns.
func slowFill(p, q, r spot) map[int]float64 {
	out := map[int]float64{}
	turn := func(a, b spot, x, y float64) float64 { return (b.x-a.x)*(y-a.y) - (b.y-a.y)*(x-a.x) }
	area := turn(p, q, r.x, r.y)
	if area == 0 {
		return out
	}
	for y := range bufH {
		for x := range bufW {
			cx, cy := float64(x)+0.5, float64(y)+0.5
			u, v, w := turn(q, r, cx, cy)/area, turn(r, p, cx, cy)/area, turn(p, q, cx, cy)/area
			if u > 0 && v > 0 && w > 0 {
				out[y*bufW+x] = u*p.near + v*q.near + w*r.near
			}
		}
	}
	return out
}

func TestFillAgainstTurns(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	b := newBuffer()
	for n := range 60 {
		at := func() spot {
			s := spot{r.Float64()*2*bufW - bufW/2, r.Float64()*2*bufH - bufH/2, 0.1 + r.Float64()}
			if n%3 == 0 { // on the middles of samples, and level sides
				s.x, s.y = math.Floor(s.x)+0.5, math.Floor(s.y/300)*300+0.5
			}
			return s
		}
		p, q, s := at(), at(), at()
		b.clear()
		b.fill(p, q, s, 7)
		want := slowFill(p, q, s)
		off := 0
		for i, near := range want {
			if b.tri[i] != 7 {
				off++ // on a side, by rounding
			} else if math.Abs(float64(b.near[i])-near) > 1e-3 {
				t.Fatalf("#%d: nearness %v, want %v", n, b.near[i], near)
			}
		}
		filled := 0
		for _, id := range b.tri {
			if id != 0 {
				filled++
			}
		}
		if d := filled - len(want); off > 2 || d < -2 || d > 2*(bufW+bufH) {
			t.Errorf("#%d: %d samples filled, want %d, %d missing", n, filled, len(want), off)
		}
	}
}

// Two triangles that share a side leave no gap and do not overlap.
func TestNeighboursLeaveNoGap(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for n := range 50 {
		c := [4]spot{{100, 100, 1}, {900, 120, 1}, {880, 820, 1}, {90, 800, 1}}
		for i := range c {
			c[i].x += r.Float64() * 50
			c[i].y += r.Float64() * 50
		}
		one, two := newBuffer(), newBuffer()
		one.fill(c[0], c[1], c[2], 1)
		two.fill(c[0], c[2], c[3], 2)
		for y := 200; y < 750; y++ {
			for x := 200; x < 850; x++ {
				i := y*bufW + x
				if (one.tri[i] != 0) == (two.tri[i] != 0) {
					t.Fatalf("#%d: sample %d, %d belongs to %d and %d", n, x, y, one.tri[i], two.tri[i])
				}
			}
		}
	}
}

// What lies nearer is seen, in whatever order it is drawn.
func TestNearerHides(t *testing.T) {
	near := [3]spot{{100, 100, 2}, {500, 100, 2}, {100, 500, 2}}
	far := [3]spot{{50, 50, 1}, {700, 50, 1}, {50, 700, 1}}
	for _, nearFirst := range []bool{true, false} {
		b := newBuffer()
		if nearFirst {
			b.fill(near[0], near[1], near[2], 1)
		}
		b.fill(far[0], far[1], far[2], 2)
		if !nearFirst {
			b.fill(near[0], near[1], near[2], 1)
		}
		if got := b.tri[200*bufW+200]; got != 1 {
			t.Errorf("near first %v: %d is seen", nearFirst, got)
		}
		if got := b.tri[60*bufW+60]; got != 2 {
			t.Errorf("near first %v: %d is seen beside it", nearFirst, got)
		}
	}
}
