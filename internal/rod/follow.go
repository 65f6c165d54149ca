package rod

import (
	"math"

	"embedcheck/internal/geom"
)

// follower walks along a tube. Each step cuts the shell just past the place
// where the facets of the last step end. A swept bend consists of short prisms,
// so that the axes of the steps are exact, however coarse the bend is.
type follower struct {
	*tube
	ring   // of the last clean step
	path   []geom.Vec
	first  axis // of the step it set out from
	closed bool // the path has come back to it
}

// run follows the tube from a cut through a straight part and reports whether
// steel goes on where the tube ends.
func (f *follower) run(sec *section, lp int32) (goesOn bool) {
	s := f.tube.shell
	for range maxSteps {
		sec.markLoop(lp)
		here := f.endOf(sec, lp)
		sec = s.cut(here.next, here.n)
		var there bool
		if lp, there = f.pick(sec, here.next); lp < 0 || s.budget < 0 {
			f.path = append(f.path, here.last)
			return there
		}
		if g, clean := f.clean(sec, lp, here.n); clean {
			sec, lp, g = f.refine(sec, lp, g)
			f.turnTo(g, here)
			if f.isBack(g, here.next) {
				f.closed = true
				return false
			}
			continue
		}
		if sec, lp, there = f.track(sec, lp, here); lp < 0 {
			return there
		}
	}
	return true
}

// isBack reports whether a step through p is the one that the path set out from.
func (f *follower) isBack(g ring, p geom.Vec) bool {
	return len(f.path) > 2 && g.d.Dot(f.first.d) > math.Cos(straight) &&
		f.first.off(p) < 0.1*f.radius && f.first.depth(p) < f.first.depth(f.path[0])
}

func (f *follower) clean(sec *section, lp int32, n geom.Vec) (ring, bool) {
	fit := sec.fit
	if f.tube.distorted {
		fit = sec.fitDistorted
	}
	g, ok := fit(lp, n)
	return g, ok && g.bent(f.radius) && g.d.Dot(n) > 0.3
}

// refine measures a long step again in its middle, away from the disturbances at
// its start.
func (f *follower) refine(sec *section, lp int32, g ring) (*section, int32, ring) {
	s := f.tube.shell
	step := follower{tube: f.tube, ring: g}
	from := sec.loops[lp].mean
	ahead := g.depth(step.endOf(sec, lp).at) - g.depth(from)
	if ahead < 2*f.radius {
		return sec, lp, g
	}
	o := g.at(g.depth(from) + ahead/2)
	mid := s.cut(o, g.d)
	if at, _ := f.pick(mid, o); at >= 0 {
		if h, clean := f.clean(mid, at, g.d); clean && h.d.Dot(g.d) > math.Cos(2*straight) {
			return mid, at, h
		}
	}
	sec = s.cut(from, g.d)
	if at, _ := f.pick(sec, from); at >= 0 {
		lp = at
		sec.findCorners(lp, cosFine)
	}
	return sec, lp, g
}

// turnTo makes g the current step and adds the joint between the two.
func (f *follower) turnTo(g ring, was stop) {
	switch turned := g.d.Dot(f.d) < math.Cos(straight); {
	case was.planar:
		f.path = append(f.path, was.at)
	case turned:
		f.path = append(f.path, f.axis.at(f.meets(g.axis)))
	}
	f.ring = g
}

// track follows the tube through a part of irregular facets, in steps of its own
// and by the middle of the outline, as long as the outline keeps the size of the
// bar. It returns the cut through the first clean step after it; loop -1 when
// none comes, and then whether steel goes on. An irregular part on the axis that
// leads to nothing is left to those who look for heads and chamfers.
func (f *follower) track(sec *section, lp int32, from stop) (*section, int32, bool) {
	s := f.tube.shell
	d := from.n
	var mids []geom.Vec
	aside := false
	finish := func(last geom.Vec, goesOn bool) (*section, int32, bool) {
		f.path = append(f.path, from.at)
		if aside {
			f.path = append(f.path, mids...)
			f.path = append(f.path, last)
		}
		return sec, -1, goesOn
	}
	for len(mids) < maxTracked && s.budget > 0 {
		c := sec.loops[lp].mean
		if !f.tubeSized(sec, lp) {
			return finish(c, true)
		}
		mids = append(mids, c)
		aside = aside || f.off(c) > 0.05*f.radius
		sec.markLoop(lp)
		far := s.farVertex(sec, lp)
		if v, tilt, _ := sec.prismAxis(lp); tilt < 0.3 && math.Abs(v.Dot(d)) > 0.7 {
			d = v.Mul(math.Copysign(1, v.Dot(d)))
		}
		o := c.Add(d.Mul(0.15 * f.radius))
		sec = s.cut(o, d)
		next, there := f.pick(sec, o)
		if next < 0 {
			if !there {
				aside = true // it ends like a bar
			}
			return finish(c.Add(d.Mul(math.Min(far, 0.15*f.radius))), there)
		}
		lp = next
		if g, clean := f.clean(sec, lp, d); clean {
			sec, lp, g = f.refine(sec, lp, g)
			f.path = append(f.path, from.at)
			if aside {
				f.path = append(f.path, mids...)
				f.path = append(f.path, g.foot(o))
			}
			f.ring = g
			return sec, lp, true
		}
	}
	return finish(from.at, true)
}

// tubeSized reports whether the loop is round and of the size of the bar,
// whatever its facets.
func (f *follower) tubeSized(sec *section, lp int32) bool {
	c := sec.loops[lp].mean
	nodes := sec.nodesOf(lp)
	for i := range nodes {
		if nd := &nodes[i]; math.Abs(nd.at.Dist(c)-0.95*f.radius) > 0.15*f.radius {
			return false
		}
	}
	return sec.around(lp, c)
}

// farVertex is the height above the cut of the highest vertex of the loop's
// triangles.
func (s *shell) farVertex(sec *section, lp int32) float64 {
	far := 0.0
	for _, sg := range sec.segsOf(lp) {
		for _, v := range s.tris[sg.tri] {
			far = math.Max(far, s.height[v])
		}
	}
	return far
}

// pick finds the loop of the section that continues the tube at o, -1 when none
// does. there reports whether o lies in steel.
func (f *follower) pick(sec *section, o geom.Vec) (lp int32, there bool) {
	lp = -1
	want := 2 * math.Pi * f.radius
	worst := math.Inf(1)
	for i := range sec.loops {
		l := &sec.loops[i]
		if l.mean.Dist(o) > 0.8*f.radius {
			continue
		}
		if off := math.Abs(l.length - want); off < worst && l.length > 0 {
			lp, worst = int32(i), off
		}
	}
	if lp >= 0 {
		return lp, true
	}
	for i := range sec.loops {
		if sec.around(int32(i), o) {
			return -1, true
		}
	}
	return -1, false
}
