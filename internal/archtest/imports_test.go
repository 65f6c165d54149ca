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

// table is the contributors' guide's: for each package, the packages of the
// module that it may import; nil for one that may import all. A package that is
// not in it fails, so that a new one is a decision.
func table(t *testing.T) map[string][]string {
	t.Helper()
	guide, err := os.ReadFile(filepath.Join("..", "..", "DEVELOPERS.md"))
	if err != nil {
		t.Fatal(err)
	}
	_, rows, ok := strings.Cut(string(guide), "| package | subject | may import |\n|---|---|---|\n")
	rows, _, end := strings.Cut(rows, "\n\n")
	if !ok || !end {
		t.Fatal("the guide has no table of packages")
	}
	out := map[string][]string{}
	for row := range strings.Lines(rows) {
		cells := strings.Split(strings.Trim(row, "|\n "), " | ")
		name := strings.Trim(cells[0], "`")
		if _, twice := out[name]; twice || len(cells) != 3 {
			t.Fatalf("not one row of three cells for a package: %s", row)
		}
		switch may := cells[2]; may {
		case "–":
			out[name] = []string{}
		case "all of the above":
			out[name] = nil
		default:
			for word := range strings.SplitSeq(may, ", ") {
				out[name] = append(out[name], full(word))
			}
		}
	}
	return out
}

// full is the path of a package that the table names in short.
func full(word string) string {
	if word == "ifcread" || word == "rules" {
		return word
	}
	return "internal/" + word
}

func TestImports(t *testing.T) {
	cmd := exec.Command("go", "list", "-json=ImportPath,Imports", "./...")
	cmd.Dir = filepath.Join("..", "..")
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	rows := table(t)
	for d := json.NewDecoder(strings.NewReader(string(out))); d.More(); {
		var p struct {
			ImportPath string
			Imports    []string
		}
		if err := d.Decode(&p); err != nil {
			t.Fatal(err)
		}
		name := strings.TrimPrefix(p.ImportPath, module)
		may, ok := rows[name]
		delete(rows, name)
		if name == "internal/archtest" {
			continue
		}
		if !ok {
			t.Errorf("package %s is not in the table of DEVELOPERS.md", name)
		}
		if may == nil {
			continue
		}
		used := map[string]bool{}
		for _, i := range p.Imports {
			if i, own := strings.CutPrefix(i, module); own {
				used[i] = true
				if !slices.Contains(may, i) {
					t.Errorf("%s imports %s, which the table of DEVELOPERS.md does not say", name, i)
				}
			}
		}
		for _, i := range may {
			if !used[i] {
				t.Errorf("%s does not import %s, though the table of DEVELOPERS.md says so", name, i)
			}
		}
	}
	for name := range rows {
		t.Errorf("there is no package %s, though the table of DEVELOPERS.md has it", name)
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
