package check_test

import (
	"fmt"
	"maps"
	"path/filepath"
	"testing"

	"embedcheck/internal/check"
	"embedcheck/internal/demo"
	"embedcheck/internal/ifcbuild"
	"embedcheck/rules"
)

// The yards that speed is measured on have exactly the findings that their
// writer tells, and nothing else, however large they are: a check that became
// fast by looking away would be seen.
func TestYardHasTheFindingsThatItTells(t *testing.T) {
	for _, y := range []demo.Yard{
		{Panels: 20, Schema: ifcbuild.IFC4},
		{Panels: 40, Schema: ifcbuild.IFC4},
		{Panels: 20, Each: true, Schema: ifcbuild.IFC2X3, Unit: ifcbuild.Metre},
		{Panels: 20, Mixed: true, Schema: ifcbuild.IFC4},
		{Panels: 40, Mixed: true, Schema: ifcbuild.IFC4},
		{Panels: 20, Mixed: true, Schema: ifcbuild.IFC2X3, Unit: ifcbuild.Metre},
	} {
		path := filepath.Join(t.TempDir(), "yard.ifc")
		want, err := y.WriteFile(path)
		if err != nil {
			t.Fatal(err)
		}
		m, run, err := check.Run([]string{path}, check.Options{Rules: rules.Builtin()})
		if err != nil {
			t.Fatal(err)
		}
		found := map[string]int{}
		for _, f := range run.Findings {
			found[f.Rule]++
		}
		if !maps.Equal(found, want.Findings) {
			t.Errorf("%+v: found %v, told %v", y, found, want.Findings)
		}
		anchors := 0
		for _, it := range m.Items {
			anchors += len(it.Anchors)
		}
		got := fmt.Sprintf("%d panels, %d items, %d anchors, %d bars", len(m.Hosts), len(m.Items), anchors, m.Bars.Count())
		told := fmt.Sprintf("%d panels, %d items, %d anchors, %d bars", want.Panels, want.Items, want.Anchors, want.Bars)
		if got != told {
			t.Errorf("%+v: read %s; told %s", y, got, told)
		}
		if each := want.Findings["duplicate"] * 20; each != y.Panels {
			t.Errorf("%+v: the findings do not grow with the panels: %v", y, want.Findings)
		}
	}
}
