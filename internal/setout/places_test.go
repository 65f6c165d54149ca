package setout_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"

	ib "embedcheck/internal/ifcbuild"
	"embedcheck/internal/ifcbuild/embed"
	"embedcheck/internal/setout"
)

// The scene: a pad 1800 x 1000 x 400 with four M20 bolts and their template, and
// a panel 3000 x 2400 x 160 that states what lies on the form.
func scene(o ib.Option, unit ib.Unit, formFace string) []byte {
	b := ib.New(ib.IFC4, unit, o)
	b.Add(ib.Element{Class: "IfcFooting", Name: "PAD", Tag: "PAD", Material: "Concrete C32/40", Body: []ib.Solid{ib.Block(ib.V(0, 0, 0), ib.V(1800, 1000, 400))}})
	embed.Set{
		Name: "HD-1", BoltName: "L-bolt M20", Material: "Steel 4.6", Pattern: embed.Grid(2, 2, 500, 300), Turns: []float64{0, 180, 0, 180},
		Bolt:     embed.Bolt{D: 20, Depth: 240, Out: 100, End: embed.L, Leg: 110},
		Template: &embed.Template{W: 600, H: 400, T: 8, Hole: 22, Under: 50},
	}.Loose(b, ib.Element{At: ib.At(700, 400, 400)})

	wall := ib.Facing(ib.V(5000, 0, 0), ib.V(0, -1, 0), ib.V(1, 0, 0)) // x along, y up, z to the front
	e := ib.Element{Class: "IfcWall", Name: "WP", Tag: "WP", At: wall, Material: "Concrete C32/40", Body: []ib.Solid{ib.Block(ib.V(0, 0, 0), ib.V(3000, 2400, 160))}}
	if formFace != "" {
		e.Props = []ib.PSet{{Name: "Casting", Props: []ib.Prop{ib.Label("FormFace", formFace)}}}
	}
	b.Add(e)
	embed.Plate{
		W: 300, H: 200, T: 12, Stud: embed.Stud{D: 12, Length: 100, Head: 25, HeadT: 8}, Pattern: embed.Grid(2, 2, 200, 100),
		Name: "Cast-in plate 300x200x12", Tag: "CP", Material: "Steel S275",
	}.Assembly(b, ib.Element{At: wall.Mul(ib.At(800, 1500, 160))})
	return b.Bytes()
}

func units(t *testing.T, model []byte) map[string]*setout.Unit {
	t.Helper()
	path := filepath.Join(t.TempDir(), "scene.ifc")
	if err := os.WriteFile(path, model, 0o600); err != nil {
		t.Fatal(err)
	}
	out := map[string]*setout.Unit{}
	for _, u := range setout.Plan(read(t, path), setout.DefaultTolerances()) {
		out[u.Mark] = u
	}
	if out["PAD"] == nil || out["WP"] == nil {
		t.Fatalf("%d hosts set out, want the pad and the panel", len(out))
	}
	return out
}

// byHand are figures of the scene, worked out from its numbers.
var byHand = map[string]float64{
	"PAD/form/length":       1800,
	"PAD/form/width":        1000,
	"PAD/HD-1/x 1":          450,
	"PAD/HD-1/y 1":          250,
	"PAD/HD-1/x 4":          950,
	"PAD/HD-1/y 4":          550,
	"PAD/HD-1/centres 1-2":  500,
	"PAD/HD-1/centres 2-4":  300,
	"PAD/HD-1/diagonal 2-3": math.Hypot(500, 300),
	"PAD/HD-1/embedment 1":  240,
	"PAD/HD-1/projection 1": 100,
	"PAD/HD-1/back cover 1": 400 - 260,
	"PAD/HD-1/stand-off":    50,
	"PAD/HD-1/length 1":     360,
}

// TestSameSheetWhereverItStands sets the scene out in every unit, moved, turned,
// tilted and standing.
func TestSameSheetWhereverItStands(t *testing.T) {
	here := ib.At(0, 0, 0)
	for i, place := range []ib.Option{
		ib.Placed(here),
		ib.Placed(ib.At(0, 0, 0).TurnZ(37).TurnX(12)),
		ib.Placed(ib.At(500, -300, 1200).TurnX(90)),
		ib.Placed(ib.At(5.1234567e8, 4.2e9, 31000).TurnZ(-61)),
		ib.Placed(ib.At(0, 0, 0).TurnZ(180)),
		ib.Baked(ib.At(9000, 0, 0).TurnZ(20)),
	} {
		for _, unit := range []ib.Unit{ib.MM, ib.Metre, ib.Inch, ib.Foot} {
			t.Run(fmt.Sprint(i, unit), func(t *testing.T) {
				u := units(t, scene(place, unit, "-Z"))
				for key, want := range byHand {
					if got, ok := find(u, key); !ok || math.Abs(got-want) > 0.1 {
						t.Errorf("%s = %.3f (%v), want %.3f", key, got, ok, want)
					}
				}
			})
		}
	}
}

// TestFormFace turns the panel over: with its back (-Z) on the form the sheet is
// the view of its front, and the plate at 650 from the left; with its front on
// the form the sheet is mirrored.
func TestFormFace(t *testing.T) {
	for _, c := range []struct {
		stated string
		basis  setout.Basis
		x      float64
		face   setout.Face
	}{
		{"-Z", setout.Stated, 650, setout.Up},
		{"+Z", setout.Stated, 3000 - 950, setout.Down},
		{"sideways", setout.ByRule, 0, 0},
		{"", setout.ByRule, 0, 0},
	} {
		t.Run(c.stated, func(t *testing.T) {
			u := units(t, scene(ib.Placed(ib.At(0, 0, 0)), ib.MM, c.stated))["WP"]
			if u.Cast.Basis != c.basis {
				t.Errorf("basis %d, want %d: %s", u.Cast.Basis, c.basis, u.Cast.Why)
			}
			if c.basis != setout.Stated {
				return
			}
			got, _ := find(map[string]*setout.Unit{"WP": u}, "WP/CP/plate x")
			if math.Abs(got-c.x) > 0.01 {
				t.Errorf("plate at %.2f from the left, want %.2f", got, c.x)
			}
			if u.Sets[0].Face != c.face {
				t.Errorf("plate in %v, want %v", u.Sets[0].Face, c.face)
			}
		})
	}
}
