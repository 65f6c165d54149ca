package geom

import "slices"

// CutVolume is the volume that cutters leave of a body, in mm3, and its centre of
// gravity, without the boolean: for a convex body, and those cutters that are
// convex and meet none before them, as a panel and its openings mostly are. The
// surface of what a cutter takes is the cutter's within the body and the body's
// within the cutter. The other cutters, and those of more than
// most triangles, are left, and not taken off. ok is false for a body that is not
// convex, and when nothing remains of it.
func CutVolume(body *Mesh, cut []*Mesh, most int) (volume float64, centre Vec, left []*Mesh, ok bool) {
	b, ok := asConvex(body, most)
	if !ok {
		return 0, Vec{}, cut, false
	}
	var cutters []halves
	for _, m := range cut {
		c, ok := asConvex(m, most)
		if !ok || slices.ContainsFunc(cutters, func(o halves) bool { return !o.apart(&c) }) {
			left = append(left, m)
			continue
		}
		cutters = append(cutters, c)
	}
	s := moments{o: body.bounds.Center()}
	for i := range body.Tris {
		x, y, z := body.Tri(i)
		s.add([]Vec{x, y, z}, 1)
	}
	noise := 1e-9 * s.volume
	for i := range cutters {
		s.part(&b, &cutters[i], false)
		s.part(&cutters[i], &b, true)
	}
	centre = s.o.Add(s.first.Mul(1 / s.volume))
	return s.volume, centre, left, s.volume > max(noise, 0) && centre.Finite()
}

// moments sums volume and first moment about o over pieces of a closed surface.
type moments struct {
	o      Vec
	volume float64
	first  Vec
	buf    [2][]Vec
}

// part takes off the piece of of's surface that lies in another body. skipFlush
// leaves out faces in a plane of the other body that look the same way: they would
// count twice, with those of the other body in this one.
func (s *moments) part(of, in *halves, skipFlush bool) {
	for i := range of.m.Tris {
		a, b, c := of.m.Tri(i)
		if skipFlush && in.has(PlaneAt(a, of.m.normal2(i))) {
			continue
		}
		s.add(in.clip([]Vec{a, b, c}, &s.buf), -1)
	}
}

// add adds the tetrahedra between o and a flat piece of surface.
func (s *moments) add(poly []Vec, sign float64) {
	for k := 2; k < len(poly); k++ {
		a, b, c := poly[0].Sub(s.o), poly[k-1].Sub(s.o), poly[k].Sub(s.o)
		v := sign * a.Cross(b).Dot(c) / 6
		s.volume += v
		s.first = s.first.Add(a.Add(b).Add(c).Mul(v / 4))
	}
}
