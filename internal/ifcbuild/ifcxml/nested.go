package ifcxml

import (
	"slices"
	"strings"

	"embedcheck/ifcread"
)

// ownedBy is a relationship inside an instance.
type ownedBy struct {
	inverse string
	rel     ifcread.Inst
}

// places are the relationships that stand inside an instance: the attribute that
// refers to it, and the inverse attribute that they stand in.
var places = []struct{ entity, attr, inverse string }{
	{"IfcRelAggregates", "RelatingObject", "IsDecomposedBy"},
	{"IfcRelContainedInSpatialStructure", "RelatingStructure", "ContainsElements"},
	{"IfcRelVoidsElement", "RelatingBuildingElement", "HasOpenings"},
	{"IfcRelFillsElement", "RelatingOpeningElement", "HasFillings"},
	{"IfcRelDefinesByProperties", "RelatedObjects", "IsDefinedBy"},
	{"IfcRelDefinesByType", "RelatedObjects", "IsTypedBy"},
	{"IfcRelAssociatesMaterial", "RelatedObjects", "HasAssociations"},
	{"IfcMaterialDefinitionRepresentation", "RepresentedMaterial", "HasRepresentation"},
	{"IfcStyledItem", "Item", "StyledByItem"},
}

func (w *writer) nested() {
	w.arrange()
	ns := namespaces[w.f.Schema()]
	w.print("<ifcXML xmlns=%q xmlns:ifc=%[1]q xmlns:xsi=%q id=\"ifcXML4\">\n<header>\n", ns, instanceNamespace)
	w.header("")
	w.print("</header>\n")
	for _, alone := range []bool{true, false} { // the second time what stands in a circle
		for i := range w.f.All() {
			if !w.written[i.ID()] && (!alone || !w.inline(i) && w.inside[i.ID()] == "") {
				w.element(i.Name(), i, "")
			}
		}
	}
	w.print("</ifcXML>\n")
}

// arrange decides which relationships stand inside what they relate, and counts
// the references that are left.
func (w *writer) arrange() {
	w.uses, w.owned, w.inside, w.written = map[ifcread.ID]int{}, map[ifcread.ID][]ownedBy{}, map[ifcread.ID]string{}, map[ifcread.ID]bool{}
	for _, p := range places {
		t := ifcread.TypeOf(p.entity)
		for i := range w.f.All() {
			if i.Type() != t || w.f.Pos(t, p.attr) < 0 {
				continue
			}
			v := i.Attr(p.attr)
			owners := v.Refs(nil)
			if owner, ok := v.Inst(); ok {
				owners = []ifcread.Inst{owner}
			}
			if len(owners) == 1 {
				w.owned[owners[0].ID()] = append(w.owned[owners[0].ID()], ownedBy{p.inverse, i})
				w.inside[i.ID()] = p.attr
			}
		}
	}
	for i := range w.f.All() {
		for k, v := range i.Args(nil) {
			if w.f.Attrs(i.Type())[k].Name != w.inside[i.ID()] {
				w.count(v)
			}
		}
	}
}

func (w *writer) count(v ifcread.Value) {
	if id, ok := v.Ref(); ok {
		w.uses[id]++
	}
	for m := range v.All() {
		w.count(m)
	}
}

// inline reports whether an instance is written where it is referred to.
func (w *writer) inline(i ifcread.Inst) bool { return w.uses[i.ID()] == 1 }

