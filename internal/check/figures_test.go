package check_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"

	"embedcheck/internal/check"
	ifc "embedcheck/internal/ifcbuild"
	"embedcheck/internal/measure"
	"embedcheck/internal/model"
	"embedcheck/rules"
)

// The scene of these tests is one slab, 2000 x 1000 x 200 mm with its top at
// z = 200, an opening x 1200..1600, y 300..700 through it, four anchors set from
// above and two bars. Every figure below is worked out by hand from these
// numbers; the scene is then written in every way that a model may be written.
//
//	HB1  M20 L-bolt at (80, 500): leg axis at z = 50, so the top of the hook is
//	     at z = 60 and the deepest point at z = 40
//	HB2  M16 headed bolt at (300, 500): head from z = 90 down to z = 80
//	HB3  M20 plain rod at (1120, 500): end at z = 50
//	HB4  M24 J-bolt at (1800, 900): hook of centreline radius 30 about z = 100,
//	     lowest axis point z = 70, top of the hook z = 82, deepest z = 58
var figures = map[string]struct {
	edge, embedment, back, projection, thickness, diameter float64
}{
	"HB1": {80, 140, 40, 100, 200, 20}, // left edge x = 0
	"HB2": {300, 110, 80, 60, 200, 16}, // x = 0 at 300, nearer than y = 0 at 500
	"HB3": {80, 150, 50, 80, 200, 20},  // opening edge at x = 1200
	"HB4": {100, 118, 58, 90, 200, 24}, // upper edge y = 1000
}

// Bars of 12 mm at z = 100: one along y at x = 331, 331-300-8-6 = 17 mm clear of
// the shank of HB2 but nearer to a corner of its head, 12/cos 30 = 13.856 mm from
// the axis and 10 mm lower: hypot(31-13.856, 10)-6 = 13.847 mm; and one along x at
// y = 480, beside HB3: 20-10-6 = 4 mm.
var clearances = map[string]float64{"HB2": 13.847, "HB3": 4}

const tolerance = 0.5 // mm

// variant is a way to write the scene.
type variant struct {
	schema ifc.Schema
	unit   ifc.Unit
	place  ifc.Frame
	baked  bool
	host   string
	bolt   string
}

func (v variant) String() string {
	return fmt.Sprintf("%v %v host=%s bolt=%s at=%v", v.schema, v.unit, v.host, v.bolt, v.place.O)
}

var (
	here     = ifc.At(0, 0, 0)
	turned   = ifc.At(0, 0, 0).TurnZ(37).TurnX(12)
	standing = ifc.At(500, -300, 1200).TurnX(90)
	farAway  = ifc.At(5.1234567e8, 4.2e9, 31000).TurnZ(-61)
)

func variants() []variant {
	var out []variant
	hosts := []string{"extruded", "sideways", "hole", "brep", "triangles", "polygons", "clipped", "cut"}
	bolts := []string{"disk", "mapped", "extruded", "brep", "one", "voids", "pieces", "triangles"}
	places := []ifc.Frame{here, turned, standing, farAway}
	units := []ifc.Unit{ifc.MM, ifc.Metre, ifc.Inch, ifc.Foot}
	schemas := []ifc.Schema{ifc.IFC2X3, ifc.IFC4, ifc.IFC4X3}
	n := 0
	for _, h := range hosts {
		for _, b := range bolts {
			v := variant{schemas[n%3], units[n%4], places[(n/2)%4], n%5 == 0, h, b}
			if v.schema == ifc.IFC2X3 && (h == "triangles" || h == "polygons" || b == "triangles") {
				v.schema = ifc.IFC4
			}
			out = append(out, v)
			n++
		}
	}
	return out
}

func TestFiguresWorkedByHand(t *testing.T) {
	for _, v := range variants() {
		t.Run(v.String(), func(t *testing.T) {
			m := readScene(t, v)
			checkFigures(t, m)
			checkClearances(t, m)
		})
	}
}

func readScene(t *testing.T, v variant) *model.Model {
	t.Helper()
	path := filepath.Join(t.TempDir(), "scene.ifc")
	if err := os.WriteFile(path, v.write(), 0o600); err != nil {
		t.Fatal(err)
	}
	m, err := check.Read([]string{path}, check.Options{Workers: 2, Rules: rules.Builtin()})
	if err != nil {
		t.Fatal(err)
	}
	for _, u := range m.Unread {
		t.Errorf("not read: %s %s: %s", u.Class, u.Name, u.Why)
	}
	return m
}

