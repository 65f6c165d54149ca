package subject

import (
	"math"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/measure"
	"embedcheck/internal/model"
)

// Aim is what the figure was measured to, and the direction in the face that
// says most about the place.
type Aim struct {
	Dir      geom.Vec // unit, at a right angle to the axis: of the section
	From, To geom.Vec // the ends of the measured distance, where Known
	Known    bool
	Edge     *measure.Edge
	Anchor   *model.Anchor // neighbour
	Item     *model.Item   // another item
	Bar      *Bar
	Host     *model.Host // another host
}

// findAim fills s.Aim by what the figure measures.
func (s *Subject) findAim() {
	switch s.Quantity {
	case PlateEdge:
		s.aimOutline()
	case EdgeDistance:
		if s.OfItem {
			s.aimOutline()
		} else {
			s.aimEdge()
		}
	case Spacing, Level:
		s.aimNeighbour()
	case BarClearance:
		s.aimBar(200)
	case BarDistance:
		s.aimEdge()
		s.nearestBar()
	case ItemClearance:
		s.aimItem()
	case HookCover:
		s.aimHook()
	case InOther:
		s.Aim.Host = s.otherHost()
		s.aimEdge()
	case OutOfSquare:
		s.aimTilt()
	case Embedment, BackCover, Thickness, Projection:
		s.aimEdge()
		s.turnToHook()
	case NothingMeasured, Diameter, Flush:
		s.aimEdge()
		s.turnToFrame()
	default:
		s.aimEdge()
	}
	s.square()
}

// square makes the direction a unit one at a right angle to the axis, and finds
// one where there is none.
func (s *Subject) square() {
	axis := s.Axis()
	d := s.Aim.Dir.Sub(axis.Mul(axis.Dot(s.Aim.Dir)))
	if d.Norm() < 1e-6 && s.Anchor != nil && len(s.Group) > 1 {
		for _, a := range s.Group {
			d = a.Open.Sub(s.Anchor.Open)
			if d = d.Sub(axis.Mul(axis.Dot(d))); d.Norm() > s.Anchor.Diameter {
				break
			}
			d = geom.Vec{}
		}
	}
	if d.Norm() < 1e-6 {
		d = geom.FrameZX(geom.Vec{}, axis, s.frameAxis(axis)).X
	}
	s.Aim.Dir = d.Unit()
}

// frameAxis is an axis of the host that is not along the given one.
func (s *Subject) frameAxis(axis geom.Vec) geom.Vec {
	f := geom.Identity
	if s.Host != nil {
		f = s.Host.Frame
	}
	for _, x := range []geom.Vec{f.X, f.Y} {
		if x = x.Unit(); x != (geom.Vec{}) && math.Abs(x.Dot(axis)) < 0.7 {
			return x
		}
	}
	return axis.Perp()
}

func (s *Subject) aimEdge() {
	if s.Anchor == nil {
		if s.Item.PlateIn != nil {
			s.aimOutline()
		}
		return
	}
	if s.Anchor.Entry == nil {
		return
	}
	e, ok := measure.EdgeDistance(s.Anchor)
	if !ok || !e.At.Finite() || !e.Dir.Finite() {
		return
	}
	s.onSurface(&e)
	s.Aim.Edge, s.Aim.Dir = &e, e.Dir
	s.Aim.From = s.Anchor.Entry.Point
	s.Aim.To, s.Aim.Known = s.Aim.From.Add(e.Dir.Mul(e.Dist)), true
}

// onSurface sets the depth of an edge to the shallowest one at which there is
// surface at its distance.
func (s *Subject) onSurface(e *measure.Edge) {
	a := s.Anchor
	if a.Entry.Solid == nil {
		return
	}
	const near, steps = 0.3, 32 // mm
	m := a.Entry.Solid.Mesh()
	deep := max(min(a.Embedment(), a.Entry.Thickness), 1)
	for i := range steps + 1 {
		d := max(0.05, deep*float64(i)/steps)
		p := a.Entry.Point.Add(a.Dir.Mul(d)).Add(e.Dir.Mul(e.Dist))
		if _, dist, _ := m.Nearest(p); dist <= near {
			e.At, e.Depth = p, d*math.Abs(a.Dir.Dot(a.Entry.Normal))
			return
		}
	}
}

func (s *Subject) aimOutline() {
	e, ok := measure.PlateEdge(s.Item)
	if !ok || !e.At.Finite() || !e.Dir.Finite() {
		return
	}
	s.Aim.Edge, s.Aim.Dir = &e, e.Dir
	up := s.Item.PlateIn.Point.Sub(e.At).Dot(s.Item.PlateIn.Normal)
	s.Aim.To = e.At.Add(s.Item.PlateIn.Normal.Mul(up))
	s.Aim.From, s.Aim.Known = s.Aim.To.Sub(e.Dir.Mul(e.Dist)), true
}

