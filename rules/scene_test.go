package rules

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/measure"
	"embedcheck/internal/model"
)

// scene builds a model by hand, in mm, in a frame that may be turned and moved
// as a whole: no rule may depend on it.
type scene struct {
	at       geom.Affine
	m        *model.Model
	barNames []string
}

// placements are the frames that the measuring tests run in.
var placements = map[string]geom.Affine{
	"as drawn":       geom.Identity,
	"far away":       geom.Identity.Shift(geom.V(48000, -23500, 7250)),
	"turned in plan": {X: geom.V(0.8, 0.6, 0), Y: geom.V(-0.6, 0.8, 0), Z: geom.V(0, 0, 1), T: geom.V(500, 250, -80)},
	"lying":          {X: geom.V(1, 0, 0), Y: geom.V(0, 0, 1), Z: geom.V(0, -1, 0), T: geom.V(0, 0, 3000)},
	"askew":          geom.FrameZX(geom.V(120, -3000, 450), geom.V(1, 2, 3), geom.V(3, -1, 0.5)),
}

func newScene(at geom.Affine) *scene {
	return &scene{at: at, m: &model.Model{Sources: []model.Source{{Path: "a.ifc", Name: "a.ifc"}}}}
}

// id makes up a GlobalId.
func (s *scene) id(class string) string {
	return fmt.Sprintf("%s-%d", class, len(s.m.Hosts)*1000+len(s.m.Items))
}

// boxMesh is a box between two corners.
func boxMesh(a, b geom.Vec) *geom.Mesh {
	return &geom.Mesh{
		Verts: []geom.Vec{
			{X: a.X, Y: a.Y, Z: a.Z}, {X: b.X, Y: a.Y, Z: a.Z}, {X: b.X, Y: b.Y, Z: a.Z}, {X: a.X, Y: b.Y, Z: a.Z},
			{X: a.X, Y: a.Y, Z: b.Z}, {X: b.X, Y: a.Y, Z: b.Z}, {X: b.X, Y: b.Y, Z: b.Z}, {X: a.X, Y: b.Y, Z: b.Z},
		},
		Tris: [][3]int32{{0, 2, 1}, {0, 3, 2}, {4, 5, 6}, {4, 6, 7}, {0, 1, 5}, {0, 5, 4}, {1, 2, 6}, {1, 6, 5}, {2, 3, 7}, {2, 7, 6}, {3, 0, 4}, {3, 4, 7}},
		Face: []int32{0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 5, 5},
	}
}

// ringMesh is a box between two corners with a hole along y, from c to d in x
// and z.
func ringMesh(a, b, c, d geom.Vec) *geom.Mesh {
	m := &geom.Mesh{}
	for _, y := range [2]float64{a.Y, b.Y} {
		for _, p := range [8][2]float64{{a.X, a.Z}, {b.X, a.Z}, {b.X, b.Z}, {a.X, b.Z}, {c.X, c.Z}, {d.X, c.Z}, {d.X, d.Z}, {c.X, d.Z}} {
			m.Verts = append(m.Verts, geom.V(p[0], y, p[1]))
		}
	}
	quad := func(face int32, p, q, r, s int32) {
		m.Tris = append(m.Tris, [3]int32{p, q, r}, [3]int32{p, r, s})
		m.Face = append(m.Face, face, face)
	}
	for i := range int32(4) {
		j := (i + 1) % 4
		quad(0, i, j, 4+j, 4+i)         // front, seen from -y
		quad(1, 8+j, 8+i, 12+i, 12+j)   // back
		quad(2+i, j, i, 8+i, 8+j)       // outer sides
		quad(6+i, 4+i, 4+j, 12+j, 12+i) // sides of the hole
	}
	return m
}

func (s *scene) host(class, name string, mesh *geom.Mesh) *model.Host {
	mesh = mesh.Transform(s.at)
	h := &model.Host{
		Ref:   model.Ref{GlobalID: s.id(class), Class: class, Name: name, Instance: uint64(len(s.m.Hosts) + 1)},
		Solid: geom.NewSolid(mesh), Body: mesh, Frame: s.at, Box: mesh.Box(),
	}
	s.m.Hosts = append(s.m.Hosts, h)
	return h
}

// wall is 3000 x 200 x 2500 mm: its faces look along y, its foot is at zero.
func (s *scene) wall(name string) *model.Host {
	return s.host("IfcWall", name, boxMesh(geom.V(0, 0, 0), geom.V(3000, 200, 2500)))
}

