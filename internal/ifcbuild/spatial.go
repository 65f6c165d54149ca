package ifcbuild

import "strings"

// spatial writes what stands before the elements: units, contexts, project,
// site, building and the first storey.
func (b *Builder) spatial() {
	if b.schema == IFC2X3 {
		b.ownerHistory()
	}
	b.origin = b.point(V(0, 0, 0))
	b.axes = [3]uint64{b.direction(V(1, 0, 0)), b.direction(V(0, 1, 0)), b.direction(V(0, 0, 1))}
	b.upright = b.axis3(At(0, 0, 0))
	context := b.context()
	units := b.unitAssignment()

	project := b.root("IFCPROJECT", b.newGUID("IfcProject", ""), b.names[0], "")
	b.line.raw("$")
	b.line.raw("$")
	b.line.raw("$")
	b.line.refs([]uint64{context})
	b.line.ref(units)
	b.end()

	at := b.base
	if b.baked {
		at = At(0, 0, 0)
	}
	b.placeBase = b.placement(0, at)
	site := b.spatialElement("IfcSite", b.names[1], b.placeBase, func() {
		for range 5 {
			b.line.raw("$") // latitude, longitude, elevation, title, address
		}
	})
	b.placeBase = b.placement(b.placeBase, At(0, 0, 0))
	b.building = b.spatialElement("IfcBuilding", b.names[2], b.placeBase, func() {
		for range 3 {
			b.line.raw("$")
		}
	})
	b.relAggregates(project, []uint64{site})
	b.relAggregates(site, []uint64{b.building})
	b.Storey(b.names[3], 0)
}

// Storey adds a storey and makes it the one that elements go to from now on.
// The places of elements are given relative to it. elevation is in mm.
func (b *Builder) Storey(name string, elevation float64) Ref {
	at := At(0, 0, elevation)
	place := b.placement(b.placeBase, at)
	g := b.newGUID("IfcBuildingStorey", name)
	id := b.spatialAs("IfcBuildingStorey", g, name, place, func() { b.length(elevation) })
	b.storey = Ref{b: b, ID: id, guid: g, place: place, frame: b.base.Mul(at)}
	b.storeys = append(b.storeys, id)
	return b.storey
}

func (b *Builder) spatialElement(class, name string, place uint64, rest func()) uint64 {
	return b.spatialAs(class, b.newGUID(class, name), name, place, rest)
}

func (b *Builder) spatialAs(class string, g GUID, name string, place uint64, rest func()) uint64 {
	id := b.root(strings.ToUpper(class), g, name, "")
	b.line.raw("$") // ObjectType
	b.line.ref(place)
	b.line.raw("$") // Representation
	b.line.raw("$") // LongName
	b.line.enum("ELEMENT")
	rest()
	b.end()
	return id
}

// ownerHistory is mandatory in IFC2X3. It names nobody, and its date stands.
func (b *Builder) ownerHistory() {
	person := b.inst("IFCPERSON")
	b.line.raw("$")
	b.text("Detailer")
	for range 6 {
		b.line.raw("$")
	}
	b.end()
	organisation := b.inst("IFCORGANIZATION")
	b.line.raw("$")
	b.text("Drawing office")
	for range 3 {
		b.line.raw("$")
	}
	b.end()
	user := b.inst("IFCPERSONANDORGANIZATION")
	b.line.ref(person)
	b.line.ref(organisation)
	b.line.raw("$")
	b.end()
	application := b.inst("IFCAPPLICATION")
	b.line.ref(organisation)
	b.text("1")
	b.text("Model generator")
	b.text("generator")
	b.end()
	b.history = b.inst("IFCOWNERHISTORY")
	b.line.ref(user)
	b.line.ref(application)
	b.line.raw("$")
	b.line.enum("ADDED")
	b.line.raw("$")
	b.line.raw("$")
	b.line.raw("$")
	b.line.integer(1767600000)
	b.end()
}

// context writes the representation context and the one for bodies.
func (b *Builder) context() uint64 {
	context := b.inst("IFCGEOMETRICREPRESENTATIONCONTEXT")
	b.line.raw("$")
	b.text("Model")
	b.line.integer(3)
	b.line.real(1e-4/perUnit[b.unit], 12)
	b.line.ref(b.upright)
	b.line.raw("$")
	b.end()
	b.body = b.inst("IFCGEOMETRICREPRESENTATIONSUBCONTEXT")
	b.text("Body")
	b.text("Model")
	for range 4 {
		b.line.raw("*")
	}
	b.line.ref(context)
	b.line.raw("$")
	b.line.enum("MODEL_VIEW")
	b.line.raw("$")
	b.end()
	return context
}

func (b *Builder) unitAssignment() uint64 {
	metre := b.si("LENGTHUNIT", "", "METRE")
	b.units.length = metre
	switch b.unit {
	case MM:
		b.units.length = b.si("LENGTHUNIT", "MILLI", "METRE")
	case Inch:
		b.units.length = b.conversion("LENGTHUNIT", "INCH", "IFCLENGTHMEASURE", 0.0254, metre, true)
	case Foot:
		b.units.length = b.conversion("LENGTHUNIT", "FOOT", "IFCLENGTHMEASURE", 0.3048, metre, true)
	}
	b.units.angle = b.si("PLANEANGLEUNIT", "", "RADIAN")
	if b.perRadian != 1 {
		b.units.angle = b.conversion("PLANEANGLEUNIT", "DEGREE", "IFCPLANEANGLEMEASURE", 1/b.perRadian, b.units.angle, false)
	}
	all := []uint64{
		b.units.length, b.units.angle,
		b.si("AREAUNIT", "", "SQUARE_METRE"), b.si("VOLUMEUNIT", "", "CUBIC_METRE"), b.si("MASSUNIT", "KILO", "GRAM"),
	}
	id := b.inst("IFCUNITASSIGNMENT")
	b.line.refs(all)
	b.end()
	return id
}

func (b *Builder) si(of, prefix, name string) uint64 {
	id := b.inst("IFCSIUNIT")
	b.line.raw("*")
	b.line.enum(of)
	b.line.enum(prefix)
	b.line.enum(name)
	b.end()
	return id
}

func (b *Builder) conversion(of, name, measure string, factor float64, base uint64, isLength bool) uint64 {
	exponents := b.inst("IFCDIMENSIONALEXPONENTS")
	if isLength {
		b.line.integer(1)
	} else {
		b.line.integer(0)
	}
	for range 6 {
		b.line.integer(0)
	}
	b.end()
	with := b.inst("IFCMEASUREWITHUNIT")
	b.line.open(measure)
	b.line.real(factor, 15)
	b.line.close()
	b.line.ref(base)
	b.end()
	id := b.inst("IFCCONVERSIONBASEDUNIT")
	b.line.ref(exponents)
	b.line.enum(of)
	b.text(name)
	b.line.ref(with)
	b.end()
	return id
}
