package handmade

import (
	"testing"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/rules"
)

// Placements are the frames that scenes are drawn in.
var Placements = []struct {
	Name string
	At   geom.Affine
}{
	{"as drawn", geom.Identity},
	{"far away", geom.Identity.Shift(geom.V(48000, -23500, 7250))},
	{"turned in plan", geom.Affine{X: geom.V(0.8, 0.6, 0), Y: geom.V(-0.6, 0.8, 0), Z: geom.V(0, 0, 1), T: geom.V(500, 250, -80)}},
	{"lying", geom.Affine{X: geom.V(1, 0, 0), Y: geom.V(0, 0, 1), Z: geom.V(0, -1, 0), T: geom.V(0, 0, 3000)}},
	{"face down", geom.Affine{X: geom.V(1, 0, 0), Y: geom.V(0, 0, -1), Z: geom.V(0, 1, 0)}},
	{"askew", geom.FrameZX(geom.V(120, -3000, 450), geom.V(1, 2, 3), geom.V(3, -1, 0.5))},
}

// Found runs all rules over a scene and gives the finding of one.
func (s *Scene) Found(t testing.TB, rule string) *finding.Finding {
	t.Helper()
	all, err := rules.Run(s.Model, rules.Builtin(), 1)
	if err != nil {
		t.Fatal(err)
	}
	for i := range all {
		if all[i].Rule == rule {
			return &all[i]
		}
	}
	t.Fatalf("no finding of %s", rule)
	return nil
}
