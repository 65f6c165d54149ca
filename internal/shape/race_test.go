package shape

import (
	"fmt"
	"path/filepath"
	"sync"
	"testing"

	"embedcheck/ifcread"
)

// Many goroutines get what one gets, and share the solids.
func TestConcurrentReadersAgree(t *testing.T) {
	for _, name := range models(t) {
		f := parseFile(t, name)
		u := ReadUnits(f)
		products := f.Of(tProductType)
		alone := NewReader(f, u)
		want := make([]string, len(products))
		for i, p := range products {
			want[i] = summary(alone, p)
		}
		r := NewReader(f, u)
		got := make([][]string, 4)
		var wg sync.WaitGroup
		for k := range got {
			wg.Go(func() {
				for i := range products {
					j := (i + k*len(products)/4) % len(products)
					got[k] = append(got[k], fmt.Sprint(j, summary(r, products[j])))
				}
			})
		}
		wg.Wait()
		for k := range got {
			for i := range products {
				j := (i + k*len(products)/4) % len(products)
				if got[k][i] != fmt.Sprint(j, want[j]) {
					t.Fatalf("%s #%d: %s, alone %s", filepath.Base(name), products[j].ID(), got[k][i], want[j])
				}
			}
		}
	}
}

func summary(r *Reader, p ifcread.Inst) string {
	s := r.Shape(p)
	out := fmt.Sprint(len(s.Unread))
	for _, q := range s.Parts {
		m, err := q.Solid.Mesh()
		if err == nil {
			out += fmt.Sprintf(" %s %d %.6g %v", q.Solid.Kind, len(m.Tris), m.Volume(), q.At.T)
		}
	}
	at, err := r.Placement(placementOf(p))
	return out + fmt.Sprint(at.T, err)
}

// A type that no schema knows would be taken for every unknown entity.
func TestAllTypesAreKnown(t *testing.T) {
	for name, typ := range map[string]ifcread.Type{
		"tBoundary": tBoundary, "tOuterBoundary": tOuterBoundary, "tCompositeOn": tCompositeOn, "tComposite2D": tComposite2D, "tRepSegment": tRepSegment,
		"tSpline": tSpline, "tBezier": tBezier, "tRationalBezier": tRationalBezier, "tSeamCurve": tSeamCurve, "tIntersection": tIntersection,
		"tOffset3D": tOffset3D, "tOperator2DNon": tOperator2DNon, "tVertexLoop": tVertexLoop, "tEdge": tEdge, "tFaceSet": tFaceSet,
		"tIrregularNet": tIrregularNet, "tSectioned": tSectioned, "tDiskPolygonal": tDiskPolygonal, "tRevolvedTaper": tRevolvedTaper,
		"tLinearPlacement": tLinearPlacement, "tGridCrossing": tGridCrossing, "tConversionOff": tConversionOff, "tRectTrimmed": tRectTrimmed,
		"tOpenProfile": tOpenProfile, "tMirroredDef": tMirroredDef, "tAdvancedVoids": tAdvancedVoids,
	} {
		if typ == 0 {
			t.Errorf("%s", name)
		}
	}
}
