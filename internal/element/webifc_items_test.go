package element_test

import (
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	ib "embedcheck/internal/ifcbuild"
)

// zoo writes the items of a group, one element each in a turned place.
func zoo(t testing.TB, dir, group string, words []word) string {
	t.Helper()
	b := ib.New(ib.IFC4X3, ib.MM, ib.Degrees(), ib.Seed(group))
	for i, w := range words {
		at := ib.Facing(ib.V(float64(i)*2000, 500, 0), ib.V(0.36, 0.48, 0.8), ib.V(0.8, -0.6, 0))
		b.Proxy(w.name, at, ib.Words{Text: common + w.text, Type: w.kind})
	}
	path := filepath.Join(dir, group+".ifc")
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

var groups = map[string][]word{"swept": swept, "profiles": profiles, "bounded": bounded, "csg": csg}

func zooPaths(t *testing.T) []string {
	t.Helper()
	dir := t.TempDir()
	var paths []string
	for name, words := range groups {
		paths = append(paths, zoo(t, dir, name, words))
	}
	slices.Sort(paths)
	return paths
}

// Every representation item, product by product.
func TestItemsAgreeWithAnotherReader(t *testing.T) { check(t, 256, zooPaths(t)...) }

// What the other reader cannot judge has the volume that its sizes give.
func TestItemsHaveTheVolumesOfTheirSizes(t *testing.T) {
	found := 0
	for _, path := range zooPaths(t) {
		for _, h := range readHere(t, path) {
			want, ok := byHand[h.name]
			if !ok {
				continue
			}
			found++
			limit := flatLimit
			if h.curved {
				limit = curvedLimit
			}
			if h.why != "" || math.Abs(h.volume-want) > limit*want {
				t.Errorf("%s: volume %.6g mm3, want %.6g; %s", h.name, h.volume, want, h.why)
			}
		}
	}
	if found != len(byHand) {
		t.Errorf("%d items found, want %d", found, len(byHand))
	}
}
