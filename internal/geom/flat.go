package geom

import (
	"cmp"
	"math"
	"slices"
)

// flat is a connected set of triangles in one plane.
type flat struct {
	plane Plane
	tris  []int32
	area  float64
	box   Box
}

// flats groups triangles into flat faces, each grown from its largest triangle
// as long as corners keep within tol of that triangle's plane and faces do not
// turn by more than minCos allows. number, when not nil, keeps triangles with
// different numbers apart. Triangles without area go with a neighbour, or make a
// flat with a zero normal. of is the flat of each triangle, adj the adjacency.
func flats(verts []Vec, tris [][3]int32, number []int32, tol, minCos float64) (out []flat, of []int32, adj [][3]int32) {
	g := flatGrower{verts: verts, tris: tris, number: number, tol: tol, minCos: minCos}
	g.adj = adjacency(len(verts), tris)
	g.normal = make([]Vec, len(tris))
	order := make([]int32, len(tris))
	g.of = make([]int32, len(tris))
	size := make([]float64, len(tris))
	for i, t := range tris {
		a, b, c := verts[t[0]], verts[t[1]], verts[t[2]]
		n := b.Sub(a).Cross(c.Sub(a))
		size[i] = n.Norm()
		g.normal[i] = n.Unit()
		order[i], g.of[i] = int32(i), -1
	}
	slices.SortFunc(order, func(a, b int32) int {
		if c := cmp.Compare(size[b], size[a]); c != 0 {
			return c
		}
		return cmp.Compare(a, b)
	})
	for _, seed := range order {
		if g.of[seed] < 0 {
			g.grow(seed, size)
		}
	}
	return g.out, g.of, g.adj
}

type flatGrower struct {
	verts       []Vec
	tris        [][3]int32
	number      []int32
	tol, minCos float64
	adj         [][3]int32
	normal      []Vec
	of          []int32
	out         []flat
	todo        []int32
}

func (g *flatGrower) grow(seed int32, size []float64) {
	id := int32(len(g.out))
	f := flat{plane: PlaneAt(g.verts[g.tris[seed][0]], g.normal[seed]), box: EmptyBox}
	g.of[seed] = id
	g.todo = append(g.todo[:0], seed)
	for len(g.todo) > 0 {
		t := g.todo[len(g.todo)-1]
		g.todo = g.todo[:len(g.todo)-1]
		f.tris = append(f.tris, t)
		f.area += size[t] / 2
		for k, v := range g.tris[t] {
			f.box = f.box.Add(g.verts[v])
			if s := g.adj[t][k]; s != noSide && g.of[s/3] < 0 && g.belongs(s/3, seed, f.plane) {
				g.of[s/3] = id
				g.todo = append(g.todo, s/3)
			}
		}
	}
	slices.Sort(f.tris)
	g.out = append(g.out, f)
}

func (g *flatGrower) belongs(t, seed int32, p Plane) bool {
	if g.number != nil && g.number[t] != g.number[seed] {
		return false
	}
	if n := g.normal[t]; n != (Vec{}) && n.Dot(p.N) < g.minCos {
		return false
	}
	for _, v := range g.tris[t] {
		if !(math.Abs(p.Dist(g.verts[v])) <= g.tol) {
			return false
		}
	}
	return true
}
