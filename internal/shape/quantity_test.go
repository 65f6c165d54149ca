package shape

import (
	"math"
	"path/filepath"
	"testing"

	"embedcheck/ifcread"
)

// The real models state the net volumes of their elements as the programs that
// wrote them computed them. Those take steel sections without their roundings
// and tubes with few sides, so that up to 12 percent are allowed there; all
// else, breps and cut concrete with it, must agree within 2 percent.
func TestVolumesAgreeWithStatedQuantities(t *testing.T) {
	for _, name := range models(t) {
		f := parseFile(t, name)
		r := NewReader(f, ReadUnits(f))
		n, worst := 0, 0.0
		for _, rel := range f.Of(ifcread.TypeOf("IfcRelDefinesByProperties")) {
			set, ok := rel.Attr("RelatingPropertyDefinition").Inst()
			if !ok || set.Name() != "IfcElementQuantity" {
				continue
			}
			stated := statedVolume(set) * r.Units().Volume
			for v := range rel.Attr("RelatedObjects").All() {
				p, ok := v.Inst()
				if !ok || !(stated > 0) {
					continue
				}
				got, limit := 0.0, 0.02
				for _, part := range r.Shape(p).Parts {
					if m, err := part.Solid.Mesh(); err == nil {
						got += m.Volume() * math.Abs(part.At.Det())
					}
					if isSteelSection(part.Solid) {
						limit = 0.12
					}
				}
				if got == 0 {
					continue // no body
				}
				n++
				d := math.Abs(got-stated) / stated
				if d > limit {
					t.Errorf("%s #%d: %.6g mm3, stated %.6g", p.Name(), p.ID(), got, stated)
				}
				if limit == 0.02 {
					worst = max(worst, d)
				}
			}
		}
		t.Logf("%s: %d volumes compared, those without steel sections differ by %.2f percent at most", filepath.Base(name), n, 100*worst)
	}
}

func statedVolume(set ifcread.Inst) float64 {
	for v := range set.Attr("Quantities").All() {
		if q, ok := v.Inst(); ok && q.Name() == "IfcQuantityVolume" && text(q.Arg(0)) == "NetVolume" {
			return number(q.Arg(3))
		}
	}
	return 0
}

// isSteelSection reports whether a solid is made from a section that has
// roundings or is a tube.
func isSteelSection(s *Solid) bool {
	for ; s != nil; s = s.Base {
		if s.Prism == nil {
			continue
		}
		switch s.Prism.Section.Type {
		case "IfcCircleHollowProfileDef", "IfcRectangleHollowProfileDef", "IfcLShapeProfileDef", "IfcIShapeProfileDef":
			return true
		}
	}
	return false
}