// aimNeighbour takes the neighbour that the finding names and whose distance is
// the measured one; for ends out of level, the nearest of the set.
func (s *Subject) aimNeighbour() {
	if s.Anchor == nil || s.Anchor.Entry == nil {
		return
	}
	best, least := (*model.Anchor)(nil), math.Inf(1)
	try := func(o *model.Anchor, penalty float64) {
		d, ok := measure.Spacing(s.Anchor, o)
		if !ok || d < 1 {
			return
		}
		if s.Quantity == Spacing {
			d = math.Abs(d-s.Instance.Measured)*100 + penalty
		}
		if d < least-1e-6 {
			best, least = o, d
		}
	}
	for _, o := range s.Group {
		try(o, 1)
	}
	if s.Quantity == Spacing && s.Host != nil {
		for _, it := range s.Host.Items {
			for _, o := range it.Anchors {
				if s.names(o) {
					try(o, 0)
				}
			}
		}
	}
	if best == nil {
		s.aimEdge()
		return
	}
	n := s.Anchor.Entry.Normal
	d := best.Entry.Point.Sub(s.Anchor.Entry.Point)
	s.Aim.Anchor = best
	s.Aim.From = s.Anchor.Entry.Point
	s.Aim.To, s.Aim.Known = s.Aim.From.Add(d.Sub(n.Mul(n.Dot(d)))), true
	s.Aim.Dir = s.Aim.To.Sub(s.Aim.From).Unit()
}

// names reports whether the instance names an anchor's item or part.
func (s *Subject) names(o *model.Anchor) bool {
	for i := range s.Instance.Others {
		f := &s.Instance.Others[i]
		if o.Part != nil && s.Index.same(o.Part, f) || s.Index.same(&o.Item.Ref, f) {
			return true
		}
	}
	return false
}

func (s *Subject) aimHook() {
	a := s.Anchor
	if a == nil || len(a.Hook) == 0 {
		s.aimEdge()
		return
	}
	far := 0.0
	for i, q := range a.Hook {
		d := q.Sub(a.Open)
		side := d.Sub(a.Dir.Mul(d.Dot(a.Dir)))
		if side.Norm() <= far+0.01 {
			continue
		}
		far = side.Norm()
		s.Aim.Dir = side.Unit()
		s.Aim.From = q
		if i < len(a.Hook)-1 {
			s.Aim.From = q.Add(s.Aim.Dir.Mul(a.Diameter / 2)) // the back of a bend
		}
	}
	s.Aim.To, s.Aim.Known = s.Aim.From.Add(s.Aim.Dir.Mul(s.Instance.Measured)), far > 0
}

// turnToHook takes the plane of the hook, in which its whole shape is seen.
func (s *Subject) turnToHook() {
	if s.Anchor == nil {
		return
	}
	for _, q := range s.Anchor.Hook {
		d := q.Sub(s.Anchor.Open)
		if d = d.Sub(s.Anchor.Dir.Mul(d.Dot(s.Anchor.Dir))); d.Norm() > s.Anchor.Diameter {
			s.Aim.Dir = d.Unit()
		}
	}
}

// turnToFrame leaves the section to the axes of the set or of the host where the
// nearest edge is far away.
func (s *Subject) turnToFrame() {
	if e := s.Aim.Edge; e != nil && s.Anchor != nil && e.Dist > 2*s.Anchor.Deepest {
		s.Aim.Dir = geom.Vec{}
	}
}

// aimTilt looks along the plane of the axis and the face's normal.
func (s *Subject) aimTilt() {
	if s.Anchor == nil || s.Anchor.Entry == nil {
		return
	}
	s.Aim.Dir = s.Anchor.Entry.Normal
}

// otherHost is the host that the finding names besides its own.
func (s *Subject) otherHost() *model.Host {
	for i := range s.Instance.Others {
		if h := s.Index.Host(&s.Instance.Others[i]); h != nil && h != s.Host {
			return h
		}
	}
	return nil
}

// clearance is a distance between surfaces and its ends.
type clearance struct {
	dist     float64
	from, to geom.Vec
}

func (c *clearance) least(d float64, from, to geom.Vec) {
	if d < c.dist && from.Finite() && to.Finite() {
		*c = clearance{d, from, to}
	}
}

func bodyBar(b *model.Body, bar *Bar) clearance {
	c := clearance{dist: math.Inf(1)}
	switch {
	case b.Rod != nil && bar.Rod != nil:
		c.least(geom.RodRod(*b.Rod, *bar.Rod))
	case b.Rod != nil:
		c.least(geom.RodMesh(*b.Rod, bar.Mesh))
	case bar.Rod != nil:
		d, onBar, onBody := geom.RodMesh(*bar.Rod, b.Mesh)
		c.least(d, onBody, onBar)
	default:
		c.least(geom.MeshMesh(b.Mesh, bar.Mesh))
	}
	return c
}

