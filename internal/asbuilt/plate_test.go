package asbuilt

import (
	"math"
	"strings"
	"testing"

	"embedcheck/internal/geom"
	"embedcheck/internal/report"
	"embedcheck/internal/setout"
)

// plateOf is a plate of the demo that lies square in its form.
func plateOf(t *testing.T, p *Plan) *setout.Set {
	t.Helper()
	for _, u := range p.Units {
		for _, s := range u.Sets {
			if len(s.Plates) == 1 && s.Plates[0].Square && s.Plates[0].PlateIn != nil && len(s.Anchors) > 0 {
				return s
			}
		}
	}
	t.Fatal("no plate in the demo")
	return nil
}

// A plate is surveyed by its corners: moved, turned and tipped, on both sides of
// its tolerances.
func TestSurveyedPlate(t *testing.T) {
	p := plan(t, "")
	s := plateOf(t, p)
	unit := s.Dims[0].Unit
	base := unit + "/" + s.Mark + "/plate"
	n, x := s.Face.Normal(), s.Face.Axes()[0]
	for _, c := range []struct {
		name  string
		moved [4]geom.Vec
		out   string // what is outside; "" for nothing
		off   float64
	}{
		{"as in the model", [4]geom.Vec{}, "", 0},
		{"aside", all(x.Dir().Mul(25.1)), " " + x.String(), 25.1},
		{"aside within", all(x.Dir().Mul(24.9)), "", 0},
		{"proud", all(n.Mul(6.1)), " flush", 6.1},
		{"proud within", all(n.Mul(5.9)), "", 0},
		{"sunk", all(n.Mul(-6.1)), " flush", -6.1},
		{"tipped", [4]geom.Vec{{}, {}, n.Mul(7), {}}, " flush", 7},
		{"turned", [4]geom.Vec{x.Dir().Mul(26), x.Dir().Mul(24), x.Dir().Mul(-24), x.Dir().Mul(-24)}, " " + x.String(), 26},
	} {
		moved := map[string]geom.Vec{}
		for i, m := range c.moved {
			moved[base+" point "+string(rune('1'+i))] = m
		}
		r := compare(t, p, text(points(t, p, unit, instruments["askew"], millimetres, moved, nil), ","))
		out := rowsOf(r, report.Outside)
		if c.out == "" {
			if len(out) != 0 {
				t.Errorf("%s: %+v", c.name, out)
			}
			continue
		}
		w := out[base+c.out]
		if len(out) != 1 || w == nil || math.Abs(w.Deviation()-c.off) > 0.01 || !strings.Contains(w.Note, "worst of 4 corners") {
			t.Errorf("%s: %+v, want %s%s off by %g", c.name, out, base, c.out, c.off)
		}
	}
}

func all(v geom.Vec) [4]geom.Vec { return [4]geom.Vec{v, v, v, v} }
