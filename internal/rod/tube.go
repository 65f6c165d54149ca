package rod

import (
	"math"
	"slices"

	"embedcheck/internal/geom"
)

// tube is a round bar followed through a mesh: its centreline and what its
// surface does at the two ends.
type tube struct {
	shell    *shell
	path     []geom.Vec
	radius   float64
	sides    int
	residual float64

	distorted bool       // the section lies on no circle
	goesOn    [2]bool    // steel follows beyond the start, the end of the path
	breaks    []geom.Vec // where something thicker interrupts a straight piece
}

const (
	maxFailures = 48   // ridges in a row that are no bar before a shell is given up
	maxSteps    = 4000 // steps along one tube
	maxTracked  = 400  // steps in a row through irregular facets
)

// findTubes follows every round bar of the shell, the longest straight first.
func (s *shell) findTubes() {
	failures := 0
	for _, r := range s.ridges {
		if failures >= maxFailures || s.budget < 0 {
			return
		}
		pa, pb := s.verts[r.a], s.verts[r.b]
		if s.used[r.tri] || s.inTube(pa, pb) || s.failed != nil && math.Abs(s.failed[r.tri].Dot(pb.Sub(pa).Unit())) > 0.98 {
			continue
		}
		if t := s.tubeAt(r); t != nil {
			s.tubes = append(s.tubes, t)
			failures = 0
		} else {
			failures++
		}
	}
}

// inTube reports whether both points lie on or in one piece of a known tube.
func (s *shell) inTube(a, b geom.Vec) bool {
	for _, t := range s.tubes {
		reach := 1.03*t.radius + 0.02
		for i := 1; i < len(t.path); i++ {
			if offSegment(a, t.path[i-1], t.path[i]) < reach && offSegment(b, t.path[i-1], t.path[i]) < reach {
				return true
			}
		}
	}
	return false
}

func offSegment(p, a, b geom.Vec) float64 {
	ab := b.Sub(a)
	l2 := ab.Norm2()
	if l2 == 0 {
		return p.Dist(a)
	}
	t := math.Min(1, math.Max(0, p.Sub(a).Dot(ab)/l2))
	return p.Dist(a.Add(ab.Mul(t)))
}

// tubeAt follows the bar that the ridge belongs to, nil when it is none.
func (s *shell) tubeAt(r ridge) *tube {
	pa, pb := s.verts[r.a], s.verts[r.b]
	o, d := pa.Lerp(pb, 0.5), pb.Sub(pa).Unit()
	sec := s.cut(o, d)
	lp := sec.loopOf(r.tri)
	if lp < 0 {
		return nil
	}
	g, ok := sec.fitDistorted(lp, d)
	if !ok || !g.outward || !g.round() {
		sec.markFailed(lp)
		return nil
	}
	g.r = s.vertexRadius(sec, lp, &g)
	t := &tube{shell: s, radius: g.r, sides: g.sides, residual: g.residual, distorted: g.distorted}
	ahead := follower{tube: t, ring: g, first: g.axis}
	end := ahead.run(sec, lp)
	if ahead.closed {
		t.path = openLoop(ahead.path)
		return t
	}
	back := follower{tube: t, ring: g, first: g.axis}
	back.ring.d = g.d.Neg()
	back.first.d = back.ring.d
	sec = s.cut(o, d.Neg())
	lp = sec.loopOf(r.tri)
	sec.findCorners(lp, cosFine)
	start := back.run(sec, lp)
	for i := len(back.path) - 1; i >= 0; i-- {
		t.path = append(t.path, back.path[i])
	}
	t.path = append(t.path, ahead.path...)
	t.goesOn = [2]bool{start, end}
	return t
}

// markFailed remembers that the loop is no bar, so that the other ridges along it
// need no trial.
func (sec *section) markFailed(lp int32) {
	s := sec.shell
	if s.failed == nil {
		s.failed = make([]geom.Vec, len(s.tris))
	}
	for _, sg := range sec.segsOf(lp) {
		s.failed[sg.tri] = sec.n
	}
}

// openLoop is a closed path that starts and ends where its pieces are shortest:
// within a bend, so that both ends of each straight piece lead into others.
func openLoop(path []geom.Vec) []geom.Vec {
	n := len(path)
	best, least := 0, math.Inf(1)
	for i := range path {
		if l := path[i].Dist(path[(i+1)%n]) + path[i].Dist(path[(i+n-1)%n]); l < least-geom.Tol {
			best, least = i, l
		}
	}
	return slices.Concat(path[best:], path[:best+1])
}

// vertexRadius is the radius of the circle that the vertices at the ends of the
// facets lie on. That is the fitted radius unless the facets are twisted against
// the axis, so that the cut between the vertices is narrower.
func (s *shell) vertexRadius(sec *section, lp int32, g *ring) float64 {
	var buf [256]float64
	offs := buf[:0]
	for _, sg := range sec.segsOf(lp) {
		for _, v := range s.tris[sg.tri] {
			offs = append(offs, g.off(s.verts[v]))
		}
	}
	slices.Sort(offs)
	if r := offs[len(offs)/2]; r > 1.005*g.r && r < 1.2*g.r {
		return r
	}
	return g.r
}

// markLoop marks the triangles of a loop as used.
func (sec *section) markLoop(lp int32) {
	for _, sg := range sec.segsOf(lp) {
		sec.shell.used[sg.tri] = true
	}
}