// aimBar takes the piece of the bar that the finding names and that is nearest
// to the item, within reach mm.
func (s *Subject) aimBar(reach float64) {
	best := clearance{dist: math.Inf(1)}
	var bar Bar
	for _, b := range s.Index.Bars(s.Item.Box.Grow(reach), 20000) {
		if !s.namesBar(&b) {
			continue
		}
		for i := range s.Item.Bodies {
			if c := bodyBar(&s.Item.Bodies[i], &b); c.dist < best.dist-1e-6 {
				best, bar = c, b
			}
		}
	}
	if math.IsInf(best.dist, 1) {
		s.aimEdge()
		return
	}
	s.takeBar(bar, best)
}

func (s *Subject) takeBar(bar Bar, c clearance) {
	s.Aim.Bar = &bar
	s.Aim.From, s.Aim.To, s.Aim.Known = c.from, c.to, true
	s.Aim.Dir = s.across(c, &bar)
}

// across is the direction at a right angle to the axis in which a bar passes it.
// A bar whose line meets the axis is looked at along itself.
func (s *Subject) across(c clearance, bar *Bar) geom.Vec {
	axis := s.Axis()
	centre := c.to
	along := geom.Vec{}
	if bar.Rod != nil {
		centre, along = nearestOnPath(bar.Rod.Path, c.to)
	}
	d := centre.Sub(s.Entry())
	d = d.Sub(axis.Mul(axis.Dot(d)))
	if d.Norm() > 0.5 {
		return d.Unit()
	}
	if d = axis.Cross(along); d.Norm() > 0.1 {
		return d.Unit()
	}
	return geom.Vec{}
}

// nearestOnPath is the point of a path nearest to p, and its direction there.
func nearestOnPath(path []geom.Vec, p geom.Vec) (at, along geom.Vec) {
	least := math.Inf(1)
	for i := 1; i < len(path); i++ {
		a, b := path[i-1], path[i]
		ab := b.Sub(a)
		t := 0.0
		if n := ab.Norm2(); n > 0 {
			t = min(1, max(0, p.Sub(a).Dot(ab)/n))
		}
		if q := a.Lerp(b, t); q.Dist(p) < least {
			least, at, along = q.Dist(p), q, ab.Unit()
		}
	}
	return at, along
}

func (s *Subject) namesBar(b *Bar) bool {
	r := s.Index.Ref(b)
	for i := range s.Instance.Others {
		if s.Index.same(&r, &s.Instance.Others[i]) {
			return true
		}
	}
	return false
}

// nearestBar looks for the bar that is nearest to the embedded shank.
func (s *Subject) nearestBar() {
	a := s.Anchor
	if a == nil || a.Entry == nil {
		return
	}
	shank := geom.Rod{Path: []geom.Vec{a.At(max(a.Entry.Dist, 0)), a.At(a.Bearing)}, Radius: a.Diameter / 2}
	best := clearance{dist: math.Inf(1)}
	var bar Bar
	for _, b := range s.Index.Bars(shank.Box().Grow(1.5*a.Embedment()), 20000) {
		if c := bodyBar(&model.Body{Rod: &shank}, &b); c.dist < best.dist-1e-6 {
			best, bar = c, b
		}
	}
	if best.dist <= 1.5*a.Embedment() {
		edge := s.Aim.Edge
		s.takeBar(bar, best)
		s.Aim.Edge = edge
	}
}

// aimItem takes the other item that the finding names.
func (s *Subject) aimItem() {
	best := clearance{dist: math.Inf(1)}
	for _, o := range s.Index.ItemsIn(s.Item.Box.Grow(200)) {
		if o == s.Item || !s.namesRef(&o.Ref) {
			continue
		}
		for i := range s.Item.Bodies {
			for k := range o.Bodies {
				bar := Bar{Rod: o.Bodies[k].Rod, Mesh: o.Bodies[k].Mesh}
				if c := bodyBar(&s.Item.Bodies[i], &bar); c.dist < best.dist-1e-6 {
					best = c
					s.Aim.Item = o
					s.Aim.Dir = s.across(c, &bar)
				}
			}
		}
	}
	if s.Aim.Item == nil {
		s.aimEdge()
		return
	}
	s.Aim.From, s.Aim.To, s.Aim.Known = best.from, best.to, true
}

func (s *Subject) namesRef(r *model.Ref) bool {
	for i := range s.Instance.Others {
		if s.Index.same(r, &s.Instance.Others[i]) {
			return true
		}
	}
	return false
}

// Label is what a person calls an element.
func Label(r *model.Ref) string {
	f := finding.Ref{Name: r.Name, Mark: r.Mark, Class: r.Class}
	return f.Label()
}
