package rod

import (
	"math"

	"embedcheck/internal/geom"
)

// stop is where the facets of a step end, and where to cut next.
type stop struct {
	at     geom.Vec // on the axis
	planar bool     // the ridges end in one plane
	next   geom.Vec // where to cut next,
	n      geom.Vec // and square to what
	last   geom.Vec // end of the tube when nothing follows
}

// endOf finds where the ridges of the current step end ahead of the cut.
func (f *follower) endOf(sec *section, lp int32) stop {
	tol := 0.01*f.radius + 0.01
	step := 0.02*f.radius + weldTol
	f.ridgeTops(sec, lp, tol)
	var buf [128]geom.Vec
	tops := buf[:0]
	corners := 0
	near, far := math.Inf(1), math.Inf(-1)
	nodes := sec.nodesOf(lp)
	for i := range nodes {
		nd := &nodes[i]
		if !nd.corner {
			continue
		}
		corners++
		if !math.IsInf(nd.top, -1) {
			p := nd.at.Add(f.d.Mul(nd.top))
			tops = append(tops, p)
			near, far = math.Min(near, f.depth(p)), math.Max(far, f.depth(p))
		}
	}
	at := f.axis.at
	if len(tops) < 5 || 10*len(tops) < 7*corners {
		z := f.reach(sec, lp) // the ridges do not run along the axis
		return stop{at: at(z), next: at(z + step), n: f.d, last: at(z)}
	}
	if p, n, ok := ridgePlane(tops, f.axis, tol); ok {
		return stop{at: p, planar: true, next: p.Add(n.Mul(step)), n: n, last: p}
	}
	return stop{at: at(near), next: at(near + step), n: f.d, last: at(far)}
}

// reach is how far ahead along the axis the facets of the loop go.
func (f *follower) reach(sec *section, lp int32) float64 {
	far := 0.0
	for _, sg := range sec.segsOf(lp) {
		for _, v := range sec.shell.tris[sg.tri] {
			if p := sec.shell.verts[v]; f.off(p) < 1.1*f.radius {
				far = math.Max(far, f.depth(p))
			}
		}
	}
	return far
}

// ridgeTops sets for each corner of the loop how far ahead of the cut its ridge
// ends: at the farthest vertex on its line that the facets at the cut have. A
// vertex that divides the edge of one facet does not divide that of the other.
func (f *follower) ridgeTops(sec *section, lp int32, tol float64) {
	s := sec.shell
	nodes := sec.nodesOf(lp)
	for i := range nodes {
		nodes[i].top = math.Inf(-1)
	}
	segs := sec.segsOf(lp)
	for i := range segs {
		sg := &segs[i]
		for _, v := range s.tris[sg.tri] {
			if s.height[v] < 0 {
				continue
			}
			for _, id := range [2]int32{sg.a, sg.b} {
				nd := &sec.nodes[id]
				if !nd.corner {
					continue
				}
				p := s.verts[v].Sub(nd.at)
				if t := p.Dot(f.d); t > nd.top && p.Cross(f.d).Norm() < tol {
					nd.top = t
				}
			}
		}
	}
}

// ridgePlane is the plane through the ends of ridges and its point on the axis.
// Up to two ends in five may lie behind it, where a vertex divides both facets of
// a ridge; false when the others lie in no plane.
func ridgePlane(tops []geom.Vec, x axis, tol float64) (at, n geom.Vec, ok bool) {
	for spare := 2 * len(tops) / 5; ; spare-- {
		var mean geom.Vec
		for _, p := range tops {
			mean = mean.Add(p.Mul(1 / float64(len(tops))))
		}
		var m sym3
		for _, p := range tops {
			m.add(p.Sub(mean), 1)
		}
		_, vec := m.eigen()
		n = vec[0]
		if n.Dot(x.d) < 0 {
			n = n.Neg()
		}
		behind, worst, off := -1, 0.0, 0.0
		for i, p := range tops {
			d := p.Sub(mean).Dot(n)
			off = math.Max(off, math.Abs(d))
			if d < worst {
				behind, worst = i, d
			}
		}
		if off <= tol {
			return x.at(mean.Sub(x.a).Dot(n) / x.d.Dot(n)), n, n.Dot(x.d) > 0.3
		}
		if spare == 0 || behind < 0 {
			return at, n, false
		}
		tops[behind] = tops[len(tops)-1]
		tops = tops[:len(tops)-1]
	}
}
