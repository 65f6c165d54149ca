package geom

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// The slow twin is the boolean.
func TestCutVolumeAgainstBoolean(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 9))
	told, refused := 0, 0
	for round := range 300 {
		at := FrameZX(V(1e4*rnd.Float64(), -3000, 450), V(rnd.NormFloat64(), rnd.NormFloat64(), rnd.NormFloat64()), V(1, rnd.Float64(), 0))
		if round%3 == 0 {
			at = Identity
		}
		body := Prism(regular(3+rnd.IntN(9), 1000), nil, at, V(0.2*rnd.Float64(), 0, 1), 200)
		var cut []*Mesh
		for range 1 + rnd.IntN(4) {
			// on a grid, so that faces are flush with the body's and touch each other
			x, y, z := 100*float64(rnd.IntN(20)-10), 100*float64(rnd.IntN(20)-10), 100*float64(rnd.IntN(4)-2)
			hole := []Vec2{{x, y}, {x + 100*float64(1+rnd.IntN(5)), y}, {x + 300, y + 300}, {x, y + 200}}
			cut = append(cut, Prism(hole, nil, at.Shift(at.Z.Mul(z)), V(0, 0, 1), 100*float64(1+rnd.IntN(4))))
		}
		v, c, left, ok := CutVolume(body, cut, 128)
		if !ok {
			t.Fatalf("round %d: no volume", round)
		}
		told++
		if len(left) > 0 {
			refused++
			cut = slices.DeleteFunc(cut, func(m *Mesh) bool { return slices.Contains(left, m) })
		}
		rest := Subtract(body, cut...)
		if want := rest.Volume(); math.Abs(v-want) > 1e-7*want {
			t.Errorf("round %d: volume %.3f, boolean says %.3f", round, v, want)
		}
		if want := rest.Centroid(); c.Dist(want) > 1e-3 {
			t.Errorf("round %d: centre %v, boolean says %v", round, c, want)
		}
	}
	if refused < 20 || refused > told-80 {
		t.Errorf("%d told, of them %d with cutters left: the cases do not try both", told, refused)
	}
}

// regular is a polygon with n corners at a distance r.
func regular(n int, r float64) []Vec2 {
	out := make([]Vec2, n)
	for i := range out {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		out[i] = Vec2{r * c, r * s}
	}
	return out
}

func TestCutVolumeRefuses(t *testing.T) {
	panel := BoxMesh(V(0, 0, 0), V(4000, 200, 3000))
	door := BoxMesh(V(2500, -10, -10), V(3500, 210, 2000))
	bent := Prism([]Vec2{{0, 0}, {300, 0}, {300, 100}, {100, 100}, {100, 300}, {0, 300}}, nil, Identity, V(0, 0, 1), 100)
	two := panel.Append(BoxMesh(V(5000, 0, 0), V(6000, 200, 3000)))
	open := &Mesh{Verts: panel.Verts, Tris: panel.Tris[1:]}
	wild := &Mesh{Verts: append([]Vec{{math.NaN(), 0, 0}}, panel.Verts...), Tris: [][3]int32{{0, 1, 2}}}
	for _, c := range []struct {
		name string
		body *Mesh
		cut  []*Mesh
		want bool
	}{
		{"panel with a door", panel, []*Mesh{door}, true},
		{"no cutters", panel, nil, true},
		{"cutters that overlap", panel, []*Mesh{door, door}, false},
		{"bent body", bent, []*Mesh{door}, false},
		{"bent cutter", panel, []*Mesh{bent}, false},
		{"two pieces", two, nil, false},
		{"a round recess", panel, []*Mesh{Prism(regular(40, 45), nil, Identity.Shift(V(300, 100, 300)), V(0, 0, 1), 30)}, false},
		{"open", open, nil, false},
		{"not finite", wild, nil, false},
		{"nothing", &Mesh{}, nil, false},
		{"nothing is left", door, []*Mesh{BoxMesh(V(2000, -20, -20), V(4000, 220, 2100))}, false},
	} {
		if _, _, left, ok := CutVolume(c.body, c.cut, 128); ok && len(left) == 0 != c.want {
			t.Errorf("%s: %v and %d left, want %v", c.name, ok, len(left), c.want)
		}
	}
}
