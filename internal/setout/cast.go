package setout

import (
	"math"

	"embedcheck/internal/geom"
	"embedcheck/internal/measure"
)

// Basis says how the face that is up in the form is known.
type Basis int

const (
	Unknown Basis = iota // nothing tells; one is assumed
	ByRule               // worked out; to be confirmed
	Stated               // the model states it
)

// Cast is how a host lies when it is cast.
type Cast struct {
	Basis    Basis
	Up       geom.Vec // unit, out of the face that is up, in the model's local coordinates
	UpName   string   // of that face, as "inside" or "top"
	DownName string   // of the face on the form
	Why      string   // how that is known, a clause
	Mirrored bool     // the face on the form is the outside: its elevation is seen mirrored
	Turn     string   // how the sheet's upper side is known, as "top of the sheet: top as it stands"
}

// cast takes the first of the ways to know that has an answer.
func (l *layer) cast() Cast {
	stated := l.Stated()
	if stated.Up != (geom.Vec{}) {
		return l.named(Stated, stated.Up, stated.Why)
	}
	c := l.byRule()
	if stated.Why != "" {
		c.Why += "; " + stated.Why
	}
	return c
}

func (l *layer) byRule() Cast {
	standing := l.Nearest(geom.V(0, 0, 1))
	lies := standing.Z > 0.7
	if l.inPlace() && lies {
		return l.named(ByRule, standing, "cast in place, as it stands")
	}
	out, flush := l.entered()
	if only, ok := single(out); ok {
		return l.named(ByRule, l.Faces[only], "its anchors stand out of this face, which a form would be in the way of")
	}
	switch {
	case lies:
		return l.named(ByRule, standing, "it lies in the building, and is taken to be cast as it lies")
	case l.Outside != geom.Vec{}:
		return l.named(ByRule, l.Outside.Neg(), "the outside is taken to be the form face")
	}
	if most, ok := largest(flush); ok {
		return l.named(ByRule, l.Faces[most], "most items lie in this face")
	}
	return l.named(Unknown, l.Faces[0], "nothing in the model tells which face is up")
}

// named is the cast with the names of its faces.
func (l *layer) named(b Basis, up geom.Vec, why string) Cast {
	c := Cast{Basis: b, Up: up, Why: why}
	switch {
	case math.Abs(up.Z) > 0.7:
		c.UpName, c.DownName = "top", "underside"
		if up.Z < 0 {
			c.UpName, c.DownName = c.DownName, c.UpName
		}
	case l.Outside != geom.Vec{} && math.Abs(up.Dot(l.Outside)) > 0.7:
		c.UpName, c.DownName = "inside", "outside"
		if up.Dot(l.Outside) > 0 {
			c.UpName, c.DownName = c.DownName, c.UpName
		}
		c.Mirrored = c.DownName == "outside"
	default:
		c.UpName, c.DownName = "face to model "+measure.AxisName(up), "face to model "+measure.AxisName(up.Neg())
	}
	return c
}
