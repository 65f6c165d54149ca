package demo

import (
	ib "embedcheck/internal/ifcbuild"
	"embedcheck/internal/ifcbuild/embed"
)

// host is a concrete element with a frame of its own: x along it, y across or
// up, z from its back to its front. Items are placed by x and y on a face.
type host struct {
	b       *ib.Builder
	ref     ib.Ref
	at      ib.Frame
	w, h, t float64
}

// lying is the frame of an element that lies on the ground or in its form: the
// front is its upper side.
func lying(x, y, z float64) ib.Frame { return ib.At(x, y, z) }

// The frames of walls that stand: the front looks out of the chamber. x and y
// are the plan position of the lower left corner of the back, seen from outside.
func south(x, y float64) ib.Frame { return ib.Facing(ib.V(x, y, 0), ib.V(0, -1, 0), ib.V(1, 0, 0)) }
func north(x, y float64) ib.Frame { return ib.Facing(ib.V(x, y, 0), ib.V(0, 1, 0), ib.V(-1, 0, 0)) }
func west(x, y float64) ib.Frame  { return ib.Facing(ib.V(x, y, 0), ib.V(-1, 0, 0), ib.V(0, -1, 0)) }
func east(x, y float64) ib.Frame  { return ib.Facing(ib.V(x, y, 0), ib.V(1, 0, 0), ib.V(0, 1, 0)) }

// cast adds a rectangular element.
func cast(b *ib.Builder, class, mark, what string, at ib.Frame, w, h, t float64) host {
	r := b.Add(ib.Element{
		Class: class, Name: mark, Tag: mark, Description: what, At: at, Material: concrete,
		Body: []ib.Solid{ib.Block(ib.V(0, 0, 0), ib.V(w, h, t))},
	})
	return host{b, r, at, w, h, t}
}

// front is a place on the front face, z out of the concrete.
func (p host) front(x, y float64) ib.Frame { return p.at.Mul(ib.At(x, y, p.t)) }

// back is a place on the back face.
func (p host) back(x, y float64) ib.Frame {
	return p.at.Mul(ib.Facing(ib.V(x, y, 0), ib.V(0, 0, -1), ib.V(1, 0, 0)))
}

// top is a place on the upper edge, z along the thickness counted from the back.
func (p host) top(x, z float64) ib.Frame {
	return p.at.Mul(ib.Facing(ib.V(x, p.h, z), ib.V(0, 1, 0), ib.V(1, 0, 0)))
}

// bottom is a place on the lower edge.
func (p host) bottom(x, z float64) ib.Frame {
	return p.at.Mul(ib.Facing(ib.V(x, 0, z), ib.V(0, -1, 0), ib.V(1, 0, 0)))
}

// opening cuts a rectangular hole through the thickness.
func (p host) opening(mark string, o embed.Opening) {
	p.ref.Open(mark, ib.At(0, 0, 0), ib.Block(ib.V(o.X0, o.Y0, -10), ib.V(o.X1, o.Y1, p.t+10)))
}

// recess cuts a body out of the concrete at an item's place.
func (p host) recess(mark string, at ib.Frame, body ib.Solid) ib.Ref {
	return p.ref.OpenWith(ib.Element{Name: mark, At: inverse(p.at).Mul(at), Body: []ib.Solid{body}})
}

// inverse is the frame that undoes f.
func inverse(f ib.Frame) ib.Frame {
	x := ib.V(f.X.X, f.Y.X, f.Z.X)
	y := ib.V(f.X.Y, f.Y.Y, f.Z.Y)
	z := ib.V(f.X.Z, f.Y.Z, f.Z.Z)
	g := ib.Frame{X: x, Y: y, Z: z}
	g.O = g.Dir(f.O).Mul(-1)
	return g
}
