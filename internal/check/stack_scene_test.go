package check_test

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"embedcheck/internal/check"
	"embedcheck/internal/finding"
	ifc "embedcheck/internal/ifcbuild"
	"embedcheck/internal/ifcbuild/embed"
	"embedcheck/internal/model"
	"embedcheck/rules"
)

// stack is a footing of 1000 x 1000 x 500 mm with four headed bolts M24 at
// 300 x 240, and, in a model of its own, the base plate of a column over it:
// 500 x 350 x 20, with its underside 30 mm above the concrete and holes of 30 mm.
// The bolts stand 120 mm out of the concrete. Everything else is stated by the
// fields.
type stack struct {
	schema   ifc.Schema
	unit     ifc.Unit
	place    ifc.Frame
	baked    bool
	form     embed.Form
	opened   bool // the holes are openings of their own
	shift    float64
	template *embed.Template
	nuts     bool
	washers  bool    // plate washers of 70 x 70 x 8, and the grout under the plate
	out      float64 // projection; 120 by default
	noPlate  bool
	bare     int     // number of the bolt that gets no nut on its template; 0 for none
	thread   float64 // length of the thread that the model states
}

func (s stack) String() string {
	return fmt.Sprintf("%v %v form=%v opened=%v at=%v", s.schema, s.unit, s.form, s.opened, s.place.O)
}

func stacks() []stack {
	var out []stack
	for i, u := range []ifc.Unit{ifc.MM, ifc.Metre, ifc.Inch, ifc.Foot} {
		for k, at := range []ifc.Frame{here, turned, standing, farAway} {
			n := i + k
			out = append(out, stack{
				schema: []ifc.Schema{ifc.IFC4, ifc.IFC2X3, ifc.IFC4X3}[n%3], unit: u, place: at, baked: n%2 == 0,
				form: []embed.Form{embed.Swept, embed.Extruded, embed.Brep}[n%3], opened: n%4 == 1,
			})
		}
	}
	return out
}

func (s stack) option() ifc.Option {
	if s.baked {
		return ifc.Baked(s.place)
	}
	return ifc.Placed(s.place)
}

var stackPattern = embed.Grid(2, 2, 300, 240)

// concrete is the model of the footing.
func (s stack) concrete() []byte {
	b := ifc.New(s.schema, s.unit, s.option(), ifc.Degrees())
	b.Add(ifc.Element{Class: "IfcFooting", Name: "CF-1", At: here, Body: []ifc.Solid{ifc.Block(ifc.V(0, 0, -500), ifc.V(1000, 1000, 0))}, Material: "Concrete C32/40"})
	out := s.out
	if out == 0 {
		out = 120
	}
	whole, _ := embed.Set{
		Name: "HD-1", BoltName: "Hold-down bolt M24x420 4.6 HDG", Material: "Steel 4.6", Pattern: stackPattern, Nuts: s.nuts, Thread: s.thread,
		Bolt: embed.Bolt{D: 24, Depth: 300, Out: out, End: embed.Headed, Form: s.form}, Template: s.template,
	}.Assembly(b, ifc.Element{Tag: "HD-1", At: ifc.At(500, 500, 0)})
	for i, p := range stackPattern {
		if s.bare > 0 && s.bare != i+1 {
			b.Add(ifc.Element{
				Class: "IfcMechanicalFastener", Name: "Hexagon nut M24", Of: whole, Material: "Steel",
				At: ifc.At(p.X, p.Y, s.template.Under+s.template.T), Body: []ifc.Solid{embed.Nut(24, s.form)},
			})
		}
	}
	return b.Bytes()
}

// steel is the model of the column.
func (s stack) steel() []byte {
	b := ifc.New(s.schema, s.unit, s.option(), ifc.Degrees(), ifc.Seed("steel"))
	t := embed.Template{W: 500, H: 350, T: 20, Hole: 30, Under: 30, Form: s.form}
	e := ifc.Element{Class: "IfcPlate", Name: "Base plate", Tag: "BP-1", At: ifc.At(500+s.shift, 500, 0), Material: "Steel S275"}
	if s.washers {
		b.Add(ifc.Element{
			Class: "IfcBuildingElementProxy", Name: "Grout bed", At: ifc.At(500, 500, 0), Body: []ifc.Solid{ifc.Block(ifc.V(-250, -175, 0), ifc.V(250, 175, 30))},
		})
		one := embed.Template{W: 70, H: 70, T: 8, Hole: 26, Under: 50, Form: s.form}
		for _, p := range stackPattern {
			b.Add(ifc.Element{
				Class: "IfcPlate", Name: "Plate washer", At: ifc.At(500+p.X, 500+p.Y, 0), Material: "Steel S275", Body: []ifc.Solid{one.Body([]ifc.XY{{}})},
			})
		}
	}
	if !s.opened {
		e.Body = []ifc.Solid{t.Body(stackPattern)}
		b.Add(e)
		return b.Bytes()
	}
	e.Body = []ifc.Solid{ifc.Block(ifc.V(-250, -175, 30), ifc.V(250, 175, 50))}
	plate := b.Add(e)
	for i, p := range stackPattern {
		plate.Open(fmt.Sprint("H", i), here, ifc.Cylinder(ifc.V(p.X, p.Y, 20), ifc.V(p.X, p.Y, 60), 15))
	}
	return b.Bytes()
}

func (s stack) paths(t *testing.T) []string {
	t.Helper()
	paths := []string{writeModel(t, "concrete.ifc", s.concrete())}
	if !s.noPlate {
		paths = append(paths, writeModel(t, "steel.ifc", s.steel()))
	}
	return paths
}

func writeModel(t *testing.T, name string, data []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

func (s stack) read(t *testing.T) *model.Model {
	t.Helper()
	return readModels(t, s.paths(t)...)
}

func readModels(t *testing.T, paths ...string) *model.Model {
	t.Helper()
	m, err := check.Read(paths, check.Options{Workers: 2, Rules: rules.Builtin()})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// of are the places that a rule finds in the scene.
func (s stack) of(t *testing.T, set *rules.Set, rule string) []finding.Instance {
	t.Helper()
	return placesIn(t, s.paths(t), set, rule)
}

func placesIn(t *testing.T, paths []string, set *rules.Set, rule string) []finding.Instance {
	t.Helper()
	_, run, err := check.Run(paths, check.Options{Workers: 2, Rules: set})
	if err != nil {
		t.Fatal(err)
	}
	var out []finding.Instance
	for _, f := range run.Findings {
		if f.Rule == rule {
			out = append(out, f.Instances...)
		}
	}
	return out
}
