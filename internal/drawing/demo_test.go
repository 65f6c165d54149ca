package drawing

import (
	"path/filepath"
	"testing"

	"embedcheck/internal/check"
	"embedcheck/internal/finding"
	"embedcheck/internal/model"
	"embedcheck/rules"
)

// demoFindings checks the demonstration models.
func demoFindings(t testing.TB) (*model.Model, []finding.Finding) {
	t.Helper()
	return checked(t, filepath.Join("..", "..", "testdata", "demo", "*.ifc"))
}

// checked checks the models that a pattern names.
func checked(t testing.TB, pattern string) (*model.Model, []finding.Finding) {
	t.Helper()
	paths, err := filepath.Glob(pattern)
	if err != nil {
		t.Fatal(err)
	}
	if len(paths) == 0 {
		t.Skipf("no models at %s", pattern)
	}
	m, run, err := check.Run(paths, check.Options{Rules: rules.Builtin()})
	if err != nil {
		t.Fatal(err)
	}
	return m, run.Sorted().Findings
}
