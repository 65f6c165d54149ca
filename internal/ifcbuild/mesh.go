package ifcbuild

import (
	"math"
	"slices"
)

// Mesh is a body bounded by flat faces.
type Mesh struct {
	Verts []Vec
	Faces []Face
}

// Face is a loop of vertices, counter-clockwise seen from outside, with holes
// that run the other way round.
type Face struct {
	Outer []int
	Holes [][]int
}

// Ngon is a regular polygon round the origin whose corners lie on a circle.
func Ngon(radius float64, sides int) []XY {
	out := make([]XY, sides)
	for i := range out {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(sides))
		out[i] = XY{radius * c, radius * s}
	}
	return out
}

// PrismMesh is a profile drawn along the z axis of a frame, with round outlines
// in so many sides.
func PrismMesh(p Profile, at Frame, depth float64, sides int) *Mesh {
	m := &Mesh{}
	bottom, top := Face{}, Face{}
	for i, ring := range p.rings(sides) {
		ring = slices.Clone(ring)
		if (area(ring) < 0) == (i == 0) {
			slices.Reverse(ring) // holes run clockwise
		}
		n, first := len(ring), len(m.Verts)
		for _, z := range []float64{0, depth} {
			for _, q := range ring {
				m.Verts = append(m.Verts, at.Apply(V(q.X, q.Y, z)))
			}
		}
		var lower, upper []int
		for k := range ring {
			lower = append(lower, first+n-1-k)
			upper = append(upper, first+n+k)
			next := (k + 1) % n
			m.Faces = append(m.Faces, Face{Outer: []int{first + k, first + next, first + n + next, first + n + k}})
		}
		if i == 0 {
			bottom.Outer, top.Outer = lower, upper
		} else {
			bottom.Holes, top.Holes = append(bottom.Holes, lower), append(top.Holes, upper)
		}
	}
	m.Faces = append(m.Faces, bottom, top)
	return m
}

// area is the signed area of a ring: positive when it runs counter-clockwise.
func area(ring []XY) float64 {
	var a float64
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		a += p.X*q.Y - p.Y*q.X
	}
	return a / 2
}

// BlockMesh is the box between two corners.
func BlockMesh(lo, hi Vec) *Mesh {
	e := Block(lo, hi)
	return PrismMesh(e.Profile, e.At, e.Depth, 4)
}

// RodMesh is a round bar of so many sides whose corners lie on the bar's
// surface, mitred at the bends of its path; inner makes it a pipe.
func RodMesh(path []Vec, radius, inner float64, sides int) *Mesh {
	m := &Mesh{}
	rings := func(r float64) int {
		first := len(m.Verts)
		x := along(path[0], path[1]).X
		dir := func(i int) Vec { return path[i+1].Sub(path[i]).Unit() }
		for i, p := range path {
			in, out := dir(max(i-1, 0)), dir(min(i, len(path)-2))
			if i >= 2 { // the ring turns with the path, by the least turn
				sum := dir(i - 2).Add(in)
				x = x.Sub(sum.Mul(2 * x.Dot(in) / sum.Dot(sum)))
			}
			y := in.Cross(x)
			cut := in.Add(out).Unit() // normal of the mitre
			for _, q := range Ngon(r, sides) {
				v := x.Mul(q.X).Add(y.Mul(q.Y))
				v = v.Sub(in.Mul(v.Dot(cut) / in.Dot(cut)))
				m.Verts = append(m.Verts, p.Add(v))
			}
		}
		return first
	}
	loop := func(first int, reverse bool) []int {
		out := make([]int, sides)
		for i := range out {
			out[i] = first + i
		}
		if reverse {
			slices.Reverse(out)
		}
		return out
	}
	sleeve := func(first int, inside bool) {
		for i := 0; i+1 < len(path); i++ {
			for k := range sides {
				a, c := first+i*sides+k, first+i*sides+(k+1)%sides
				f := []int{a, c, c + sides, a + sides}
				if inside {
					slices.Reverse(f)
				}
				m.Faces = append(m.Faces, Face{Outer: f})
			}
		}
	}
	last := (len(path) - 1) * sides
	o := rings(radius)
	sleeve(o, false)
	start, end := Face{Outer: loop(o, true)}, Face{Outer: loop(o+last, false)}
	if inner > 0 {
		i := rings(inner)
		sleeve(i, true)
		start.Holes, end.Holes = [][]int{loop(i, false)}, [][]int{loop(i+last, true)}
	}
	m.Faces = append(m.Faces, start, end)
	return m
}

// BowlMesh is the part of a ball below the xy plane of a frame: a recess
// former. r is the radius at the plane, depth the height of the bowl.
func BowlMesh(at Frame, r, depth float64, sides int) *Mesh {
	ball := (r*r + depth*depth) / (2 * depth)
	m := &Mesh{}
	const steps = 4
	ring := func(z float64) {
		rad := math.Sqrt(max(0, ball*ball-(z-(ball-depth))*(z-(ball-depth))))
		for _, q := range Ngon(rad, sides) {
			m.Verts = append(m.Verts, at.Apply(V(q.X, q.Y, z)))
		}
	}
	for i := range steps {
		ring(-depth * math.Sin(math.Pi/2*float64(i)/steps))
	}
	tip := len(m.Verts)
	m.Verts = append(m.Verts, at.Apply(V(0, 0, -depth)))
	var rim []int
	for k := range sides {
		rim = append(rim, k)
		for i := range steps - 1 {
			a, c := i*sides+k, i*sides+(k+1)%sides
			// The wall leans: two triangles, since the quad is flat only by symmetry.
			m.Faces = append(m.Faces, Face{Outer: []int{a, a + sides, c + sides}}, Face{Outer: []int{a, c + sides, c}})
		}
		m.Faces = append(m.Faces, Face{Outer: []int{(steps-1)*sides + k, tip, (steps-1)*sides + (k+1)%sides}})
	}
	m.Faces = append(m.Faces, Face{Outer: rim})
	return m
}

// Moved is the mesh in a frame.
func (m *Mesh) Moved(f Frame) *Mesh {
	out := &Mesh{Verts: make([]Vec, len(m.Verts)), Faces: m.Faces}
	for i, v := range m.Verts {
		out.Verts[i] = f.Apply(v)
	}
	return out
}

// With is the mesh and another one beside it, in one body.
func (m *Mesh) With(o *Mesh) *Mesh {
	n := len(m.Verts)
	out := &Mesh{Verts: slices.Concat(m.Verts, o.Verts), Faces: slices.Clone(m.Faces)}
	shift := func(loop []int) []int {
		moved := make([]int, len(loop))
		for i, v := range loop {
			moved[i] = v + n
		}
		return moved
	}
	for _, f := range o.Faces {
		g := Face{Outer: shift(f.Outer)}
		for _, h := range f.Holes {
			g.Holes = append(g.Holes, shift(h))
		}
		out.Faces = append(out.Faces, g)
	}
	return out
}
