package shape

import (
	"os"
	"path/filepath"
	"testing"

	"embedcheck/ifcread"
	"embedcheck/internal/geom"
)

// models are the real models that lie beside the repository, if any.
func models(t testing.TB) []string {
	names, _ := filepath.Glob("../../../shared/data/models/*.ifc")
	if len(names) == 0 {
		t.Skip("no models beside the repository")
	}
	return names
}

func TestRealModelsAreReadInFull(t *testing.T) {
	for _, name := range models(t) {
		f := parseFile(t, name)
		r := NewReader(f, ReadUnits(f))
		if u := r.Units(); u.Problem != "" || u.LengthName != "millimetre" {
			t.Errorf("%s: units %+v", filepath.Base(name), u)
		}
		products, parts, rods, meshes := 0, map[string]int{}, 0, map[*Solid]bool{}
		for _, p := range f.Of(tProductType) {
			if p.Attr("Representation").IsNull() {
				continue
			}
			if _, err := r.Placement(placementOf(p)); err != nil {
				t.Errorf("%v", err)
			}
			s := r.Shape(p)
			if len(s.Parts)+len(s.Unread) > 0 {
				products++
			}
			for _, u := range s.Unread {
				t.Errorf("%s #%d: %s", p.Name(), p.ID(), u.Why)
			}
			for _, part := range s.Parts {
				parts[part.Solid.ItemType]++
				meshes[part.Solid] = true
			}
			r.Rods(p, func(path []geom.Vec, radius float64, at geom.Affine) { rods++ })
		}
		for s := range meshes {
			m, err := s.Mesh()
			if err != nil {
				t.Errorf("%v", err)
				continue
			}
			if c := m.Closed(); !c.OK || !(volume(m) > 0) {
				t.Errorf("%s: volume %g, open: %s", s.ItemType, volume(m), c.Why)
			}
			b := s.Box().Grow(1e-6)
			if mb := m.Box(); !b.Has(mb.Min) || !b.Has(mb.Max) || s.Kind != Rod && b.Size().Dist(mb.Size()) > 1e-5 {
				t.Errorf("%s: box %v, of the mesh %v", s.ItemType, b, m.Box())
			}
		}
		t.Logf("%s: %d products with a body, %d solids, %d rods visited, parts %v", filepath.Base(name), products, len(meshes), rods, parts)
	}
}

func placementOf(p ifcread.Inst) ifcread.Inst {
	at, _ := p.Attr("ObjectPlacement").Inst()
	return at
}

var tProductType = ifcread.TypeOf("IfcProduct")

func parseFile(t testing.TB, name string) *ifcread.File {
	src, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return parse(t, src)
}
