package ifcbuild

import (
	"math"
	"strings"
)

// tail writes the attributes that a class has behind Tag.
type tail struct {
	write func(*Builder, *Element)
	old   func(*Builder, *Element) // in IFC2X3, when they differ there
}

func none(*Builder, *Element) {}

func predefined(b *Builder, e *Element) { b.line.enum(e.Predefined) }

// must writes the enumerator of a mandatory attribute.
func must(other string) func(*Builder, *Element) {
	return func(b *Builder, e *Element) {
		if e.Predefined == "" {
			b.line.enum(other)
			return
		}
		b.line.enum(e.Predefined)
	}
}

// later is a class that has its PredefinedType since IFC4.
var later = tail{predefined, none}

// attributes of the element classes that can be written.
var attributes = map[string]tail{
	"IfcWall":                 later,
	"IfcWallStandardCase":     later,
	"IfcBeam":                 later,
	"IfcColumn":               later,
	"IfcMember":               later,
	"IfcPlate":                later,
	"IfcBuildingElementPart":  later,
	"IfcDiscreteAccessory":    later,
	"IfcFastener":             later,
	"IfcOpeningElement":       later,
	"IfcSlab":                 {write: predefined},
	"IfcRailing":              {write: predefined},
	"IfcCovering":             {write: predefined},
	"IfcVoidingFeature":       {write: predefined}, // not in IFC2X3
	"IfcFooting":              {predefined, must("NOTDEFINED")},
	"IfcStair":                {predefined, must("NOTDEFINED")},
	"IfcBuildingElementProxy": {predefined, func(b *Builder, e *Element) { b.line.enum("ELEMENT") }},
	"IfcPile": {
		func(b *Builder, e *Element) { predefined(b, e); b.line.raw("$") },
		func(b *Builder, e *Element) { must("NOTDEFINED")(b, e); b.line.raw("$") },
	},
	"IfcStairFlight": {
		func(b *Builder, e *Element) { unset(b, 4); predefined(b, e) },
		func(b *Builder, e *Element) { unset(b, 4) },
	},
	"IfcMechanicalFastener": {
		func(b *Builder, e *Element) { b.size(e); predefined(b, e) },
		func(b *Builder, e *Element) { b.size(e) },
	},
	"IfcElementAssembly": {
		func(b *Builder, e *Element) { b.line.enum("FACTORY"); predefined(b, e) },
		func(b *Builder, e *Element) { b.line.enum("FACTORY"); must("NOTDEFINED")(b, e) },
	},
	"IfcReinforcingBar":  {bar, barOld},
	"IfcReinforcingMesh": {write: barMesh},
}

var classWords = map[string]string{}

func init() {
	for c := range attributes {
		classWords[c] = strings.ToUpper(c)
	}
}

func unset(b *Builder, n int) {
	for range n {
		b.line.raw("$")
	}
}

// lengthOr writes a length, $ for 0.
func (b *Builder) lengthOr(mm float64) {
	if mm == 0 {
		b.line.raw("$")
		return
	}
	b.length(mm)
}

func (b *Builder) size(e *Element) {
	b.lengthOr(e.Diameter)
	b.lengthOr(e.Length)
}

func (b *Builder) area(mm2 float64) { b.line.real(mm2*1e-6, 12) }

func circle(diameter float64) float64 { return math.Pi / 4 * diameter * diameter }

func bar(b *Builder, e *Element) {
	b.text(e.Grade)
	b.lengthOr(e.Diameter)
	if e.Diameter > 0 {
		b.area(circle(e.Diameter))
	} else {
		b.line.raw("$")
	}
	b.lengthOr(e.Length)
	b.line.enum(e.Predefined)
	b.line.raw("$")
}

// barOld: diameter, area and role are mandatory in IFC2X3.
func barOld(b *Builder, e *Element) {
	b.text(e.Grade)
	b.length(e.Diameter)
	b.area(circle(e.Diameter))
	b.lengthOr(e.Length)
	must("MAIN")(b, e)
	b.line.raw("$")
}

// barMesh writes a mesh of bars of one diameter; its body tells the rest. The
// spacings are mandatory in IFC2X3: 200 mm stand for them.
func barMesh(b *Builder, e *Element) {
	b.text(e.Grade)
	unset(b, 2)
	b.length(e.Diameter)
	b.length(e.Diameter)
	b.area(circle(e.Diameter))
	b.area(circle(e.Diameter))
	b.length(200)
	b.length(200)
	if b.schema != IFC2X3 {
		b.line.raw("$")
	}
}