// wallWithOpening is the same wall with an opening of 500 x 600 mm at (1000, 800).
func (s *scene) wallWithOpening(name string) *model.Host {
	h := s.host("IfcWall", name, ringMesh(geom.V(0, 0, 0), geom.V(3000, 200, 2500), geom.V(1000, 0, 800), geom.V(1500, 0, 1400)))
	h.Body = boxMesh(geom.V(0, 0, 0), geom.V(3000, 200, 2500)).Transform(s.at)
	void := boxMesh(geom.V(1000, 0, 800), geom.V(1500, 200, 1400)).Transform(s.at)
	h.Voids = []*model.Void{{Ref: model.Ref{GlobalID: s.id("void"), Class: "IfcOpeningElement", Name: "OP-1"}, Mesh: void, Box: void.Box()}}
	return h
}

// spec is an item with one straight anchor. Lengths run from the open end.
type spec struct {
	kind       model.Kind
	name, mark string
	open, dir  geom.Vec
	d, length  float64
	head       float64 // thickness of the head; 0 for a plain end
	hook       []geom.Vec
	noEntry    bool
	noAnchor   bool
	stated     model.Stated
}

// add casts an item into a host; nil for none.
func (s *scene) add(h *model.Host, c spec) *model.Item {
	it := &model.Item{
		Frame: s.at,
		Ref:   model.Ref{GlobalID: s.id("item"), Class: "IfcMechanicalFastener", Name: c.name, Mark: c.mark, Instance: uint64(1000 + len(s.m.Items))},
		Kind:  c.kind, Host: h, Stated: c.stated, Size: fmt.Sprintf("M%.0f", c.d),
	}
	a := &model.Anchor{
		Item: it, Open: s.at.Apply(c.open), Dir: s.at.Turn(c.dir.Unit()), Length: c.length, Diameter: c.d,
		Bearing: c.length - c.head, Deepest: c.length,
	}
	if c.head > 0 {
		a.End, a.HeadSize = model.Headed, 1.5*c.d
	}
	rod := &geom.Rod{Path: []geom.Vec{a.Open, a.At(c.length)}, Radius: c.d / 2}
	it.Bodies = []model.Body{{Rod: rod, Box: rod.Box()}}
	it.Box = rod.Box()
	if h != nil {
		h.Items = append(h.Items, it)
		if !c.noEntry {
			a.Entry = measure.Entry(a, h.Solid, false)
		}
	}
	for _, q := range c.hook {
		a.Hook, a.End = append(a.Hook, s.at.Apply(q)), model.Hooked
	}
	if !c.noAnchor {
		it.Anchors = []*model.Anchor{a}
	}
	s.m.Items = append(s.m.Items, it)
	return it
}

// bolt is an M20 bolt at (x, z) in the front face of a wall. It stands out
// 100 mm; its head bears 147 mm below the face and ends at 160 mm.
func (s *scene) bolt(h *model.Host, name string, x, z float64) *model.Item {
	return s.add(h, bolt(name, x, z))
}

func bolt(name string, x, z float64) spec {
	return spec{kind: model.Bolt, name: name, open: geom.V(x, -100, z), dir: geom.V(0, 1, 0), d: 20, length: 260, head: 13}
}

// plate is a cast-in plate without studs, its outer face in the front face of
// a wall, between two corners.
func (s *scene) plate(h *model.Host, name string, x0, z0, x1, z1, thick float64) *model.Item {
	return s.plateAt(h, name, x0, z0, x1, z1, 0, thick)
}

// plateAt is a plate whose outer face lies y mm below the face of the wall.
func (s *scene) plateAt(h *model.Host, name string, x0, z0, x1, z1, y, thick float64) *model.Item {
	mesh := boxMesh(geom.V(x0, y, z0), geom.V(x1, y+thick, z1)).Transform(s.at)
	it := &model.Item{
		Frame: s.at,
		Ref:   model.Ref{GlobalID: s.id("plate"), Class: "IfcDiscreteAccessory", Name: name, Instance: uint64(1000 + len(s.m.Items))},
		Kind:  model.Plate, Host: h, Size: fmt.Sprintf("plate %.0f x %.0f x %.0f", x1-x0, z1-z0, thick), Thick: thick,
		Bodies: []model.Body{{Mesh: mesh, Box: mesh.Box()}}, Box: mesh.Box(),
	}
	for _, c := range [4]geom.Vec{{X: x0, Y: y, Z: z0}, {X: x1, Y: y, Z: z0}, {X: x1, Y: y, Z: z1}, {X: x0, Y: y, Z: z1}} {
		it.Outline = append(it.Outline, s.at.Apply(c))
	}
	if h != nil {
		middle := s.at.Apply(geom.V((x0+x1)/2, y, (z0+z1)/2))
		probe := &model.Anchor{Item: it, Open: middle, Dir: s.at.Turn(geom.V(0, 1, 0)), Length: thick + 50, Deepest: thick + 50}
		it.PlateIn = measure.Entry(probe, h.Solid, false)
		h.Items = append(h.Items, it)
	}
	s.m.Items = append(s.m.Items, it)
	return it
}

