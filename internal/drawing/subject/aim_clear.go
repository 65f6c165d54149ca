package subject

import (
	"math"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

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

// aimPlate takes the plate over the bolts that the finding names.
func (s *Subject) aimPlate() {
	for _, o := range s.Index.ItemsIn(geom.BoxOf(s.At).Grow(1)) {
		if o != s.Item && o.Kind == model.Plate && s.namesRef(&o.Ref) {
			s.Aim.Item, s.Aim.From, s.Aim.To, s.Aim.Known = o, s.At, s.At, false
		}
	}
}
