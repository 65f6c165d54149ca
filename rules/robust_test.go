package rules

import (
	"math"
	"math/rand/v2"
	"testing"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// Whatever recognition leaves out, no rule falls over it.
func TestRunOnBrokenModels(t *testing.T) {
	rnd := rand.New(rand.NewPCG(11, 12))
	odd := []float64{0, -1, 1e-9, 20, 1e7, math.Inf(1), math.NaN()}
	some := func() float64 { return odd[rnd.IntN(len(odd))] }
	for round := range 300 {
		s := newScene(geom.Identity)
		w := s.wall("W")
		hollow := s.wall("V")
		hollow.Solid, hollow.Body = nil, nil
		for i := range model.Kinds() {
			c := bolt("A", 200*float64(i+1), 1000)
			c.kind = model.Kind(i)
			it := s.add(w, c)
			a := it.Anchors[0]
			switch rnd.IntN(11) {
			case 0:
				a.Diameter = some()
			case 1:
				a.Bearing, a.Deepest = some(), some()
			case 2:
				a.Entry = nil
			case 3:
				it.Anchors = nil
			case 4:
				it.Host = hollow
				a.Entry = nil
			case 5:
				it.Bodies, it.Box = nil, geom.EmptyBox
			case 6:
				it.Stated = model.Stated{Diameter: some(), Embedment: some(), Projection: some()}
			case 7:
				a.Hook = []geom.Vec{a.At(some()), geom.V(some(), 0, 0)}
			case 9:
				a.Thread, a.Parts = some(), []model.Part{{Kind: model.Nut, From: some(), To: some()}, {Kind: model.Washer, From: some(), To: some()}}
			case 10:
				p := s.over("P", 0, 900, 3000, 1100, some(), 20, it)
				p.Thick = some()
				s.drill(p, 200*float64(i+1), 1000, 26)
				p.Holes[0].Diameter = some()
				if rnd.IntN(2) == 0 {
					p.Item = it
				}
			case 8:
				it.Outline, it.Thick = []geom.Vec{{}, {X: some()}, {Y: 1}}, some()
			}
			if rnd.IntN(3) == 0 && len(s.m.Sets) == 0 {
				s.set("", it)
			}
		}
		s.bar("", 0, geom.V(300, 100, 0), geom.V(300, 100, 0))
		s.m.Unread = []model.Unread{{}, {Role: "host"}}
		one, err := Run(s.m, Builtin(), 1)
		if err != nil {
			t.Fatal(err)
		}
		many, err := Run(s.m, Builtin(), 4)
		if err != nil || len(one) != len(many) {
			t.Fatalf("round %d: %d and %d findings, %v", round, len(one), len(many), err)
		}
		for _, f := range one {
			if f.ID == "" || f.Message == "" || len(f.Instances) == 0 {
				t.Errorf("round %d: empty finding %+v", round, f)
			}
			for _, in := range f.Instances {
				if math.IsNaN(in.Measured) || math.IsInf(in.Measured, 0) || math.IsNaN(in.Required) || math.IsInf(in.Required, 0) {
					t.Errorf("round %d: %s measured %v, required %v", round, f.Rule, in.Measured, in.Required)
				}
			}
		}
	}
}
