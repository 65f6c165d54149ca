package rules

import (
	"math"
	"testing"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/measure"
	"embedcheck/internal/model"
)

// Figures get as many decimals as it takes to tell them apart, up to four.
func TestFiguresTellValuesApart(t *testing.T) {
	for _, c := range []struct {
		f         func(float64, float64) (string, string)
		got, want float64
		g, w      string
	}{
		{figures, 119.94, 120, "119.9", "120"}, {figures, 119.96, 120, "119.96", "120"}, {figures, 119.996, 120, "119.996", "120"},
		{figures, 119.9996, 120, "119.9996", "120"}, {figures, 119.99996, 120, "120", "120"}, {figures, 120, 120, "120", "120"},
		{figures, 119.99962, 120, "119.9996", "120"}, {figures2, 0.49963, 0.5, "0.4996", "0.5"}, {figures, 119.9962, 120, "119.996", "120"},
		{figures2, 0.49, 0.5, "0.49", "0.5"}, {figures2, 0.496, 0.5, "0.496", "0.5"}, {figures2, 0.4996, 0.5, "0.4996", "0.5"},
		{figures2, 0.49996, 0.5, "0.49996", "0.5"}, {figures2, 0.499996, 0.5, "0.5", "0.5"}, {figures2, 0.512, 0.512, "0.51", "0.51"},
	} {
		if g, w := c.f(c.got, c.want); g != c.g || w != c.w {
			t.Errorf("%v and %v: %q and %q, want %q and %q", c.got, c.want, g, w, c.g, c.w)
		}
	}
	if got := figure(-0.04); got != "0" {
		t.Errorf("a little less than nothing is %q", got)
	}
}

// Both sides of the borders between headings: 14, 41, 49 and 76 degrees to an axis.
func TestHeadings(t *testing.T) {
	at := func(v float64) geom.Vec { return geom.V(v, math.Sqrt(1-v*v), 0) }
	for _, c := range []struct {
		x    float64
		want string
	}{
		{0.7501, "+x/y"}, {0.7499, "/x/y"}, {0.2501, "/x+y"}, {0.2499, "+y"}, {-0.2499, "+y"}, {-0.2501, `\x+y`}, {-0.7499, `\x/y`}, {-0.7501, "-x/y"},
	} {
		if got := heading(at(c.x)); got != c.want {
			t.Errorf("x of %v: %s, want %s", c.x, got, c.want)
		}
	}
	if got := heading(geom.V(0, 0, -1)); got != "-z" {
		t.Errorf("down: %s", got)
	}
}

// What stands at a cosine of 0.7 or more to a face is in that face: both sides.
func TestFacesOfAWordOfTheForm(t *testing.T) {
	lean := func(cos float64) geom.Vec { return geom.V(math.Sqrt(1-cos*cos), 0, cos) }
	wall := newScene(geom.Identity).wall("W")
	c := &cast{measure.CastingOf(wall, measure.NewSurroundings([]*model.Host{wall})), measure.StatedCast{Up: geom.V(0, 0, 1)}}
	for _, v := range []struct {
		cos   float64
		sides int
	}{{0.699, 2}, {0.701, 0}, {-0.699, 2}, {-0.701, 0}} {
		c.Axes = [3]geom.Vec{lean(v.cos), geom.V(0, 0, 1), geom.V(0, 0, -1)}
		if got, why := c.facesNamed("side"); why != "" || len(got) != v.sides {
			t.Errorf("cosine %v: %v, %s; want %d", v.cos, got, why, v.sides)
		}
		want := "face to model "
		if v.sides == 0 && v.cos > 0 {
			want = "top"
		} else if v.sides == 0 {
			want = "underside"
		}
		if got := faceWord(lean(v.cos)); len(got) < len(want) || got[:len(want)] != want {
			t.Errorf("cosine %v: %s, want %s", v.cos, got, want)
		}
	}
}

// Limits in diameters mean nothing for a plate; those in lengths hold for it.
func TestFlushOfAPlateGoesByLengths(t *testing.T) {
	set := limitFor(Flush, Term{MM, 8}, Term{Diameters, 0.25})
	plate := func(y float64) func(*scene) {
		return func(s *scene) { s.plateAt(s.wall("W"), "CP1", 1000, 1000, 1200, 1200, y, 10) }
	}
	deep := func(y float64) func(*scene) {
		return func(s *scene) {
			c := socket("F", 1000, 1000) // 16 mm
			c.open.Y = y
			s.add(s.wall("W"), c)
		}
	}
	check(t, Flush, set, "plate, 8 mm", nil, plate(8))
	check(t, Flush, set, "plate, 9 mm", []float64{9}, plate(9))
	check(t, Flush, set, "socket, a quarter of a diameter", nil, deep(-4))
	check(t, Flush, set, "socket, more", []float64{5}, deep(-5))
}

