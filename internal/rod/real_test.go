package rod_test

import (
	"math"
	"os"
	"testing"

	"embedcheck/ifcread"
	"embedcheck/internal/element"
	"embedcheck/internal/geom"
	"embedcheck/internal/rod"
)

// Real models state the sizes of their round parts in words, which the geometry
// must bear out: the figures below stand in the object types and profile names
// of the two models, whose bodies are faceted breps unless said.
func TestRealBodies(t *testing.T) {
	for _, c := range []struct {
		model, says string
		bodies      int
		diameters   []float64 // outer and inner of each member, in the order of the mesh
	}{
		{"precast-building.ifc", "D24", 24, []float64{24, 0}},
		{"precast-building.ifc", "BUIS110/1", 5, []float64{110, 108}},
		{"precast-building.ifc", "BUIS160/1", 2, []float64{160, 158}},
		{"precast-building.ifc", "BUIS60/1", 22, []float64{60, 58}}, // extruded
		{"precast-building.ifc", "R360", 48, []float64{360, 0}},     // extruded
		{"precast-stairs-with-rebar.ifc", "_M14", 46, []float64{14, 0}},
		{"precast-stairs-with-rebar.ifc", "-Ø51-57", 4, []float64{57, 51}},
		{"precast-stairs-with-rebar.ifc", "Ø19*1", 6, []float64{19, 17}},
	} {
		t.Run(c.says, func(t *testing.T) {
			n := 0
			for m := range meshesOf(t, c.model, c.says) {
				n++
				var got []float64
				for _, x := range rod.FromMesh(m) {
					got = append(got, 2*x.Radius, 2*x.Inner)
				}
				if len(got) != len(c.diameters) {
					t.Fatalf("diameters %.2f, the model says %.0f", got, c.diameters)
				}
				for i := range got {
					if math.Abs(got[i]-c.diameters[i]) > 0.1 {
						t.Errorf("diameters %.2f, the model says %.0f", got, c.diameters)
					}
				}
			}
			if n != c.bodies {
				t.Errorf("%d bodies, want %d", n, c.bodies)
			}
		})
	}
}

// A hooked rod of the first model: its box is 512 deep and 24 thick, so that the
// top of its hook is 488 below the end of the thread.
func TestRealHook(t *testing.T) {
	for m := range meshesOf(t, "precast-building.ifc", "D24") {
		box := m.Box().Size()
		depth := max(box.X, box.Y, box.Z)
		h := rod.FromMesh(m)[0].Hook
		if h == nil || math.Abs(h.Deepest-depth) > 0.1 || math.Abs(h.Inside-(depth-24)) > 0.1 {
			t.Fatalf("hook %+v in a box of %.1f", h, box)
		}
	}
}

// Nuts of the first model, named for M24, are 36 mm across flats (ISO 4032).
func TestRealNuts(t *testing.T) {
	n := 0
	for m := range meshesOf(t, "precast-building.ifc", "MOER_M24") {
		n++
		if s := rod.Classify(m); s.Form != rod.Hexagonal || math.Abs(s.Hex.Flats-36) > 0.5 {
			t.Fatalf("%v %+v", s.Form, s.Hex)
		}
	}
	if n != 48 {
		t.Errorf("%d nuts, want 48", n)
	}
}

// meshesOf yields the bodies of the elements whose object type is as given.
func meshesOf(t *testing.T, model, says string) func(func(*geom.Mesh) bool) {
	t.Helper()
	path := "../../../shared/data/models/" + model
	data, err := os.ReadFile(path)
	if os.IsNotExist(err) {
		t.Skip("needs the real models beside the repository: ", path)
	}
	if err != nil {
		t.Fatal(err)
	}
	f, err := ifcread.Parse(path, data, ifcread.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return func(yield func(*geom.Mesh) bool) {
		for _, e := range element.Read(f, 1).Elements {
			if e.ObjectType != says {
				continue
			}
			for _, p := range e.Shape.Parts {
				m, err := p.Solid.Mesh()
				if err != nil {
					t.Fatal(err)
				}
				if !yield(m) {
					return
				}
			}
		}
	}
}