// set joins items.
func (s *scene) set(name string, items ...*model.Item) *model.Set {
	set := &model.Set{Name: name, Items: items}
	for _, it := range items {
		it.Set = set
		set.Anchors = append(set.Anchors, it.Anchors...)
	}
	s.m.Sets = append(s.m.Sets, set)
	return set
}

// bar adds one bar with a mark of its own.
func (s *scene) bar(name string, d float64, path ...geom.Vec) {
	b := &s.m.Bars
	if b.Resolve == nil {
		b.Resolve = []func(uint64) model.Ref{func(i uint64) model.Ref {
			return model.Ref{GlobalID: fmt.Sprint("bar-", i), Class: "IfcReinforcingBar", Name: s.barNames[i], Instance: i}
		}}
	}
	b.Marks = append(b.Marks, model.BarMark{Instance: uint64(len(b.Marks))})
	s.barNames = append(s.barNames, name)
	s.piece(d, path...)
}

// piece adds one more bar to the last mark.
func (s *scene) piece(d float64, path ...geom.Vec) {
	b := &s.m.Bars
	from := int32(len(b.Points))
	for _, p := range path {
		b.Points = append(b.Points, s.at.Apply(p))
	}
	b.Pieces = append(b.Pieces, model.Piece{Mark: int32(len(b.Marks) - 1), From: from, To: int32(len(b.Points)), Radius: float32(d / 2)})
}

// only runs one rule with its built-in parameters.
func only(t testing.TB, r *Rule, m *model.Model) []finding.Finding {
	t.Helper()
	return onlyWith(t, r, m, Builtin())
}

func onlyWith(t testing.TB, r *Rule, m *model.Model, set *Set) []finding.Finding {
	t.Helper()
	found, err := run([]*Rule{r}, m, set, 1)
	if err != nil {
		t.Fatal(err)
	}
	return found
}

// measured are the measured values of all instances, sorted.
func measured(found []finding.Finding) []float64 {
	var out []float64
	for _, f := range found {
		for _, in := range f.Instances {
			out = append(out, in.Measured)
		}
	}
	slices.Sort(out)
	return out
}

// same compares values up to what geometry may be off.
func same(a, b []float64) bool {
	return slices.EqualFunc(a, b, func(x, y float64) bool { return math.Abs(x-y) < 1e-3 })
}

// limitFor is a set in which a rule has one limit for all items.
func limitFor(r *Rule, l ...Term) *Set {
	return &Set{Name: "test", Rules: map[string]Change{r.ID: {Limit: l}}}
}

// check runs a rule over a scene in all placements and compares the measured
// values.
func check(t *testing.T, r *Rule, set *Set, name string, want []float64, build func(s *scene)) {
	t.Helper()
	for where, at := range placements {
		s := newScene(at)
		build(s)
		got := measured(onlyWith(t, r, s.m, set))
		if !same(got, want) {
			t.Errorf("%s, %s: measured %v, want %v", name, where, got, want)
		}
	}
}

// sceneCase is a scene with the values that a rule measures in it.
type sceneCase struct {
	name  string
	set   *Set
	build func(*scene)
	want  []float64
}

func checkAll(t *testing.T, r *Rule, cases []sceneCase) {
	t.Helper()
	for _, c := range cases {
		check(t, r, c.set, c.name, c.want, c.build)
	}
}

// text is the sentence of a scene that is built as drawn, with one finding.
func text(t *testing.T, r *Rule, set *Set, build func(s *scene)) string {
	t.Helper()
	return onlyScene(t, r, set, build).Message
}

// onlyScene is the one finding of a scene that is built as drawn.
func onlyScene(t *testing.T, r *Rule, set *Set, build func(*scene)) finding.Finding {
	t.Helper()
	s := newScene(geom.Identity)
	build(s)
	found := onlyWith(t, r, s.m, set)
	if len(found) != 1 {
		t.Fatalf("%s: %d findings, want 1", r.ID, len(found))
	}
	return found[0]
}
