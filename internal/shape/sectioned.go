package shape

import (
	"math"

	"embedcheck/ifcread"
	"embedcheck/internal/geom"
)

// station is the place of one cross-section of a sectioned solid.
type station struct {
	along float64     // mm from the start of the directrix
	at    geom.Affine // profile coordinates to those of the item
}

// sectioned reads an IfcSectionedSolidHorizontal or an IfcSectionedSpine: areas
// at places along a curve, and between two of them an area that changes evenly
// with the distance. Areas that follow each other need the same corners.
func (r *Reader) sectioned(in ifcread.Inst) (*Solid, error) {
	q, err := need(in, 0, "directrix")
	if err != nil {
		return nil, err
	}
	c, err := r.curve(q, 0)
	if err != nil {
		return nil, err
	}
	if c.basis && c.pieces[0].kind == straight {
		return nil, bad(in, "its directrix is a line without ends")
	}
	places, err := r.stations(in, c)
	if err != nil {
		return nil, err
	}
	areas, name, err := r.crossSections(in, len(places))
	if err != nil {
		return nil, err
	}
	if err := r.ringable(areas[0].corners(), len(places)+len(c.points(pathTol))); err != nil {
		return nil, bad(in, "%v", err)
	}
	origin := originFor(places[0].at.T)
	rings := [][]geom.Vec{areas[0].ring(places[0].at)}
	for i := 1; i < len(places); i++ {
		rings = append(rings, c.ringsBetween(places[i-1], places[i], areas[i-1], areas[i])...)
	}
	for _, ring := range rings {
		for k := range ring {
			ring[k] = ring[k].Sub(origin)
		}
	}
	m, err := ringed(rings, areas[0].sizes(), false).mesh()
	if err != nil {
		return nil, bad(in, "%v", err)
	}
	s := newMesh(in.Name(), m, origin)
	s.Profile = name
	return s, nil
}

// stations are the places of the cross-sections, in rising order.
func (r *Reader) stations(in ifcread.Inst, c path) ([]station, error) {
	var out []station
	for v := range in.Arg(2).All() {
		at, ok := v.Inst()
		if !ok {
			return nil, bad(in, "one of its cross-section positions is not in the file")
		}
		s, err := r.station(in, at, c)
		if err != nil {
			return nil, err
		}
		if n := len(out); n > 0 && !(s.along > out[n-1].along+minEdge) {
			return nil, bad(in, "its cross-sections do not follow each other along the directrix")
		}
		out = append(out, s)
	}
	if len(out) < 2 {
		return nil, bad(in, "it has fewer than two cross-section positions")
	}
	return out, nil
}

// station reads one position. That of a spine is a frame of its own; that of a
// horizontal solid has x along the directrix, and the profile stands across: its
// x to the left, its y upwards.
func (r *Reader) station(in, at ifcread.Inst, c path) (station, error) {
	if in.Type() == tSpine {
		m, err := r.axesOf(at)
		return station{c.trim(0, c.nearest(m.T), byParam).length(), m}, err
	}
	m, err := r.linearAxes(at)
	if err != nil {
		return station{}, err
	}
	p, err := need(at, 0, "location")
	if err != nil {
		return station{}, err
	}
	_, along, err := r.frameAlong(p, c)
	return station{along, geom.Affine{X: m.Y, Y: m.Z, Z: m.X, T: m.T}}, err
}

// crossSections are the n areas of a sectioned solid with matching corners, and
// the name of the first.
func (r *Reader) crossSections(in ifcread.Inst, n int) ([]region, string, error) {
	var profs []*profile
	for v := range in.Arg(1).All() {
		q, ok := v.Inst()
		if !ok {
			return nil, "", bad(in, "one of its cross-sections is not in the file")
		}
		p, err := r.profile(q, 0)
		if err != nil {
			return nil, "", err
		}
		profs = append(profs, p)
	}
	if len(profs) != n {
		return nil, "", bad(in, "it has %d cross-sections and %d positions", len(profs), n)
	}
	widest := 0.0
	for _, p := range profs {
		widest = max(widest, p.Radius)
		if _, _, err := matched(profs[0], p); err != nil {
			return nil, "", bad(in, "%v", err)
		}
	}
	out := make([]region, n)
	for i, p := range profs {
		if out[i] = p.areas[0]; profs[0].Radius > 0 && p.Radius > 0 {
			out[i] = p.circles(sides(widest, bodyTol))
		}
	}
	return out, profs[0].Name, nil
}

// ringsBetween are the outlines after station a up to station b: at b, and
// before it wherever the directrix turns. There the area is carried along in the
// frame of the directrix, part of the way from one station's to the other's.
func (c path) ringsBetween(a, b station, from, to region) [][]geom.Vec {
	pts := c.trim(a.along, b.along, byLength).points(pathTol)
	var out [][]geom.Vec
	first, last := c.frameAt(a.along), c.frameAt(b.along)
	start, end := from.ring(a.at), to.ring(b.at)
	at, total := 0.0, geom.Rod{Path: pts}.Length()
	for i := 1; i+1 < len(pts); i++ {
		before, after := pts[i].Sub(pts[i-1]), pts[i+1].Sub(pts[i])
		at += before.Norm()
		t := at / math.Max(total, minEdge)
		f := levelFrame(pts[i], before.Unit().Add(after.Unit()).Unit())
		ring := make([]geom.Vec, len(start))
		for k := range ring {
			ring[k] = f.Apply(first.Local(start[k]).Lerp(last.Local(end[k]), t))
		}
		out = append(out, mitre(ring, pts[i], before.Unit(), after.Unit()))
	}
	return append(out, end)
}
