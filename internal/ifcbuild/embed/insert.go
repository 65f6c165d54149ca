package embed

import ib "embedcheck/internal/ifcbuild"

// Ferrule is a threaded socket: a tube with a cross bar near its closed end, or
// with a tail bar.
type Ferrule struct {
	Thread float64 // nominal diameter
	OD     float64
	Length float64
	Cross  float64 // length of the cross bar, 0 for none
	CrossD float64
	CrossZ float64 // distance of the cross bar's axis from the closed end
	Tail   float64 // length of the tail bar behind the tube, 0 for none
	TailD  float64
	Sunk   float64 // depth of the mouth below the face
	Form   Form
}

// Bodies are tube and bars.
func (f Ferrule) Bodies() []ib.Solid {
	top, low := -f.Sunk, -f.Sunk-f.Length
	out := []ib.Solid{f.Form.prism(ib.Tube(ib.V(0, 0, low), ib.V(0, 0, top), f.OD/2, f.Thread/2))}
	if f.Cross > 0 {
		z := low + f.CrossZ
		out = append(out, f.Form.rod(ib.Straight(ib.V(-f.Cross/2, 0, z), ib.V(f.Cross/2, 0, z)), f.CrossD)...)
	}
	if f.Tail > 0 {
		out = append(out, f.Form.rod(ib.Straight(ib.V(0, 0, low), ib.V(0, 0, low-f.Tail)), f.TailD)...)
	}
	return out
}

// Lifter is a lifting insert: a forged bar with a head to take the clutch and a
// foot, its head in a recess below the face.
type Lifter struct {
	Shank, Length float64 // diameter; length over all
	Head, HeadT   float64 // diameter and thickness
	Foot, FootT   float64
	Sunk          float64 // depth of the head's top below the face
	Recess        float64 // radius of the recess at the face
	Form          Form
}

// Deepest is the distance from the face to the foot's lower side.
func (l Lifter) Deepest() float64 { return l.Sunk + l.Length }

// Bodies are shank, head and foot.
func (l Lifter) Bodies() []ib.Solid {
	top, low := -l.Sunk, -l.Deepest()
	out := l.Form.rod(ib.Straight(ib.V(0, 0, top), ib.V(0, 0, low)), l.Shank)
	out = append(out, l.Form.prism(ib.Cylinder(ib.V(0, 0, top-l.HeadT), ib.V(0, 0, top), l.Head/2)))
	return append(out, l.Form.prism(ib.Cylinder(ib.V(0, 0, low), ib.V(0, 0, low+l.FootT), l.Foot/2)))
}

// RecessDepth is how deep the recess reaches below the face: to below the head.
func (l Lifter) RecessDepth() float64 { return l.Sunk + l.HeadT + 10 }

// bowlSides are those of a recess former.
const bowlSides = 16

// Former is the recess round the head as a body, as deep as RecessDepth.
func (l Lifter) Former() ib.Solid {
	return ib.BowlMesh(ib.At(0, 0, 0), l.Recess, l.RecessDepth(), bowlSides).Brep()
}

// Channel is a slotted channel along x with anchors behind it.
type Channel struct {
	Length, W, H, T float64 // over all; T is the thickness of the sheet
	Slot            float64 // width of the slot
	Anchors         int     // spread evenly, the outer ones End from the ends
	End             float64
	AnchorD         float64
	AnchorL         float64 // behind the channel, over the head
	Form            Form
}

// Bodies are the channel and its anchors.
func (c Channel) Bodies() []ib.Solid {
	y, s, t := c.W/2, c.Slot/2, c.T
	p := ib.Poly{Outer: []ib.XY{
		{X: -y, Y: -c.H}, {X: y, Y: -c.H}, {X: y, Y: 0}, {X: s, Y: 0}, {X: s, Y: -t}, {X: y - t, Y: -t},
		{X: y - t, Y: t - c.H}, {X: t - y, Y: t - c.H}, {X: t - y, Y: -t}, {X: -s, Y: -t}, {X: -s, Y: 0}, {X: -y, Y: 0},
	}}
	at := ib.Frame{O: ib.V(-c.Length/2, 0, 0), X: ib.V(0, 1, 0), Y: ib.V(0, 0, 1), Z: ib.V(1, 0, 0)}
	out := []ib.Solid{c.Form.prism(ib.Extrude{Profile: p, At: at, Depth: c.Length})}
	for i := range c.Anchors {
		x := 0.0
		if c.Anchors > 1 {
			x = -c.Length/2 + c.End + float64(i)*(c.Length-2*c.End)/float64(c.Anchors-1)
		}
		low := -c.H - c.AnchorL
		out = append(out, c.Form.rod(ib.Straight(ib.V(x, 0, -c.H), ib.V(x, 0, low)), c.AnchorD)...)
		head := ib.Cylinder(ib.V(x, 0, low), ib.V(x, 0, low+0.4*c.AnchorD), 1.1*c.AnchorD)
		out = append(out, c.Form.prism(head))
	}
	return out
}

// GroutTube is a tube from the face into the concrete.
func GroutTube(od, wall, length float64, f Form) ib.Solid {
	return f.prism(ib.Tube(ib.V(0, 0, -length), ib.V(0, 0, 0), od/2, od/2-wall))
}
