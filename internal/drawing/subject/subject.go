package subject

import (
	"fmt"
	"math"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// Subject is what a finding is about, at the place where it is worst. Points are
// in the model's local coordinates, mm.
type Subject struct {
	Index    *Index
	Finding  *finding.Finding
	Instance *finding.Instance // the worst one
	Host     *model.Host       // nil when there is none
	Item     *model.Item
	Anchor   *model.Anchor   // nil when it is about the item itself and that has none
	OfItem   bool            // it is about the item itself; Anchor is the one nearest to the place
	Group    []*model.Anchor // Anchor and those of its set that enter the same face
	Items    []*model.Item   // Item and those of its set
	Bad      map[*model.Anchor]bool
	Face     *Face // where the item enters the host; nil when it does not
	At       geom.Vec
	Quantity Quantity
	Aim      Aim
}

// Face is a place on the surface of a host.
type Face struct {
	Point     geom.Vec
	Normal    geom.Vec // unit, out of the concrete
	Thickness float64
	Solid     *geom.Solid // the host with the item's own voids filled
}

// NoPlaceError says that a finding has no place that could be shown.
type NoPlaceError struct{ Finding, Why string }

func (e *NoPlaceError) Error() string {
	return fmt.Sprintf("finding %s cannot be drawn: %s", e.Finding, e.Why)
}

// Of finds what a finding is about. The error is a *NoPlaceError when its item
// is not in the model, as is so for elements that could not be read.
func (x *Index) Of(f *finding.Finding) (*Subject, error) {
	w := f.Worst()
	if w == nil {
		return nil, &NoPlaceError{f.ID, "it names no place"}
	}
	s := &Subject{Index: x, Finding: f, Instance: w, Quantity: quantities[f.Rule], At: w.At.Mul(1e3).Sub(x.m.Origin)}
	s.Host = x.Host(&f.Host)
	s.Item = x.itemAt(&w.Item, s.Host, s.At)
	if s.Item == nil {
		return nil, &NoPlaceError{f.ID, "its item is not among those that were read"}
	}
	if !shaped(s.Item) {
		return nil, &NoPlaceError{f.ID, "its item has no shape"}
	}
	if !s.At.Finite() {
		s.At = s.Item.Box.Center()
	}
	if s.Host == nil {
		s.Host = s.Item.Host
	}
	s.OfItem = w.Anchor < 0 || w.Anchor >= len(s.Item.Anchors)
	if s.OfItem {
		s.Anchor = nearestAnchor(s.Item, s.At)
	} else {
		s.Anchor = s.Item.Anchors[w.Anchor]
	}
	s.findFace()
	s.findGroup()
	s.findBad()
	s.findAim()
	return s, nil
}

func shaped(it *model.Item) bool {
	return (len(it.Bodies) > 0 || len(it.Anchors) > 0) && !it.Box.Empty() && it.Box.Min.Finite() && it.Box.Max.Finite()
}

func nearestAnchor(it *model.Item, at geom.Vec) *model.Anchor {
	var best *model.Anchor
	least := math.Inf(1)
	for _, a := range it.Anchors {
		p := a.Open
		if a.Entry != nil {
			p = a.Entry.Point
		}
		if d := p.Dist(at); d < least-0.01 {
			best, least = a, d
		}
	}
	return best
}

// findFace takes the face that the figure was taken on: the plate's own, or the
// one that the anchor enters.
func (s *Subject) findFace() {
	var e *model.Entry
	if s.OfItem && s.Item.PlateIn != nil {
		e = s.Item.PlateIn
	} else if s.Anchor != nil && s.Anchor.Entry != nil {
		e = s.Anchor.Entry
	} else if s.Item.PlateIn != nil {
		e = s.Item.PlateIn
	}
	if e == nil || e.Normal.Unit() == (geom.Vec{}) {
		return
	}
	s.Face = &Face{Point: e.Point, Normal: e.Normal.Unit(), Thickness: e.Thickness, Solid: e.Solid}
}

// Axis is the direction into the concrete: the anchor's, or against the face.
func (s *Subject) Axis() geom.Vec {
	switch {
	case s.Anchor != nil && s.Anchor.Dir.Unit() != (geom.Vec{}):
		return s.Anchor.Dir.Unit()
	case s.Face != nil:
		return s.Face.Normal.Neg()
	}
	return geom.V(0, 0, -1)
}

// Entry is the point where the section and the view are centred.
func (s *Subject) Entry() geom.Vec {
	switch {
	case s.Anchor != nil && s.Anchor.Entry != nil:
		return s.Anchor.Entry.Point
	case s.Face != nil:
		return s.Face.Point
	case s.Anchor != nil:
		return s.Anchor.Open
	}
	return s.Item.Box.Center()
}

// findGroup collects the anchors that work together with the one concerned and
// enter the same face.
func (s *Subject) findGroup() {
	s.Items = []*model.Item{s.Item}
	all := s.Item.Anchors
	if set := s.Item.Set; set != nil {
		all = set.Anchors
		for _, it := range set.Items {
			if it != s.Item {
				s.Items = append(s.Items, it)
			}
		}
		if t := set.Template; t != nil && !contains(s.Items, t) {
			s.Items = append(s.Items, t)
		}
	}
	for _, a := range all {
		if a == s.Anchor || s.sameFace(a) {
			s.Group = append(s.Group, a)
		}
	}
	if s.Anchor != nil && len(s.Group) == 0 {
		s.Group = []*model.Anchor{s.Anchor}
	}
}

func contains(items []*model.Item, it *model.Item) bool {
	for _, o := range items {
		if o == it {
			return true
		}
	}
	return false
}

// sameFace reports whether an anchor enters the host on the side that is looked
// at.
func (s *Subject) sameFace(a *model.Anchor) bool {
	if s.Face == nil {
		return s.Anchor == nil || a.Dir.Dot(s.Anchor.Dir) > 0.9
	}
	return a.Entry != nil && a.Item.Host == s.Item.Host && a.Entry.Normal.Dot(s.Face.Normal) > 0.9
}

// findBad collects the anchors of all instances.
func (s *Subject) findBad() {
	s.Bad = map[*model.Anchor]bool{}
	for i := range s.Finding.Instances {
		in := &s.Finding.Instances[i]
		for _, a := range s.Group {
			if a.Index == in.Anchor && s.Index.same(&a.Item.Ref, &in.Item) {
				s.Bad[a] = true
			}
		}
	}
	if !s.OfItem {
		s.Bad[s.Anchor] = true
	}
}