// element writes an instance, with the name of the attribute that it is the value
// of, or that of its entity.
func (w *writer) element(name string, i ifcread.Inst, more string) {
	w.written[i.ID()] = true
	w.print("<%s%s", name, more)
	if w.form == Labeled || !w.inline(i) && w.inside[i.ID()] == "" {
		w.print(" id=\"i%d\"", i.ID())
	}
	attrs, args := w.f.Attrs(i.Type()), i.Args(nil)
	for k, v := range args {
		if !v.IsNull() && attrs[k].Name != w.inside[i.ID()] && asAttribute(attrs[k].Name, v) {
			w.print(" %s=\"%s\"", attrs[k].Name, escaped(words(v)))
		}
	}
	w.print(">")
	for k, v := range args {
		if !v.IsNull() && attrs[k].Name != w.inside[i.ID()] && !asAttribute(attrs[k].Name, v) {
			w.child(attrs[k].Name, v)
		}
	}
	for at := 0; at < len(w.owned[i.ID()]); {
		list := w.owned[i.ID()][at:]
		w.print("<%s>", list[0].inverse)
		for _, o := range list {
			if o.inverse != list[0].inverse {
				break
			}
			if at++; !w.written[o.rel.ID()] {
				w.element(o.rel.Name(), o.rel, "")
			}
		}
		w.print("</%s>", list[0].inverse)
	}
	w.print("</%s>\n", name)
}

// flattened are the nested lists of numbers whose inner length is fixed.
const flattened = "CoordList CoordIndex NormalIndex Normals TexCoordsList"

// asAttribute reports whether a value is an XML attribute: simple ones, and lists
// of numbers.
func asAttribute(name string, v ifcread.Value) bool {
	switch v.Kind() {
	case ifcread.Typed, ifcread.Ref:
		return false
	case ifcread.List:
		for m := range v.All() {
			switch m.Kind() {
			case ifcread.Int, ifcread.Real:
			case ifcread.List:
				if !isIn(flattened, name) || !asAttribute("", m) {
					return false
				}
			default:
				return false
			}
		}
	}
	return true
}

// words are the members of a list separated by blanks.
func words(v ifcread.Value) string {
	if v.Kind() != ifcread.List {
		return simple(v)
	}
	var list []string
	for m := range v.All() {
		list = append(list, words(m))
	}
	return strings.Join(list, " ")
}

// selects are attributes of a select type: what they refer to stands inside under
// the name of its entity. declared are those whose declared entity has nothing
// below it, so that no xsi:type is needed.
const (
	selects  = "RelativePlacement WorldCoordinateSystem RelatingMaterial FirstOperand SecondOperand UnitComponent Unit RelatingPropertyDefinition OuterBoundary"
	declared = "Location Axis RefDirection ExtrudedDirection OwnerHistory MappingSource UnitsInContext"
)

func isIn(list, name string) bool { return slices.Contains(strings.Fields(list), name) }

// child writes a value as an element.
func (w *writer) child(name string, v ifcread.Value) {
	i, isRef := v.Inst()
	if !isRef || isIn(selects, name) {
		w.print("<%s>", name)
		w.member(v)
		w.print("</%s>", name)
		return
	}
	typ := ` xsi:type="ifc:` + i.Name() + `"`
	if isIn(declared, name) && w.form == Nested && !(name == "Location" && w.f.Schema() == ifcread.IFC4X3) { // there it is an IfcPoint
		typ = ""
	}
	if w.inline(i) && !w.written[i.ID()] {
		w.element(name, i, typ)
	} else {
		w.print("<%s%s xsi:nil=\"true\" ref=\"i%d\"/>", name, typ, i.ID())
	}
}

// member writes a value inside an element that stands for an attribute.
func (w *writer) member(v ifcread.Value) {
	switch v.Kind() {
	case ifcread.Ref:
		i, _ := v.Inst()
		if w.inline(i) && !w.written[i.ID()] {
			w.element(i.Name(), i, "")
		} else {
			w.print("<%s ref=\"i%d\" xsi:nil=\"true\"/>", i.Name(), i.ID())
		}
	case ifcread.Typed:
		keyword, inner, _ := v.Typed()
		w.print("<%s-wrapper>%s</%[1]s-wrapper>", typeName(keyword), escaped(words(inner)))
	case ifcread.List:
		for m := range v.All() {
			if m.Kind() == ifcread.List {
				w.print("<Seq-wrapper>")
				w.member(m)
				w.print("</Seq-wrapper>")
			} else {
				w.member(m)
			}
		}
	default:
		w.print("<wrapper>%s</wrapper>", escaped(simple(v)))
	}
}
