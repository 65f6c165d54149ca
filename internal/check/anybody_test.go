package check_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"

	"embedcheck/internal/check"
	ifc "embedcheck/internal/ifcbuild"
	"embedcheck/internal/ifcbuild/embed"
	"embedcheck/internal/model"
	"embedcheck/rules"
)

// embedForm is a way to model steel; sag is how far the flat sides of something
// of radius 1 lie inside it.
type embedForm struct {
	name string
	form embed.Form
	sag  float64
}

// embedForms are all ways, faceted ones with 5 to 64 sides.
func embedForms() []embedForm {
	out := []embedForm{{"swept", embed.Swept, 0}, {"extruded", embed.Extruded, 0}}
	for _, n := range []int{5, 6, 7, 8, 12, 16, 24, 32, 48, 64} {
		sag := 1 - math.Cos(math.Pi/float64(n))
		out = append(out,
			embedForm{fmt.Sprintf("brep %d", n), embed.Brep.Sides(n), sag},
			embedForm{fmt.Sprintf("triangles %d", n), embed.Facets.Sides(n), sag},
			embedForm{fmt.Sprintf("polygons %d", n), embed.Polygons.Sides(n), sag})
	}
	return out
}

// embedCase is an item as it must come out of any body: mm, from the face of
// the concrete. Anchors of one item are alike.
type embedCase struct {
	name                 string
	class, predefined    string
	body                 func(embed.Form) []ifc.Solid
	anchors              int
	end                  model.EndKind
	diameter, projection float64
	embedment, deepest   float64
	thick                float64 // radius of the largest round piece that bears: its sides lie inside it
}

func embedCases() []embedCase {
	bolt := func(name string, b embed.Bolt, end model.EndKind) embedCase {
		return embedCase{name: name, class: "IfcMechanicalFastener", predefined: "ANCHORBOLT", anchors: 1, end: end,
			body:     func(f embed.Form) []ifc.Solid { b.Form = f; return b.Bodies() },
			diameter: b.D, projection: b.Out, embedment: b.Depth, deepest: b.Deepest(), thick: b.D / 2}
	}
	ferrule := embed.Ferrule{Thread: 16, OD: 22, Length: 95, Tail: 200, TailD: 12}
	plate := embed.Plate{W: 200, H: 200, T: 12, Stud: embed.Stud{D: 16, Length: 100, Head: 32, HeadT: 8}, Pattern: embed.Grid(2, 2, 100, 100)}
	return []embedCase{
		bolt("Plain rod M20", embed.Bolt{D: 20, Depth: 300, Out: 100}, model.Plain),
		bolt("L-bolt M20", embed.Bolt{D: 20, Depth: 300, Out: 100, End: embed.L, Leg: 110}, model.Hooked),
		bolt("J-bolt M24", embed.Bolt{D: 24, Depth: 340, Out: 120, End: embed.J, Leg: 60}, model.Hooked),
		bolt("J-bolt M16 that ends in its arc", embed.Bolt{D: 16, Depth: 240, Out: 60, End: embed.J, Leg: 24}, model.Hooked),
		bolt("Headed bolt M16", embed.Bolt{D: 16, Depth: 200, Out: 60, End: embed.Headed}, model.Headed),
		bolt("Bolt M20 with nut", embed.Bolt{D: 20, Depth: 300, Out: 100, End: embed.Nutted}, model.Headed),
		bolt("Bolt M20 with washer plate and nuts", embed.Bolt{D: 20, Depth: 300, Out: 120, End: embed.Nutted, Washer: 80, Thick: 12, Nuts: []float64{0, 60}}, model.Headed),
		{name: "Ferrule M16 with tail", class: "IfcDiscreteAccessory", anchors: 1, end: model.Plain,
			body:     func(f embed.Form) []ifc.Solid { g := ferrule; g.Form = f; return g.Bodies() },
			diameter: 16, embedment: 295, deepest: 295, thick: 11},
		{name: "Cast-in plate", class: "IfcDiscreteAccessory", predefined: "ANCHORPLATE", anchors: 4, end: model.Headed,
			body: func(f embed.Form) []ifc.Solid {
				p := plate
				p.Form = f
				return append([]ifc.Solid{p.Sheet()}, embed.In([]ifc.Frame{ifc.At(-50, -50, 0), ifc.At(50, -50, 0), ifc.At(-50, 50, 0), ifc.At(50, 50, 0)}, p.StudBodies()...)...)
			},
			diameter: 16, embedment: plate.Embedment(), deepest: plate.Deepest(), thick: 16},
	}
}

