package check_test

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"embedcheck/ifcread"
	"embedcheck/internal/check"
	"embedcheck/internal/finding"
	"embedcheck/internal/ifcbuild/ifcxml"
	"embedcheck/internal/report"
	"embedcheck/rules"
)

// TestFindingsDoNotDependOnTheForm writes the demo as XML in both ways of writing:
// the findings are the same to the last byte, but for the names of the files.
func TestFindingsDoNotDependOnTheForm(t *testing.T) {
	paths := demoModels(t)
	want := findings(t, paths)
	for _, form := range []ifcxml.Form{ifcxml.Flat, ifcxml.Nested} {
		dir := t.TempDir()
		var again []string
		for _, p := range paths {
			f, err := ifcread.Open(p, ifcread.Options{})
			if err != nil {
				t.Fatal(err)
			}
			to := filepath.Join(dir, strings.TrimSuffix(filepath.Base(p), ".ifc")+".ifcXML")
			if err := os.WriteFile(to, ifcxml.Write(f, form), 0o666); err != nil {
				t.Fatal(err)
			}
			again = append(again, to)
		}
		got := bytes.ReplaceAll(findings(t, again), []byte(".ifcXML"), []byte(".ifc"))
		if !bytes.Equal(got, want) {
			t.Errorf("%s: the findings differ from those of the clear text%s", form, firstDifference(got, want))
		}
	}
}

// findings is findings.json without the models.
func findings(t *testing.T, paths []string) []byte {
	t.Helper()
	_, run, err := check.Run(paths, check.Options{Rules: rules.Builtin()})
	if err != nil {
		t.Fatal(err)
	}
	if len(run.Findings) < 15 {
		t.Fatalf("only %d findings", len(run.Findings))
	}
	run.Models = []finding.ModelInfo{}
	var out bytes.Buffer
	if err := report.WriteJSON(&out, run); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func firstDifference(a, b []byte) string {
	x, y := strings.Split(string(a), "\n"), strings.Split(string(b), "\n")
	for i := range min(len(x), len(y)) {
		if x[i] != y[i] {
			return ":\n" + x[i] + "\nwant\n" + y[i]
		}
	}
	return " in their number"
}
