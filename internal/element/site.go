package element

import (
	"math"
	"strings"

	"embedcheck/ifcread"
)

// MapPlace is where the coordinates of a model lie on a map. It is kept for
// output only: nothing is moved by it, since BCF and all figures are in the
// model's own coordinates.
type MapPlace struct {
	CRS                         string  // name of the map's coordinate system, such as EPSG:2193
	Eastings, Northings, Height float64 // metres, of the model's origin
	Turn                        float64 // degrees from the map's east to the model's x axis, anticlockwise
	Scale                       float64 // as stated: from the model's length unit to the map's; 1 when it is not
}

// MapPlace is what an IfcMapConversion says, or, in IFC2X3, which has none, the
// property sets ePset_MapConversion and ePset_ProjectedCRS of the site or the
// project (by the guide of buildingSMART Australasia to geo-referencing, 2020;
// from memory). False when neither is there or the numbers are none.
func (m *Model) MapPlace() (MapPlace, bool) {
	for _, c := range m.File.Of(ifcread.TypeOf("IfcMapConversion")) {
		crs, _ := c.Attr("TargetCRS").Inst()
		unit := m.mapUnit(crs.Attr("MapUnit"))
		p := MapPlace{CRS: text(crs.Attr("Name")), Scale: 1}
		get := func(name string, factor float64) (float64, bool) {
			x, ok := c.Attr(name).Float()
			return x * factor, ok
		}
		if p.fill(get, unit) {
			return p, true
		}
	}
	for _, class := range [...]string{"IfcSite", "IfcProject"} {
		for _, i := range m.File.Of(ifcread.TypeOf(class)) {
			if p, ok := m.mapProperties(i.ID()); ok {
				return p, true
			}
		}
	}
	return MapPlace{}, false
}

// fill takes the figures of a conversion, the first three in a length unit.
func (p *MapPlace) fill(get func(name string, factor float64) (float64, bool), unit float64) bool {
	var ok, has bool
	if p.Eastings, ok = get("Eastings", unit); !ok {
		return false
	}
	if p.Northings, ok = get("Northings", unit); !ok {
		return false
	}
	p.Height, _ = get("OrthogonalHeight", unit)
	x, ok := get("XAxisAbscissa", 1)
	y, has := get("XAxisOrdinate", 1)
	if ok && has && (x != 0 || y != 0) {
		p.Turn = math.Atan2(y, x) * 180 / math.Pi
	}
	if s, ok := get("Scale", 1); ok && s > 0 {
		p.Scale = s
	}
	return true
}

// mapUnit is the length in metres of a map's unit: the model's when none is stated.
func (m *Model) mapUnit(v ifcread.Value) float64 {
	if u, ok := v.Inst(); ok {
		return m.unitFactor(u) / 1000
	}
	return m.Units.Length / 1000
}

// mapProperties reads the property sets that stand for a conversion. Numbers in
// them count in metres when the set of the map says METRE, whatever their type.
func (m *Model) mapProperties(id ifcread.ID) (MapPlace, bool) {
	p := MapPlace{Scale: 1}
	values := map[string]Property{}
	unit := m.Units.Length / 1000
	m.propertiesOf(id, nil, func(v Property) bool {
		switch v.Set {
		case "ePset_MapConversion":
			values[v.Name] = v
		case "ePset_ProjectedCRS":
			if v.Name == "Name" {
				p.CRS = v.Text
			}
			if v.Name == "MapUnit" && strings.EqualFold(strings.TrimSpace(v.Text), "METRE") {
				unit = 1
			}
		}
		return true
	})
	get := func(name string, factor float64) (float64, bool) {
		v := values[name]
		x := v.Number
		if v.IsLength {
			x /= m.Units.Length // as it was written
		}
		return x * factor, v.IsNumber
	}
	ok := p.fill(get, unit)
	return p, ok
}

// TrueNorth is the angle in degrees from the model's y axis to true north,
// anticlockwise: TrueNorth of the model's context. False when it is not stated.
func (m *Model) TrueNorth() (float64, bool) {
	sub := ifcread.TypeOf("IfcGeometricRepresentationSubContext")
	for _, c := range m.File.Of(ifcread.TypeOf("IfcGeometricRepresentationContext")) {
		if dims, _ := c.Attr("CoordinateSpaceDimension").Int(); c.Is(sub) || dims == 2 {
			continue
		}
		north, ok := c.Attr("TrueNorth").Inst()
		if !ok {
			continue
		}
		d := north.Attr("DirectionRatios").Floats(nil)
		if len(d) >= 2 && math.Hypot(d[0], d[1]) > 0 && !math.IsInf(math.Hypot(d[0], d[1]), 0) {
			return math.Atan2(-d[0], d[1]) * 180 / math.Pi, true
		}
	}
	return 0, false
}