// A pair is told once: of the item whose limit is larger, of equal ones once.
func TestItemClearanceOfTwoLimits(t *testing.T) {
	limits := &Set{Name: "test", Rules: map[string]Change{ItemClearance.ID: {Limit: Limit{{MM, 25}}}}, For: []For{
		{Items: named("^B"), Rules: map[string]Change{ItemClearance.ID: {Limit: Limit{{MM, 60}}}}},
	}}
	pair := func(gap float64, first, second string) func(*scene) {
		return func(s *scene) {
			w := s.wall("W")
			s.bolt(w, first, 1000, 1000)
			s.bolt(w, second, 1020+gap, 1000)
		}
	}
	for _, c := range []struct {
		name     string
		build    func(*scene)
		want     []float64
		required float64
		of       string
	}{
		{"within the larger limit only", pair(40, "A", "B"), []float64{40}, 60, "B"},
		{"the other way round", pair(40, "B", "A"), []float64{40}, 60, "B"},
		{"within both", pair(20, "A", "B"), []float64{20}, 60, "B"},
		{"at the larger limit", pair(60, "A", "B"), nil, 0, ""},
		{"two of the larger limit", pair(59, "B1", "B2"), []float64{59}, 60, "B1"},
		{"two of the smaller one", pair(40, "A1", "A2"), nil, 0, ""},
		{"two of the smaller one, near", pair(24, "A1", "A2"), []float64{24}, 25, "A1"},
	} {
		check(t, ItemClearance, limits, c.name, c.want, c.build)
		if c.want == nil {
			continue
		}
		f := onlyScene(t, ItemClearance, limits, c.build)
		if in := f.Instances[0]; len(f.Instances) != 1 || in.Required != c.required || in.Item.Name != c.of {
			t.Errorf("%s: %+v", c.name, f.Instances)
		}
	}
}

// Two items sit on one axis within the borders of the angle and of the offset.
func TestItemsOnOneAxis(t *testing.T) {
	rod := func(off, degrees float64) *model.Item {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		return &model.Item{Anchors: []*model.Anchor{{Open: geom.V(off, 0, 0), Dir: geom.V(sin, cos, 0)}}}
	}
	bare := func(off float64) *model.Item {
		return &model.Item{Box: geom.BoxOf(geom.V(off-10, 0, -10), geom.V(off+10, 100, 10))}
	}
	own := rod(0, 0)
	for _, c := range []struct {
		name string
		with *model.Item
		want bool
	}{
		{"the same line", rod(0, 0), true},
		{"the other way", rod(0, 180), true},
		{"offset at the border", rod(coaxial-0.001, 0), true},
		{"offset beyond the border", rod(coaxial+0.001, 0), false},
		{"1.1 degrees", rod(0, 1.1), true},
		{"1.2 degrees", rod(0, 1.2), false},
		{"body in the middle", bare(4.99), true},
		{"body off the middle", bare(5.01), false},
		{"two bodies", nil, false},
	} {
		a, b := own, c.with
		if b == nil {
			a, b = bare(0), bare(0)
		}
		if got := oneAxis(a, b); got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
		if got := oneAxis(b, a); got != c.want {
			t.Errorf("%s, exchanged: %v", c.name, got)
		}
	}
}

// What is part of the same assembly is not in the way, what is of another one is.
func TestAccessAndAssemblies(t *testing.T) {
	across := func(own, other string) func(*scene) {
		return func(s *scene) {
			w := s.wall("W")
			s.add(w, socket("F", 1000, 1000)).Assembly = own
			s.add(w, spec{kind: model.Bolt, name: "B", open: geom.V(900, -50, 1000), dir: geom.V(1, 0, 0), d: 20, length: 300}).Assembly = other
		}
	}
	check(t, Access, Builtin(), "one assembly", nil, across("g", "g"))
	check(t, Access, Builtin(), "two assemblies", []float64{40}, across("g", "h"))
	check(t, Access, Builtin(), "no assembly", []float64{40}, across("", ""))
}

// Holes that may be meant for bolts are wider than 0.8 times the thinnest and
// narrower than 2.5 times the thickest.
func TestHolesForBolts(t *testing.T) {
	bolts := []*model.Anchor{{Diameter: 24}, {Diameter: 20}}
	s := &model.Sheet{Holes: []model.Hole{{Diameter: 15.9}, {Diameter: 16.1}, {Diameter: 26}, {Diameter: 59.9}, {Diameter: 60.1}}}
	got := boltHoles(s, bolts)
	if len(got) != 3 || got[0].Diameter != 16.1 || got[2].Diameter != 59.9 {
		t.Errorf("got %d holes", len(got))
	}
}

