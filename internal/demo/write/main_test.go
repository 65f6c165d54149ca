package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestWritesBoth(t *testing.T) {
	dir := t.TempDir()
	if err := run([]string{"-dir", filepath.Join(dir, "demo")}, nil); err != nil {
		t.Fatal(err)
	}
	if all, _ := filepath.Glob(filepath.Join(dir, "demo", "*.ifc")); len(all) != 6 {
		t.Errorf("%d models, want 6", len(all))
	}
	var out bytes.Buffer
	big := filepath.Join(dir, "big.ifc")
	if err := run([]string{"-size", "100kB", "-o", big, "-ifc2x3", "-metre", "-each"}, &out); err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(big)
	if err != nil {
		t.Fatal(err)
	}
	if len(text) < 100_000 || !bytes.Contains(text, []byte("FILE_SCHEMA(('IFC2X3'))")) {
		t.Errorf("%d bytes, beginning %.200s", len(text), text)
	}
	if !strings.Contains(out.String(), `"Findings"`) {
		t.Errorf("no tally: %s", out.String())
	}
}

func TestWrongCalls(t *testing.T) {
	for _, args := range [][]string{
		nil,
		{"-o", "x"},
		{"-o", "x", "-size", "5MB", "-panels", "3"},
		{"-o", "x", "-size", "much"},
		{"-o", "x", "-size", "-5MB"},
		{"-dir", "x", "-o", "y"},
	} {
		if err := run(args, nil); err == nil {
			t.Errorf("%v: no error", args)
		}
	}
}
