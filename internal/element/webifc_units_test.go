package element_test

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	ib "embedcheck/internal/ifcbuild"
)

// yard writes mapped items, meshes, cuts and openings.
func yard(b *ib.Builder) {
	x := 0.0
	place := func() ib.Frame { x += 1000; return ib.At(x, 0, 0).TurnZ(30) }
	m := ib.NewMap(ib.Extrude{Profile: ib.Poly{Outer: []ib.XY{{X: 0, Y: 0}, {X: 300, Y: 0}, {X: 300, Y: 100}, {X: 100, Y: 100}, {X: 100, Y: 200}, {X: 0, Y: 200}}}, Depth: 50})
	turned := ib.At(10, 20, 30).TurnX(40)
	b.Proxy("mapped", place(), m.To(ib.To(turned)))
	b.Proxy("mirrored", place(), m.To(ib.To(turned).Mirrored()))
	b.Proxy("scaled", place(), m.To(ib.Op{O: ib.V(5, 0, 0), Scale: 2}))
	b.Proxy("stretched", place(), m.To(ib.Op{Scale: 2, Scale2: 3, Scale3: 0.5}))
	box := ib.Block(ib.V(0, 0, 0), ib.V(400, 200, 300))
	b.Proxy("clipped", place(), ib.Clip{Of: box, Planes: []ib.Plane{{P: ib.V(200, 0, 200), N: ib.V(0.6, 0, 0.8)}}})
	b.Proxy("brep", place(), ib.RodMesh([]ib.Vec{ib.V(0, 0, 210), ib.V(0, 0, 0), ib.V(110, 0, 0)}, 10, 0, 16).Brep())
	b.Proxy("faces", place(), ib.BowlMesh(ib.At(0, 0, 0), 50, 40, 16).Polygons())
	b.Proxy("rod", place(), ib.Rod(ib.Bent(40, ib.V(0, 0, 0), ib.V(0, 0, -300), ib.V(100, 0, -300)).As(ib.Composite), 20))
	w := b.Wall("wall", place(), ib.Block(ib.V(0, 0, 0), ib.V(3000, 200, 2500)))
	w.Open("door", ib.At(500, 0, 0), ib.Block(ib.V(0, -1, -1), ib.V(900, 201, 2100)))
	w.Open("duct", ib.At(2000, 0, 1000), ib.Tube(ib.V(0, -1, 0), ib.V(0, 201, 0), 80, 0))
	w.Open("niche", ib.At(2400, 0, 1000), ib.Block(ib.V(0, 0, 0), ib.V(300, 100, 300))) // flush with the face
}

// The same model in every schema and unit, turned and moved.
func TestSchemasAndUnitsAgreeWithAnotherReader(t *testing.T) {
	dir := t.TempDir()
	var paths []string
	for _, s := range []ib.Schema{ib.IFC2X3, ib.IFC4, ib.IFC4X3} {
		for name, u := range map[string]ib.Unit{"mm": ib.MM, "metre": ib.Metre, "inch": ib.Inch, "foot": ib.Foot} {
			// The library loses single precision further out than this.
			at := ib.Facing(ib.V(30_456, -8_123, 12_000), ib.V(0, -1, 0), ib.V(0.6, 0, 0.8))
			b := ib.New(s, u, ib.Placed(at), ib.Degrees())
			yard(b)
			path := filepath.Join(dir, fmt.Sprintf("%s %s.ifc", s, name))
			if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
				t.Fatal(err)
			}
			paths = append(paths, path)
		}
	}
	check(t, 256, paths...)
}
