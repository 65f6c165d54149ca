package drawing

import (
	"math"

	"embedcheck/internal/geom"
)

// view draws a part of the model to scale in a field of the sheet.
type view struct {
	*sheet
	frame  geom.Affine // rigid: x to the right and y up on the sheet, z towards the reader
	k      float64     // mm on paper for each mm of the model
	centre geom.Vec2   // of what is shown, in the frame
	middle geom.Vec2   // of the field, on paper
	clip   rect        // paper; nothing of the model is drawn beyond
	field  rect        // paper; room for dimensions too
	covers []cover     // paper; lines of what lies behind end here
	core   rect        // paper; what dimensions stand outside of
}

// cover is a convex piece of paper that hides what is drawn later.
type cover struct {
	pts []geom.Vec2
	r   rect
}

// paper is a point of the frame on paper.
func (v *view) paper(q geom.Vec2) geom.Vec2 {
	return geom.Vec2{X: v.middle.X + (q.X-v.centre.X)*v.k, Y: v.middle.Y - (q.Y-v.centre.Y)*v.k}
}

// at is a point of the model on paper.
func (v *view) at(p geom.Vec) geom.Vec2 {
	q := v.frame.Local(p)
	return v.paper(geom.Vec2{X: q.X, Y: q.Y})
}

// toward is a direction of the model on paper, not scaled.
func (v *view) toward(d geom.Vec) geom.Vec2 {
	return geom.Vec2{X: d.Dot(v.frame.X), Y: -d.Dot(v.frame.Y)}
}

// stroke draws what is seen of a line on paper: inside the clip and not covered.
func (v *view) stroke(a, b geom.Vec2, p Pen) {
	if !finite(a) || !finite(b) {
		return
	}
	a, b, ok := v.clip.clipLine(a, b)
	if !ok {
		return
	}
	for _, s := range uncovered(seg{a, b}, v.covers) {
		if s.a.Dist(s.b) > 0.05 {
			v.line(s.a, s.b, p)
		}
	}
}

func (v *view) loop(pts []geom.Vec2, p Pen) {
	for i, a := range pts {
		v.stroke(a, pts[(i+1)%len(pts)], p)
	}
}

// circle draws a whole circle where it lies in the clip, else what is seen of it.
func (v *view) circle(c geom.Vec2, r float64, p Pen, fill Ink) {
	if v.clip.holds(rect{c, c}.grow(r)) && !v.covered(c, r) {
		v.ring(c, r, p, fill)
		return
	}
	v.loop(circlePoints(c, r, 48), p)
}

// covered reports whether a circle may be hidden in part.
func (v *view) covered(c geom.Vec2, r float64) bool {
	for _, o := range v.covers {
		if !o.r.cut(rect{c, c}.grow(r)).empty() {
			return true
		}
	}
	return false
}

// hide covers convex pieces of paper.
func (v *view) hide(pieces ...[]geom.Vec2) {
	for _, p := range pieces {
		if len(p) > 2 {
			v.covers = append(v.covers, cover{p, rectOf(p...)})
		}
	}
}

// span is a part of a line, from 0 to 1.
type span struct{ from, to float64 }

// uncovered are the parts of a line outside all covers.
func uncovered(s seg, covers []cover) []seg {
	r := s.bounds()
	var hid []span
	for _, c := range covers {
		if c.r.cut(r).empty() {
			continue
		}
		if h, ok := insideConvex(s, c.pts); ok {
			hid = append(hid, h)
		}
	}
	var out []seg
	for _, f := range free(hid) {
		out = append(out, seg{lerp(s.a, s.b, f.from), lerp(s.a, s.b, f.to)})
	}
	return out
}

// free is what spans leave of 0 to 1.
func free(taken []span) []span {
	sortSpans(taken)
	var out []span
	at := 0.0
	for _, t := range taken {
		if t.from > at+1e-9 {
			out = append(out, span{at, t.from})
		}
		at = max(at, t.to)
	}
	if at < 1-1e-9 {
		out = append(out, span{at, 1})
	}
	return out
}

// insideConvex is the part of a line strictly inside a convex polygon; a line
// along its side is not.
func insideConvex(s seg, pts []geom.Vec2) (span, bool) {
	area := 0.0
	for i, p := range pts {
		area += p.Cross(pts[(i+1)%len(pts)])
	}
	sign := math.Copysign(1, area)
	in := span{0, 1}
	d := s.b.Sub(s.a)
	for i, p := range pts {
		e := pts[(i+1)%len(pts)].Sub(p)
		n := e.Norm()
		if n < 1e-9 {
			continue
		}
		// distance to the left of the side, at a and its change to b
		at := sign * e.Cross(s.a.Sub(p)) / n
		by := sign * e.Cross(d) / n
		const skin = 1e-3
		switch {
		case abs(by) < 1e-12:
			if at <= skin {
				return span{}, false
			}
		case by > 0:
			in.from = max(in.from, (skin-at)/by)
		default:
			in.to = min(in.to, (skin-at)/by)
		}
	}
	return in, in.from < in.to-1e-9
}
