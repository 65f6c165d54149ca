package embed

import (
	"fmt"

	ib "embedcheck/internal/ifcbuild"
)

// Stud is a headed stud.
type Stud struct {
	D, Length   float64 // length over the head, after welding
	Head, HeadT float64
}

// Plate is a cast-in plate with headed studs: its outer face lies in the xy
// plane, the studs stand on its inner face.
type Plate struct {
	W, H, T  float64
	Stud     Stud
	Pattern  []ib.XY
	Name     string
	Tag      string
	Finish   []ib.PSet
	Material string
	Form     Form
}

// Deepest is the distance from the outer face to the end of the studs.
func (p Plate) Deepest() float64 { return p.T + p.Stud.Length }

// Embedment is the distance from the outer face to the studs' heads.
func (p Plate) Embedment() float64 { return p.Deepest() - p.Stud.HeadT }

// Sheet is the plate alone.
func (p Plate) Sheet() ib.Solid {
	return p.Form.prism(ib.Extrude{Profile: ib.Rect{W: p.W, H: p.H, Name: fmt.Sprintf("PL%g*%g", p.T, p.W)}, At: ib.At(0, 0, -p.T), Depth: p.T})
}

// StudBodies are one stud on the z axis.
func (p Plate) StudBodies() []ib.Solid {
	top, low := -p.T, -p.Deepest()
	out := p.Form.rod(ib.Straight(ib.V(0, 0, top), ib.V(0, 0, low)), p.Stud.D)
	return append(out, p.Form.prism(ib.Cylinder(ib.V(0, 0, low), ib.V(0, 0, low+p.Stud.HeadT), p.Stud.Head/2)))
}

func (p Plate) frames() []ib.Frame {
	var out []ib.Frame
	for _, q := range p.Pattern {
		out = append(out, ib.At(q.X, q.Y, 0))
	}
	return out
}

// One adds plate and studs as one element.
func (p Plate) One(b *ib.Builder, e ib.Element) ib.Ref {
	p.say(&e)
	e.Body = append([]ib.Solid{p.Sheet()}, In(p.frames(), p.StudBodies()...)...)
	return b.Add(e)
}

// Assembly adds plate and studs as one assembly.
func (p Plate) Assembly(b *ib.Builder, e ib.Element) ib.Ref {
	whole := p.whole(b, e)
	p.plate(b, ib.Element{Of: whole})
	p.studs(b, func() ib.Element { return ib.Element{Of: whole} })
	return whole
}

// Nested adds an assembly of the plate and of assemblies of one stud each.
func (p Plate) Nested(b *ib.Builder, e ib.Element) ib.Ref {
	whole := p.whole(b, e)
	p.plate(b, ib.Element{Of: whole})
	p.studs(b, func() ib.Element {
		one := b.Add(ib.Element{Class: "IfcElementAssembly", Name: "Stud", Of: whole})
		return ib.Element{Of: one}
	})
	return whole
}

// Siblings adds plate and studs side by side, as parts of what e says.
func (p Plate) Siblings(b *ib.Builder, e ib.Element) ib.Ref {
	r := p.plate(b, e)
	p.studs(b, func() ib.Element { return e })
	return r
}

func (p Plate) whole(b *ib.Builder, e ib.Element) ib.Ref {
	e.Class, e.Name, e.Tag, e.Predefined = "IfcElementAssembly", p.Name, p.Tag, "ACCESSORY_ASSEMBLY"
	return b.Add(e)
}

func (p Plate) say(e *ib.Element) {
	if e.Class == "" {
		e.Class, e.Predefined = "IfcDiscreteAccessory", "ANCHORPLATE"
	}
	e.Name, e.Tag, e.Material = p.Name, p.Tag, p.Material
	e.Props = append(e.Props, p.Finish...)
}

func (p Plate) plate(b *ib.Builder, e ib.Element) ib.Ref {
	p.say(&e)
	e.Body = []ib.Solid{p.Sheet()}
	return b.Add(e)
}

func (p Plate) studs(b *ib.Builder, each func() ib.Element) {
	m := ib.NewMap(p.StudBodies()...)
	for i, f := range p.frames() {
		e := each()
		e.Class, e.Predefined = "IfcMechanicalFastener", "STUDSHEARCONNECTOR"
		e.Name = fmt.Sprintf("Headed stud %gx%g", p.Stud.D, p.Stud.Length)
		e.Tag, e.Material = fmt.Sprintf("%s-S%d", p.Tag, i+1), p.Material
		e.Diameter, e.Length = p.Stud.D, p.Stud.Length
		e.At = e.At.Mul(f)
		e.Body = []ib.Solid{m.At(ib.At(0, 0, 0))}
		b.Add(e)
	}
}
