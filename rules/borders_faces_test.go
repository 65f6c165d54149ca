package rules

import (
	"math"
	"strings"
	"testing"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/measure"
	"embedcheck/internal/model"
)

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

// The words for sides of a face begin at a cosine of 0.8; a face stands up to 0.7.
func TestWordsForSides(t *testing.T) {
	front := geom.V(0, -1, 0)
	at := func(x float64) geom.Vec { return geom.V(x, 0, math.Sqrt(1-x*x)) }
	up := func(z float64) geom.Vec { return geom.V(math.Sqrt(1-z*z), 0, z) }
	for _, c := range []struct {
		d    geom.Vec
		want string
	}{
		{at(0.801), "right-hand"}, {at(0.799), ""}, {at(-0.801), "left-hand"}, {at(-0.799), ""}, {up(0.801), "upper"}, {up(0.799), ""},
		{up(-0.801), "lower"}, {up(-0.799), ""},
	} {
		if got := sideWord(front, c.d); got != c.want {
			t.Errorf("%v: %q, want %q", c.d, got, c.want)
		}
	}
	for _, c := range []struct {
		z    float64
		want bool
	}{{0.699, true}, {0.701, false}, {-0.699, true}, {-0.701, false}} {
		if got := isUpright(geom.V(math.Sqrt(1-c.z*c.z), 0, c.z)); got != c.want {
			t.Errorf("z of %v: %v", c.z, got)
		}
	}
	one := &model.Item{Ref: model.Ref{Name: "P"}, Kind: model.Plate, Set: &model.Set{Name: "S"}}
	one.Anchors = []*model.Anchor{{Item: one}}
	one.Set.Anchors = one.Anchors
	if got := anchorName(one.Anchors[0]); got != "P" {
		t.Errorf("the only anchor of a set and of its item: %q", got)
	}
	if got := kindNoun(model.Other); got != "item" {
		t.Errorf("another kind: %q", got)
	}
	p := &model.Sheet{Item: &model.Item{Kind: model.Template}}
	if got := sheetName(p); got != "the template" {
		t.Errorf("a template without a name: %q", got)
	}
	if got := sheetName(&model.Sheet{}); got != "the base plate" {
		t.Errorf("a plate without a name: %q", got)
	}
}

// An item that stands out of the form face is told as that, and not a second time
// as one that is in another face than its set. A host without a body has no face.
func TestWrongFaceIsToldOnce(t *testing.T) {
	build := func(change func(*scene)) func(*scene) {
		return func(s *scene) {
			w := s.wall("W")
			w.Property = says("FaceUp", "-Y")
			s.set("HD", s.bolt(w, "A", 1000, 1000), s.bolt(w, "B", 1200, 1000), s.add(w, backBolt("C", 1400, 1000)))
			if change != nil {
				change(s)
			}
		}
	}
	check(t, FaceSide, Builtin(), "bolts on both faces", []float64{100}, build(nil))
	s := newScene(geom.Identity)
	build(func(s *scene) { s.m.Hosts[0].Body = nil })(s)
	for _, f := range only(t, FaceSide, s.m) {
		if strings.Contains(f.Message, "out of the form face") {
			t.Errorf("a face of a host without a body: %s", f.Message)
		}
	}
}

// A finding about a form belongs to its host, and the first of its namesakes is
// the first.
func TestFormsOfHosts(t *testing.T) {
	s := newScene(geom.Identity)
	a, b := s.wall("W"), s.wall("V")
	f := &formGroups{of: map[*model.Host]*group{}}
	x, y := f.group(s.m, a), f.group(s.m, b)
	if x.key == y.key || !strings.HasSuffix(x.key, "|form") || x.key == "|form" || x.twin != 0 || y.twin != 0 {
		t.Errorf("%q %d, %q %d", x.key, x.twin, y.key, y.twin)
	}
	if f.group(s.m, a) != x {
		t.Error("a form has two groups")
	}
}

// A host of a source that is not in the list has a note of its own.
func TestUnknownCastOfAnUnknownSource(t *testing.T) {
	s := newScene(geom.Identity)
	w := s.wall("W")
	s.bolt(w, "A", 1000, 1000)
	w.Source = 7
	if got := only(t, FaceSide, s.m); len(got) != 1 {
		t.Errorf("got %+v", got)
	}
}
