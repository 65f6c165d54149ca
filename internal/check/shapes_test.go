package check_test

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"embedcheck/internal/check"
	ifc "embedcheck/internal/ifcbuild"
	"embedcheck/internal/report"
	"embedcheck/rules"
)

func shapesOf(t *testing.T, paths ...string) map[string]report.ShapeRow {
	t.Helper()
	s, err := check.Shapes(paths, check.Options{Rules: rules.Builtin()})
	if err != nil {
		t.Fatal(err)
	}
	rows := map[string]report.ShapeRow{}
	for _, r := range s.Rows {
		rows[r.Item] = r
	}
	return rows
}

func TestShapesAreCounted(t *testing.T) {
	b := ifc.New(ifc.IFC4, ifc.MM)
	body := []ifc.Solid{ifc.Block(ifc.V(0, 0, 0), ifc.V(100, 100, 100)), ifc.Block(ifc.V(0, 0, 200), ifc.V(100, 100, 300))}
	b.Add(ifc.Element{Class: "IfcSlab", Name: "S", At: ifc.At(0, 0, 0), Body: body})
	path := filepath.Join(t.TempDir(), "a.ifc")
	data := b.Bytes()
	for _, c := range []struct {
		name             string
		data             []byte
		item             string
		exact, not, told int
	}{
		{"flat", data, "IfcExtrudedAreaSolid", 2, 0, 0},
		{"of a kind that is no body", bytes.ReplaceAll(data, []byte("IFCEXTRUDEDAREASOLID("), []byte("IFCBOUNDINGBOX(")), "IfcBoundingBox", 0, 2, 1},
	} {
		if err := os.WriteFile(path, c.data, 0o600); err != nil {
			t.Fatal(err)
		}
		r := shapesOf(t, path)[c.item]
		if r.Exact != c.exact || r.NotRead != c.not || len(r.Examples) != c.told {
			t.Errorf("%s: %+v", c.name, r)
		}
	}
}

// Nothing in the public models that have cast-in items may be left unread.
func TestPublicModelsAreReadWhole(t *testing.T) {
	paths, _ := filepath.Glob("../../../shared/data/models/*.ifc")
	if len(paths) == 0 {
		t.Skip("no public models beside the checkout")
	}
	for _, p := range paths {
		for item, r := range shapesOf(t, p) {
			if r.NotRead > 0 || strings.TrimSpace(item) == "" {
				t.Errorf("%s: %s: %+v", filepath.Base(p), item, r)
			}
		}
	}
}
