// Package archtest holds the architecture that the contributors' guide draws:
// which package may import which, and what may lie at the top level.
package archtest

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

const module = "embedcheck/"

// allowed names, for each package, the packages of the module that it may
// import. A package that is not named fails, so that a new one is a decision.
var allowed = map[string]string{
	"ifcread":                    "",
	"internal/geom":              "",
	"internal/rod":               "internal/geom",
	"internal/shape":             "ifcread internal/geom",
	"internal/element":           "ifcread internal/geom internal/shape",
	"internal/model":             "internal/geom",
	"internal/selector":          "",
	"internal/measure":           "internal/geom internal/model",
	"internal/survey":            "internal/geom",
	"internal/setout":            "internal/finding internal/geom internal/measure internal/model",
	"internal/recognise":         "ifcread internal/element internal/geom internal/measure internal/model internal/rod internal/selector internal/shape",
	"internal/finding":           "internal/geom",
	"rules":                      "internal/finding internal/geom internal/measure internal/model internal/selector",
	"internal/nearest":           "",
	"internal/ruleset":           "internal/finding internal/model internal/nearest internal/selector internal/setout rules",
	"internal/asbuilt":           "internal/finding internal/geom internal/grid internal/model internal/nearest internal/report internal/setout internal/survey rules",
	"internal/atomicfile":        "",
	"internal/grid":              "internal/finding",
	"internal/report":            "internal/finding internal/geom internal/grid",
	"internal/schedule":          "internal/finding internal/geom internal/grid internal/measure internal/model",
	"internal/screen":            "internal/atomicfile internal/finding internal/geom internal/measure internal/model internal/report",
	"internal/bcf":               "internal/atomicfile internal/finding internal/geom",
	"internal/decision":          "internal/atomicfile internal/finding",
	"internal/lifecycle":         "internal/bcf internal/finding internal/geom internal/model internal/report rules",
	"internal/page":              "internal/finding",
	"internal/triage":            "internal/bcf internal/decision internal/finding internal/lifecycle internal/page internal/report",
	"internal/drawing":           "internal/drawing/subject internal/finding internal/geom internal/measure internal/model",
	"internal/drawing/handmade":  "internal/finding internal/geom internal/measure internal/model rules",
	"internal/drawing/subject":   "internal/finding internal/geom internal/measure internal/model",
	"internal/snapshot":          "internal/drawing internal/drawing/subject internal/finding internal/geom internal/measure internal/model",
	"internal/scene":             "internal/drawing/subject internal/finding internal/geom internal/model",
	"internal/explain":           "internal/drawing/subject internal/finding internal/geom internal/model rules",
	"internal/pdf":               "internal/drawing internal/finding internal/geom",
	"internal/sheet":             "internal/drawing internal/drawing/subject internal/finding internal/geom internal/model internal/pdf internal/setout",
	"internal/check":             "ifcread internal/element internal/finding internal/geom internal/model internal/recognise internal/report internal/shape rules",
	"internal/bounded":           "",
	"internal/browsertest":       "",
	"internal/mutate":            "",
	"internal/mutate/run":        "internal/mutate",
	"internal/ifcbuild":          "",
	"internal/ifcbuild/embed":    "internal/ifcbuild",
	"internal/ifcbuild/ifcxml":   "ifcread",
	"internal/ifcbuild/rewrite":  "ifcread internal/ifcbuild internal/ifcbuild/ifcxml",
	"internal/ifcbuild/spfcheck": "",
	"internal/demo":              "internal/ifcbuild internal/ifcbuild/embed",
	"internal/demo/write":        "internal/demo internal/ifcbuild",
	"internal/demo/bench":        "ifcread internal/demo internal/geom internal/ifcbuild internal/model rules",
	"internal/archtest":          "",
	"cmd/embedcheck":             "internal/asbuilt internal/atomicfile internal/bcf internal/check internal/decision internal/drawing internal/drawing/subject internal/element internal/explain internal/finding internal/grid internal/lifecycle internal/model internal/page internal/pdf internal/report internal/ruleset internal/scene internal/schedule internal/screen internal/setout internal/sheet internal/snapshot internal/triage rules",
}

func TestImports(t *testing.T) {
	cmd := exec.Command("go", "list", "-json=ImportPath,Imports", "./...")
	cmd.Dir = filepath.Join("..", "..")
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	seen := 0
	for d := json.NewDecoder(strings.NewReader(string(out))); d.More(); {
		var p struct {
			ImportPath string
			Imports    []string
		}
		if err := d.Decode(&p); err != nil {
			t.Fatal(err)
		}
		name := strings.TrimPrefix(p.ImportPath, module)
		may, ok := allowed[name]
		if !ok {
			t.Errorf("package %s is not in the table", name)
			continue
		}
		seen++
		for _, i := range p.Imports {
			if i, own := strings.CutPrefix(i, module); own && !slices.Contains(strings.Fields(may), i) {
				t.Errorf("%s imports %s", name, i)
			}
		}
	}
	if seen == 0 {
		t.Error("no package was looked at")
	}
}

func TestTopLevel(t *testing.T) {
	want := []string{"cmd", "ifcread", "rules", "internal", "testdata", "README.md", "DEVELOPERS.md", "go.mod", "go.sum"}
	entries, err := os.ReadDir(filepath.Join("..", ".."))
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if n := e.Name(); !strings.HasPrefix(n, ".") && n != "out" && !slices.Contains(want, n) {
			t.Errorf("top level holds %s", n)
		}
	}
}
