package ifcbuild

import (
	"strconv"
	"strings"
)

func itoa(n uint64) string { return strconv.FormatUint(n, 10) }

// Type is everything that can be said of a type when it is written.
type Type struct {
	Class            string // "IfcMechanicalFastenerType", ...
	Name             string
	Description      string
	Tag              string
	Element          string // ElementType, the text behind USERDEFINED
	Predefined       string // NOTDEFINED by default where it is mandatory
	Diameter, Length float64
	Props            []PSet
	Maps             []*Map
	Seed             string
}

// typesWithout have no PredefinedType in IFC2X3.
var typesWithout = map[string]bool{
	"IfcDiscreteAccessoryType": true, "IfcMechanicalFastenerType": true, "IfcFastenerType": true,
}

// Type writes a type; elements refer to it by Element.Type or Ref.TypeOf.
func (b *Builder) Type(t Type) Ref {
	var maps []uint64
	for _, m := range t.Maps {
		maps = append(maps, b.mapOf(m))
	}
	var sets []uint64
	for _, s := range t.Props {
		sets = append(sets, b.PropertySet(s).ID)
	}
	g := b.newGUID(t.Class, t.Name)
	if t.Seed != "" {
		g = b.seeded(t.Seed)
	}
	id := b.root(strings.ToUpper(t.Class), g, t.Name, t.Description)
	b.line.raw("$")
	b.refsOr(sets)
	b.refsOr(maps)
	b.text(t.Tag)
	b.text(t.Element)
	if b.schema != IFC2X3 || !typesWithout[t.Class] {
		must("NOTDEFINED")(b, &Element{Predefined: t.Predefined})
	}
	if b.schema != IFC2X3 {
		b.typeSizes(&t)
	}
	b.end()
	return Ref{b: b, ID: id, guid: g}
}

func (b *Builder) typeSizes(t *Type) {
	switch t.Class {
	case "IfcMechanicalFastenerType":
		b.lengthOr(t.Diameter)
		b.lengthOr(t.Length)
	case "IfcReinforcingBarType":
		b.lengthOr(t.Diameter)
		if t.Diameter > 0 {
			b.area(circle(t.Diameter))
		} else {
			b.line.raw("$")
		}
		b.lengthOr(t.Length)
		unset(b, 3)
	}
}

// refsOr writes a list of references, $ for none.
func (b *Builder) refsOr(ids []uint64) {
	if len(ids) == 0 {
		b.line.raw("$")
		return
	}
	b.line.refs(ids)
}
