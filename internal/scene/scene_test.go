package scene_test

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"embedcheck/internal/check"
	"embedcheck/internal/demo"
	"embedcheck/internal/drawing/handmade"
	"embedcheck/internal/drawing/subject"
	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/ifcbuild"
	"embedcheck/internal/model"
	"embedcheck/internal/scene"
	"embedcheck/rules"
)

// unpacked is a scene as the documentation of the package describes it, read
// with encoding/binary and encoding/json and nothing of the packer.
type unpacked struct {
	Names []struct {
		N, M, K, C, G string
	}
	Bodies []int
	Views  []*struct {
		Shown                           [6][]int
		Centre, Back, Entry, Axis, Side geom3
		Radius                          float64
		Cuts                            bool
		From, To                        *geom3
	}
	shapes []shape
}

type geom3 [3]float64

// shape is a body in mm from the scene's origin.
type shape struct {
	step          float64 // mm
	points        []geom.Vec
	tris          [][3]int
	rod           bool
	radius, inner float64
}

func unpack(t *testing.T, data []byte) *unpacked {
	t.Helper()
	n := binary.LittleEndian.Uint32(data)
	u := &unpacked{}
	if err := json.Unmarshal(data[4:4+n], u); err != nil {
		t.Fatal(err)
	}
	r := bytes.NewReader(data[4+n:])
	next := func() int64 {
		v, err := binary.ReadVarint(r)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	points := func(s *shape, n int64) {
		s.points = make([]geom.Vec, n)
		for axis := range 3 {
			var at int64
			for i := range s.points {
				at += next()
				*[]*float64{&s.points[i].X, &s.points[i].Y, &s.points[i].Z}[axis] = float64(at) * s.step
			}
		}
	}
	for range u.Bodies {
		s := shape{rod: next() == 1, step: float64(next()) / 10}
		if s.rod {
			s.radius, s.inner = float64(next())*s.step, float64(next())*s.step
			points(&s, next())
		} else {
			verts, tris := next(), next()
			points(&s, verts)
			fresh := int64(0)
			for range tris {
				var tri [3]int
				for k := range tri {
					i := fresh - next()
					tri[k] = int(i)
					if i == fresh {
						fresh++
					}
				}
				s.tris = append(s.tris, tri)
			}
		}
		u.shapes = append(u.shapes, s)
	}
	if r.Len() != 0 {
		t.Errorf("%d bytes are left behind the last body", r.Len())
	}
	return u
}

// bodies are those that view i shows in a role.
func (u *unpacked) bodies(i int, r subject.Role) []int {
	at, list := 0, []int{}
	for _, d := range u.Views[i].Shown[r] {
		at += d
		list = append(list, at)
	}
	return list
}

// finest is the step in mm; a place is off by half of it at most.
const finest = 0.1

// holds compares what a scene shows of findings with the bodies of the model,
// and gives how many were compared.
func holds(t *testing.T, m *model.Model, all []*finding.Finding) int {
	t.Helper()
	x := subject.NewIndex(m)
	data, err := scene.New(x).Of(all)
	if err != nil {
		t.Fatal(err)
	}
	u := unpack(t, data)
	if len(u.Views) != len(all) {
		t.Fatalf("%d views of %d findings", len(u.Views), len(all))
	}
	n := 0
	var origin geom.Vec
	placed := false
	for i, f := range all {
		s, err := x.Of(f)
		if (err != nil) != (u.Views[i] == nil) {
			t.Fatalf("%s: view is %v, subject %v", f.Title, u.Views[i], err)
		}
		if err != nil {
			continue
		}
		if !placed {
			e := s.Entry()
			origin, placed = geom.V(math.Round(e.X), math.Round(e.Y), math.Round(e.Z)), true
		}
		o := s.Outlook()
		for what, c := range map[string]struct {
			got  geom3
			want geom.Vec
		}{"entry": {u.Views[i].Entry, s.Entry().Sub(origin)}, "centre": {u.Views[i].Centre, o.Centre.Sub(origin)}} {
			if d := geom.V(c.got[0], c.got[1], c.got[2]).Sub(c.want); max(math.Abs(d.X), math.Abs(d.Y), math.Abs(d.Z)) > finest/2+1e-6 {
				t.Errorf("%s: %s is off by %v", f.Title, what, d)
			}
		}
		n += u.compare(t, i, s, origin)
	}
	return n
}

// want is a body of the model that a scene has to show.
type want struct {
	rod  *geom.Rod
	mesh *geom.Mesh
	ref  *model.Ref
}

// wanted are the bodies of a finding by role, as the model has them.
func wanted(s *subject.Subject) (list [6][]want) {
	host, other := s.Hosts()
	if host != nil {
		list[subject.TheHost] = []want{{mesh: host.Mesh(), ref: &s.Host.Ref}}
	}
	if other != nil {
		list[subject.OtherHost] = []want{{mesh: other.Mesh(), ref: &s.Aim.Host.Ref}}
	}
	r := s.Outlook().Radius
	for _, a := range s.ItemsAround(r) {
		for k := range a.Item.Bodies {
			b := &a.Item.Bodies[k]
			ref := &a.Item.Ref
			if b.Ref != nil {
				ref = b.Ref
			}
			list[a.Role] = append(list[a.Role], want{b.Rod, b.Mesh, ref})
		}
	}
	for _, b := range s.BarsAround(r) {
		ref := s.Index.Ref(&b.Bar)
		list[b.Role] = append(list[b.Role], want{b.Rod, b.Mesh, &ref})
	}
	return list
}

func (u *unpacked) compare(t *testing.T, i int, s *subject.Subject, origin geom.Vec) int {
	t.Helper()
	n := 0
	for role, list := range wanted(s) {
		got := u.bodies(i, subject.Role(role))
		if len(got) != len(list) {
			t.Errorf("%s: %d bodies of role %d, the model has %d", s.Finding.Title, len(got), role, len(list))
			continue
		}
		for k, w := range list {
			b := u.shapes[got[k]]
			if name := u.Names[u.Bodies[got[k]]]; name.N != finding.Plain(w.ref.Name) || name.G != w.ref.GlobalID || name.M != finding.Plain(w.ref.Mark) {
				t.Errorf("%s: body is called %v, it is %v", s.Finding.Title, name, w.ref)
			}
			if why := b.differs(&w, origin); why != "" {
				t.Errorf("%s, role %d, body %d: %s", s.Finding.Title, role, k, why)
			}
			n++
		}
	}
	return n
}

// differs says what tells a body from that of the model by more than half a
// step.
func (b *shape) differs(w *want, origin geom.Vec) string {
	off := func(p, q geom.Vec) bool {
		d := p.Sub(q.Sub(origin))
		return !(max(math.Abs(d.X), math.Abs(d.Y), math.Abs(d.Z)) <= b.step/2+1e-6)
	}
	if b.rod != (w.rod != nil) {
		return "a rod is a mesh, or the other way round"
	}
	if b.rod {
		if math.Abs(b.radius-w.rod.Radius) > b.step/2+1e-9 || math.Abs(b.inner-w.rod.Inner) > b.step/2+1e-9 {
			return fmt.Sprintf("radii %v and %v", b.radius, b.inner)
		}
		// Points of the path in their order; those that fall together are one.
		k := 0
		for _, p := range w.rod.Path {
			if off(b.points[k], p) && k+1 < len(b.points) {
				k++
			}
			if off(b.points[k], p) {
				return fmt.Sprintf("no point at %v", p)
			}
		}
		if k != len(b.points)-1 {
			return "points that the rod has not"
		}
		return ""
	}
	// Triangles in their order; one that is too thin for the step may be missing.
	k := 0
	for i := range w.mesh.Tris {
		a, c, d := w.mesh.Tri(i)
		if k < len(b.tris) && !off(b.points[b.tris[k][0]], a) && !off(b.points[b.tris[k][1]], c) && !off(b.points[b.tris[k][2]], d) {
			k++
		} else if least := min(a.Dist(c), c.Dist(d), d.Dist(a)); least > b.step*math.Sqrt(3) {
			return fmt.Sprintf("triangle %d is missing, its shortest side %v mm", i, least)
		}
	}
	if k != len(b.tris) {
		return "triangles that the mesh has not"
	}
	return ""
}

func pointers(all []finding.Finding) []*finding.Finding {
	list := make([]*finding.Finding, len(all))
	for i := range all {
		list[i] = &all[i]
	}
	return list
}

// Bodies come back as they lie, wherever and however the host lies: turned,
// standing, askew, far from the origin.
func TestBodiesComeBack(t *testing.T) {
	for _, build := range []func(geom.Affine) *handmade.Scene{handmade.Panel, handmade.Lifter, handmade.PlateAtOpening, handmade.Footing} {
		for _, p := range handmade.Placements {
			for _, far := range []geom.Vec{{}, geom.V(3.2e6, -5.5e6, 4e5)} {
				at := p.At
				at.T = at.T.Add(far)
				s := build(at)
				all, err := rules.Run(s.Model, rules.Builtin(), 1)
				if err != nil {
					t.Fatal(err)
				}
				if n := holds(t, s.Model, pointers(all)); n < 2 {
					t.Errorf("%s: %d bodies were compared", p.Name, n)
				}
			}
		}
	}
}

// TestBodiesOfModelsComeBack reads models in millimetres, metres and inches.
func TestBodiesOfModelsComeBack(t *testing.T) {
	inches := filepath.Join(t.TempDir(), "inches.ifc")
	var b bytes.Buffer
	if _, err := (demo.Yard{Panels: 12, Schema: ifcbuild.IFC4, Unit: ifcbuild.Inch}).Write(&b); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(inches, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	for name, pattern := range map[string]string{
		"demo":   filepath.Join("..", "..", "testdata", "demo", "*.ifc"),
		"inches": inches,
		"public": filepath.Join("..", "..", "..", "shared", "data", "models", "*.ifc"),
	} {
		t.Run(name, func(t *testing.T) {
			paths, err := filepath.Glob(pattern)
			if err != nil {
				t.Fatal(err)
			}
			if len(paths) == 0 {
				t.Skipf("no models at %s", pattern)
			}
			m, run, err := check.Run(paths, check.Options{Rules: rules.Builtin()})
			if err != nil {
				t.Fatal(err)
			}
			if n := holds(t, m, pointers(run.Findings)); n < 5 {
				t.Errorf("%d bodies were compared", n)
			}
		})
	}
}

// A body that several findings show is there once, and a finding of which there
// is nothing to be seen keeps its place in the list.
func TestABodyIsThereOnce(t *testing.T) {
	s := handmade.Panel(geom.Identity)
	all, err := rules.Run(s.Model, rules.Builtin(), 1)
	if err != nil {
		t.Fatal(err)
	}
	f := &all[0]
	lost := &finding.Finding{ID: "lost"}
	maker := scene.New(subject.NewIndex(s.Model))
	once, err := maker.Of([]*finding.Finding{f})
	if err != nil {
		t.Fatal(err)
	}
	thrice, err := maker.Of([]*finding.Finding{f, lost, f, f})
	if err != nil {
		t.Fatal(err)
	}
	a, b := unpack(t, once), unpack(t, thrice)
	if len(a.Bodies) < 3 || len(b.Bodies) != len(a.Bodies) || len(b.Names) != len(a.Names) {
		t.Errorf("%d bodies for one finding, %d for three of the same", len(a.Bodies), len(b.Bodies))
	}
	if len(b.Views) != 4 || b.Views[0] == nil || b.Views[1] != nil || b.Views[3] == nil {
		t.Errorf("views are %v", b.Views)
	}
}

// Names of models are text: control characters and turns of the reading
// direction are taken out, markup stays what it is.
func TestHostileNames(t *testing.T) {
	s := handmade.Panel(geom.Identity)
	s.Model.Items[0].Name, s.Model.Items[0].Mark = "</script>\x1b[31m\u202e", "=cmd\x00"
	all, err := rules.Run(s.Model, rules.Builtin(), 1)
	if err != nil {
		t.Fatal(err)
	}
	data, err := scene.New(subject.NewIndex(s.Model)).Of(pointers(all))
	if err != nil {
		t.Fatal(err)
	}
	u := unpack(t, data)
	item := u.Names[u.Bodies[u.bodies(0, subject.TheItem)[0]]]
	if !strings.HasPrefix(item.N, "</script>") || strings.ContainsAny(item.N+item.M, "\x00\x1b\u202e") {
		t.Errorf("the item is called %+q", item)
	}
}
