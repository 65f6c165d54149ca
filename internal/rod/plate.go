package rod

import (
	"math"

	"embedcheck/internal/geom"
)

// Plate is a flat piece of steel, alone or with studs and bars on it.
type Plate struct {
	Normal    geom.Vec   // unit, out of the outer face: the one that carries nothing
	Outline   []geom.Vec // corners of the outer face, counter-clockwise seen from outside
	Length    float64    // of the smallest rectangle around the outline
	Width     float64
	Thickness float64
	Holes     []Hole // round holes through the plate
	Bare      bool   // nothing stands on either face, so that either may be the outer one
}

// Hole is a round hole through a plate.
type Hole struct {
	Center   geom.Vec // in the outer face
	Axis     geom.Vec // unit, into the plate
	Diameter float64
}

const (
	flatness   = 1.0 / 3 // thickness over width of a plate at most
	twinFaces  = 0.5     // area of the smaller face of a plate over that of the larger one at least
	plateSteel = 0.8     // share of the steel that a plate and the members on it make up at least
)

// plate finds the plate that makes up the body together with the members on it:
// not the web of a channel, nor the head of a stud.
func (b *body) plate(facets [][]facet, ms []Member, volume float64) *Plate {
	var best *Plate
	bestArea := 0.0
	for i, s := range b.shells {
		for _, p := range facets[i][:min(8, len(facets[i]))] {
			if p.area <= bestArea {
				break
			}
			q, t := twin(facets[i], p)
			if t <= 0 || p.area*t < 0.02*volume {
				continue
			}
			pl := s.plateBetween(p, q, t)
			if pl == nil || pl.isHead(ms) {
				continue
			}
			if steel := p.area*t + beyond(pl, ms); steel > plateSteel*volume {
				best, bestArea = pl, p.area
				break
			}
		}
	}
	return best
}

// twin is the face opposite to p with about its area, and the thickness between.
func twin(facets []facet, p facet) (q facet, thick float64) {
	for _, f := range facets {
		if t := p.d + f.d; f.n.Dot(p.n) < -0.9998 && t > thinSlab && f.area >= twinFaces*p.area && (thick == 0 || t < thick) {
			q, thick = f, t
		}
	}
	return q, thick
}

// plateBetween measures the plate between two faces by sections.
func (s *shell) plateBetween(p, q facet, thick float64) *Plate {
	above, below := 0.0, 0.0 // how far steel stands out of the two faces
	for _, o := range s.body.shells {
		for _, v := range o.ids {
			above = math.Max(above, o.verts[v].Dot(p.n)-p.d)
			below = math.Max(below, o.verts[v].Dot(q.n)-q.d)
		}
	}
	out := p
	if above > below+touch {
		out = q
	}
	face := out.n.Mul(out.d)
	level := func(share float64) geom.Vec { return face.Sub(out.n.Mul(share * thick)) }
	sec := s.cut(level(0.5), out.n)
	lp := int32(-1)
	for i := range sec.loops {
		if lp < 0 || sec.loops[i].length > sec.loops[lp].length {
			lp = int32(i)
		}
	}
	if lp < 0 {
		return nil
	}
	pl := &Plate{Normal: out.n, Thickness: thick, Bare: above < touch && below < touch}
	pl.Outline = sec.outline(lp)
	if len(pl.Outline) < 3 {
		return nil
	}
	flat := make([]geom.Vec2, len(pl.Outline))
	e1 := out.n.Perp()
	e2 := out.n.Cross(e1)
	for i, c := range pl.Outline {
		flat[i] = geom.Vec2{X: c.Dot(e1), Y: c.Dot(e2)}
		pl.Outline[i] = c.Add(out.n.Mul(thick / 2)).Add(s.origin)
	}
	_, _, x, y := smallestRect(hull(flat))
	pl.Length, pl.Width = math.Max(x, y), math.Min(x, y)
	if thick > flatness*pl.Width {
		return nil
	}
	pl.Holes = s.holes(level, out.n)
	return pl
}

// holes are the round holes that the sections near both faces and in the middle
// have in common.
func (s *shell) holes(level func(float64) geom.Vec, n geom.Vec) []Hole {
	var all []Hole
	for k, share := range [3]float64{0.5, 0.1, 0.9} {
		sec := s.cut(level(share), n)
		var here []Hole
		for i := range sec.loops {
			if g, ok := sec.fit(int32(i), n); ok && g.inward && g.round() && math.Abs(g.d.Dot(n)) > math.Cos(2*straight) {
				foot := g.a.Add(n.Mul(level(0).Sub(g.a).Dot(n)))
				here = append(here, Hole{foot.Add(s.origin), n.Neg(), 2 * g.r})
			}
		}
		if k == 0 {
			all = here
			continue
		}
		kept := all[:0]
		for _, h := range all {
			for _, o := range here {
				if h.Center.Dist(o.Center) < 0.05*h.Diameter {
					h.Diameter = math.Min(h.Diameter, o.Diameter)
					kept = append(kept, h)
					break
				}
			}
		}
		all = kept
	}
	return all
}

// outline is the loop as a polygon, counter-clockwise about the section's normal
// when it has steel inside, without points on straight sides.
func (sec *section) outline(lp int32) []geom.Vec {
	sec.findCorners(lp, cosFine)
	next := make(map[int32][]int32)
	start := int32(-1)
	segs := sec.segsOf(lp)
	for i := range segs {
		sg := &segs[i]
		if sg.a == sg.b {
			continue
		}
		a, b := sg.a, sg.b
		if sg.q.Sub(sg.p).Dot(sec.n.Cross(sec.shell.normal[sg.tri])) < 0 {
			a, b = b, a
		}
		next[a] = append(next[a], b)
		if start < 0 {
			start = a
		}
	}
	var out []geom.Vec
	for at := start; at >= 0 && len(next[at]) > 0; {
		to := next[at][0]
		next[at] = next[at][1:]
		if sec.nodes[to].corner {
			out = append(out, sec.nodes[to].at)
		}
		if at = to; at == start {
			break
		}
	}
	return out
}

// isHead reports whether the plate is a round head of one of the members.
func (p *Plate) isHead(ms []Member) bool {
	for i := range ms {
		for _, h := range ms[i].Heads {
			if h.Outline == RoundHead && math.Abs(p.Width-h.Flat) < 0.1*h.Flat && math.Abs(ms[i].Axis().Dot(p.Normal)) > math.Cos(straight) {
				return true
			}
		}
	}
	return false
}

// beyond is the volume of the members outside the plate.
func beyond(p *Plate, ms []Member) float64 {
	sum := 0.0
	for i := range ms {
		m := &ms[i]
		area := math.Pi * m.Radius * m.Radius
		if m.Sides > 0 {
			a := 2 * math.Pi / float64(m.Sides)
			area *= math.Sin(a) / a
		}
		length := m.Length()
		if m.Hook != nil {
			length += geom.Rod{Path: m.Hook.Path}.Length()
		}
		for _, h := range m.Heads {
			if h.Outline == PlateHead {
				length -= h.To - h.From
			} else if math.Abs(h.To-h.From-p.Thickness) > 0.1 || h.Flat < 0.9*p.Width {
				sum += (math.Pi/4*h.Flat*h.Flat - area) * (h.To - h.From)
			}
		}
		sum += area * length
	}
	return sum
}
