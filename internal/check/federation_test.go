package check_test

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"embedcheck/internal/bcf"
	"embedcheck/internal/check"
	"embedcheck/internal/finding"
	ifc "embedcheck/internal/ifcbuild"
	"embedcheck/rules"
)

// federate writes scenes, each at its place, and checks them as one federation.
// All scenes have the same GlobalIds.
func federate(t *testing.T, names []string, at ...ifc.Frame) *finding.Run {
	t.Helper()
	dir := t.TempDir()
	var paths []string
	for i, f := range at {
		path := filepath.Join(dir, names[i])
		if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, variant{ifc.IFC4, ifc.MM, f, false, "extruded", "disk"}.write(), 0o666); err != nil {
			t.Fatal(err)
		}
		paths = append(paths, path)
	}
	_, run, err := check.Run(paths, check.Options{Rules: rules.Builtin()})
	if err != nil {
		t.Fatal(err)
	}
	return run
}

// TestSameNamesAndGlobalIDsInSeveralFiles checks two releases of one scene side by
// side: what is found in one is never mistaken for what is found in the other.
func TestSameNamesAndGlobalIDsInSeveralFiles(t *testing.T) {
	names := []string{"north/model.ifc", "south/model.ifc"}
	alone := federate(t, names, ifc.At(0, 0, 0))
	both := federate(t, names, ifc.At(0, 0, 0), ifc.At(0, 20000, 0))
	inOne, inBoth := hosted(alone), hosted(both)
	if len(inBoth) != 2*len(inOne) || len(inOne) == 0 {
		t.Fatalf("%d findings in two copies, %d in one", len(inBoth), len(inOne))
	}
	ids, models := map[string]bool{}, map[string]int{}
	for _, f := range inBoth {
		if ids[f.ID] {
			t.Errorf("%s stands for two findings", f.ID)
		}
		ids[f.ID] = true
		models[f.Host.Model]++
		for _, in := range f.Instances {
			if in.Item.Model != f.Host.Model || (in.At.Y > 10) != (f.Host.Model == names[1]) {
				t.Errorf("%s in %s: an item of %s at y = %.1f m", f.Rule, f.Host.Model, in.Item.Model, in.At.Y)
			}
		}
	}
	if models[names[0]] != len(inOne) || models[names[1]] != len(inOne) {
		t.Errorf("findings by model: %v", models)
	}
	if !slices.ContainsFunc(both.Remarks, func(s string) bool {
		return strings.HasPrefix(s, "north/model.ifc and south/model.ifc have ") && strings.Contains(s, "GlobalIds in common")
	}) {
		t.Errorf("remarks: %q", both.Remarks)
	}
	if len(alone.Remarks) > 0 || alone.Models[0].Name != "model.ifc" {
		t.Errorf("one file alone is called %s; remarks: %q", alone.Models[0].Name, alone.Remarks)
	}
	both.Findings = inBoth
	issuesNameTheirFile(t, both, len(inOne))
}

// hosted are the findings about one host; the others are about all items alike.
func hosted(run *finding.Run) []finding.Finding {
	return slices.DeleteFunc(slices.Clone(run.Findings), func(f finding.Finding) bool { return f.Host == finding.Ref{} })
}

func issuesNameTheirFile(t *testing.T, run *finding.Run, want int) {
	t.Helper()
	var out bytes.Buffer
	if err := (&bcf.Writer{Version: bcf.V21}).Write(&out, run); err != nil {
		t.Fatal(err)
	}
	a, err := bcf.Read(bytes.NewReader(out.Bytes()), int64(out.Len()))
	if err != nil {
		t.Fatal(err)
	}
	count := map[string]int{}
	for _, topic := range a.Topics {
		if len(topic.Models) == 1 {
			count[topic.Models[0].Name]++
		}
	}
	if count["north/model.ifc"] != want || count["south/model.ifc"] != want {
		t.Errorf("issues by file: %v", count)
	}
}

// TestModelsThatLieApart moves a copy away, to both sides of what counts as one
// place: the slab is 2000 mm long.
func TestModelsThatLieApart(t *testing.T) {
	names := []string{"a.ifc", "b.ifc", "c.ifc"}
	isApart := func(s string) bool { return strings.Contains(s, "nearest of the other models") }
	near := federate(t, names, ifc.At(0, 0, 0), ifc.At(2990, 0, 0))
	if slices.ContainsFunc(near.Remarks, isApart) {
		t.Errorf("990 mm apart: %q", near.Remarks)
	}
	far := federate(t, names, ifc.At(0, 0, 0), ifc.At(2000+3.5e6, 0, 0), ifc.At(0, 0, 0))
	if k := slices.IndexFunc(far.Remarks, isApart); k < 0 || !strings.Contains(far.Remarks[k], "b.ifc lies 3500.0 m from a.ifc") || !strings.Contains(far.Remarks[k], "(x +3500.0 m)") {
		t.Errorf("3.5 km apart: %q", far.Remarks)
	}
	if !slices.Contains(far.Remarks, "a.ifc and c.ifc are the same file, so that everything in it counts twice; leave one out") {
		t.Errorf("a file named twice: %q", far.Remarks)
	}
	chain := federate(t, names, ifc.At(0, 0, 0), ifc.At(5800, 0, 0), ifc.At(2900, 0, 0))
	if slices.ContainsFunc(chain.Remarks, isApart) {
		t.Errorf("one between two: %q", chain.Remarks)
	}
}
