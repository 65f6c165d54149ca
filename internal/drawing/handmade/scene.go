// Package handmade builds small domain models by hand, for the tests of drawings
// and pictures: no file is read for them.
package handmade

import (
	"fmt"
	"math"

	"embedcheck/internal/geom"
	"embedcheck/internal/measure"
	"embedcheck/internal/model"
)

// Scene is a model that may be turned and moved as a whole: everything is given
// as drawn, in mm.
type Scene struct {
	At    geom.Affine
	Model *model.Model
	names []string // of bar marks
}

// New is an empty scene in a frame.
func New(at geom.Affine) *Scene {
	return &Scene{At: at, Model: &model.Model{Sources: []model.Source{{Path: "hand.ifc", Name: "hand.ifc"}}}}
}

func (s *Scene) ref(class, name string) model.Ref {
	n := len(s.Model.Hosts)*1000 + len(s.Model.Items)
	return model.Ref{GlobalID: fmt.Sprintf("%s-%d", class, n), Class: class, Name: name, Instance: uint64(n + 1)}
}

// Host is a piece of concrete less openings.
func (s *Scene) Host(class, name string, body *geom.Mesh, voids ...*geom.Mesh) *model.Host {
	body = body.Transform(s.At)
	h := &model.Host{Ref: s.ref(class, name), Body: body, Frame: s.At, Box: body.Box()}
	var less []*geom.Mesh
	for i, v := range voids {
		m := v.Transform(s.At)
		less = append(less, m)
		r := s.ref("IfcOpeningElement", fmt.Sprintf("OP-%d", i+1))
		h.Voids = append(h.Voids, &model.Void{Ref: r, Mesh: m, Box: m.Box()})
	}
	h.Solid = geom.NewSolid(body, less...)
	s.Model.Hosts = append(s.Model.Hosts, h)
	return h
}

// Rod is a cast-in item with one axis. Lengths run from the open end.
type Rod struct {
	Kind      model.Kind
	Name      string
	Size      string
	Open, Dir geom.Vec
	D, Length float64
	Head      float64  // thickness of the head; 0 without one
	HeadSize  float64  // across
	Hook      geom.Vec // direction of a J hook; zero without one
}

// Add casts an item into a host; nil for none.
func (s *Scene) Add(h *model.Host, r Rod) *model.Item {
	it := &model.Item{Ref: s.ref("IfcMechanicalFastener", r.Name), Kind: r.Kind, Host: h, Size: r.Size}
	a := &model.Anchor{
		Item: it, Open: s.At.Apply(r.Open), Dir: s.At.Turn(r.Dir.Unit()), Length: r.Length, Diameter: r.D,
		Bearing: r.Length - r.Head, Deepest: r.Length,
	}
	shank := geom.Rod{Radius: r.D / 2, Path: []geom.Vec{a.Open, a.At(r.Length)}}
	if r.Hook != (geom.Vec{}) {
		hook(a, s.At.Turn(r.Hook.Unit()), &shank)
	}
	it.Bodies = []model.Body{{Rod: &shank, Box: shank.Box()}}
	if r.Head > 0 {
		a.End, a.HeadSize = model.Headed, r.HeadSize
		head := geom.Rod{Radius: r.HeadSize / 2, Path: []geom.Vec{a.At(r.Length - r.Head), a.At(r.Length)}}
		it.Bodies = append(it.Bodies, model.Body{Rod: &head, Box: head.Box()})
	}
	it.Anchors = []*model.Anchor{a}
	s.place(h, it)
	return it
}

// hook bends a J hook of an inner radius of 1.5 diameters to the end of a shank.
func hook(a *model.Anchor, to geom.Vec, shank *geom.Rod) {
	r := 2 * a.Diameter
	mid := a.At(a.Length - r).Add(to.Mul(r))
	a.Hook = nil
	for i := range 13 {
		sin, cos := math.Sincos(math.Pi * float64(i) / 12)
		a.Hook = append(a.Hook, mid.Sub(to.Mul(r*cos)).Add(a.Dir.Mul(r*sin)))
	}
	a.Hook = append(a.Hook, a.Hook[12].Sub(a.Dir.Mul(2*a.Diameter)))
	shank.Path = append([]geom.Vec{a.Open}, a.Hook...)
	a.End, a.Bearing, a.Deepest, a.Length = model.Hooked, a.Length-a.Diameter/2, a.Length+a.Diameter/2, a.Length-r
}

