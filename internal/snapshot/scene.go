package snapshot

import (
	"math"

	"embedcheck/internal/drawing/subject"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// paint is what a body is drawn as.
type paint uint8

const (
	air paint = iota
	concrete
	cutFace // of the concrete
	otherHost
	theItem
	ofSet // other items
	named // bar, neighbour or item that the figure was measured to
	bar
)

// tri is a triangle to be drawn, in local coordinates.
type tri struct {
	p     [3]geom.Vec
	n     geom.Vec // unit; of round bodies not that of the facet but smooth enough
	paint paint
	body  uint16 // bodies are told apart by lines
}

type scene struct {
	s    *subject.Subject
	v    *view
	tris []tri
	body uint16
}

// mostTris is how many triangles of one body are drawn; of larger ones the box.
const mostTris = 200000

// tubeSides is the number of sides that round members are drawn with.
const tubeSides = 20

func newScene(s *subject.Subject, v *view) *scene {
	sc := &scene{s: s, v: v}
	sc.hosts()
	sc.items()
	sc.bars()
	return sc
}

// hosts adds the concrete behind the plane.
func (sc *scene) hosts() {
	host, other := sc.s.Hosts()
	if host != nil {
		sc.open(host.Mesh(), concrete, cutFace)
	}
	if other != nil {
		sc.open(other.Mesh(), otherHost, otherHost)
	}
}

// paints of what is no concrete.
var paints = map[subject.Role]paint{
	subject.TheItem: theItem, subject.OtherItem: ofSet, subject.Against: named, subject.OtherBar: bar,
}

// flat reports whether items of a kind are cut open, too: what is behind them
// would not be seen.
func flat(k model.Kind) bool {
	switch k {
	case model.Plate, model.Template, model.Channel, model.Former, model.Sleeve:
		return true
	}
	return false
}

func (sc *scene) items() {
	for _, a := range sc.s.ItemsAround(sc.v.radius) {
		for i := range a.Item.Bodies {
			sc.itemBody(a.Item, &a.Item.Bodies[i], paints[a.Role])
		}
	}
}

func (sc *scene) itemBody(it *model.Item, b *model.Body, p paint) {
	mesh := b.Mesh
	if b.Rod != nil {
		mesh = geom.Tube(*b.Rod, tubeSides)
	}
	if !sc.v.cuts {
		sc.whole(mesh, p)
		return
	}
	lo, _ := sc.side(mesh)
	switch {
	case flat(it.Kind) && b.Rod == nil && p != named:
		sc.open(mesh, p, p)
	case lo > 0 && p != named && !sc.ownsAnchor(it):
		// hangs in the part that is taken away
	case lo > 0 && it.Kind == model.Plate:
	default:
		sc.whole(mesh, p)
	}
}

// ownsAnchor reports whether the item carries the anchor that is looked at, and
// nothing but that.
func (sc *scene) ownsAnchor(it *model.Item) bool {
	return it == sc.s.Item && len(it.Anchors) < 2
}

// side is how far a body lies before (positive) and behind the plane.
func (sc *scene) side(m *geom.Mesh) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, p := range m.Verts {
		d := sc.v.cut.Dist(p)
		lo, hi = min(lo, d), max(hi, d)
	}
	return lo, hi
}

func (sc *scene) bars() {
	for _, b := range sc.s.BarsAround(sc.v.radius) {
		p := paints[b.Role]
		switch {
		case b.Mesh != nil && (p == named || !sc.v.cuts):
			sc.whole(b.Mesh, p)
		case b.Mesh != nil:
			sc.open(b.Mesh, p, p)
		case !sc.v.cuts:
			sc.whole(geom.Tube(*b.Rod, tubeSides), p)
		case p == named: // a stub of it stands out of the cut
			out := sc.v.cut
			out.D += max(4*b.Rod.Radius, 40)
			for _, r := range behind(*b.Rod, out) {
				sc.whole(geom.Tube(r, tubeSides), p)
			}
		default:
			for _, r := range behind(*b.Rod, sc.v.cut) {
				sc.whole(geom.Tube(r, 12), p)
			}
		}
	}
}

// behind is the parts of a rod whose axis lies behind a plane.
func behind(r geom.Rod, cut geom.Plane) []geom.Rod {
	var out []geom.Rod
	var path []geom.Vec
	flush := func() {
		if len(path) > 1 {
			out = append(out, geom.Rod{Path: path, Radius: r.Radius, Inner: r.Inner})
		}
		path = nil
	}
	for i, p := range r.Path {
		d := cut.Dist(p)
		if i > 0 {
			q := r.Path[i-1]
			if e := cut.Dist(q); (e > 0) != (d > 0) {
				path = append(path, q.Lerp(p, e/(e-d)))
				if d > 0 {
					flush()
				}
			}
		}
		if d <= 0 {
			path = append(path, p)
		}
	}
	flush()
	return out
}

// whole adds a body as it is.
func (sc *scene) whole(m *geom.Mesh, p paint) {
	if len(m.Tris) > mostTris {
		b := m.Box()
		m = geom.BoxMesh(b.Min, b.Max)
	}
	sc.body++
	for i := range m.Tris {
		a, b, c := m.Tri(i)
		sc.add(a, b, c, p)
	}
}

func (sc *scene) add(a, b, c geom.Vec, p paint) {
	n := b.Sub(a).Cross(c.Sub(a)).Unit()
	if n == (geom.Vec{}) || !a.Finite() || !b.Finite() || !c.Finite() {
		return
	}
	sc.tris = append(sc.tris, tri{[3]geom.Vec{a, b, c}, n, p, sc.body})
}

// open adds the part of a body behind the plane, and its cut.
func (sc *scene) open(m *geom.Mesh, p, cut paint) {
	if !sc.v.cuts {
		sc.whole(m, p)
		return
	}
	if len(m.Tris) > mostTris {
		b := m.Box()
		m = geom.BoxMesh(b.Min, b.Max)
	}
	sc.body++
	pl := sc.v.cut
	for i := range m.Tris {
		a, b, c := m.Tri(i)
		poly := clipBehind([]geom.Vec{a, b, c}, pl)
		for k := 2; k < len(poly); k++ {
			sc.add(poly[0], poly[k-1], poly[k], p)
		}
	}
	f := pl.Frame()
	for _, poly := range m.Section(pl) {
		all := poly.Outer
		for _, h := range poly.Holes {
			all = append(all[:len(all):len(all)], h...)
		}
		at := func(i int) geom.Vec { return f.Apply(geom.V(all[i].X, all[i].Y, 0)) }
		for _, t := range geom.Triangulate(poly.Outer, poly.Holes) {
			sc.add(at(t[0]), at(t[1]), at(t[2]), cut)
		}
	}
}

// clipBehind is the part of a convex polygon behind a plane.
func clipBehind(poly []geom.Vec, pl geom.Plane) []geom.Vec {
	var out []geom.Vec
	for i, a := range poly {
		b := poly[(i+1)%len(poly)]
		da, db := pl.Dist(a), pl.Dist(b)
		if da <= 0 {
			out = append(out, a)
		}
		if (da < 0) != (db < 0) && da != db && da != 0 && db != 0 {
			out = append(out, a.Lerp(b, da/(da-db)))
		}
	}
	return out
}
