package embed

import ib "embedcheck/internal/ifcbuild"

// Form is how steel is modelled.
type Form struct {
	kind  kind
	sides int
}

type kind int

const (
	swept kind = iota
	extruded
	brep
	facets
	polygons
)

var (
	Swept    = Form{kind: swept}               // swept disks for what is round, extrusions else
	Extruded = Form{kind: extruded}            // extrusions only; bends in short straight pieces
	Brep     = Form{kind: brep, sides: 16}     // faceted breps
	Facets   = Form{kind: facets, sides: 16}   // triangulated face sets
	Polygons = Form{kind: polygons, sides: 16} // polygonal face sets
)

// Sides is the form with so many sides of what is round.
func (f Form) Sides(n int) Form { f.sides = n; return f }

// mesh is a mesh in a faceted form.
func (f Form) mesh(m *ib.Mesh) ib.Solid {
	switch f.kind {
	case brep:
		return m.Brep()
	case polygons:
		return m.Polygons()
	}
	return m.Triangles()
}

// rod is a round bar along a path.
func (f Form) rod(p ib.Path, d float64) []ib.Solid {
	points := p.Points()
	switch f.kind {
	case swept:
		return []ib.Solid{ib.Rod(p, d)}
	case extruded:
		var out []ib.Solid
		for i := 1; i < len(points); i++ {
			out = append(out, ib.Cylinder(points[i-1], points[i], d/2))
		}
		return out
	}
	return []ib.Solid{f.mesh(ib.RodMesh(points, d/2, 0, f.sides))}
}

// prism is an extrusion of an outline.
func (f Form) prism(e ib.Extrude) ib.Solid {
	if f.kind == swept || f.kind == extruded {
		return e
	}
	return f.mesh(ib.PrismMesh(e.Profile, e.At, e.Depth, f.sides))
}

// nuts are the width across flats and the height of hexagon nuts (ISO 4032),
// the height of hexagon heads (ISO 4014, from memory), and the diameter and
// thickness of plain washers (ISO 7089).
var nuts = map[float64]struct{ s, m, k, washer, thick float64 }{
	10: {16, 8.4, 6.4, 20, 2},
	12: {18, 10.8, 7.5, 24, 2.5},
	16: {24, 14.8, 10, 30, 3},
	20: {30, 18, 12.5, 37, 3},
	24: {36, 21.5, 15, 44, 4},
	30: {46, 25.6, 18.7, 56, 4},
	36: {55, 31, 22.5, 66, 5},
}

// flats is the width across the flats of nut and head, about 1.5 diameters for
// sizes without a standard.
func flats(d float64) float64 {
	if n, ok := nuts[d]; ok {
		return n.s
	}
	return 1.5 * d
}

// NutHeight is the height of a hexagon nut.
func NutHeight(d float64) float64 {
	if n, ok := nuts[d]; ok {
		return n.m
	}
	return 0.9 * d
}

// HeadHeight is the height of a hexagon head.
func HeadHeight(d float64) float64 {
	if n, ok := nuts[d]; ok {
		return n.k
	}
	return 0.65 * d
}

// nut is a hexagon nut on the z axis with its lower side at a height; the hole
// is left out, as most models leave it out.
func (f Form) nut(d, z float64) ib.Solid {
	return f.prism(ib.Hexagon(ib.V(0, 0, z), ib.V(0, 0, z+NutHeight(d)), flats(d)))
}

// Nut is a hexagon nut with its lower side in the xy plane.
func Nut(d float64, f Form) ib.Solid { return f.nut(d, 0) }