// place adds an item to a host and measures where its anchors enter.
func (s *Scene) place(h *model.Host, it *model.Item) {
	it.Box = geom.EmptyBox
	for _, b := range it.Bodies {
		it.Box = it.Box.Union(b.Box)
	}
	if h != nil {
		h.Items = append(h.Items, it)
		for _, a := range it.Anchors {
			a.Entry = measure.Entry(a, h.Solid, false)
		}
	}
	s.Model.Items = append(s.Model.Items, it)
}

// Plate is a cast-in plate w x h x thick around a point, with its outer face
// there, looking against dir, and four headed studs.
func (s *Scene) Plate(h *model.Host, name string, at, dir, x geom.Vec, w, ht, thick, studX, studY float64) *model.Item {
	f := geom.FrameZX(s.At.Apply(at), s.At.Turn(dir), s.At.Turn(x))
	it := &model.Item{Ref: s.ref("IfcDiscreteAccessory", name), Kind: model.Plate, Host: h, Thick: thick,
		Size: fmt.Sprintf("plate %.0f x %.0f x %.0f", w, ht, thick)}
	m := geom.BoxMesh(geom.V(-w/2, -ht/2, 0), geom.V(w/2, ht/2, thick)).Transform(f)
	it.Bodies = []model.Body{{Mesh: m, Box: m.Box()}}
	for _, c := range [4]geom.Vec{{X: -w / 2, Y: ht / 2}, {X: w / 2, Y: ht / 2}, {X: w / 2, Y: -ht / 2}, {X: -w / 2, Y: -ht / 2}} {
		it.Outline = append(it.Outline, f.Apply(c))
	}
	const d, long, head = 16, 100, 8
	for i, c := range [4]geom.Vec{{X: -studX, Y: -studY}, {X: studX, Y: -studY}, {X: studX, Y: studY}, {X: -studX, Y: studY}} {
		a := &model.Anchor{Item: it, Index: i, Open: f.Apply(c), Dir: f.Z, Length: thick + long, Diameter: d,
			End: model.Headed, Bearing: thick + long - head, Deepest: thick + long, HeadSize: 2 * d}
		shank := geom.Rod{Radius: d / 2, Path: []geom.Vec{a.At(thick), a.At(thick + long)}}
		top := geom.Rod{Radius: d, Path: []geom.Vec{a.At(thick + long - head), a.At(thick + long)}}
		it.Bodies = append(it.Bodies, model.Body{Rod: &shank, Box: shank.Box()}, model.Body{Rod: &top, Box: top.Box()})
		it.Anchors = append(it.Anchors, a)
	}
	s.place(h, it)
	if h != nil {
		probe := &model.Anchor{Item: it, Open: f.T, Dir: f.Z, Length: thick + 50, Deepest: thick + 50}
		it.PlateIn = measure.Entry(probe, h.Solid, false)
	}
	return it
}

// Template is a plate that stays outside, a box between two corners.
func (s *Scene) Template(h *model.Host, name string, lo, hi geom.Vec) *model.Item {
	m := geom.BoxMesh(lo, hi).Transform(s.At)
	it := &model.Item{Ref: s.ref("IfcPlate", name), Kind: model.Template, Host: h, Bodies: []model.Body{{Mesh: m, Box: m.Box()}}}
	s.place(h, it)
	return it
}

// Set joins items; a template among them is the set's.
func (s *Scene) Set(name string, items ...*model.Item) *model.Set {
	set := &model.Set{Name: name, Items: items}
	for _, it := range items {
		it.Set = set
		set.Anchors = append(set.Anchors, it.Anchors...)
		if it.Kind == model.Template {
			set.Template = it
		}
	}
	s.Model.Sets = append(s.Model.Sets, set)
	return set
}

// Bar adds one bar with a mark of its own.
func (s *Scene) Bar(name string, d float64, path ...geom.Vec) {
	b := &s.Model.Bars
	if b.Resolve == nil {
		b.Resolve = []func(uint64) model.Ref{func(i uint64) model.Ref {
			return model.Ref{GlobalID: fmt.Sprint("bar-", i), Class: "IfcReinforcingBar", Name: s.names[i], Instance: i}
		}}
	}
	b.Marks = append(b.Marks, model.BarMark{Instance: uint64(len(b.Marks))})
	s.names = append(s.names, name)
	from := int32(len(b.Points))
	for _, p := range path {
		b.Points = append(b.Points, s.At.Apply(p))
	}
	b.Pieces = append(b.Pieces, model.Piece{Mark: int32(len(b.Marks) - 1), From: from, To: int32(len(b.Points)), Radius: float32(d / 2)})
}
