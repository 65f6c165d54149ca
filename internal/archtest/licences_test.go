package archtest

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// TestLicences holds the table of libraries in the README to go.mod and to the
// licences as they lie in the module cache.
func TestLicences(t *testing.T) {
	readme, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	_, table, ok := strings.Cut(string(readme), "\n## Libraries\n")
	if !ok {
		t.Fatal("the README has no section about libraries")
	}
	stated := map[string]string{} // module -> licence
	for line := range strings.Lines(table) {
		if cells := strings.Split(line, "|"); len(cells) == 4 {
			for _, word := range strings.FieldsFunc(cells[2], func(r rune) bool { return r == ' ' || r == ',' || r == ';' }) {
				stated[word] = strings.TrimSpace(cells[1])
			}
		}
	}
	for path := range required(t) {
		if stated[path] == "" {
			t.Errorf("%s is in go.mod and not in the README", path)
		}
	}
	for path, dir := range inCache(t) {
		if got := licenceOf(t, dir); got != stated[path] {
			t.Errorf("the licence of %s is %q in %s, %q in the README", path, got, dir, stated[path])
		}
	}
}

// required are the modules that go.mod names.
func required(t *testing.T) map[string]bool {
	t.Helper()
	var mod struct{ Require []struct{ Path string } }
	if err := json.Unmarshal(goTool(t, "mod", "edit", "-json"), &mod); err != nil {
		t.Fatal(err)
	}
	out := map[string]bool{}
	for _, r := range mod.Require {
		out[r.Path] = true
	}
	if len(out) < 10 {
		t.Fatalf("%d modules", len(out))
	}
	return out
}

// inCache are the folders of the modules that the project is built and tested with.
func inCache(t *testing.T) map[string]string {
	t.Helper()
	out := map[string]string{}
	list := goTool(t, "list", "-deps", "-test", "-f", "{{with .Module}}{{.Path}} {{.Dir}}{{end}}", "./...")
	for line := range strings.Lines(string(list)) {
		if path, dir, ok := strings.Cut(strings.TrimSpace(line), " "); ok && path+"/" != module {
			out[path] = dir
		}
	}
	return out
}

// licenceOf tells a licence by sentences that only it has.
func licenceOf(t *testing.T, dir string) string {
	t.Helper()
	files, _ := filepath.Glob(filepath.Join(dir, "LICEN[SC]E*"))
	if len(files) == 0 {
		return ""
	}
	data, err := os.ReadFile(files[0])
	if err != nil {
		t.Fatal(err)
	}
	text := strings.Join(strings.Fields(string(data)), " ")
	switch {
	case strings.Contains(text, "Apache License"):
		return "Apache-2.0"
	case strings.Contains(text, "Permission is hereby granted, free of charge"):
		return "MIT"
	case strings.Contains(text, "Redistribution and use") && strings.Contains(text, "contributors may be used to endorse"):
		return "BSD-3-Clause"
	case strings.Contains(text, "Redistribution and use"):
		return "BSD-2-Clause"
	}
	return "unknown"
}

func goTool(t *testing.T, args ...string) []byte {
	t.Helper()
	cmd := exec.Command("go", args...)
	cmd.Dir = filepath.Join("..", "..")
	var errs bytes.Buffer
	cmd.Stderr = &errs
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("go %s: %v\n%s", args[0], err, errs.String())
	}
	return out
}
