package recognise

import (
	"testing"

	"embedcheck/ifcread"
	"embedcheck/internal/element"
	"embedcheck/internal/geom"
	ifc "embedcheck/internal/ifcbuild"
)

// An element that was left behind at zero moves the local origin of a model on the
// map nowhere, whether it comes first or last in the file.
func TestOriginIsThatOfMostElements(t *testing.T) {
	for _, stray := range []int{0, 4, -1} {
		b := ifc.New(ifc.IFC4, ifc.MM)
		for i := range 5 {
			at := ifc.At(1.748e9+float64(i)*100, 5.428e9, 12_000)
			if i == stray {
				at = ifc.At(0, 0, 0)
			}
			b.Slab("S", at, ifc.Block(ifc.V(0, 0, 0), ifc.V(1000, 1000, 200)))
		}
		f, err := ifcread.Parse("map.ifc", b.Bytes(), ifcread.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if got, want := originOf([]*element.Model{element.Read(f, 2)}, 2), geom.V(1.748e9, 5.428e9, 12_000); got.Dist(want) > 2000 {
			t.Errorf("stray element %d: origin %v, want %v", stray, got, want)
		}
	}
}
