package element

import "embedcheck/ifcread"

// materials are the names of the materials of an object: one, or those of its
// list, layers, profiles or constituents, in that order, without repeats.
func (m *Model) materials(object ifcread.ID) []string {
	id, ok := m.rel.material[object]
	if !ok {
		return nil
	}
	var names []string
	seen := map[string]bool{}
	m.materialNames(id, 0, func(name string) {
		if name != "" && !seen[name] {
			seen[name] = true
			names = append(names, name)
		}
	})
	return names
}

// materialParts names, for each entity that groups materials, the attribute
// that leads on.
var materialParts = map[ifcread.Type]string{
	ifcread.TypeOf("IfcMaterialList"):            "Materials",
	ifcread.TypeOf("IfcMaterialLayerSetUsage"):   "ForLayerSet",
	ifcread.TypeOf("IfcMaterialLayerSet"):        "MaterialLayers",
	ifcread.TypeOf("IfcMaterialLayer"):           "Material",
	ifcread.TypeOf("IfcMaterialProfileSetUsage"): "ForProfileSet",
	ifcread.TypeOf("IfcMaterialProfileSet"):      "MaterialProfiles",
	ifcread.TypeOf("IfcMaterialProfile"):         "Material",
	ifcread.TypeOf("IfcMaterialConstituentSet"):  "MaterialConstituents",
	ifcread.TypeOf("IfcMaterialConstituent"):     "Material",
}

func (m *Model) materialNames(id ifcread.ID, depth int, see func(string)) {
	i, ok := m.File.Get(id)
	if !ok || depth > 6 {
		return
	}
	if i.Is(ifcread.TypeOf("IfcMaterial")) {
		see(text(i.Attr("Name")))
		return
	}
	if attr, ok := materialParts[i.Type()]; ok {
		m.rel.link(i.Attr(attr), func(id ifcread.ID) { m.materialNames(id, depth+1, see) })
	}
}
