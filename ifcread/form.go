package ifcread

import (
	"slices"
	"strings"
)

// form is how values of a type are written, as the schema tables have it behind
// the name of an attribute: a "(" for each aggregate that is around it, with the
// number of members behind it where that is fixed, and then a letter for the
// base type or "@" and an entity.
type form string

// The base types.
const (
	formText    = 's'
	formNumber  = 'n' // also whole ones
	formLogical = 'b' // also BOOLEAN
	formEnum    = 'e'
	formBinary  = 'x'
	formSelect  = 'v' // of entities or defined types
	formEntity  = '@'
)

// base is the base type; 0 when there is none, for attributes that no schema has.
func (f form) base() byte {
	b := strings.TrimLeft(string(f), "(0123456789")
	if b == "" {
		return 0
	}
	return b[0]
}

// entity is the declared entity; "" for other types.
func (f form) entity() string {
	_, name, ok := strings.Cut(string(f), "@")
	if !ok {
		return ""
	}
	return "Ifc" + name
}

// list is the form of the members of an aggregate, and how many members it has
// where that is fixed, or else 0; false for what is no aggregate.
func (f form) list() (member form, size int, ok bool) {
	if !strings.HasPrefix(string(f), "(") {
		return f, 0, false
	}
	i := 1
	for i < len(f) && isDigit(f[i]) {
		size = min(size*10+int(f[i]-'0'), 1<<20)
		i++
	}
	return f[i:], size, true
}

// formOf is the form of a defined type, an enumeration, a select type or a simple
// type of EXPRESS, of any of the three schemas: "IfcLabel", "REAL".
func formOf(name string) form {
	short := strings.TrimPrefix(name, "Ifc")
	has := func(list string) bool { return slices.Contains(strings.Fields(list), short) }
	switch {
	case has(enumTypes), strings.HasSuffix(short, "Enum"):
		return "e"
	case has(selectTypes), strings.HasSuffix(short, "Select"):
		return "v"
	case has(textTypes):
		return "s"
	case has(listTypes):
		return "(n"
	case has("Boolean Logical BOOLEAN LOGICAL StrippedOptional"):
		return "b"
	case has("Binary BINARY"):
		return "x"
	case has("PropertySetDefinitionSet"):
		return "(@PropertySetDefinition"
	}
	return "n"
}

// The defined types of the three schemas that are not measures. Types that no
// schema has, as in a file of the future, count as numbers when they look so.
const (
	textTypes = "STRING BoxAlignment Date DateTime DescriptiveMeasure Duration FontStyle FontVariant FontWeight GloballyUniqueId " +
		"Identifier Label LanguageId PresentableText Text TextAlignment TextDecoration TextFontName TextTransformation Time " +
		"URIReference WellKnownTextLiteral"
	listTypes = "ArcIndex ComplexNumber CompoundPlaneAngleMeasure LineIndex"
	enumTypes = "AheadOrBehind BSplineCurveForm BSplineSurfaceForm BooleanOperator DimensionExtentUsage KnotType NullStyle " +
		"PreferredSurfaceCurveRepresentation SIPrefix SIUnitName SurfaceSide TextPath TransitionCode TrimmingPreference"
	selectTypes = "Axis2Placement BooleanOperand Colour ColourOrFactor CurveOrEdgeCurve DerivedMeasureValue DraughtingCalloutElement " +
		"LayeredItem MeasureValue PointOrVertexPoint Shell SimpleValue SolidOrShell SurfaceOrFaceSurface Unit Value"
)
