package rod

import (
	"cmp"
	"math"
	"slices"

	"embedcheck/internal/geom"
)

// section is a shell cut by a plane: segments whose ends are joined where they
// meet in space, whatever the triangles say about common edges. It is scratch
// space: the next cut overwrites it.
type section struct {
	shell *shell
	n     geom.Vec // of the plane
	off   float64  // distance of the plane from the origin along n
	segs  []seg
	nodes []node
	loops []loop
	ends  []segEnd
	loose []int32
	sets  sets
}

// seg is the cut through one triangle.
type seg struct {
	p, q geom.Vec
	tri  int32
	a, b int32 // nodes
	loop int32
}

type node struct {
	at     geom.Vec
	normal geom.Vec // of one facet that meets here
	corner bool     // facets of different normals meet here
	odd    bool     // an odd number of segments ends here
	top    float64  // how far ahead the ridge through a corner ends
	loop   int32
}

// loop is a connected part of a section.
type loop struct {
	length float64
	mean   geom.Vec // of the outline, by length
}

type segEnd struct {
	key float64
	seg int32
	q   bool
}

// cut cuts the shell by the plane through o with unit normal n. Vertices on the
// plane count as above it.
func (s *shell) cut(o, n geom.Vec) *section {
	sec := &s.sec
	sec.shell, sec.n = s, n
	sec.segs = sec.segs[:0]
	s.budget -= len(s.tris)
	off := o.Dot(n)
	sec.off = off
	for _, v := range s.ids {
		s.height[v] = s.verts[v].Dot(n) - off
	}
	for i, t := range s.tris {
		h := [3]float64{s.height[t[0]], s.height[t[1]], s.height[t[2]]}
		up := [3]bool{h[0] >= 0, h[1] >= 0, h[2] >= 0}
		if up[0] == up[1] && up[1] == up[2] {
			continue
		}
		k := 0 // the corner alone on its side
		if up[0] == up[1] {
			k = 2
		} else if up[0] == up[2] {
			k = 1
		}
		l, r := (k+1)%3, (k+2)%3
		a := s.verts[t[k]]
		sec.segs = append(sec.segs, seg{
			p:   a.Lerp(s.verts[t[l]], h[k]/(h[k]-h[l])),
			q:   a.Lerp(s.verts[t[r]], h[k]/(h[k]-h[r])),
			tri: int32(i),
		})
	}
	sec.join()
	return sec
}

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

func (sec *section) split() {
	if cap(sec.sets) < len(sec.nodes) {
		sec.sets = make(sets, 2*len(sec.nodes))
	}
	sec.sets = sec.sets[:len(sec.nodes)]
	sec.sets.reset()
	for i := range sec.segs {
		sec.sets.join(sec.segs[i].a, sec.segs[i].b)
	}
	sec.loops = sec.loops[:0]
	for i := range sec.nodes {
		// roots are the smallest of their set, so they come first
		if r := sec.sets.find(int32(i)); r == int32(i) {
			sec.nodes[i].loop = int32(len(sec.loops))
			sec.loops = append(sec.loops, loop{})
		} else {
			sec.nodes[i].loop = sec.nodes[r].loop
		}
	}
	for i := range sec.segs {
		sg := &sec.segs[i]
		sg.loop = sec.nodes[sg.a].loop
		l := sg.p.Dist(sg.q)
		lp := &sec.loops[sg.loop]
		lp.length += l
		lp.mean = lp.mean.Add(sg.p.Add(sg.q).Mul(l / 2))
	}
	for i := range sec.loops {
		if lp := &sec.loops[i]; lp.length > 0 {
			lp.mean = lp.mean.Mul(1 / lp.length)
		}
	}
}

// loopOf is the loop that triangle tri was cut in, -1 when it was not cut.
func (sec *section) loopOf(tri int32) int32 {
	for i := range sec.segs {
		if sec.segs[i].tri == tri {
			return sec.segs[i].loop
		}
	}
	return -1
}

// findCorners marks the nodes of a loop where facets meet that differ by more
// than the angle with the given cosine. Points on the diagonal of a facet are
// no corners of the outline.
func (sec *section) findCorners(lp int32, cos float64) int {
	n := 0
	for i := range sec.nodes {
		if nd := &sec.nodes[i]; nd.loop == lp {
			nd.normal, nd.corner = geom.Vec{}, false
		}
	}
	for i := range sec.segs {
		sg := &sec.segs[i]
		normal := sec.shell.normal[sg.tri]
		if sg.loop != lp || normal == (geom.Vec{}) {
			continue
		}
		for _, id := range [2]int32{sg.a, sg.b} {
			nd := &sec.nodes[id]
			if nd.normal == (geom.Vec{}) {
				nd.normal = normal
			} else if !nd.corner && nd.normal.Dot(normal) < cos {
				nd.corner = true
				n++
			}
		}
	}
	return n
}

// around reports whether the loop runs all round x with steel inside.
func (sec *section) around(lp int32, x geom.Vec) bool {
	sum := 0.0
	for i := range sec.segs {
		sg := &sec.segs[i]
		if sg.loop != lp {
			continue
		}
		p, q := sg.p.Sub(x), sg.q.Sub(x)
		if q.Sub(p).Dot(sec.n.Cross(sec.shell.normal[sg.tri])) < 0 {
			p, q = q, p
		}
		sum += math.Atan2(p.Cross(q).Dot(sec.n), p.Dot(q))
	}
	return sum > 1.9*math.Pi
}