// anchors are the anchors of the scene by name; the four of one fastener are
// told apart by their diameters and places.
func anchors(t *testing.T, m *model.Model) map[string]*model.Anchor {
	t.Helper()
	out := map[string]*model.Anchor{}
	for _, it := range m.Items {
		for _, a := range it.Anchors {
			name := it.Name
			if len(it.Anchors) > 1 {
				name = "HB" + fmt.Sprint(a.Index+1)
			}
			if out[name] != nil {
				t.Errorf("two anchors called %s", name)
			}
			out[name] = a
		}
	}
	if len(out) != len(figures) {
		t.Fatalf("%d anchors found, want %d", len(out), len(figures))
	}
	return out
}

func checkFigures(t *testing.T, m *model.Model) {
	t.Helper()
	for name, a := range anchors(t, m) {
		want := figures[name]
		if a.Entry == nil {
			t.Errorf("%s: no entry face", name)
			continue
		}
		e, ok := measure.EdgeDistance(a)
		if !ok {
			t.Errorf("%s: no edge", name)
		}
		for _, f := range []struct {
			what      string
			got, want float64
		}{
			{"edge distance", e.Dist, want.edge},
			{"embedment", a.Embedment(), want.embedment},
			{"back cover", a.BackCover(), want.back},
			{"projection", a.Entry.Dist, want.projection},
			{"thickness", a.Entry.Thickness, want.thickness},
			{"diameter", a.Diameter, want.diameter},
		} {
			if math.Abs(f.got-f.want) > tolerance {
				t.Errorf("%s: %s %.3f, want %.3f", name, f.what, f.got, f.want)
			}
		}
	}
}

func checkClearances(t *testing.T, m *model.Model) {
	t.Helper()
	if n := m.Bars.Count(); n != 2 {
		t.Fatalf("%d bars, want 2", n)
	}
	for name, a := range anchors(t, m) {
		want, ok := clearances[name]
		if !ok {
			continue
		}
		best := math.Inf(1)
		for i := range m.Bars.Pieces {
			if g, ok := measure.BarGap(a.Item, &m.Bars, i, 100); ok {
				best = min(best, g.Dist)
			}
		}
		if len(a.Item.Anchors) > 1 {
			want = 4 // of the whole fastener
		}
		if math.Abs(best-want) > tolerance {
			t.Errorf("%s: clear distance %.3f, want %.3f", name, best, want)
		}
	}
}

func (v variant) write() []byte {
	opt := ifc.Placed(v.place)
	if v.baked {
		opt = ifc.Baked(v.place)
	}
	b := ifc.New(v.schema, v.unit, opt, ifc.Degrees())
	slab := b.Add(ifc.Element{Class: "IfcSlab", Name: "SL-1", At: here, Body: v.slab(), Material: "Concrete C32/40"})
	if v.host != "hole" && v.host != "cut" {
		slab.Open("O1", here, ifc.Block(ifc.V(1200, 300, -50), ifc.V(1600, 700, 250)))
	}
	v.bolts(b, slab)
	bar := func(from, to ifc.Vec) {
		b.Add(ifc.Element{Class: "IfcReinforcingBar", Name: "N12", At: here, Diameter: 12, Body: []ifc.Solid{ifc.Rod(ifc.Straight(from, to), 12)}})
	}
	bar(ifc.V(331, 40, 100), ifc.V(331, 960, 100))
	bar(ifc.V(1040, 480, 100), ifc.V(1160, 480, 100))
	return b.Bytes()
}

var (
	low  = ifc.V(0, 0, 0)
	high = ifc.V(2000, 1000, 200)
	ring = []ifc.XY{{X: 0, Y: 0}, {X: 2000, Y: 0}, {X: 2000, Y: 1000}, {X: 0, Y: 1000}}
	hole = []ifc.XY{{X: 1200, Y: 300}, {X: 1600, Y: 300}, {X: 1600, Y: 700}, {X: 1200, Y: 700}}
)

func (v variant) slab() []ifc.Solid {
	switch v.host {
	case "sideways": // drawn along x from its end face
		f := ifc.Facing(ifc.V(0, 500, 100), ifc.V(1, 0, 0), ifc.V(0, 1, 0))
		return []ifc.Solid{ifc.Extrude{Profile: ifc.Rect{W: 1000, H: 200}, At: f, Depth: 2000}}
	case "hole":
		return []ifc.Solid{ifc.Extrude{Profile: ifc.Poly{Outer: ring, Holes: [][]ifc.XY{hole}}, At: here, Depth: 200}}
	case "brep":
		return []ifc.Solid{ifc.BlockMesh(low, high).Brep()}
	case "triangles":
		return []ifc.Solid{ifc.BlockMesh(low, high).Triangles()}
	case "polygons":
		return []ifc.Solid{ifc.BlockMesh(low, high).Polygons()}
	case "clipped":
		return []ifc.Solid{ifc.Clip{Of: ifc.Block(ifc.V(-300, 0, 0), high), Planes: []ifc.Plane{{P: low, N: ifc.V(-1, 0, 0)}}}}
	case "cut":
		return []ifc.Solid{ifc.Cut{Of: ifc.Block(low, high), Less: ifc.Block(ifc.V(1200, 300, -50), ifc.V(1600, 700, 250))}}
	}
	return []ifc.Solid{ifc.Block(low, high)}
}

