package rod

import (
	"cmp"
	"slices"

	"embedcheck/internal/geom"
)

// join finds the nodes and loops.
func (sec *section) join() {
	const tol = 10 * weldTol // rounded coordinates tear edges that are divided on one side
	u := sec.n.Perp()
	u = u.Mul(0.8).Add(sec.n.Cross(u).Mul(0.6)) // off the axes that outlines like
	sec.ends = sec.ends[:0]
	for i := range sec.segs {
		sg := &sec.segs[i]
		sec.ends = append(sec.ends, segEnd{sg.p.Dot(u), int32(i), false}, segEnd{sg.q.Dot(u), int32(i), true})
	}
	slices.SortFunc(sec.ends, func(x, y segEnd) int { return cmp.Compare(x.key, y.key) })
	sec.nodes = sec.nodes[:0]
	for _, e := range sec.ends {
		sg := &sec.segs[e.seg]
		p := sg.p
		if e.q {
			p = sg.q
		}
		id := int32(-1)
		for k := len(sec.nodes) - 1; k >= 0 && e.key-sec.nodes[k].at.Dot(u) <= tol; k-- {
			if sec.nodes[k].at.Sub(p).Norm2() <= tol*tol {
				id = int32(k)
				break
			}
		}
		if id < 0 {
			id = int32(len(sec.nodes))
			sec.nodes = append(sec.nodes, node{at: p})
		}
		if e.q {
			sg.b = id
		} else {
			sg.a = id
		}
	}
	sec.mend()
	sec.split()
}

// mend joins loose ends that lie near each other. Rounded coordinates tear edges
// that are divided on one side, and a plane that meets such an edge at a small
// angle widens the tear.
func (sec *section) mend() {
	const tear = 0.3 // mm
	for i := range sec.segs {
		sec.nodes[sec.segs[i].a].odd = !sec.nodes[sec.segs[i].a].odd
		sec.nodes[sec.segs[i].b].odd = !sec.nodes[sec.segs[i].b].odd
	}
	sec.loose = sec.loose[:0]
	for i := range sec.nodes {
		if sec.nodes[i].odd {
			sec.loose = append(sec.loose, int32(i))
		}
	}
	if len(sec.loose) > 256 {
		return // an open surface
	}
	for k, i := range sec.loose {
		if i < 0 {
			continue
		}
		best, least := -1, tear
		for l := k + 1; l < len(sec.loose); l++ {
			if j := sec.loose[l]; j >= 0 {
				if d := sec.nodes[i].at.Dist(sec.nodes[j].at); d < least {
					best, least = l, d
				}
			}
		}
		if best >= 0 {
			sec.rename(sec.loose[best], i)
			sec.loose[best] = -1
		}
	}
}

// rename lets the segments at node old end at node now; old stays as a node
// without segments.
func (sec *section) rename(old, now int32) {
	for i := range sec.segs {
		if sg := &sec.segs[i]; sg.a == old {
			sg.a = now
		} else if sg.b == old {
			sg.b = now
		}
	}
}

// split sorts segments and nodes by loop.
func (sec *section) split() {
	if cap(sec.sets) < len(sec.nodes) {
		sec.sets = make(geom.Disjoint, 2*len(sec.nodes))
	}
	sec.sets = sec.sets[:len(sec.nodes)]
	sec.sets.Reset()
	for i := range sec.segs {
		sec.sets.Join(sec.segs[i].a, sec.segs[i].b)
	}
	sec.loops = sec.loops[:0]
	for i := range sec.nodes {
		// roots are the smallest of their set, so they come first
		nd := &sec.nodes[i]
		if r := sec.sets.Find(int32(i)); r == int32(i) {
			nd.loop = int32(len(sec.loops))
			sec.loops = append(sec.loops, loop{})
		} else {
			nd.loop = sec.nodes[r].loop
		}
		sec.loops[nd.loop].nodeEnd++
	}
	for i := range sec.segs {
		sg := &sec.segs[i]
		sg.loop = sec.nodes[sg.a].loop
		l := sg.p.Dist(sg.q)
		lp := &sec.loops[sg.loop]
		lp.segEnd++
		lp.length += l
		lp.mean = lp.mean.Add(sg.p.Add(sg.q).Mul(l / 2))
	}
	var nodes, segs int32
	for i := range sec.loops {
		lp := &sec.loops[i]
		if lp.length > 0 {
			lp.mean = lp.mean.Mul(1 / lp.length)
		}
		lp.node, lp.seg = nodes, segs
		nodes, segs = nodes+lp.nodeEnd, segs+lp.segEnd
		lp.nodeEnd, lp.segEnd = lp.node, lp.seg // grow again while sorting
	}
	sec.sort()
}

// sort moves nodes and segments to the places of their loops. The sets' space
// keeps the new numbers of the nodes.
func (sec *section) sort() {
	if len(sec.loops) == 1 {
		sec.loops[0].nodeEnd, sec.loops[0].segEnd = int32(len(sec.nodes)), int32(len(sec.segs))
		return
	}
	sec.nodes2 = slices.Grow(sec.nodes2[:0], len(sec.nodes))[:len(sec.nodes)]
	sec.segs2 = slices.Grow(sec.segs2[:0], len(sec.segs))[:len(sec.segs)]
	for i := range sec.nodes {
		lp := &sec.loops[sec.nodes[i].loop]
		sec.nodes2[lp.nodeEnd] = sec.nodes[i]
		sec.sets[i] = lp.nodeEnd
		lp.nodeEnd++
	}
	for i := range sec.segs {
		sg := sec.segs[i]
		sg.a, sg.b = sec.sets[sg.a], sec.sets[sg.b]
		lp := &sec.loops[sg.loop]
		sec.segs2[lp.segEnd] = sg
		lp.segEnd++
	}
	sec.nodes, sec.nodes2 = sec.nodes2, sec.nodes
	sec.segs, sec.segs2 = sec.segs2, sec.segs
}
