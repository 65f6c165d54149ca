package embed

import ib "embedcheck/internal/ifcbuild"

// End is the embedded end of a bolt.
type End int

const (
	Plain  End = iota
	L          // bent by 90 degrees
	J          // bent by 180 degrees
	Headed     // hexagon head
	Nutted     // nut, and a square washer plate when Washer is set
)

// Bolt is one hold-down bolt.
type Bolt struct {
	D     float64 // nominal diameter
	Depth float64 // embedment: face to the top of hook, head, nut or washer plate; plain: to the end
	Out   float64 // projection: face to the end of the thread
	End   End

	Leg    float64   // L: outside length of the leg; J: how far the short leg comes up above the top of the hook
	Bend   float64   // inside radius of the bend, 1.5 D by default
	Washer float64   // side of the washer plate
	Thick  float64   // thickness of the washer plate
	Nuts   []float64 // heights above the face of the lower sides of nuts on the thread
	Form   Form
	Curve  ib.Curve // how a swept centreline is written
}

// stub is how far a rod reaches beyond the nut at its embedded end.
const stub = 5

// Deepest is the distance from the face to the deepest point of the bolt.
func (b Bolt) Deepest() float64 {
	switch b.End {
	case L, J:
		return b.Depth + b.D
	case Headed:
		return b.Depth + HeadHeight(b.D)
	case Nutted:
		return b.Depth + b.Thick + NutHeight(b.D) + stub
	}
	return b.Depth
}

// Length is the length of the bolt as a schedule gives it: over all, along the
// shank.
func (b Bolt) Length() float64 { return b.Out + b.Deepest() }

func (b Bolt) radius() float64 {
	if b.Bend == 0 {
		return 2 * b.D // 1.5 D inside, to the centreline
	}
	return b.Bend + b.D/2
}

// Tip is the end of the centreline of the hook or of the shank.
func (b Bolt) Tip() ib.Vec {
	low := -(b.Depth + b.D/2)
	switch b.End {
	case L:
		return ib.V(b.Leg-b.D/2, 0, low)
	case J:
		return ib.V(2*b.radius(), 0, -b.Depth+b.Leg)
	}
	return ib.V(0, 0, -b.Deepest())
}

// Path is the centreline from the end of the thread to the end of the hook.
func (b Bolt) Path() ib.Path {
	top, low := ib.V(0, 0, b.Out), -(b.Depth + b.D/2)
	r := b.radius()
	switch b.End {
	case L:
		return ib.Bent(r, top, ib.V(0, 0, low), b.Tip())
	case J:
		return ib.StartAt(top).LineTo(ib.V(0, 0, low+r)).
			Arc(ib.V(r, 0, low+r), ib.V(0, -1, 0), 180).LineTo(b.Tip())
	case Headed:
		return ib.Straight(top, ib.V(0, 0, -b.Depth))
	}
	return ib.Straight(top, ib.V(0, 0, -b.Deepest()))
}

// Bodies are the bolt with its head, and the nuts and washers on it.
func (b Bolt) Bodies() []ib.Solid {
	out := b.Form.rod(b.Path().As(b.Curve), b.D)
	z := -b.Depth
	switch b.End {
	case Headed:
		out = append(out, b.Form.prism(ib.Hexagon(ib.V(0, 0, z), ib.V(0, 0, z-HeadHeight(b.D)), flats(b.D))))
	case Nutted:
		if b.Thick > 0 {
			w := b.Washer / 2
			out = append(out, b.Form.prism(ib.Block(ib.V(-w, -w, z-b.Thick), ib.V(w, w, z))))
		}
		out = append(out, b.Form.nut(b.D, z-b.Thick-NutHeight(b.D)))
	}
	for _, n := range b.Nuts {
		out = append(out, b.Form.nut(b.D, n))
	}
	return out
}

// Add adds the bolt as an element of which the caller says the rest.
func (b Bolt) Add(to *ib.Builder, e ib.Element) ib.Ref {
	if e.Class == "" {
		e.Class, e.Predefined = "IfcMechanicalFastener", "ANCHORBOLT"
	}
	if e.Body == nil {
		e.Body = b.Bodies()
	}
	return to.Add(e)
}

// In is the bodies put into a frame, as mapped items of one map.
func In(frames []ib.Frame, body ...ib.Solid) []ib.Solid {
	m := ib.NewMap(body...)
	out := make([]ib.Solid, len(frames))
	for i, f := range frames {
		out[i] = m.At(f)
	}
	return out
}
