package ifcbuild

import (
	"fmt"
	"strings"
)

// Ref is an object that was written.
type Ref struct {
	ID    uint64 // number of the instance
	b     *Builder
	guid  GUID
	place uint64 // its local placement
	frame Frame  // its place in the world
}

// GlobalID is the object's GlobalId.
func (r Ref) GlobalID() string { return r.guid.String() }

// Frame is the object's place in the world, mm.
func (r Ref) Frame() Frame { return r.frame }

// Element is everything that can be said of an element when it is written.
// Only Class is mandatory.
type Element struct {
	Class       string // "IfcWall", ...
	Name        string
	Description string
	ObjectType  string
	Tag         string // the mark
	Predefined  string // enumerator without dots; left out where the schema has none

	At   Frame   // place relative to Rel, else to Of, else to the storey
	Rel  Ref     // object that At is relative to
	Of   Ref     // whole that it is a part of
	In   Ref     // storey; the current one by default
	Body []Solid // nothing: no shape

	Type     Ref
	Material string
	Props    []PSet

	Diameter, Length float64 // NominalDiameter and NominalLength or BarLength, mm
	Grade            string  // SteelGrade of reinforcement

	Seed    string // text that the GlobalId is derived from; by default class, name and count
	Comment string // written behind the instance
}

// Add writes an element.
func (b *Builder) Add(e Element) Ref {
	body := b.shape(e.Body)
	rel, at := b.where(&e)
	r := Ref{b: b, place: b.placement(rel.place, at), frame: rel.frame.Mul(at)}
	if e.Seed != "" {
		r.guid = b.seeded(e.Seed)
	} else {
		r.guid = b.newGUID(e.Class, e.Name)
	}
	r.ID = b.root(keyword(e.Class), r.guid, e.Name, e.Description)
	b.text(e.ObjectType)
	b.line.ref(r.place)
	b.line.ref(body)
	b.text(e.Tag)
	b.rest(&e)
	b.endWith(e.Comment)

	switch {
	case e.Of.ID != 0:
		b.add(&b.wholes, e.Of.ID, r.ID)
	case !isFeature(e.Class):
		storey := e.In.ID
		if storey == 0 {
			storey = b.storey.ID
		}
		b.add(&b.contained, storey, r.ID)
	}
	if e.Type.ID != 0 {
		b.add(&b.typed, e.Type.ID, r.ID)
	}
	if e.Material != "" {
		r.Made(e.Material)
	}
	for _, p := range e.Props {
		r.Has(p)
	}
	return r
}

// where is the object that an element is placed relative to, and its place
// there; in a baked model that is always the world.
func (b *Builder) where(e *Element) (Ref, Frame) {
	at, rel := e.At.solid(), b.storey
	for _, r := range []Ref{e.In, e.Of, e.Rel} {
		if r.ID != 0 {
			rel = r
		}
	}
	if b.baked {
		return Ref{frame: At(0, 0, 0)}, rel.frame.Mul(at)
	}
	return rel, at
}

// keyword is the class in capitals.
func keyword(class string) string {
	if k, ok := classWords[class]; ok {
		return k
	}
	return strings.ToUpper(class)
}

func isFeature(class string) bool {
	return class == "IfcOpeningElement" || class == "IfcVoidingFeature"
}

// rest writes the attributes behind Tag.
func (b *Builder) rest(e *Element) {
	own, ok := attributes[e.Class]
	if !ok {
		panic(fmt.Sprintf("ifcbuild: the attributes of %s are not known here", e.Class))
	}
	if b.schema == IFC2X3 && own.old != nil {
		own.write = own.old
	}
	if own.write != nil {
		own.write(b, e)
	}
}

// The elements that come up most, by name, place and body.

func (b *Builder) Wall(name string, at Frame, body ...Solid) Ref {
	return b.Add(Element{Class: "IfcWall", Name: name, At: at, Body: body})
}

func (b *Builder) Slab(name string, at Frame, body ...Solid) Ref {
	return b.Add(Element{Class: "IfcSlab", Name: name, At: at, Body: body})
}

func (b *Builder) Beam(name string, at Frame, body ...Solid) Ref {
	return b.Add(Element{Class: "IfcBeam", Name: name, At: at, Body: body})
}

func (b *Builder) Column(name string, at Frame, body ...Solid) Ref {
	return b.Add(Element{Class: "IfcColumn", Name: name, At: at, Body: body})
}

func (b *Builder) Footing(name string, at Frame, body ...Solid) Ref {
	return b.Add(Element{Class: "IfcFooting", Name: name, At: at, Body: body})
}

func (b *Builder) Proxy(name string, at Frame, body ...Solid) Ref {
	return b.Add(Element{Class: "IfcBuildingElementProxy", Name: name, At: at, Body: body})
}

// Fastener adds a mechanical fastener.
func (b *Builder) Fastener(name string, at Frame, body ...Solid) Ref {
	return b.Add(Element{Class: "IfcMechanicalFastener", Name: name, At: at, Body: body})
}

// Accessory adds a discrete accessory.
func (b *Builder) Accessory(name string, at Frame, body ...Solid) Ref {
	return b.Add(Element{Class: "IfcDiscreteAccessory", Name: name, At: at, Body: body})
}

// Assembly adds an assembly without a shape of its own. Elements with Of set to
// it are its parts.
func (b *Builder) Assembly(name string, at Frame) Ref {
	return b.Add(Element{Class: "IfcElementAssembly", Name: name, At: at})
}

// Bar adds a reinforcing bar of a diameter in mm; the body may hold many pieces.
func (b *Builder) Bar(name string, diameter float64, at Frame, body ...Solid) Ref {
	return b.Add(Element{Class: "IfcReinforcingBar", Name: name, Diameter: diameter, At: at, Body: body})
}
