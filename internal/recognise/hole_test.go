package recognise

import (
	"math"
	"math/rand/v2"
	"testing"

	"embedcheck/internal/geom"
	"embedcheck/internal/measure"
	"embedcheck/internal/model"
)

// ring is a circle of so many corners, clockwise as holes run.
func ring(x, y, r float64, n int) []geom.Vec2 {
	out := make([]geom.Vec2, n)
	for i := range out {
		w := -2 * math.Pi * float64(i) / float64(n)
		out[i] = geom.Vec2{X: x + r*math.Cos(w), Y: y + r*math.Sin(w)}
	}
	return out
}

// slotRing is a slot along x with round ends, w between the middles of its ends.
func slotRing(x, y, w, r float64) []geom.Vec2 {
	var out []geom.Vec2
	for i := range 25 {
		a := -math.Pi / 2 * (float64(i)/12 - 1)
		out = append(out, geom.Vec2{X: x + w/2 + r*math.Cos(a), Y: y + r*math.Sin(a)})
	}
	for i := range 25 {
		a := -math.Pi / 2 * (float64(i)/12 + 1)
		out = append(out, geom.Vec2{X: x - w/2 + r*math.Cos(a), Y: y + r*math.Sin(a)})
	}
	return out
}

// holed is a plate of 400 x 300 x 20 with a hole of every form that plates have.
func holed(at geom.Affine) *geom.Mesh {
	outer := []geom.Vec2{{X: -200, Y: -150}, {X: 200, Y: -150}, {X: 200, Y: 150}, {X: -200, Y: 150}}
	return geom.Prism(outer, [][]geom.Vec2{
		ring(-150, -100, 15, 36),
		ring(150, -100, 13, 8),
		slotRing(100, 100, 30, 11),
		{{X: -160, Y: 90}, {X: -160, Y: 110}, {X: -140, Y: 110}, {X: -140, Y: 90}},
	}, at, geom.V(0, 0, 1), 20)
}

func TestHolesOfAPlate(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 6))
	for range 40 {
		z := geom.V(rnd.NormFloat64(), rnd.NormFloat64(), rnd.NormFloat64())
		at := geom.FrameZX(geom.V(rnd.Float64()*5000, rnd.Float64()*5000, 300), z, z.Perp())
		bolt := &model.Anchor{Open: at.Apply(geom.V(-150, -100, 100)), Dir: at.Z.Neg(), Diameter: 24, Entry: &model.Entry{Dist: 130}}
		s := newSheet(holed(at), []*model.Anchor{bolt})
		if s == nil || len(s.Holes) != 4 || math.Abs(s.Thick-20) > 1e-6 {
			t.Fatalf("got %+v", s)
		}
		if up, under := s.Along(bolt); math.Abs(up-80) > 1e-6 || math.Abs(under-100) > 1e-6 || math.Abs(s.Gap(bolt)-30) > 1e-6 {
			t.Errorf("the plate lies from %g to %g below the bolt's end", up, under)
		}
		for _, want := range []struct {
			x, y, d float64
			round   bool
		}{{-150, -100, 30, true}, {150, -100, 26, true}, {100, 100, 22, false}, {-150, 100, 20, false}} {
			found := false
			for _, h := range s.Holes {
				q := at.Local(h.At)
				if math.Hypot(q.X-want.x, q.Y-want.y) < 0.01 {
					found = true
					if math.Abs(h.Diameter-want.d) > 0.01 || h.Round != want.round {
						t.Errorf("hole at %g, %g: %.3f mm, round %v", want.x, want.y, h.Diameter, h.Round)
					}
				}
			}
			if !found {
				t.Errorf("no hole at %g, %g", want.x, want.y)
			}
		}
		compareRooms(t, rnd, at, s)
	}
}

// compareRooms holds the room around bolts at random places to the distance from
// points along the boundary of the hole, and asks by angles whether the axis is in.
func compareRooms(t *testing.T, rnd *rand.Rand, at geom.Affine, s *model.Sheet) {
	t.Helper()
	for i := range s.Holes {
		h := &s.Holes[i]
		mid := at.Local(h.At)
		for range 20 {
			p := geom.V(mid.X+40*(rnd.Float64()-0.5), mid.Y+40*(rnd.Float64()-0.5), 70)
			a := &model.Anchor{Open: at.Apply(p), Dir: at.Z.Neg(), Diameter: 16}
			got, off := measure.HoleRoom(a, s, h)
			if math.Abs(off-math.Hypot(p.X-mid.X, p.Y-mid.Y)) > 1e-6 {
				t.Fatalf("off by %g", off)
			}
			want := slowRoom(at, h, p) - 8
			slack := 0.02
			if h.Round { // of a round hole the circle counts, not the sides between its corners
				slack += h.Diameter / 2 * (1 - math.Cos(math.Pi/float64(len(h.Loop))))
			}
			if math.Abs(got-want) > slack {
				t.Errorf("hole of %g: room %.3f, slowly %.3f", h.Diameter, got, want)
			}
		}
	}
}

// slowRoom is the distance from a place to the boundary of a hole, negative
// outside, by points 0.01 mm apart and the angle that the boundary turns by.
func slowRoom(at geom.Affine, h *model.Hole, p geom.Vec) float64 {
	least, turn := math.Inf(1), 0.0
	for i, a := range h.Loop {
		v, w := at.Local(a), at.Local(h.Loop[(i+1)%len(h.Loop)])
		turn += math.Remainder(math.Atan2(w.Y-p.Y, w.X-p.X)-math.Atan2(v.Y-p.Y, v.X-p.X), 2*math.Pi)
		n := int(v.Dist(w)/0.01) + 1
		for k := range n {
			q := v.Lerp(w, float64(k)/float64(n))
			least = min(least, math.Hypot(q.X-p.X, q.Y-p.Y))
		}
	}
	if math.Abs(turn) < math.Pi {
		return -least
	}
	return least
}

// What is no flat plate, or none for a bolt, is none.
func TestNoPlate(t *testing.T) {
	bolt := func(x, y, open, entry float64) *model.Anchor {
		return &model.Anchor{Open: geom.V(x, y, open), Dir: geom.V(0, 0, -1), Diameter: 24, Entry: &model.Entry{Dist: entry}}
	}
	plate := geom.BoxMesh(geom.V(-200, -150, 0), geom.V(200, 150, 20))
	for _, c := range []struct {
		name string
		mesh *geom.Mesh
		bolt *model.Anchor
		want bool
	}{
		{"a plate", plate, bolt(0, 0, 100, 130), true},
		{"a block", geom.BoxMesh(geom.V(-60, -60, 0), geom.V(60, 60, 100)), bolt(0, 0, 120, 150), false},
		{"a plate on edge", geom.BoxMesh(geom.V(-10, -150, 0), geom.V(10, 150, 200)), bolt(0, 0, 250, 280), false},
		{"beside the bolt", plate, bolt(250, 0, 100, 130), false},
		{"deep in the concrete", plate, bolt(0, 0, 100, 30), false},
		{"above the bolt, without a hole", plate, bolt(0, 0, -50, 100), false},
		{"above the bolt, with a hole for it", holed(geom.Identity), bolt(-150, -100, -50, 100), true},
		{"far above the bolt", holed(geom.Identity), bolt(-150, -100, -250, 100), false},
	} {
		if got := newSheet(c.mesh, []*model.Anchor{c.bolt}) != nil; got != c.want {
			t.Errorf("%s: got %v", c.name, got)
		}
	}
}
