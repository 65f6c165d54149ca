package model

import "embedcheck/internal/geom"

// Sheet is a flat steel plate that bolts stand through outside the concrete: the
// template that they are set with, or the base plate of what will stand on them.
type Sheet struct {
	Ref
	Item    *Item // nil for a plate that is no item
	Body    *geom.Mesh
	Under   geom.Plane
	Upper   geom.Plane // both look out of the plate
	Thick   float64    // mm
	Outline []geom.Vec // corners of the upper side
	Holes   []Hole     // through both sides; none when they are not modelled
	Anchors []*Anchor  // that pass through its outline
}

// Template reports whether the plate is one to set bolts with.
func (s *Sheet) Template() bool { return s.Item != nil && s.Item.Kind == Template }

// Along are the distances from an anchor's open end along its axis to the upper
// side and to the underside; they are negative for what is beyond the open end.
func (s *Sheet) Along(a *Anchor) (upper, under float64) {
	to := func(p geom.Plane) float64 { return -p.Dist(a.Open) / a.Dir.Dot(p.N) }
	return to(s.Upper), to(s.Under)
}

// Gap is the clear height between the plate and the face that an anchor enters;
// negative when the plate is sunk in the concrete.
func (s *Sheet) Gap(a *Anchor) float64 {
	_, under := s.Along(a)
	return a.Entry.Dist - under
}

// Hole is a hole through a plate.
type Hole struct {
	At       geom.Vec   // its middle, on the upper side
	Diameter float64    // mm; of a slot or another shape its least width
	Loop     []geom.Vec // its boundary on the upper side
	Round    bool
}

// PartKind is what an anchor carries around its axis.
type PartKind int

const (
	OtherPart PartKind = iota
	Nut
	Washer
)

var partNames = [...]string{"part", "nut", "washer"}

func (k PartKind) String() string { return partNames[k] }

// Part is something on an anchor that is thicker than its shank: a nut, a
// washer, a head. From is nearer to the open end.
type Part struct {
	Kind     PartKind
	From, To float64 // mm from the open end, along the axis
	Size     float64 // mm, the greatest distance across
}
