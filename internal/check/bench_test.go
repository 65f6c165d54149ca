package check_test

import (
	"os"
	"path/filepath"
	"testing"

	"embedcheck/internal/check"
	"embedcheck/rules"
)

// BenchmarkCheck reads and checks whole models. Other models than the demo are
// named, as a pattern, by the environment variable MODELS, each a run of its own.
func BenchmarkCheck(b *testing.B) {
	demo, err := filepath.Glob("../../testdata/demo/*.ifc")
	if err != nil || len(demo) == 0 {
		b.Fatal("no demo", err)
	}
	runs := [][]string{demo}
	if pattern := os.Getenv("MODELS"); pattern != "" {
		named, err := filepath.Glob(pattern)
		if err != nil {
			b.Fatal(err)
		}
		for _, p := range named {
			runs = append(runs, []string{p})
		}
	}
	for _, paths := range runs {
		b.Run(filepath.Base(paths[0]), func(b *testing.B) {
			var bytes int64
			for _, p := range paths {
				if s, err := os.Stat(p); err == nil {
					bytes += s.Size()
				}
			}
			b.SetBytes(bytes)
			b.ReportAllocs()
			for b.Loop() {
				if _, _, err := check.Run(paths, check.Options{Rules: rules.Builtin()}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
