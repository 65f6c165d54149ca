package shape

import (
	"strings"
	"sync"

	"embedcheck/ifcread"
	"embedcheck/internal/geom"
)

// Rods calls visit for every rod that the body of a product consists of and
// reports whether the body consists of rods only. The path is in mm, in
// coordinates that at maps to those of the object; at may scale the radius too.
// The path is only valid during the call.
//
// When ok is false, nothing that was visited counts: the body holds something
// else, or there is none, and Shape tells more. Nothing is kept for a bar of its
// own, so that a model of a million bars costs no more memory than its rods.
func (r *Reader) Rods(product ifcread.Inst, visit func(path []geom.Vec, radius float64, at geom.Affine)) (ok bool) {
	def, ok := product.Arg(6).Inst()
	if !ok || def.Type() != tProductShape {
		return false
	}
	var items ifcread.Value
	bodies := 0
	for v := range def.Arg(2).All() {
		rep, ok := v.Inst()
		if !ok || rep.Type() != tRepresentation {
			return false
		}
		var buf [4]ifcread.Value
		if a := rep.Args(buf[:0]); len(a) > 3 && strings.EqualFold(string(a[1].Raw()), "'body'") {
			items = a[3]
			bodies++
		}
	}
	if bodies != 1 {
		return false
	}
	n := 0
	for v := range items.All() {
		item, ok := v.Inst()
		if !ok || !r.rodItem(item, visit) {
			return false
		}
		n++
	}
	return n > 0
}

// rodItem visits the rods of one item.
func (r *Reader) rodItem(item ifcread.Inst, visit func([]geom.Vec, float64, geom.Affine)) bool {
	if item.Type() == tMappedItem {
		return r.mappedRods(item, visit)
	}
	b := rodBuffers.Get().(*rodBuffer)
	defer rodBuffers.Put(b)
	rod, at, ok := r.rod(item, b)
	if ok = ok && r.spend(len(rod.Path)); ok {
		visit(rod.Path, rod.Radius, at)
	}
	return ok
}

// rodBuffer is room for one path.
type rodBuffer struct {
	pts []geom.Vec
	rod geom.Rod
}

var rodBuffers = sync.Pool{New: func() any { return new(rodBuffer) }}

// rod evaluates a solid that may be a rod, without keeping anything. The disk
// along a whole polyline, the form of nearly all bars, has a short way.
func (r *Reader) rod(item ifcread.Inst, b *rodBuffer) (rod *geom.Rod, at geom.Affine, ok bool) {
	switch item.Type() {
	case tDisk:
		if r.diskOnPolyline(item, b) {
			return &b.rod, b.recentre(), true
		}
	case tDiskPolygonal, tExtruded, tRevolved:
	default:
		return nil, at, false
	}
	s, err := r.evaluate(item, 0)
	if err != nil || s.Rod == nil {
		return nil, at, false
	}
	return s.Rod, geom.Identity.Shift(s.origin), true
}

// diskOnPolyline fills b with an IfcSweptDiskSolid along all of an IfcPolyline.
func (r *Reader) diskOnPolyline(in ifcread.Inst, b *rodBuffer) bool {
	var buf [5]ifcread.Value
	a := in.Args(buf[:0])
	if len(a) < 5 {
		return false
	}
	dir, ok := a[0].Inst()
	if !ok || dir.Type() != tPolyline {
		return false
	}
	radius := number(a[1]) * r.units.Length
	if !(radius > 0 && radius < maxCoord) || !a[2].IsNull() {
		return false
	}
	b.pts = b.pts[:0]
	for v := range dir.Arg(0).All() {
		q, ok := v.Inst()
		if !ok {
			return false
		}
		p, err := r.point(q)
		if err != nil || len(b.pts) > 0 && p.Dist(b.pts[len(b.pts)-1]) <= minEdge {
			return false
		}
		b.pts = append(b.pts, p)
	}
	if len(b.pts) < 2 || !wholePolyline(a[3], a[4], len(b.pts)) {
		return false
	}
	b.rod = geom.Rod{Path: b.pts, Radius: radius}
	return true
}

// wholePolyline reports whether the trims leave the whole of n points in a way
// that needs no further look.
func wholePolyline(from, to ifcread.Value, n int) bool {
	if !from.IsNull() && number(from) != 0 {
		return false
	}
	if to.IsNull() {
		return true
	}
	end := number(to)
	return end == 1 || end == float64(n-1)
}

// recentre moves a path that lies far away to an origin of its own.
func (b *rodBuffer) recentre() geom.Affine {
	o := originFor(b.pts[0])
	if o != (geom.Vec{}) {
		for i, p := range b.pts {
			b.pts[i] = p.Sub(o)
		}
	}
	return geom.Identity.Shift(o)
}

// mappedRods visits the rods of an IfcMappedItem.
func (r *Reader) mappedRods(item ifcread.Inst, visit func([]geom.Vec, float64, geom.Affine)) bool {
	rep, at, err := r.mapOf(item)
	if err != nil {
		return false
	}
	list, ok := r.maps.get(rep.ID())
	if !ok {
		list = r.rodsOf(rep)
		r.maps.put(rep.ID(), list)
	}
	for _, p := range list {
		if !r.spend(len(p.rod.Path)) {
			return false
		}
		visit(p.rod.Path, p.rod.Radius, at.Mul(p.at))
	}
	return len(list) > 0
}

// placedRod is a rod of a mapped representation.
type placedRod struct {
	rod geom.Rod
	at  geom.Affine
}

// rodsOf is the rods of a mapped representation, nil when it holds anything
// else, further maps with it.
func (r *Reader) rodsOf(rep ifcread.Inst) []placedRod {
	var out []placedRod
	var b rodBuffer
	for v := range rep.Arg(3).All() {
		item, ok := v.Inst()
		if !ok {
			return nil
		}
		rod, at, ok := r.rod(item, &b)
		if !ok {
			return nil
		}
		own := *rod
		own.Path = append([]geom.Vec(nil), rod.Path...)
		out = append(out, placedRod{own, at})
	}
	return out
}

// recentMaps keeps the rods of the representations that were mapped last. In
// many files each bar maps a representation that only it uses, so the number is
// bounded.
type recentMaps struct {
	mu sync.Mutex
	m  map[ifcread.ID][]placedRod
}

const maxRecent = 4096

func (c *recentMaps) get(id ifcread.ID) ([]placedRod, bool) {
	c.mu.Lock()
	defer c.mu.Unlock()
	l, ok := c.m[id]
	return l, ok
}

func (c *recentMaps) put(id ifcread.ID, l []placedRod) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.m == nil || len(c.m) >= maxRecent {
		c.m = make(map[ifcread.ID][]placedRod)
	}
	c.m[id] = l
}
