package measure

import (
	"fmt"
	"math"
	"strings"

	"embedcheck/internal/geom"
)

// FaceUpProperty and FormFaceProperty are the properties of a host, in any
// property set, that state which face is up in the form or lies on it. Values:
// an axis of the host's own placement ("+Y", "-Z"), "top" or "underside" as the
// host stands in the model, "inside" or "outside".
const (
	FaceUpProperty   = "FaceUp"
	FormFaceProperty = "FormFace"
)

// StatedCast is what a model states of how a host is cast.
type StatedCast struct {
	Up  geom.Vec // unit, out of the face that is up; zero where nothing is stated that is understood
	Why string   // what states it, or what is not understood, a clause; "" where the model is silent
}

// Stated is the first statement of the host that is understood, else the last
// that is not.
func (c *Casting) Stated() StatedCast {
	var s StatedCast
	for _, p := range []struct {
		name string
		sign float64
	}{{FaceUpProperty, 1}, {FormFaceProperty, -1}} {
		v, ok := c.host.Says(p.name)
		if !ok {
			continue
		}
		if d, ok := c.Direction(v); ok {
			return StatedCast{c.Nearest(d).Mul(p.sign), fmt.Sprintf("the model states %s = %s", p.name, v)}
		}
		s.Why = fmt.Sprintf("%s = %q of the model is not understood", p.name, v)
	}
	return s
}

// Direction reads a stated side of the host: unit, out of it. ok is false for
// other texts, and for the inside and the outside where the model does not tell
// them.
func (c *Casting) Direction(v string) (d geom.Vec, ok bool) {
	v = strings.ToLower(strings.TrimSpace(v))
	switch v {
	case "top":
		return geom.V(0, 0, 1), true
	case "underside", "bottom", "soffit":
		return geom.V(0, 0, -1), true
	case "outside", "exterior":
		return c.Outside, c.Outside != geom.Vec{}
	case "inside", "interior":
		return c.Outside.Neg(), c.Outside != geom.Vec{}
	}
	sign := 1.0
	if rest, ok := strings.CutPrefix(v, "-"); ok {
		sign, v = -1, rest
	}
	f := c.host.Frame
	switch strings.TrimPrefix(v, "+") {
	case "x":
		return f.X.Mul(sign), true
	case "y":
		return f.Y.Mul(sign), true
	case "z":
		return f.Z.Mul(sign), true
	}
	return geom.Vec{}, false
}

// AxisName is the axis of the model that a direction runs along, with the angle
// between the two where there is one: "+Z", "-Y (12 degrees off)".
func AxisName(d geom.Vec) string {
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
