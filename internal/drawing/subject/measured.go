package subject

import "embedcheck/internal/geom"

// Measured is where the figure was taken, from one end to the other; false when
// it is no distance, or its ends are not known.
func (s *Subject) Measured() (from, to geom.Vec, ok bool) {
	a := s.Anchor
	entered := a != nil && a.Entry != nil && !s.OfItem
	got := s.Instance.Measured
	switch s.Quantity {
	case EdgeDistance:
		if entered && s.Aim.Edge != nil { // at the depth where it is least
			at := s.Aim.Edge.At
			return at.Sub(s.Aim.Dir.Mul(s.Aim.Edge.Dist)), at, true
		}
		return s.Aim.From, s.Aim.To, s.Aim.Known
	case PlateEdge, Spacing, BarClearance, ItemClearance, HookCover, BarDistance:
		return s.Aim.From, s.Aim.To, s.Aim.Known
	case Flush:
		if !entered && s.Item.PlateIn != nil {
			p := s.Item.PlateIn
			return p.Point.Add(p.Normal.Mul(p.Dist)), p.Point, true
		}
	case Level:
		if entered && s.Aim.Anchor != nil {
			return a.Open, a.Open.Add(a.Dir.Mul(s.Aim.Anchor.Open.Sub(a.Open).Dot(a.Dir))), true
		}
		return from, to, false
	}
	if !entered {
		return from, to, false
	}
	far := a.Entry.Point.Add(a.Dir.Mul(a.Entry.Thickness))
	switch s.Quantity {
	case Embedment:
		return a.Entry.Point, a.At(a.Bearing), true
	case BackCover:
		return a.At(a.Deepest), far, true
	case Thickness:
		return a.Entry.Point, far, true
	case Projection, Flush:
		return a.Open, a.Entry.Point, true
	case InOther:
		return a.At(a.Deepest - got), a.At(a.Deepest), true
	}
	return from, to, false
}
