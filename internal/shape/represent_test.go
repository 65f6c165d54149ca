package shape

import (
	"strings"
	"testing"
)

func TestBodyIsChosen(t *testing.T) {
	const items = wedge + "#140=IFCBLOCK(#2,1.,1.,1.);\n#141=IFCPOLYLINE((#113,#114));\n#142=IFCBOUNDINGBOX(#1,1.,1.,1.);\n#143=IFCTRIANGULATEDFACESET(#144,$,$,((1,2,3)),$);\n#144=IFCCARTESIANPOINTLIST3D(((0.,0.,0.),(1.,0.,0.),(0.,1.,0.)));\n"
	for _, c := range []struct {
		name  string
		reps  string // "identifier/type/item, ..."
		parts string // entity names of the parts
		why   string // of the first unread item
	}{
		{"body", "Axis/Curve2D/#141, Body/SweptSolid/#110, Box/BoundingBox/#142", "IfcExtrudedAreaSolid", ""},
		{"body first, whatever the order", "Body-FallBack/Tessellation/#140, Body/SweptSolid/#110", "IfcExtrudedAreaSolid", ""},
		{"fallback alone", "Body-FallBack/Tessellation/#140", "IfcBlock", ""},
		{"fallback for a body that cannot be read", "Body/SurfaceModel/#143, Body-FallBack/CSG/#140", "IfcBlock", ""},
		{"facetation", "Facetation/Brep/#140", "IfcBlock", ""},
		{"untitled", "/SweptSolid/#110", "IfcExtrudedAreaSolid", ""},
		{"untitled curve", "/Curve2D/#141", "", ""},
		{"two bodies of one context belong together", "Body/SweptSolid/#110, Body/CSG/#140", "IfcExtrudedAreaSolid IfcBlock", ""},
		{"never axis, box, reference, clearance", "Axis/Curve2D/#141, Box/BoundingBox/#142, Reference/SweptSolid/#110, Clearance/CSG/#140, FootPrint/SweptSolid/#110, Annotation/CSG/#140", "", ""},
		{"only a box", "Body/BoundingBox/#142", "", "only a bounding box"},
		{"open triangles", "Body/Tessellation/#143", "", "do not close"},
		{"curve as body", "Body/Curve3D/#141", "", "not read as solids"},
		{"missing item", "Body/SweptSolid/#999", "", "not in the file"},
		{"one of two", "Body/SweptSolid/#110,#142", "IfcExtrudedAreaSolid", "only a bounding box"},
	} {
		data := "#100=IFCBUILDINGELEMENTPROXY('0000000000000000000002',$,$,$,$,$,#102,$,$);\n"
		var ids []string
		for i, rep := range strings.Split(c.reps, ", ") {
			f := strings.Split(rep, "/")
			id := "#" + []string{"150", "151", "152", "153", "154", "155"}[i]
			name := "'" + f[0] + "'"
			if f[0] == "" {
				name = "$"
			}
			data += id + "=IFCSHAPEREPRESENTATION(#8," + name + ",'" + f[1] + "',(" + f[2] + "));\n"
			ids = append(ids, id)
		}
		data += "#102=IFCPRODUCTDEFINITIONSHAPE($,$,(" + strings.Join(ids, ",") + "));\n"
		r := reader(t, "IFC4", mmRad, data+items)
		s := r.Shape(get(t, r, 100))
		var got []string
		for _, p := range s.Parts {
			got = append(got, p.Solid.ItemType)
		}
		if strings.Join(got, " ") != c.parts {
			t.Errorf("%s: parts %v, want %s", c.name, got, c.parts)
		}
		switch {
		case c.why == "" && len(s.Unread) > 0:
			t.Errorf("%s: unread %v", c.name, s.Unread)
		case c.why != "" && (len(s.Unread) == 0 || !strings.Contains(s.Unread[0].Why, c.why)):
			t.Errorf("%s: unread %v, want %q", c.name, s.Unread, c.why)
		}
	}
}

func TestProductWithoutRepresentation(t *testing.T) {
	r := reader(t, "IFC4", mmRad, "#100=IFCBUILDINGELEMENTPROXY('0000000000000000000002',$,$,$,$,$,$,$,$);\n")
	if s := r.Shape(get(t, r, 100)); len(s.Parts)+len(s.Unread) != 0 {
		t.Errorf("%+v", s)
	}
}

// A solid used by several representations without a map is evaluated once.
func TestSolidIsSharedByRepresentations(t *testing.T) {
	data := product("Body", "SweptSolid", "#110") + wedge
	data += strings.NewReplacer("#100=", "#200=", "#91", "#201", "#92", "#202").Replace(product("Body", "SweptSolid", "#110"))
	r := reader(t, "IFC4", mmRad, data)
	a, b := r.Shape(get(t, r, 100)), r.Shape(get(t, r, 200))
	if a.Parts[0].Solid != b.Parts[0].Solid {
		t.Error("the solid was evaluated twice")
	}
}
