package shape

import (
	"math"

	"embedcheck/internal/geom"
)

// path is an evaluated curve: pieces one behind the other, in mm. first is the
// IFC parameter at its start.
type path struct {
	pieces []piece
	first  float64
	basis  bool // a whole line or conic that waits to be trimmed
	long   bool // joined from two or more segments
}

// measure says in what a trim is given.
type measure uint8

const (
	byParam  measure = iota // the parameter of the IFC curve
	byLength                // mm along the curve
)

func (c path) start() geom.Vec { return c.pieces[0].start() }
func (c path) end() geom.Vec   { return c.pieces[len(c.pieces)-1].end() }

func (c path) reversed() path {
	r := path{pieces: make([]piece, len(c.pieces)), first: c.first}
	for i, p := range c.pieces {
		r.pieces[len(c.pieces)-1-i] = p.reversed()
	}
	return r
}

func (c path) length() float64 {
	var l float64
	for _, p := range c.pieces {
		l += p.length()
	}
	return l
}

// params is the width of the parameter range.
func (c path) params() float64 {
	var n float64
	for _, p := range c.pieces {
		n += p.params
	}
	return n
}

// trim is the part of c between two places counted from its start, both
// within the curve. It is empty when to is not behind from.
func (c path) trim(from, to float64, m measure) path {
	out := path{first: c.first}
	at := 0.0
	for _, p := range c.pieces {
		w := p.params
		if m == byLength {
			w = p.length()
		}
		lo, hi := max(from-at, 0), min(to-at, w)
		at += w
		if !(w > 0) || !(hi > lo) {
			continue
		}
		if lo > 0 || hi < w {
			p = p.cut(p.fraction(lo, w, m), p.fraction(hi, w, m))
		}
		out.pieces = append(out.pieces, p)
	}
	return out
}

// fraction is where in the parameter range of p the place s of w is.
func (p piece) fraction(s, w float64, m measure) float64 {
	if m == byParam || p.even() || s <= 0 || s >= w {
		return s / w
	}
	lo, hi := 0.0, 1.0
	for range 50 {
		mid := (lo + hi) / 2
		if p.cut(0, mid).length() < s {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

// points are the corners of c as a chain of straight pieces. Pieces whose ends
// are no more than joinTol apart are joined.
func (c path) points(tol float64) []geom.Vec { return c.appendPoints(nil, tol) }

func (c path) appendPoints(dst []geom.Vec, tol float64) []geom.Vec {
	base := len(dst)
	for _, p := range c.pieces {
		if s := p.start(); len(dst) == base || s.Dist(dst[len(dst)-1]) > joinTol {
			dst = append(dst, s)
		}
		dst = p.sample(dst, tol)
	}
	return dropRepeats(dst, base)
}

// endTurn is the turn, in radians, of the first and the last chord of a rod that
// ends in an arc.
const endTurn = 2e-3

// rodPoints are the corners of c as the path of a rod. The flat ends of a rod
// stand at a right angle to its outermost chords: where it ends in an arc, those
// are short, so that they run along the curve.
func (c path) rodPoints() []geom.Vec {
	var out path
	for i, p := range c.pieces {
		from, to := 0.0, 1.0
		if i == 0 {
			from = p.endPart()
		}
		if i == len(c.pieces)-1 {
			to -= p.endPart()
		}
		if from > 0 {
			out.pieces = append(out.pieces, p.cut(0, from))
		}
		out.pieces = append(out.pieces, p.cut(from, to))
		if to < 1 {
			out.pieces = append(out.pieces, p.cut(to, 1))
		}
	}
	return out.points(pathTol)
}

// endPart is the part of a curved piece that turns by endTurn, 0 of a straight
// one.
func (p piece) endPart() float64 {
	if p.kind == straight {
		return 0
	}
	turn := math.Abs(p.t1 - p.t0)
	if p.kind == freeform {
		turn = 2 * math.Pi // more than it is likely to turn
	}
	return min(endTurn/turn, 0.25)
}

// dropRepeats removes points from base on that repeat the one before them.
func dropRepeats(pts []geom.Vec, base int) []geom.Vec {
	n := base
	for i := base; i < len(pts); i++ {
		if n == base || pts[i].Dist(pts[n-1]) > minEdge {
			pts[n] = pts[i]
			n++
		}
	}
	return pts[:n]
}

// minEdge is the length in mm under which two points are one.
const minEdge = 1e-5

// nearest is the parameter, counted from the start, of the point of c that is
// nearest to p.
func (c path) nearest(p geom.Vec) float64 {
	best, dist, at := 0.0, math.Inf(1), 0.0
	for _, q := range c.pieces {
		t, d := q.nearest(p)
		if d < dist {
			best, dist = at+t*q.params, d
		}
		at += q.params
	}
	return best
}

// nearest is the fraction of q's range at its point nearest to p, and the
// distance there.
func (q piece) nearest(p geom.Vec) (frac, dist float64) {
	at := func(f float64) float64 { return q.at(q.t0 + (q.t1-q.t0)*f).Dist(p) }
	if q.kind == straight {
		d := q.end().Sub(q.start())
		if d.Norm2() > 0 {
			frac = min(max(p.Sub(q.start()).Dot(d)/d.Norm2(), 0), 1)
		}
		return frac, at(frac)
	}
	const n = 64
	dist = math.Inf(1)
	for i := range n + 1 {
		if f := float64(i) / n; at(f) < dist {
			frac, dist = f, at(f)
		}
	}
	lo, hi := max(frac-1./n, 0), min(frac+1./n, 1)
	for range 60 {
		a, b := lo+(hi-lo)/3, hi-(hi-lo)/3
		if at(a) < at(b) {
			hi = b
		} else {
			lo = a
		}
	}
	if f := (lo + hi) / 2; at(f) < dist {
		frac, dist = f, at(f)
	}
	return frac, dist
}

// flat drops the z coordinate.
func flat(pts []geom.Vec) []geom.Vec2 {
	out := make([]geom.Vec2, len(pts))
	for i, p := range pts {
		out[i] = geom.Vec2{X: p.X, Y: p.Y}
	}
	return out
}
