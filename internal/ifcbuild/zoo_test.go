package ifcbuild_test

import (
	. "embedcheck/internal/ifcbuild"
)

// beast is an element of the zoo with the box that its body has, worked out by
// hand in the coordinates of the model before it is placed.
type beast struct {
	ref    Ref
	name   string
	lo, hi Vec
	loose  bool // only the first operand's box is known
}

// zoo writes one element of every form that the builder knows.
func zoo(b *Builder) []beast {
	var all []beast
	x := 0.0
	add := func(name string, lo, hi Vec, body ...Solid) *beast {
		at := At(x, 0, 0)
		r := b.Add(Element{Class: "IfcBuildingElementProxy", Name: name, At: at, Body: body, Comment: "want " + name})
		all = append(all, beast{ref: r, name: name, lo: at.Apply(lo), hi: at.Apply(hi)})
		x += 1000
		return &all[len(all)-1]
	}
	l := Poly{Outer: []XY{{0, 0}, {300, 0}, {300, 100}, {100, 100}, {100, 200}, {0, 200}}}
	holed := Poly{
		Outer:  []XY{{0, 0}, {400, 0}, {400, 300}, {0, 300}},
		Holes:  [][]XY{{{50, 50}, {150, 50}, {150, 150}}, {{200, 200}, {300, 200}, {300, 250}, {200, 250}}},
		Rounds: []Hole{{350, 100, 20}},
	}
	add("block", V(0, 0, 0), V(100, 200, 300), Block(V(0, 0, 0), V(100, 200, 300)))
	add("cylinder", V(-10, -10, 0), V(10, 10, 500), Cylinder(V(0, 0, 0), V(0, 0, 500), 10))
	add("tube along y", V(-20, 0, -20), V(20, 90, 20), Tube(V(0, 0, 0), V(0, 90, 0), 20, 12))
	add("ell", V(0, 0, 0), V(300, 200, 50), Extrude{Profile: l, Depth: 50})
	add("holes", V(0, 0, 0), V(400, 300, 20), Extrude{Profile: holed, Depth: 20})
	add("skew", V(0, 0, 0), V(100+60, 100, 80), Extrude{Profile: Rect{W: 100, H: 100}, At: At(50, 50, 0), Dir: V(0.6, 0, 0.8), Depth: 100})
	add("hexagon", V(-18/0.8660254037844386, -18, 0), V(18/0.8660254037844386, 18, 20), Hexagon(V(0, 0, 0), V(0, 0, 20), 36))
	add("brep", V(0, 0, 0), V(300, 200, 50), PrismMesh(l, At(0, 0, 0), 50, 12).Brep())
	add("brep with holes", V(0, 0, 0), V(400, 300, 20), PrismMesh(holed, At(0, 0, 0), 20, 12).Brep())
	add("triangles", V(0, 0, 0), V(400, 300, 20), PrismMesh(holed, At(0, 0, 0), 20, 12).Triangles())
	add("polygons", V(0, 0, 0), V(400, 300, 20), PrismMesh(holed, At(0, 0, 0), 20, 12).Polygons())
	add("rod mesh", V(-10, -10, -10), V(110, 10, 210), RodMesh([]Vec{V(0, 0, 210), V(0, 0, 0), V(110, 0, 0)}, 10, 0, 4).Triangles())
	add("bowl", V(-50, -50, -40), V(50, 50, 0), BowlMesh(At(0, 0, 0), 50, 40, 16).Brep())
	add("clip", V(0, 0, 0), V(100, 100, 100), Clip{Of: Block(V(0, 0, 0), V(100, 100, 100)), Planes: []Plane{{V(50, 0, 0), V(1, 0, 1)}, {V(0, 90, 0), V(0, 1, 0)}}}).loose = true
	add("clip the other way", V(0, 0, 0), V(100, 100, 100), Clip{Of: Block(V(0, 0, 0), V(100, 100, 100)), Planes: []Plane{{V(50, 0, 0), V(1, 0, 1)}}, Agree: true}).loose = true
	add("clip within", V(0, 0, 0), V(100, 100, 100), Clip{Of: Block(V(0, 0, 0), V(100, 100, 100)), Planes: []Plane{{V(0, 0, 50), V(0, 0, 1)}}, Within: []XY{{-1, -1}, {40, -1}, {40, 101}, {-1, 101}}}).loose = true
	add("cut", V(0, 0, 0), V(100, 100, 100), Cut{Of: Block(V(0, 0, 0), V(100, 100, 100)), Less: Block(V(20, 20, -1), V(80, 80, 101))}).loose = true
	add("disk on a polyline", V(-6, -6, 0), V(6, 6, 400), Rod(Straight(V(0, 0, 0), V(0, 0, 400)), 12))
	ell := Bent(40, V(0, 0, 0), V(0, 0, -300), V(100, 0, -300))
	for _, c := range []struct {
		name string
		c    Curve
	}{{"ell indexed", Indexed}, {"ell composite", Composite}, {"ell chords", Polyline}} {
		add(c.name, V(-10, -10, -310), V(100, 10, 0), Rod(ell.As(c.c), 20))
	}
	jay := StartAt(V(0, 0, 0)).LineTo(V(0, 0, -300)).Arc(V(50, 0, -300), V(0, -1, 0), 180).LineTo(V(100, 0, -200))
	add("jay", V(-10, -10, -360), V(110, 10, 0), Rod(jay, 20))

	m := NewMap(Block(V(0, 0, 0), V(100, 50, 20)))
	add("mapped twice", V(0, 0, 0), V(100, 350, 20), m.To(Op{}), m.At(At(0, 300, 0)))
	add("mapped and turned", V(-50, 0, 0), V(0, 100, 20), m.At(At(0, 0, 0).TurnZ(90)))
	add("mapped and mirrored", V(0, -50, 0), V(100, 0, 20), m.To(Op{}.Mirrored()))
	add("mapped and scaled", V(5, 0, 0), V(205, 100, 40), m.To(Op{O: V(5, 0, 0), Scale: 2}))
	add("mapped and stretched", V(0, 0, 0), V(200, 150, 80), m.To(Op{Scale: 2, Scale2: 3, Scale3: 4}))
	s := Shared(Block(V(0, 0, 0), V(10, 10, 10)))
	add("shared", V(0, 0, 0), V(10, 10, 10), s)
	add("shared again", V(0, 0, 0), V(10, 10, 10), s)
	add("several", V(0, 0, 0), V(130, 10, 10), s, Block(V(120, 0, 0), V(130, 10, 10)))
	return all
}

