package subject

import (
	"math"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// Role is what a body is to a finding.
type Role uint8

const (
	TheHost Role = iota
	OtherHost
	TheItem
	OtherItem
	Against // bar, neighbour or item that the figure was measured to
	OtherBar
)

// Hosts is the concrete to be seen: that of the host, and that of the other
// host that the finding names; either may be nil.
func (s *Subject) Hosts() (host, other *geom.Solid) {
	if s.Host != nil && s.Host.Solid != nil {
		host = s.Host.Solid
	} else if s.Face != nil {
		host = s.Face.Solid
	}
	if s.Aim.Host != nil {
		other = s.Aim.Host.Solid
	}
	return host, other
}

// ItemAround is an item near the place of a finding.
type ItemAround struct {
	Item *model.Item
	Role Role
}

// ItemsAround are the items of the host near the place, for a view of the given
// radius in mm, and those that the finding is about.
func (s *Subject) ItemsAround(radius float64) []ItemAround {
	var list []ItemAround
	for _, it := range s.Index.ItemsIn(s.near(radius).Union(s.Item.Box)) {
		if it.Host != s.Host && it != s.Item && it != s.Aim.Item {
			continue
		}
		r := OtherItem
		switch {
		case it == s.Item:
			r = TheItem
		case it == s.Aim.Item || s.Aim.Anchor != nil && s.Aim.Anchor.Item == it:
			r = Against
		}
		list = append(list, ItemAround{it, r})
	}
	return list
}

// BarAround is a piece of reinforcement near the place of a finding.
type BarAround struct {
	Bar
	Role Role
}

// mostBars is how many pieces of reinforcement are shown.
const mostBars = 3000

// BarsAround are the pieces of reinforcement near the place, for a view of the
// given radius in mm.
func (s *Subject) BarsAround(radius float64) []BarAround {
	var list []BarAround
	for _, b := range s.Index.Bars(s.near(radius), mostBars) {
		r := OtherBar
		if n := s.Aim.Bar; n != nil && n.Piece == b.Piece {
			r = Against
		}
		list = append(list, BarAround{b, r})
	}
	return list
}

func (s *Subject) near(radius float64) geom.Box { return geom.BoxOf(s.Entry()).Grow(2.5 * radius) }

// Outlook is how a place is looked at: from its open side, at the plane that
// holds the axis and the direction of the figure.
type Outlook struct {
	Centre geom.Vec
	Radius float64    // mm, of what is to be seen
	Back   geom.Vec   // unit, from the centre to the eye
	Cut    geom.Plane // its normal looks to the side that is taken away
	Cuts   bool       // there is concrete to cut
}

// Outlook chooses the side that the place is seen from.
func (s *Subject) Outlook() Outlook {
	axis := s.Axis()
	n := axis.Neg()
	if s.Face != nil {
		n = s.Face.Normal
	}
	side := axis.Cross(s.Aim.Dir).Unit()
	if side == (geom.Vec{}) {
		side = axis.Perp()
	}
	// what there is more of on one side stays, seen from the other one
	if off := side.Dot(s.Item.Box.Center().Sub(s.Entry())); math.Abs(off) > 5 && len(s.Item.Anchors) > 1 {
		side = side.Mul(-math.Copysign(1, off))
	} else if side.Z < -0.1 || math.Abs(side.Z) <= 0.1 && side.Dot(geom.V(-0.6, -0.8, 0)) < 0 {
		side = side.Neg()
	}
	centre, radius := s.surround()
	return Outlook{
		Centre: centre, Radius: radius,
		Back: side.Add(n.Mul(0.5)).Add(s.Aim.Dir.Mul(0.22)).Unit(),
		Cut:  geom.PlaneAt(s.Entry(), side), Cuts: s.Face != nil,
	}
}

// least half size of what is seen, and the farthest that is looked for it, mm.
const leastRadius, mostRadius = 90.0, 1200.0

// surround is the middle and the half size of what has to be seen: the anchor,
// what was measured to, and the item unless it is long.
func (s *Subject) surround() (geom.Vec, float64) {
	b := geom.EmptyBox
	if a := s.Anchor; a != nil {
		b = b.Add(a.Open).Add(a.At(a.Deepest))
		for _, q := range a.Hook {
			b = b.Add(q)
		}
	}
	if d := s.Item.Box.Size().Norm(); d < mostRadius || b.Empty() {
		b = b.Union(s.Item.Box)
	}
	if from, to, ok := s.Measured(); ok && from.Dist(to) < mostRadius {
		b = b.Add(from).Add(to)
	}
	if s.Aim.Known && s.Aim.From.Dist(s.Aim.To) < b.Size().Norm() {
		b = b.Add(s.Aim.To)
	}
	if s.Face != nil {
		b = b.Add(s.Face.Point)
	}
	if a := s.Aim.Anchor; a != nil {
		b = b.Add(a.Open).Add(a.At(a.Deepest))
	}
	return b.Center(), min(max(b.Size().Norm()/2, leastRadius), mostRadius)
}