// What is measured at an anchor does not depend on how its steel is modelled:
// faceted steel may differ by how far its sides lie inside the round, and by
// 0.2 mm besides.
func TestAnchorsComeOutOfAnyBody(t *testing.T) {
	const slack = 0.2
	for _, c := range embedCases() {
		t.Run(c.name, func(t *testing.T) {
			items := readForms(t, c)
			for i, f := range embedForms() {
				it := items[f.name]
				if it == nil {
					t.Errorf("%s: not found", f.name)
					continue
				}
				if len(it.Anchors) != c.anchors {
					t.Errorf("%s: %d anchors, want %d", f.name, len(it.Anchors), c.anchors)
					continue
				}
				for _, a := range it.Anchors {
					c.holds(t, f, a, gridPoint(i), slack)
				}
			}
		})
	}
}

func (c embedCase) holds(t *testing.T, f embedForm, a *model.Anchor, at ifc.Vec, slack float64) {
	t.Helper()
	if a.Entry == nil {
		t.Errorf("%s: no entry face", f.name)
		return
	}
	if a.End != c.end {
		t.Errorf("%s: %v end, want %v", f.name, a.End, c.end)
	}
	if a.Dir.Z > -1+1e-6 {
		t.Errorf("%s: axis %v, want it to go straight down", f.name, a.Dir)
	}
	off := math.Hypot(a.Entry.Point.X-at.X, a.Entry.Point.Y-at.Y)
	if c.anchors > 1 {
		off = math.Abs(off - math.Hypot(50, 50))
	}
	sag := f.sag * c.thick
	for _, m := range []struct {
		what      string
		got, want float64
		limit     float64
	}{
		{"place of the axis", off, 0, slack},
		{"diameter", a.Diameter, c.diameter, slack + 2*f.sag*c.diameter/2},
		{"projection", a.Entry.Dist, c.projection, slack},
		{"embedment", a.Embedment(), c.embedment, slack + sag},
		{"deepest point", a.Deepest - a.Entry.Dist, c.deepest, slack + sag},
	} {
		if !(math.Abs(m.got-m.want) <= m.limit) {
			t.Errorf("%s: %s %.3f, want %.3f", f.name, m.what, m.got, m.want)
		}
	}
}

// gridPoint is where the item in form i stands.
func gridPoint(i int) ifc.Vec { return ifc.V(500+1000*float64(i%6), 500+1000*float64(i/6), 0) }

// readForms reads a slab with an item in every form, by the name of the form.
func readForms(t *testing.T, c embedCase) map[string]*model.Item {
	t.Helper()
	b := ifc.New(ifc.IFC4, ifc.MM)
	b.Slab("SL", here, ifc.Block(ifc.V(0, 0, -600), ifc.V(6000, 6000, 0))).Made("Concrete C32/40")
	for i, f := range embedForms() {
		p := gridPoint(i)
		b.Add(ifc.Element{Class: c.class, Predefined: c.predefined, Name: c.name, Tag: f.name, At: ifc.At(p.X, p.Y, 0), Body: c.body(f.form), Material: "Steel 8.8"})
	}
	path := filepath.Join(t.TempDir(), "forms.ifc")
	if err := os.WriteFile(path, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	m, err := check.Read([]string{path}, check.Options{Workers: 2, Rules: rules.Builtin()})
	if err != nil {
		t.Fatal(err)
	}
	for _, u := range m.Unread {
		t.Errorf("not read: %s %s: %s", u.Class, u.Name, u.Why)
	}
	out := map[string]*model.Item{}
	for _, it := range m.Items {
		out[it.Mark] = it
	}
	return out
}
