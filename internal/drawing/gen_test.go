package drawing

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"embedcheck/internal/check"
	"embedcheck/rules"
)

func TestGen(t *testing.T) {
	glob, out := os.Getenv("GEN"), os.Getenv("OUT")
	if glob == "" {
		t.Skip()
	}
	paths, _ := filepath.Glob(glob)
	m, run, err := check.Run(paths, check.Options{Rules: rules.Builtin()})
	if err != nil {
		t.Fatal(err)
	}
	mk := New(m)
	r := run.Sorted()
	for i := range r.Findings {
		f := &r.Findings[i]
		d, err := mk.For(f)
		if err != nil {
			t.Log(f.Rule, err)
			continue
		}
		var b bytes.Buffer
		d.SVG(&b)
		os.WriteFile(filepath.Join(out, fmt.Sprintf("%03d-%s.svg", i, f.Rule)), b.Bytes(), 0o644)
	}
}
