package embed

import (
	"fmt"

	ib "embedcheck/internal/ifcbuild"
)

// Grid is a pattern of nx times ny points round the origin.
func Grid(nx, ny int, dx, dy float64) []ib.XY {
	var out []ib.XY
	for j := range ny {
		for i := range nx {
			out = append(out, ib.XY{X: (float64(i) - float64(nx-1)/2) * dx, Y: (float64(j) - float64(ny-1)/2) * dy})
		}
	}
	return out
}

// Template is a plate that holds bolts in place while the concrete is poured.
type Template struct {
	W, H, T float64
	Hole    float64 // diameter of the holes
	Under   float64 // height of its lower side above the face
	Form    Form
}

// Body is the plate with holes at the points of a pattern.
func (t Template) Body(pattern []ib.XY) ib.Solid {
	x, y := t.W/2, t.H/2
	p := ib.Poly{Outer: []ib.XY{{X: -x, Y: -y}, {X: x, Y: -y}, {X: x, Y: y}, {X: -x, Y: y}}}
	for _, q := range pattern {
		p.Rounds = append(p.Rounds, ib.Hole{X: q.X, Y: q.Y, R: t.Hole / 2})
	}
	return t.Form.prism(ib.Extrude{Profile: p, At: ib.At(0, 0, t.Under), Depth: t.T})
}

// Set is bolts that are set together.
type Set struct {
	Name     string
	Bolt     Bolt
	BoltName string    // "L-bolt M20x450"; the bolts are numbered behind the set's name
	Pattern  []ib.XY   // places of the bolts
	Turns    []float64 // degrees by which each bolt's hook is turned; nil for none
	Template *Template
	Nuts     bool // one nut on each side of the template
	Finish   []ib.PSet
	Material string
	Type     ib.Ref
	Thread   float64 // length of the thread, told in the property set; 0 to leave it out
	Drawn    float64 // projection told in the property set; the bolt's own by default
}

// frames are the places of the bolts.
func (s Set) frames() []ib.Frame {
	var out []ib.Frame
	for i, p := range s.Pattern {
		f := ib.At(p.X, p.Y, 0)
		if s.Turns != nil {
			f = f.TurnZ(s.Turns[i])
		}
		out = append(out, f)
	}
	return out
}

func (s Set) nuts() []float64 {
	if !s.Nuts || s.Template == nil {
		return nil
	}
	return []float64{s.Template.Under - NutHeight(s.Bolt.D), s.Template.Under + s.Template.T}
}

// props say of a bolt what the standard's own set has room for.
func (s Set) props() []ib.PSet {
	out := s.Bolt.Out
	if s.Drawn > 0 {
		out = s.Drawn
	}
	p := []ib.Prop{
		ib.Length("AnchorBoltLength", s.Bolt.Length()),
		ib.Length("AnchorBoltDiameter", s.Bolt.D),
		ib.Length("AnchorBoltProtrusionLength", out),
	}
	if s.Thread > 0 {
		p = append(p, ib.Length("AnchorBoltThreadLength", s.Thread))
	}
	return append([]ib.PSet{{Name: "Pset_MechanicalFastenerAnchorBolt", Props: p}}, s.Finish...)
}

func (s Set) member(i int) string { return fmt.Sprintf("%s.%d", s.Name, i+1) }

// Assembly adds the set as one assembly of template, bolts and nuts. at is
// relative to what e says of the assembly.
func (s Set) Assembly(b *ib.Builder, e ib.Element) (whole ib.Ref, bolts []ib.Ref) {
	e.Class, e.Name, e.Predefined = "IfcElementAssembly", s.Name, "ACCESSORY_ASSEMBLY"
	whole = b.Add(e)
	s.template(b, ib.Element{Of: whole})
	return whole, s.bolts(b, ib.Element{Of: whole}, true)
}

// Loose adds the template and the bolts as elements side by side; e says where,
// and what they are parts of.
func (s Set) Loose(b *ib.Builder, e ib.Element) []ib.Ref {
	s.template(b, e)
	return s.bolts(b, e, false)
}

func (s Set) template(b *ib.Builder, e ib.Element) {
	if s.Template == nil {
		return
	}
	e.Class, e.Name, e.Tag = "IfcDiscreteAccessory", "Setting template", s.Name+"-T"
	e.Description = fmt.Sprintf("Template %gx%gx%g with %d holes %g", s.Template.W, s.Template.H, s.Template.T, len(s.Pattern), s.Template.Hole)
	e.Body = []ib.Solid{s.Template.Body(s.Pattern)}
	e.Material = "Steel S275"
	b.Add(e)
}

// bolts adds the bolts, and their nuts as elements of their own.
func (s Set) bolts(b *ib.Builder, e ib.Element, nuts bool) []ib.Ref {
	var out []ib.Ref
	bodies := ib.NewMap(s.Bolt.Bodies()...)
	at := e.At
	for i, f := range s.frames() {
		el := e
		el.Class, el.Predefined = "IfcMechanicalFastener", "ANCHORBOLT"
		el.Name, el.Tag, el.At = s.BoltName, s.member(i), at.Mul(f)
		el.Body = []ib.Solid{bodies.At(ib.At(0, 0, 0))}
		el.Type, el.Material, el.Props = s.Type, s.Material, s.props()
		out = append(out, b.Add(el))
	}
	if !nuts || !s.Nuts {
		return out
	}
	nut := ib.NewMap(Nut(s.Bolt.D, s.Bolt.Form))
	for i, f := range s.frames() {
		for k, z := range s.nuts() {
			el := e
			el.Class, el.Predefined = "IfcMechanicalFastener", "BOLT"
			el.Name, el.Tag = fmt.Sprintf("Hexagon nut M%g", s.Bolt.D), fmt.Sprintf("%s-N%d", s.member(i), k+1)
			el.At, el.Material = at.Mul(f).Shift(0, 0, z), s.Material
			el.Body = []ib.Solid{nut.At(ib.At(0, 0, 0))}
			b.Add(el)
		}
	}
	return out
}

// One adds the whole set as one fastener with a body for each bolt and each
// nut, and the number of bolts as a property.
func (s Set) One(b *ib.Builder, e ib.Element) ib.Ref {
	e.Class, e.Predefined, e.Name = "IfcMechanicalFastener", "ANCHORBOLT", s.Name
	if e.Tag == "" {
		e.Tag = s.Name
	}
	e.Description = fmt.Sprintf("%d no. %s", len(s.Pattern), s.BoltName)
	e.Body = In(s.frames(), s.Bolt.Bodies()...)
	var at []ib.Frame
	for _, f := range s.frames() {
		for _, z := range s.nuts() {
			at = append(at, f.Shift(0, 0, z))
		}
	}
	e.Body = append(e.Body, In(at, Nut(s.Bolt.D, s.Bolt.Form))...)
	e.Type, e.Material = s.Type, s.Material
	e.Props = append(s.props(), ib.PSet{Name: "Bolts", Props: []ib.Prop{ib.Integer("Bolt count", len(s.Pattern))}})
	return b.Add(e)
}
