package shape

import (
	"errors"

	"embedcheck/ifcread"
	"embedcheck/internal/geom"
)

// Shape is what the body of a product consists of.
type Shape struct {
	Parts  []Part
	Unread []Unread
}

// Part is one solid at its place. At maps solid-local coordinates to the
// coordinates of the object; it scales and mirrors when a mapped item does.
type Part struct {
	Solid *Solid
	At    geom.Affine
	Item  ifcread.Inst // the item of the representation
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

// Solid is one evaluated solid. It is shared and never changed.
type Solid struct {
	Kind     Kind
	Rod      *geom.Rod // set for a swept disk, an extruded or revolved circle
	Prism    *Prism    // set for an extrusion, also when Kind is Rod
	Base     *Solid    // what a Boolean result was cut from; nil for others
	Profile  string    // name of the profile as written, "" when there is none
	ItemType string    // IfcSweptDiskSolid, ...
}

// Mesh is the body as a closed mesh. It is built on first use and shared.
func (s *Solid) Mesh() (*geom.Mesh, error) {
	return nil, errors.New("meshes are not built yet")
}

// Box is the box around the solid, in its local coordinates.
func (s *Solid) Box() geom.Box { return geom.EmptyBox }
