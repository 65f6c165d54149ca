package main

import (
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

// TestModelsNamedByFolderAndPattern reads the same models whatever way they are
// named.
func TestModelsNamedByFolderAndPattern(t *testing.T) {
	embedcheck := in(t)
	for _, dir := range []string{"models/old", "empty", "odd [1]"} {
		if err := os.MkdirAll(dir, 0o777); err != nil {
			t.Fatal(err)
		}
	}
	model, err := os.ReadFile(filepath.Join(demoFolder(t), "pump-station-roof.ifc"))
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"models/roof-10.IFC", "models/roof-2.ifc", "models/.hidden.ifc", "models/old/roof-1.ifc", "models/notes.txt", "odd [1]/roof.ifc", "roof[7].ifc"} {
		if err := os.WriteFile(name, model, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	both := "models/roof-2.ifc models/roof-10.IFC"
	for _, c := range []struct{ args, want string }{
		{"models", both},
		{"models/", both},
		{"models/roof-*", both},
		{"models/roof-10.IFC models", both},
		{"models/roof-2.ifc ./models/roof-2.ifc models/roof-?.ifc", "models/roof-2.ifc"},
		{"models/old", "models/old/roof-1.ifc"},
		{"m*/old/*", "models/old/roof-1.ifc"},
		{"roof[7].ifc", "roof[7].ifc"}, // a file of that name goes before the pattern
		{"empty", "no model is in the folder empty"},
		{"nothing-*.ifc", "no file is like nothing-*.ifc"},
		{"models/[", "cannot be read: syntax error in pattern"},
		{"e*", "only folders are like e*"},
	} {
		out := embedcheck(map[bool]int{true: 0, false: exitUsage}[strings.Contains(c.want, "roof")], append([]string{"inventory"}, strings.Fields(c.args)...)...)
		var read []string
		for w := range strings.FieldsSeq(modelTable(out)) {
			if strings.Contains(w, "roof") {
				read = append(read, w)
			}
		}
		if got := strings.Join(read, " "); got != c.want && !strings.Contains(out, c.want) {
			t.Errorf("%s: read %q, want %q\n%.300s", c.args, got, c.want, out)
		}
	}
	embedcheck(exitRead, "inventory", "missing.ifc")
	embedcheck(0, "inventory", "odd [1]")
}

// modelTable is the part of an inventory that lists the models.
func modelTable(out string) string {
	table, _, _ := strings.Cut(out, "\n\n")
	table, _, _ = strings.Cut(table, "mind:")
	return table
}

func demoFolder(t *testing.T) string {
	t.Helper()
	_, file, _, ok := runtime.Caller(0)
	if !ok {
		t.Fatal("where the tests are is not known")
	}
	return filepath.Join(filepath.Dir(file), "..", "..", "testdata", "demo")
}
