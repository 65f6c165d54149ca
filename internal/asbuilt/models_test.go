package asbuilt

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"

	"embedcheck/internal/check"
	"embedcheck/internal/geom"
	ifc "embedcheck/internal/ifcbuild"
	"embedcheck/internal/report"
	"embedcheck/rules"
)

// slab is 2000 x 1000 x 200 mm with two M20 bolts set from above, 400 mm apart:
// plain rods of 250 mm, of which 100 mm stand out.
func slab(t *testing.T, s ifc.Schema, u ifc.Unit, at ifc.Frame, baked bool) *Plan {
	t.Helper()
	place := ifc.Placed(at)
	if baked {
		place = ifc.Baked(at)
	}
	b := ifc.New(s, u, place)
	o := ifc.At(0, 0, 0)
	b.Add(ifc.Element{Class: "IfcSlab", Name: "SL-1", At: o, Body: []ifc.Solid{ifc.Block(ifc.V(0, 0, 0), ifc.V(2000, 1000, 200))}, Material: "Concrete C32/40"})
	for i, x := range []float64{300, 700} {
		rod := ifc.Rod(ifc.Straight(ifc.V(x, 400, 300), ifc.V(x, 400, 50)), 20)
		b.Add(ifc.Element{Class: "IfcMechanicalFastener", Name: fmt.Sprintf("HB%d", i+1), Tag: fmt.Sprintf("HB%d", i+1), Predefined: "ANCHORBOLT", At: o, Body: []ifc.Solid{rod}, Material: "Steel 8.8"})
	}
	path := filepath.Join(t.TempDir(), "slab.ifc")
	if err := os.WriteFile(path, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	m, err := check.Read([]string{path}, check.Options{Workers: 1, Rules: rules.Builtin()})
	if err != nil {
		t.Fatal(err)
	}
	return NewPlan(m, rules.Builtin())
}

// Models in any unit and in any place give the same rows: tape and instrument, on
// both sides of the tolerance.
func TestModelsOfAnyKind(t *testing.T) {
	for _, c := range []struct {
		name   string
		schema ifc.Schema
		unit   ifc.Unit
		at     ifc.Frame
		baked  bool
	}{
		{"millimetres", ifc.IFC4, ifc.MM, ifc.At(0, 0, 0), false},
		{"metres, far away", ifc.IFC2X3, ifc.Metre, ifc.At(5.1234567e8, 4.2e9, 31000).TurnZ(-61), true},
		{"inches, standing", ifc.IFC4, ifc.Inch, ifc.At(500, -300, 1200).TurnX(90), false},
		{"feet, turned", ifc.IFC4X3, ifc.Foot, ifc.At(0, 0, 0).TurnZ(37).TurnX(12), true},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := slab(t, c.schema, c.unit, c.at, c.baked)
			if len(p.Units) != 1 || len(p.points) != 8+2 {
				t.Fatalf("%d units, %d points", len(p.Units), len(p.points))
			}
			held := 0
			for _, d := range p.dims {
				switch {
				case d.What == "projection 1", d.What == "projection 2":
					nearly(t, d.Key, d.MM, 100)
				case d.What == "embedment 1", d.What == "embedment 2":
					nearly(t, d.Key, d.MM, 150)
				case d.What == "centres 1-2":
					nearly(t, d.Key, d.MM, 400)
				}
				if d.Tol == nil {
					continue
				}
				held++
				for _, o := range []struct {
					off  float64
					want report.MeasuredState
				}{{d.Tol.Plus, report.Within}, {d.Tol.Plus + 0.01, report.Outside}, {-d.Tol.Minus - 0.01, report.Outside}} {
					v := d.MM + o.off
					if r := p.Compare([]*Sheet{{Name: "s", Entries: []Entry{{Row: 2, Key: d.Key, Value: &v}}}}); r.Rows[0].State != o.want {
						t.Errorf("%s off by %g: %+v", d.Key, o.off, r.Rows[0])
					}
				}
			}
			if held < 8 {
				t.Errorf("%d dimensions with a tolerance", held)
			}
			surveyDeep(t, p)
		})
	}
}

func nearly(t *testing.T, key string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 0.01 {
		t.Errorf("%s is %.3f, want %g", key, got, want)
	}
}

// surveyDeep sights both bolts, the second 14 mm too deep.
func surveyDeep(t *testing.T, p *Plan) {
	t.Helper()
	deep := ""
	moved := map[string]geom.Vec{}
	for _, pt := range p.points {
		if pt.anchor != nil && pt.anchor.Item.Name == "HB2" {
			moved[pt.key] = turn(p.Units[0].Frame, pt.anchor.Dir).Mul(14)
			deep = fmt.Sprintf("%s/%s/projection %d", p.Units[0].Mark, pt.set, pt.anchor.Number)
		}
	}
	for name, at := range instruments {
		r := compare(t, p, text(points(t, p, "SL-1", at, millimetres, moved, nil), ","))
		out := rowsOf(r, report.Outside)
		if w := out[deep]; len(out) != 1 || w == nil || math.Abs(w.Deviation()+14) > 0.01 || len(r.Hints) != 0 {
			t.Errorf("%s: outside %+v, want %s, hints %q", name, out, deep, r.Hints)
		}
	}
}
