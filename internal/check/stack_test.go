package check_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"embedcheck/internal/check"
	"embedcheck/internal/finding"
	ifc "embedcheck/internal/ifcbuild"
	"embedcheck/internal/ifcbuild/embed"
	"embedcheck/internal/measure"
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
	dir := t.TempDir()
	var paths []string
	for name, data := range map[string][]byte{"concrete.ifc": s.concrete(), "steel.ifc": s.steel()} {
		if s.noPlate && name == "steel.ifc" {
			continue
		}
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, data, 0o600); err != nil {
			t.Fatal(err)
		}
		paths = append(paths, path)
	}
	slices.Sort(paths)
	return paths
}

func (s stack) read(t *testing.T) *model.Model {
	t.Helper()
	m, err := check.Read(s.paths(t), check.Options{Workers: 2, Rules: rules.Builtin()})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// TestPlatesOverBolts holds what is read of a base plate to the sizes it was
// written with. That the plate's width less the distance of the bolts, halved, is
// the distance of the bolts from the plate's edge is common practice of setting
// out, no published source.
func TestPlatesOverBolts(t *testing.T) {
	for _, s := range stacks() {
		t.Run(s.String(), func(t *testing.T) {
			m := s.read(t)
			if len(m.Sheets) != 1 {
				t.Fatalf("%d plates over the bolts, want 1", len(m.Sheets))
			}
			p := m.Sheets[0]
			if p.Template() || p.Name != "Base plate" || len(p.Anchors) != 4 || len(p.Holes) != 4 {
				t.Fatalf("got %+v with %d anchors and %d holes", p.Ref, len(p.Anchors), len(p.Holes))
			}
			near := func(what string, got, want float64) {
				if math.Abs(got-want) > 0.1 {
					t.Errorf("%s: %.3f mm, want %.0f", what, got, want)
				}
			}
			near("thickness", p.Thick, 20)
			for _, h := range p.Holes {
				near("hole", h.Diameter, 30)
			}
			for _, a := range p.Anchors {
				near("gap", p.Gap(a), 30)
				near("room", roomOf(a, p), 3)
				near("to the nearest edge of the plate", toEdge(a, p), (350.-240)/2)
			}
		})
	}
}

// roomOf is the clearance of an anchor in the hole that it stands in.
func roomOf(a *model.Anchor, p *model.Sheet) float64 {
	best := math.Inf(-1)
	for i := range p.Holes {
		room, _ := measure.HoleRoom(a, p, &p.Holes[i])
		best = max(best, room)
	}
	return best
}

// toEdge is the distance from an axis to the outline of a plate.
func toEdge(a *model.Anchor, p *model.Sheet) float64 {
	least := math.Inf(1)
	upper, _ := p.Along(a)
	at := a.At(upper)
	for i, v := range p.Outline {
		w := p.Outline[(i+1)%len(p.Outline)]
		d := w.Sub(v)
		k := max(0, min(1, at.Sub(v).Dot(d)/d.Dot(d)))
		least = min(least, at.Dist(v.Add(d.Mul(k))))
	}
	return least
}

// TestPartsOnBolts holds the nuts that are read on bolts to those written: one on
// each side of the template, of the heights of the standard.
func TestPartsOnBolts(t *testing.T) {
	for _, s := range stacks() {
		s.nuts, s.template = true, &embed.Template{W: 420, H: 360, T: 8, Hole: 26, Under: 60, Form: s.form}
		t.Run(s.String(), func(t *testing.T) {
			m := s.read(t)
			bolts := 0
			for _, it := range m.Items {
				for _, a := range it.Anchors {
					bolts++
					var nuts []float64
					for _, p := range a.Parts {
						if p.Kind == model.Nut && p.To < a.Entry.Dist {
							nuts = append(nuts, a.Entry.Dist-p.To)
						}
					}
					if want := []float64{68, 60 - embed.NutHeight(24)}; !slices.EqualFunc(nuts, want, func(x, y float64) bool { return math.Abs(x-y) < 0.1 }) {
						t.Errorf("%s: nuts at %v above the face, want %v", it.Mark, nuts, want)
					}
				}
			}
			if bolts != 4 {
				t.Errorf("%d bolts, want 4", bolts)
			}
		})
	}
}

// TestPlatesOfThePublicModel: each of its six anchor sets has a template in the
// face of the concrete and a base plate of 20 mm, 30 mm above it, as measured in
// the file with a text editor: the upper side of the template lies at -350, the
// base plate between -320 and -300.
func TestPlatesOfThePublicModel(t *testing.T) {
	path := filepath.Join("..", "..", "..", "shared", "data", "models", "precast-building.ifc")
	if _, err := os.Stat(path); err != nil {
		t.Skip("the public models are not beside the checkout")
	}
	m, err := check.Read([]string{path}, check.Options{Rules: rules.Builtin()})
	if err != nil {
		t.Fatal(err)
	}
	templates, plates := 0, 0
	for _, p := range m.Sheets {
		if len(p.Anchors) != 4 {
			t.Errorf("%s carries %d bolts, want 4", p.Name, len(p.Anchors))
		}
		gap := p.Gap(p.Anchors[0])
		switch {
		case p.Template() && math.Abs(gap+10) < 0.01 && math.Abs(p.Thick-10) < 0.01:
			templates++
		case !p.Template() && math.Abs(gap-30) < 0.01 && math.Abs(p.Thick-20) < 0.01:
			plates++
		default:
			t.Errorf("%s: %.2f mm thick, %.2f mm above the concrete", p.Name, p.Thick, gap)
		}
	}
	if templates != 6 || plates != 6 {
		t.Errorf("%d templates and %d base plates, want 6 of each", templates, plates)
	}
}

// of are the places that a rule finds in a scene with some rules, by item.
func (s stack) of(t *testing.T, set *rules.Set, rule string) []finding.Instance {
	t.Helper()
	_, run, err := check.Run(s.paths(t), check.Options{Workers: 2, Rules: set})
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

// TestProjectionThroughABasePlate: M24 bolts have to stand out by the gap of 30,
// the plate of 20, a washer of 4, a nut of 21.5 and one pitch of 3: 78.5 mm.
func TestProjectionThroughABasePlate(t *testing.T) {
	for _, s := range stacks() {
		for _, c := range []struct {
			out  float64
			want int
		}{{79, 0}, {78, 4}, {20, 4}} {
			s.out = c.out
			got := s.of(t, rules.Builtin(), "projection")
			if len(got) != c.want {
				t.Errorf("%s, %g mm out: %d bolts found, want %d", s, c.out, len(got), c.want)
			}
			for _, in := range got {
				if math.Abs(in.Required-78.5) > 0.1 || math.Abs(in.Measured-c.out) > 0.1 {
					t.Errorf("%s, %g mm out: got %.2f of %.2f", s, c.out, in.Measured, in.Required)
				}
			}
		}
	}
}

// TestBasePlateMovedOverItsBolts: holes of 30 leave 3 mm around M24 bolts, which is
// the built-in limit; a plate that is moved by 1 mm leaves 2.
func TestBasePlateMovedOverItsBolts(t *testing.T) {
	for _, s := range stacks() {
		for _, c := range []struct {
			shift float64
			want  int
		}{{0, 0}, {0.4, 0}, {1, 4}, {70, 4}} {
			s.shift = c.shift
			got := s.of(t, rules.Builtin(), "set-pattern")
			if len(got) != c.want {
				t.Errorf("%s, moved by %g mm: %d bolts found, want %d", s, c.shift, len(got), c.want)
			}
			for _, in := range got {
				if math.Abs(in.Measured-(3-c.shift)) > 0.1 {
					t.Errorf("%s, moved by %g mm: %.2f mm of room", s, c.shift, in.Measured)
				}
			}
		}
	}
}

// TestThreadUnderABasePlate: the nut sits 30 + 20 + 4 = 54 mm above the face, 66
// below the end of the bolt; a thread has to reach one pitch of 3 mm further.
func TestThreadUnderABasePlate(t *testing.T) {
	for _, s := range stacks() {
		for _, c := range []struct {
			thread float64
			want   int
		}{{69.2, 0}, {68.8, 4}} {
			s.thread = c.thread
			got := s.of(t, rules.Builtin(), "thread-length")
			if len(got) != c.want {
				t.Errorf("%s, thread of %g mm: %d bolts found, want %d", s, c.thread, len(got), c.want)
			}
		}
	}
}

// TestModelledThread reads a thread that is modelled at its root, as a piece of its
// own before or behind the shank, from both ways to write it.
func TestModelledThread(t *testing.T) {
	for _, s := range stacks() {
		for _, thread := range []float64{60, 300} { // shorter and longer than the shank
			b := ifc.New(s.schema, s.unit, s.option(), ifc.Degrees())
			b.Add(ifc.Element{Class: "IfcFooting", Name: "CF-1", At: here, Body: []ifc.Solid{ifc.Block(ifc.V(0, 0, -500), ifc.V(1000, 1000, 0))}, Material: "Concrete C32/40"})
			b.Add(ifc.Element{
				Class: "IfcMechanicalFastener", Predefined: "ANCHORBOLT", Name: "Hold-down bolt", At: ifc.At(500, 500, 0), Material: "Steel 4.6",
				Body: []ifc.Solid{
					ifc.Cylinder(ifc.V(0, 0, 120-thread), ifc.V(0, 0, 120), 11),
					ifc.Cylinder(ifc.V(0, 0, -300), ifc.V(0, 0, 120-thread), 12),
				},
			})
			path := filepath.Join(t.TempDir(), "thread.ifc")
			if err := os.WriteFile(path, b.Bytes(), 0o600); err != nil {
				t.Fatal(err)
			}
			m, err := check.Read([]string{path}, check.Options{Rules: rules.Builtin()})
			if err != nil {
				t.Fatal(err)
			}
			if len(m.Items) != 1 || len(m.Items[0].Anchors) != 1 {
				t.Fatalf("%s: no bolt with one anchor", s)
			}
			if got := m.Items[0].Anchors[0].Thread; math.Abs(got-thread) > 0.1 {
				t.Errorf("%s: thread of %.2f mm, want %g", s, got, thread)
			}
		}
	}
}

// TestTemplateOverAFooting: 25 mm under a template are the built-in limit.
func TestTemplateOverAFooting(t *testing.T) {
	for _, s := range stacks() {
		s.noPlate = true
		for _, c := range []struct {
			under float64
			want  int
		}{{25.2, 0}, {24.8, 1}, {0, 1}, {-8, 0}} {
			s.template = &embed.Template{W: 420, H: 360, T: 8, Hole: 26, Under: c.under, Form: s.form}
			got := s.of(t, rules.Builtin(), "template-standoff")
			if len(got) != c.want {
				t.Errorf("%s, %g mm under the template: %d found, want %d", s, c.under, len(got), c.want)
			}
			for _, in := range got {
				if math.Abs(in.Measured-c.under) > 0.1 || in.Item.Name != "Setting template" {
					t.Errorf("%s, %g mm under the template: %s, %.2f mm", s, c.under, in.Item.Name, in.Measured)
				}
			}
		}
	}
}

// TestNutsOnATemplate: one bolt of four without the nut that the others have is
// found, four with their nuts are not.
func TestNutsOnATemplate(t *testing.T) {
	for _, s := range stacks() {
		s.template = &embed.Template{W: 420, H: 360, T: 8, Hole: 26, Under: 60, Form: s.form}
		s.nuts = true
		if got := s.of(t, rules.Builtin(), "parts-complete"); len(got) != 0 {
			t.Errorf("%s: all have their nuts, found %d", s, len(got))
		}
		s.nuts, s.bare = false, 3
		got := s.of(t, rules.Builtin(), "parts-complete")
		if len(got) != 1 || got[0].Item.Mark != "HD-1.3" {
			t.Errorf("%s: found %d bolts, want the third one", s, len(got))
		}
	}
}

// TestZincOutside reads finish and exposure from property sets, as each schema has
// them.
func TestZincOutside(t *testing.T) {
	for _, s := range stacks() {
		for _, c := range []struct {
			finish   string
			external bool
			want     int
		}{{"Zinc plated", true, 1}, {"Zinc plated", false, 0}, {"Hot-dip galvanised", true, 0}, {"NOTKNOWN", true, 0}} {
			b := ifc.New(s.schema, s.unit, s.option(), ifc.Degrees())
			b.Add(ifc.Element{
				Class: "IfcWall", Name: "W-1", At: here, Body: []ifc.Solid{ifc.Block(ifc.V(0, 0, 0), ifc.V(3000, 200, 2500))}, Material: "Concrete C32/40",
				Props: []ifc.PSet{{Name: "Pset_WallCommon", Props: []ifc.Prop{ifc.Boolean("IsExternal", c.external)}}},
			})
			embed.Bolt{D: 16, Depth: 120, Out: 60, End: embed.Headed, Form: s.form}.Add(b, ifc.Element{
				Class: "IfcMechanicalFastener", Predefined: "ANCHORBOLT", Name: "Bolt M16", Material: "Steel",
				At:    ifc.Facing(ifc.V(1500, 0, 1000), ifc.V(0, -1, 0), ifc.V(1, 0, 0)),
				Props: []ifc.PSet{{Name: "Pset_ElementComponentCommon", Props: []ifc.Prop{ifc.Label("CorrosionTreatment", c.finish)}}},
			})
			path := filepath.Join(t.TempDir(), "wall.ifc")
			if err := os.WriteFile(path, b.Bytes(), 0o600); err != nil {
				t.Fatal(err)
			}
			_, run, err := check.Run([]string{path}, check.Options{Rules: rules.Builtin()})
			if err != nil {
				t.Fatal(err)
			}
			got := 0
			for _, f := range run.Findings {
				if f.Rule == "finish-exposure" {
					got += len(f.Instances)
				}
			}
			if got != c.want {
				t.Errorf("%s, %s, external %v: %d found, want %d", s, c.finish, c.external, got, c.want)
			}
		}
	}
}
