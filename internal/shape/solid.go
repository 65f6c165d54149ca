package shape

import (
	"math"
	"sync"

	"embedcheck/ifcread"
	"embedcheck/internal/geom"
)

// Shape is what the body of a product consists of.
type Shape struct {
	Parts  []Part
	Unread []Unread

	refused string // why it is unread as a whole, with all that map it; else ""
}

// Part is one solid at its place. At maps solid-local coordinates to the
// coordinates of the object; it scales and mirrors when a mapped item does.
type Part struct {
	Solid *Solid
	At    geom.Affine
	Item  ifcread.Inst // the solid's own instance, also below mapped items
}

// Unread is an item that could not be turned into a solid.
type Unread struct {
	Item     ifcread.Inst
	ItemType string // IfcBoundingBox, ...
	Why      string
}

// Kind is the most that is known about a solid.
type Kind int

const (
	Mesh      Kind = iota // only a body
	Rod                   // a round bar or tube along a path: Rod is set
	Extrusion             // a profile along a straight line: Prism is set
)

func (k Kind) String() string { return [...]string{"mesh", "rod", "extrusion"}[k] }

// Solid is one evaluated solid in its own local coordinates. It is shared by
// all its uses and never changed.
type Solid struct {
	Kind     Kind
	Rod      *geom.Rod // set for a swept disk, an extruded or revolved circle, a cylinder
	Prism    *Prism    // set for an extrusion of one area, also when Kind is Rod
	Base     *Solid    // what a Boolean result was cut from, in the same coordinates; else nil
	Profile  string    // name of the profile as written; of the base for a Boolean result
	ItemType string    // IfcSweptDiskSolid, ...

	origin geom.Vec // item coordinates are local coordinates plus origin
	box    geom.Box // empty until the mesh gives it
	build  func() (*geom.Mesh, error)
	once   sync.Once
	mesh   *geom.Mesh
	err    error
}

// Mesh is the body as a closed mesh, facing outwards. It is built on first use
// and shared: do not change it.
func (s *Solid) Mesh() (*geom.Mesh, error) {
	s.once.Do(func() {
		s.mesh, s.err = s.build()
		s.build = nil // lets go of what only it needed
		if s.err == nil && s.Kind == Mesh {
			s.mesh = s.mesh.Oriented() // files have faces that look inwards
		}
	})
	return s.mesh, s.err
}

// Placed is the body moved by t. For an extrusion it is built anew and nothing is
// kept but what is returned: most openings are used once, and recesses for round
// formers have the largest meshes of a precast model.
func (s *Solid) Placed(t geom.Affine) (*geom.Mesh, error) {
	body := s.Mesh
	if s.Prism != nil {
		body = func() (*geom.Mesh, error) { return prismMesh(s.Prism) }
	}
	m, err := body()
	if err != nil {
		return nil, err
	}
	return m.Transform(t), nil
}

// Box is the box around the solid, in its local coordinates. Only for a Boolean
// result is the mesh built; where that is impossible, the box is empty.
func (s *Solid) Box() geom.Box {
	if !s.box.Empty() {
		return s.box
	}
	if m, err := s.Mesh(); err == nil {
		return m.Box()
	}
	return geom.EmptyBox
}

// farAway is the distance in mm from the origin beyond which a solid gets an
// origin of its own. Products of two coordinates below it keep 1e-6 mm.
const farAway = 1e5

// originFor is the local origin for a solid around p: a round number, so that
// moving by it loses nothing.
func originFor(p geom.Vec) geom.Vec {
	if math.Abs(p.X) < farAway && math.Abs(p.Y) < farAway && math.Abs(p.Z) < farAway {
		return geom.Vec{}
	}
	return geom.Vec{X: math.Round(p.X), Y: math.Round(p.Y), Z: math.Round(p.Z)}
}

// newRod is a solid around a path, in item coordinates; the path is moved.
func newRod(itemType string, rod *geom.Rod) *Solid {
	s := &Solid{Kind: Rod, Rod: rod, ItemType: itemType, origin: originFor(rod.Path[0])}
	if s.origin != (geom.Vec{}) {
		for i, p := range rod.Path {
			rod.Path[i] = p.Sub(s.origin)
		}
	}
	s.box = rodBox(rod)
	s.build = func() (*geom.Mesh, error) { return tubeMesh(rod) }
	return s
}

// rodBox is the box around a rod with flat ends and mitred bends.
func rodBox(rod *geom.Rod) geom.Box {
	b := geom.EmptyBox
	n := len(rod.Path)
	for i, p := range rod.Path {
		if i > 0 && i < n-1 {
			u, v := p.Sub(rod.Path[i-1]).Unit(), rod.Path[i+1].Sub(p).Unit()
			half := math.Sqrt(max(0.05, (1+u.Dot(v))/2)) // cosine of half the turn
			g := rod.Radius / half
			b = b.Add(p.Add(geom.Vec{X: g, Y: g, Z: g})).Add(p.Sub(geom.Vec{X: g, Y: g, Z: g}))
			continue
		}
		d := rod.Path[min(i+1, n-1)].Sub(rod.Path[max(min(i, n-2), 0)]).Unit()
		g := geom.Vec{X: rim(rod.Radius, d.X), Y: rim(rod.Radius, d.Y), Z: rim(rod.Radius, d.Z)}
		b = b.Add(p.Add(g)).Add(p.Sub(g))
	}
	return b
}

// rim is how far a disc reaches along an axis that has the component d of its
// normal.
func rim(radius, d float64) float64 { return radius * math.Sqrt(max(0, 1-d*d)) }

// newMesh is a solid that is only a body. Its points are item coordinates less
// origin.
func newMesh(itemType string, m *geom.Mesh, origin geom.Vec) *Solid {
	s := &Solid{Kind: Mesh, ItemType: itemType, origin: origin, box: m.Box()}
	s.build = func() (*geom.Mesh, error) { return m, nil }
	return s
}