// A host is outdoors, dry or unknown by what it states; one that states nothing at
// all is unknown.
func TestExposureOfHosts(t *testing.T) {
	h := &model.Host{}
	if e, _ := exposureOf(h); e != unknownExposure {
		t.Errorf("without properties: %v", e)
	}
	h.Property = says("IsExternal", "FALSE")
	if e, _ := exposureOf(h); e != dry {
		t.Errorf("inside: %v", e)
	}
	h.Property = says("IsExternal", "true")
	if e, why := exposureOf(h); e != outdoors || why != "external" {
		t.Errorf("outside: %v, %s", e, why)
	}
}

// The edge of a recess that is as deep as the host, less 1 mm at most, is that of
// an opening, and a depth below the face is told from 5 mm on.
func TestWordsOfAnEdge(t *testing.T) {
	void := func(deep float64) *model.Void {
		m := boxMesh(geom.V(100, 0, 100), geom.V(200, deep, 200))
		return &model.Void{Ref: model.Ref{Name: "V-1"}, Mesh: m, Box: m.Box()}
	}
	h := &model.Host{Voids: []*model.Void{{Box: geom.BoxOf(geom.V(0, 0, 0), geom.V(900, 900, 900))}, nil}} // the first has no body
	solid := geom.NewSolid(boxMesh(geom.V(0, 0, 0), geom.V(3000, 200, 2500)))
	in := &model.Entry{Solid: solid, Normal: geom.V(0, -1, 0), Point: geom.V(300, 0, 150), Thickness: 200}
	for _, c := range []struct {
		deep float64
		want string
	}{{200, "the edge of opening V-1 beside it"}, {199.1, "the edge of opening V-1 beside it"}, {198.9, "the edge of recess V-1 beside it"}} {
		h.Voids[1] = void(c.deep)
		got, others := edgeWords(h, in, measure.Edge{At: geom.V(200, 0, 150), Dir: geom.V(0, 1, 0)})
		if got != c.want || len(others) != 1 {
			t.Errorf("%v mm deep: %s, %v", c.deep, got, others)
		}
	}
	h.Voids = nil
	for _, c := range []struct{ below, want string }{{"4.99", "the nearest edge"}, {"5.01", "the nearest edge, 5 mm below the face"}} {
		depth := 4.99
		if c.below == "5.01" {
			depth = 5.01
		}
		got, _ := edgeWords(h, in, measure.Edge{At: geom.V(500, depth, 150), Dir: geom.V(0, 1, 0), Depth: depth})
		if got != c.want {
			t.Errorf("%s mm below: %s", c.below, got)
		}
	}
	for _, c := range []struct {
		at   geom.Vec
		want bool
	}{{geom.V(200.9, 50, 150), true}, {geom.V(201.1, 50, 150), false}} {
		h.Voids = []*model.Void{void(100)}
		if got := voidAt(h, c.at); (got != nil) != c.want {
			t.Errorf("%v: %v", c.at, got)
		}
	}
	if got := depth(&geom.Mesh{}, geom.V(0, 0, 1)); got != 0 {
		t.Errorf("a mesh without corners is %v deep", got)
	}
}

// An exact half of a set on each of two faces: the face that comes first counts;
// around a column, where no face holds more than half, nothing is told.
func TestFacesThatHoldHalfASet(t *testing.T) {
	build := func(sides ...geom.Vec) func(*scene) {
		return func(s *scene) {
			h := s.host("IfcColumn", "C", boxMesh(geom.V(0, 0, 0), geom.V(400, 400, 3000)))
			var items []*model.Item
			for i, n := range sides {
				middle := geom.V(200, 200, 500+150*float64(i))
				items = append(items, s.add(h, spec{kind: model.Socket, name: string(rune('A' + i)), open: middle.Add(n.Mul(200)), dir: n.Neg(), d: 16, length: 100}))
			}
			s.set("S", items...)
		}
	}
	x, y := geom.V(1, 0, 0), geom.V(0, 1, 0)
	check(t, FaceSide, Builtin(), "two and two", []float64{200, 200}, build(x, x, y, y))
	check(t, FaceSide, Builtin(), "two of four on three faces", nil, build(x, x, y, y.Neg()))
	check(t, FaceSide, Builtin(), "three of five on three faces", []float64{200, 200}, build(x, x, x, y, y.Neg()))
	f := onlyScene(t, FaceSide, Builtin(), build(x, x, y, y))
	if f.Priority == finding.Note || len(f.Instances) != 2 || f.Instances[0].Item.Name != "C" && f.Instances[0].Item.Name != "D" {
		t.Errorf("got %+v", f.Instances)
	}
}