// relations writes one of each class and relationship.
func relations(b *Builder) {
	concrete := "Concrete 40 MPa"
	wall := b.Wall("WP-01", At(0, 5000, 0), Block(V(0, 0, 0), V(6000, 180, 3200))).Made(concrete)
	hole := wall.Open("Duct", At(1000, 0, 1000), Block(V(0, -1, 0), V(300, 181, 300)))
	duct := b.Add(Element{Class: "IfcFastener", Name: "Duct", Rel: wall, At: At(1000, 0, 1000), Body: []Solid{Tube(V(150, 0, 150), V(150, 180, 150), 140, 130)}})
	duct.Fill(hole)
	wall.Has(PSet{"Pset_WallCommon", []Prop{Boolean("IsExternal", true), Identifier("Reference", "W1"), Real("Ratio", 0.5), Integer("Bars", 12)}})
	for _, c := range []string{"IfcSlab", "IfcBeam", "IfcColumn", "IfcFooting", "IfcMember", "IfcPlate", "IfcPile", "IfcStair", "IfcStairFlight", "IfcRailing", "IfcCovering", "IfcWallStandardCase", "IfcBuildingElementPart", "IfcReinforcingMesh"} {
		b.Add(Element{Class: c, Name: c, Tag: "T-1", Diameter: 12, Material: concrete, Body: []Solid{Block(V(0, 0, 0), V(10, 10, 10))}})
	}
	t := b.Type(Type{Class: "IfcMechanicalFastenerType", Name: "L-bolt M20x450", Predefined: "ANCHORBOLT", Diameter: 20, Length: 450,
		Props: []PSet{{"Pset_MechanicalFastenerAnchorBolt", []Prop{Length("AnchorBoltLength", 450)}}},
		Maps:  []*Map{NewMap(Cylinder(V(0, 0, 0), V(0, 0, 450), 10))}})
	set := b.Assembly("Holding-down set", At(0, 6000, 0))
	inner := b.Add(Element{Class: "IfcElementAssembly", Name: "Plate and nuts", Of: set})
	b.Add(Element{Class: "IfcMechanicalFastener", Name: "B1", Of: inner, Type: t, Diameter: 20, Length: 450, Predefined: "ANCHORBOLT",
		Body: []Solid{Cylinder(V(0, 0, 0), V(0, 0, 450), 10)}, Props: []PSet{{"Pset_ElementComponentCommon", []Prop{Enumerated("CorrosionTreatment", "GALVANISED"), Count("Bolt count", 4), Text("Note", "a"), Label("Finish", "HDG")}}}})
	loose := b.Accessory("Nut", At(0, 6000, 0), Hexagon(V(0, 0, 0), V(0, 0, 18), 30))
	set.Parts(loose)
	b.Fastener("no type", At(0, 0, 0), Cylinder(V(0, 0, 0), V(0, 0, 450), 10)).TypeOf(t)
	for _, c := range []string{"IfcDiscreteAccessoryType", "IfcFastenerType", "IfcBeamType", "IfcBuildingElementProxyType"} {
		b.Type(Type{Class: c, Name: c, Element: "kind"})
	}
	if b.Schema() != IFC2X3 {
		b.Type(Type{Class: "IfcReinforcingBarType", Name: "N12", Diameter: 12, Length: 5920})
		wall.OpenWith(Element{Class: "IfcVoidingFeature", Predefined: "HOLE", Body: []Solid{Block(V(0, 0, 0), V(10, 10, 10))}})
		b.Proxy("filleted", At(0, 0, 0), Rod(Bent(30, V(0, 0, 0), V(200, 0, 0), V(200, 200, 0)).As(Filleted), 12))
	}
	b.Storey("Roof", 3200)
	b.Bar("N12-1", 12, At(0, 0, 0), Rod(Straight(V(0, 0, 0), V(0, 0, 400)), 12))
	b.Proxy("csg", At(0, 0, 0), CsgOf{Cut{Of: Block(V(0, 0, 0), V(100, 100, 100)), Less: Block(V(20, 20, -1), V(80, 80, 101))}})
	b.Proxy("joined", At(0, 0, 0), Join{Block(V(0, 0, 0), V(100, 100, 100)), Block(V(50, 50, 50), V(150, 150, 150))})
	b.Proxy("in words", At(0, 0, 0), Raw{Keyword: "IFCCSGSOLID", Attributes: "{0}", Type: "CSG", Refers: []Solid{Join{Block(V(0, 0, 0), V(1, 1, 1)), Block(V(0, 0, 0), V(2, 2, 2))}}})
}
