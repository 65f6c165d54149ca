package shape

import (
	"errors"
	"fmt"
	"math"

	"embedcheck/ifcread"
	"embedcheck/internal/geom"
)

// This file is the border to the geometry package: it asks for bodies and
// refuses those that came out open.

var (
	errEmpty   = errors.New("nothing is left of the body")
	errFlat    = errors.New("the body has no volume")
	errCrossed = errors.New("the outline of its profile crosses itself")
)

// closed is m, or an error when it encloses no volume.
func closed(m *geom.Mesh) (*geom.Mesh, error) {
	if len(m.Tris) == 0 {
		return nil, errEmpty
	}
	if !(m.Volume() > minVolume) {
		return nil, errFlat
	}
	if c := m.Closed(); !c.OK {
		return nil, fmt.Errorf("the body came out open: %s", c.Why)
	}
	return m, nil
}

// prismMesh is the body of an extrusion.
func prismMesh(p *Prism) (*geom.Mesh, error) {
	if p.Outer == nil {
		p = p.outlined()
	}
	d := geom.Vec{X: p.Dir.Dot(p.Frame.X), Y: p.Dir.Dot(p.Frame.Y), Z: p.Dir.Dot(p.Frame.Z)}
	runs := [][]int{smoothRuns(p.Outer)}
	for _, h := range p.Holes {
		runs = append(runs, smoothRuns(h))
	}
	m := geom.Prism(p.Outer, p.Holes, p.Frame, d, p.Depth, runs...)
	want := area(p.Outer)
	for _, h := range p.Holes {
		want += area(h) // clockwise: negative
	}
	want *= p.Depth * math.Abs(d.Z)
	if !(want > minVolume) {
		return nil, errFlat
	}
	if got := m.Volume(); !(math.Abs(got-want) <= 1e-6*want) {
		return nil, errCrossed
	}
	return m, nil
}

// smoothRuns numbers the sides of a loop: sides between which it hardly turns
// share a number.
func smoothRuns(loop []geom.Vec2) []int {
	n := len(loop)
	runs := make([]int, n)
	side := func(i int) geom.Vec2 {
		d := loop[(i+1)%n].Sub(loop[i%n])
		return d.Mul(1 / math.Max(d.Norm(), minEdge))
	}
	for i := 1; i < n; i++ {
		runs[i] = runs[i-1]
		if side(i-1).Dot(side(i)) < smooth {
			runs[i]++
		}
	}
	if last := runs[n-1]; last > 0 && side(n-1).Dot(side(0)) >= smooth {
		for i := n - 1; runs[i] == last; i-- {
			runs[i] = 0
		}
	}
	return runs
}

// tubeMesh is the body of a rod.
func tubeMesh(rod *geom.Rod) (*geom.Mesh, error) {
	m := geom.Tube(*rod, sides(rod.Radius, bodyTol))
	if !(m.Volume() > minVolume) {
		return nil, errFlat
	}
	return m, nil
}

// ball is a sphere, as a half circle turned about the z axis of pos.
func ball(in ifcread.Inst, radius float64, pos geom.Affine) (*Solid, error) {
	origin := originFor(pos.T)
	pos.T = pos.T.Sub(origin)
	n := sides(radius, bodyTol)
	s := &shell{points: []geom.Vec{pos.Apply(geom.Vec{Z: -radius}), pos.Apply(geom.Vec{Z: radius})}}
	ring := func(k, i int) int32 { // ring k of 1 to n/2-1
		return int32(2 + (k-1)*n + i%n)
	}
	for k := 1; k < n/2; k++ {
		z, r := math.Sincos(math.Pi * (float64(2*k)/float64(n) - 0.5))
		for i := range n {
			y, x := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			s.points = append(s.points, pos.Apply(geom.Vec{X: radius * r * x, Y: radius * r * y, Z: radius * z}))
		}
	}
	for i := range n {
		s.faces = append(s.faces, face{loops: [][]int32{{0, ring(1, i+1), ring(1, i)}}, label: 1})
		for k := 1; k < n/2-1; k++ {
			s.quad(ring(k, i), ring(k, i+1), ring(k+1, i+1), ring(k+1, i))
		}
		s.faces = append(s.faces, face{loops: [][]int32{{1, ring(n/2-1, i), ring(n/2-1, i+1)}}, label: 1})
	}
	for i := range s.faces {
		s.faces[i].label = 1
	}
	m, err := s.mesh()
	if err != nil {
		return nil, bad(in, "%v", err)
	}
	return newMesh(in.Name(), m, origin), nil
}
