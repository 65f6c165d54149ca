package setout

import (
	"fmt"
	"math"
	"strings"

	"embedcheck/internal/geom"
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

// FaceUpProperty and FormFaceProperty are the properties of a host, in any
// property set, that state which face is up in the form or lies on it. Values:
// an axis of the host's own placement ("+Y", "-Z"), "top" or "underside" as the
// host stands in the model, "inside" or "outside".
const (
	FaceUpProperty   = "FaceUp"
	FormFaceProperty = "FormFace"
)

func (l *layer) property(name string) (string, bool) {
	if l.h.Property == nil {
		return "", false
	}
	v, ok := l.h.Property(name)
	return strings.TrimSpace(v), ok && strings.TrimSpace(v) != ""
}

// cast takes the first of the ways to know that has an answer.
func (l *layer) cast() Cast {
	bad := ""
	for _, p := range []struct {
		name string
		sign float64
	}{{FaceUpProperty, 1}, {FormFaceProperty, -1}} {
		v, ok := l.property(p.name)
		if !ok {
			continue
		}
		if d, ok := l.direction(v); ok {
			return l.named(Stated, d.Mul(p.sign), fmt.Sprintf("the model states %s = %s", p.name, v))
		}
		bad = fmt.Sprintf("; %s = %q of the model is not understood", p.name, v)
	}
	c := l.byRule()
	c.Why += bad
	return c
}

func (l *layer) byRule() Cast {
	standing := l.nearest(geom.V(0, 0, 1))
	lies := standing.Z > 0.7
	if l.inPlace() && lies {
		return l.named(ByRule, standing, "cast in place, as it stands")
	}
	out, flush := l.entered()
	if only, ok := single(out); ok {
		return l.named(ByRule, l.faces[only], "its anchors stand out of this face, which a form would be in the way of")
	}
	switch {
	case lies:
		return l.named(ByRule, standing, "it lies in the building, and is taken to be cast as it lies")
	case l.outside != geom.Vec{}:
		return l.named(ByRule, l.outside.Neg(), "the outside is taken to be the form face")
	}
	if most, ok := largest(flush); ok {
		return l.named(ByRule, l.faces[most], "most items lie in this face")
	}
	return l.named(Unknown, l.faces[0], "nothing in the model tells which face is up")
}

// nearest is the candidate nearest to a direction.
func (l *layer) nearest(d geom.Vec) geom.Vec {
	best := l.faces[0]
	for _, f := range l.faces {
		if f.Dot(d) > best.Dot(d)+1e-9 {
			best = f
		}
	}
	return best
}

// direction reads a stated face.
func (l *layer) direction(v string) (geom.Vec, bool) {
	v = strings.ToLower(strings.TrimSpace(v))
	switch v {
	case "top":
		return l.nearest(geom.V(0, 0, 1)), true
	case "underside", "bottom", "soffit":
		return l.nearest(geom.V(0, 0, -1)), true
	case "outside", "exterior":
		return l.outside, l.outside != geom.Vec{}
	case "inside", "interior":
		return l.outside.Neg(), l.outside != geom.Vec{}
	}
	sign := 1.0
	if rest, ok := strings.CutPrefix(v, "-"); ok {
		sign, v = -1, rest
	}
	f := l.h.Frame
	switch strings.TrimPrefix(v, "+") {
	case "x":
		return l.nearest(f.X.Mul(sign)), true
	case "y":
		return l.nearest(f.Y.Mul(sign)), true
	case "z":
		return l.nearest(f.Z.Mul(sign)), true
	}
	return geom.Vec{}, false
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
	case l.outside != geom.Vec{} && math.Abs(up.Dot(l.outside)) > 0.7:
		c.UpName, c.DownName = "inside", "outside"
		if up.Dot(l.outside) > 0 {
			c.UpName, c.DownName = c.DownName, c.UpName
		}
		c.Mirrored = c.DownName == "outside"
	default:
		c.UpName, c.DownName = "face to model "+axisName(up), "face to model "+axisName(up.Neg())
	}
	return c
}

// axisName is the axis of the model that a direction runs along, with the angle
// between the two where there is one: "+Z", "-Y (12 degrees off)".
func axisName(d geom.Vec) string {
	best, cos := "", -2.0
	for i, a := range [3]geom.Vec{{X: 1}, {Y: 1}, {Z: 1}} {
		for k, c := range [2]geom.Vec{a, a.Neg()} {
			if x := c.Dot(d); x > cos+1e-9 {
				best, cos = string("+-"[k])+string("XYZ"[i]), x
			}
		}
	}
	if off := math.Round(math.Acos(min(1, cos)) * 180 / math.Pi); off >= 1 {
		best += fmt.Sprintf(" (%g degrees off)", off)
	}
	return best
}
