package geom

import "slices"

// CutVolume is the volume that cutters leave of a body, in mm3, and its centre of
// gravity, without the boolean: for a convex body, and those cutters that are
// convex and meet none before them, as a panel and its openings mostly are. The
// surface of what a cutter takes is the cutter's within the body and the body's
// within the cutter. The other cutters, and those of more than most triangles, are
// left, and not taken off. ok is false for a body that is not convex, and when
// nothing remains of it.
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
	s := body.moments()
	noise := 1e-9 * s.volume
	for i := range cutters {
		b.takeOff(&s, &cutters[i], false)
		cutters[i].takeOff(&s, &b, true)
	}
	return s.volume, s.centre(), left, s.volume > max(noise, 0) && s.centre().Finite()
}

// takeOff takes the piece of the surface that lies in another body off sums.
// skipFlush leaves out faces in a plane of the other body that look the same way:
// they would count twice, with those of the other body in this one.
func (c *halves) takeOff(s *moments, in *halves, skipFlush bool) {
	var buf [2][]Vec
	for i := range c.m.Tris {
		x, y, z := c.m.Tri(i)
		if skipFlush && in.has(PlaneAt(x, c.m.normal2(i))) {
			continue
		}
		s.add(in.clip([]Vec{x, y, z}, &buf), -1)
	}
}
