package main

import (
	"io"
	"os"
	"path/filepath"
	"testing"

	"embedcheck/internal/demo"
	ib "embedcheck/internal/ifcbuild"
)

// BenchmarkTopics checks ten panels, whose 140 sockets, lifters and plates are
// all said to be too near an edge, and writes issue list, findings and page:
// nearly all of the time goes into pictures and drawings.
func BenchmarkTopics(b *testing.B) {
	dir := b.TempDir()
	model, rules := filepath.Join(dir, "yard.ifc"), filepath.Join(dir, "rules.json")
	if _, err := (demo.Yard{Panels: 10, Schema: ib.IFC4, Unit: ib.MM}).WriteFile(model); err != nil {
		b.Fatal(err)
	}
	if err := os.WriteFile(rules, []byte(`{"name":"many topics","rules":{"edge-distance":{"min":{"mm":1400}}}}`), 0o666); err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if code := run([]string{"embedcheck", "check", "--rules", rules, "--out", filepath.Join(dir, "out"), model}, io.Discard, io.Discard); code != exitFound {
			b.Fatal("exit code", code)
		}
	}
}