// paths are the centrelines of the four bolts, from the thread's end down.
func paths() map[string]ifc.Path {
	return map[string]ifc.Path{
		"HB1": ifc.Bent(40, ifc.V(80, 500, 300), ifc.V(80, 500, 50), ifc.V(180, 500, 50)),
		"HB2": ifc.Straight(ifc.V(300, 500, 260), ifc.V(300, 500, 80)),
		"HB3": ifc.Straight(ifc.V(1120, 500, 280), ifc.V(1120, 500, 50)),
		"HB4": ifc.StartAt(ifc.V(1800, 900, 290)).LineTo(ifc.V(1800, 900, 100)).
			Arc(ifc.V(1770, 900, 100), ifc.V(0, 1, 0), 180).LineTo(ifc.V(1740, 900, 120)),
	}
}

var (
	names     = []string{"HB1", "HB2", "HB3", "HB4"}
	diameters = map[string]float64{"HB1": 20, "HB2": 16, "HB3": 20, "HB4": 24}
)

// head is the head of HB2: 24 mm across flats, 10 mm high.
func head() ifc.Solid { return ifc.Hexagon(ifc.V(300, 500, 80), ifc.V(300, 500, 90), 24) }

func (v variant) bolts(b *ifc.Builder, slab ifc.Ref) {
	all := paths()
	var four []ifc.Solid
	for _, n := range names {
		body := v.bolt1(n, all[n])
		if v.bolt == "one" {
			four = append(four, body...)
			continue
		}
		b.Add(ifc.Element{Class: "IfcMechanicalFastener", Name: n, Predefined: "ANCHORBOLT", At: here, Body: body, Material: "Steel 8.8"})
		if v.bolt == "voids" {
			top := all[n].Points()[0]
			slab.Open("V-"+n, here, ifc.Cylinder(ifc.V(top.X, top.Y, 45), ifc.V(top.X, top.Y, 230), diameters[n]/2+1))
		}
	}
	if v.bolt == "one" {
		b.Add(ifc.Element{Class: "IfcMechanicalFastener", Name: "HB set", Predefined: "ANCHORBOLT", At: here, Body: four, Material: "Steel 8.8"})
	}
}

func (v variant) bolt1(name string, p ifc.Path) []ifc.Solid {
	d := diameters[name]
	var body []ifc.Solid
	switch v.bolt {
	case "mapped":
		origin := ifc.At(700, -200, 40).TurnZ(30)
		body = []ifc.Solid{ifc.NewMap(ifc.Rod(p.Moved(inverse(origin)), d)).At(origin)}
	case "brep":
		body = []ifc.Solid{ifc.RodMesh(p.Points(), d/2, 0, 24).Brep()}
	case "triangles":
		body = []ifc.Solid{ifc.RodMesh(p.Points(), d/2, 0, 16).Triangles()}
	case "extruded":
		if name == "HB2" || name == "HB3" {
			pts := p.Points()
			body = []ifc.Solid{ifc.Cylinder(pts[0], pts[len(pts)-1], d/2)}
			break
		}
		body = []ifc.Solid{ifc.Rod(p, d)}
	case "pieces":
		if name == "HB1" { // shank and leg as two solids
			body = []ifc.Solid{
				ifc.Cylinder(ifc.V(80, 500, 300), ifc.V(80, 500, 50), d/2),
				ifc.Cylinder(ifc.V(80, 500, 50), ifc.V(180, 500, 50), d/2),
			}
			break
		}
		body = []ifc.Solid{ifc.Rod(p, d)}
	default:
		body = []ifc.Solid{ifc.Rod(p, d)}
	}
	if name == "HB2" {
		body = append(body, head())
	}
	return body
}

// inverse is the frame that undoes a rigid one.
func inverse(f ifc.Frame) ifc.Frame {
	x := ifc.V(f.X.X, f.Y.X, f.Z.X)
	y := ifc.V(f.X.Y, f.Y.Y, f.Z.Y)
	z := ifc.V(f.X.Z, f.Y.Z, f.Z.Z)
	o := ifc.V(-f.X.Dot(f.O), -f.Y.Dot(f.O), -f.Z.Dot(f.O))
	return ifc.Frame{O: o, X: x, Y: y, Z: z}
}
