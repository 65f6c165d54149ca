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
		s.aimPlate()
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
	const near, steps = 0.3, 32 // near in mm; nearer to the face, all is surface
	m := a.Entry.Solid.Mesh()
	deep := max(min(a.Embedment(), a.Entry.Thickness), 1)
	for i := range steps + 1 {
		d := max(2*near, deep*float64(i)/steps)
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

// Label is what a person calls an element.
func Label(r *model.Ref) string {
	f := finding.Ref{Name: r.Name, Mark: r.Mark, Class: r.Class}
	return f.Label()
}
