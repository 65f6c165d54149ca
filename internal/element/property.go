package element

import (
	"strconv"
	"strings"

	"embedcheck/ifcread"
	"embedcheck/internal/shape"
)

// Property is the value of a property or quantity.
type Property struct {
	Set, Name string
	Text      string  // as a person reads it
	Number    float64 // in the model's units; lengths in mm when IsLength
	IsNumber  bool
	IsLength  bool
}

// Properties visits the properties of an element: those of the occurrence
// first, then those of its type, which the occurrence overrides.
func (e *Element) Properties(see func(Property) bool) {
	e.Model.propertiesOf(e.Inst.ID(), e.Type, see)
}

func (m *Model) propertiesOf(id ifcread.ID, t *Type, see func(Property) bool) {
	for _, set := range m.rel.propsets[id] {
		if !m.propertySet(set, see) {
			return
		}
	}
	if t == nil {
		return
	}
	stop := false
	m.rel.link(t.Inst.Attr("HasPropertySets"), func(id ifcread.ID) {
		stop = stop || !m.propertySet(id, see)
	})
}

// Lookup gives a function that looks one property up by "Set.Name"; the set may
// be left out. It does not keep the element.
func (e *Element) Lookup() func(name string) (Property, bool) {
	m, id, t := e.Model, e.Inst.ID(), e.Type
	return func(name string) (Property, bool) {
		var got Property
		found := false
		m.propertiesOf(id, t, func(p Property) bool {
			found = p.Set+"."+p.Name == name || p.Name == name
			if found {
				got = p
			}
			return !found
		})
		return got, found
	}
}

func (m *Model) propertySet(id ifcread.ID, see func(Property) bool) bool {
	set, ok := m.File.Get(id)
	if !ok {
		return true
	}
	var room [8]ifcread.Value
	a := attributes{set, set.Args(room[:0])}
	name := text(a.get("Name"))
	list := a.get("HasProperties")
	if list.IsNull() {
		list = a.get("Quantities")
	}
	return m.properties(name, list, 0, see)
}

func (m *Model) properties(set string, list ifcread.Value, depth int, see func(Property) bool) bool {
	for v := range list.All() {
		p, ok := v.Inst()
		if !ok || depth > 4 {
			continue
		}
		if p.Is(tComplexProperty) {
			if !m.properties(set, p.Attr("HasProperties"), depth+1, see) {
				return false
			}
			continue
		}
		var room [8]ifcread.Value
		a := attributes{p, p.Args(room[:0])}
		if val, ok := propertyValue(&a); ok {
			if !see(m.property(set, &a, val)) {
				return false
			}
		}
	}
	return true
}

// valueAttributes are where single properties and quantities keep their value.
var valueAttributes = []string{"NominalValue", "LengthValue", "CountValue", "AreaValue", "VolumeValue", "WeightValue", "EnumerationValues", "ListValues"}

var (
	tComplexProperty = ifcread.TypeOf("IfcComplexProperty")
	tQuantityLength  = ifcread.TypeOf("IfcQuantityLength")
)

func propertyValue(a *attributes) (ifcread.Value, bool) {
	for _, attr := range valueAttributes {
		if v := a.get(attr); !v.IsNull() {
			return v, true
		}
	}
	return ifcread.Value{}, false
}

func (m *Model) property(set string, a *attributes, v ifcread.Value) Property {
	out := Property{Set: set, Name: text(a.get("Name"))}
	if v.Kind() == ifcread.List {
		var texts []string
		for e := range v.All() {
			if s, ok := e.Str(); ok {
				texts = append(texts, s)
			}
		}
		out.Text = strings.Join(texts, ", ")
		return out
	}
	typed, _, _ := v.Typed()
	typed = strings.ToUpper(typed)
	out.IsLength = strings.HasSuffix(typed, "LENGTHMEASURE") || a.in.Is(tQuantityLength)
	if s, ok := v.Str(); ok {
		out.Text = s
		return out
	}
	if b, ok := v.Bool(); ok {
		out.Text = strconv.FormatBool(b)
		return out
	}
	if out.Number, out.IsNumber = v.Float(); out.IsNumber {
		if out.IsLength {
			out.Number *= m.lengthFactor(a.in)
		}
		out.Text = strconv.FormatFloat(out.Number, 'g', -1, 64)
	}
	return out
}

// lengthFactor is the factor to mm of a length property: that of its own unit
// when it carries one, else the model's.
func (m *Model) lengthFactor(p ifcread.Inst) float64 {
	if u, ok := p.Attr("Unit").Inst(); ok {
		return m.unitFactor(u)
	}
	return m.Units.Length
}

// unitFactor is the factor to mm of a length unit; the model's when it cannot be
// read.
func (m *Model) unitFactor(u ifcread.Inst) float64 {
	if f, ok := shape.UnitFactor(u); ok {
		return f
	}
	return m.Units.Length
}
