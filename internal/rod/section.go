package rod

import (
	"math"

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

	nodes2 []node
	segs2  []seg
	sets   geom.Disjoint
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
	length        float64
	mean          geom.Vec // of the outline, by length
	node, nodeEnd int32    // its part of the section's nodes
	seg, segEnd   int32    // and segments
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

func (sec *section) segsOf(lp int32) []seg {
	l := &sec.loops[lp]
	return sec.segs[l.seg:l.segEnd]
}

func (sec *section) nodesOf(lp int32) []node {
	l := &sec.loops[lp]
	return sec.nodes[l.node:l.nodeEnd]
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
	nodes := sec.nodesOf(lp)
	for i := range nodes {
		nodes[i].normal, nodes[i].corner = geom.Vec{}, false
	}
	segs := sec.segsOf(lp)
	for i := range segs {
		sg := &segs[i]
		normal := sec.shell.normal[sg.tri]
		if normal == (geom.Vec{}) {
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
	segs := sec.segsOf(lp)
	for i := range segs {
		sg := &segs[i]
		p, q := sg.p.Sub(x), sg.q.Sub(x)
		if q.Sub(p).Dot(sec.n.Cross(sec.shell.normal[sg.tri])) < 0 {
			p, q = q, p
		}
		sum += math.Atan2(p.Cross(q).Dot(sec.n), p.Dot(q))
	}
	return sum > 1.9*math.Pi
}
