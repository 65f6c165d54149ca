package explain_test

import (
	"path/filepath"
	"strings"
	"testing"

	"embedcheck/internal/check"
	"embedcheck/internal/explain"
	"embedcheck/internal/finding"
	"embedcheck/internal/model"
	"embedcheck/rules"
)

func demo(t *testing.T) (*model.Model, []finding.Finding) {
	t.Helper()
	paths, err := filepath.Glob("../../testdata/demo/*.ifc")
	if err != nil || len(paths) == 0 {
		t.Fatal("no demo", err)
	}
	m, run, err := check.Run(paths, check.Options{Rules: rules.Builtin()})
	if err != nil {
		t.Fatal(err)
	}
	return m, run.Sorted().Findings
}

func text(t *testing.T, k *explain.Writer, f *finding.Finding) string {
	t.Helper()
	var b strings.Builder
	if err := k.Write(&b, f); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// The figures are those of the demo's bolts, worked out by hand: 70 mm from the
// edge, 20 mm thick, 370 mm to the top of the hook, 110 mm above the concrete.
func TestEdgeDistanceIsExplained(t *testing.T) {
	m, all := demo(t)
	k := explain.New(m, rules.Builtin())
	for i := range all {
		f := &all[i]
		if f.Rule != "edge-distance" || f.Set != "HD-2" {
			continue
		}
		got := text(t, k, f)
		for _, want := range []string{
			"1. Item: HD-2, IfcMechanicalFastener #", "predefined type ANCHORBOLT", "2. Host: PB-02, IfcFooting #",
			"diameter 20.0 mm, hooked", "embedment depth: 370.0 to the bearing side, 110.0 of them outside: 260.0 mm",
			"from 1.2500, 2.7300, 0.4994 m\n   to   1.2500, 2.6600, 0.4994 m\n   distance of these two points: 70.0 mm",
			"   50 mm   [common practice, no published source]\n   6 diameters of 20.0 mm = 120.0 mm   <- governs   [ACI 318-19",
			"70 mm, at least 120 mm required\n   off the limit by 50.0 mm", finding.Caution,
		} {
			if !strings.Contains(got, want) {
				t.Errorf("%q is not in\n%s", want, got)
			}
		}
		return
	}
	t.Fatal("the demo has no such finding")
}

// Each finding has an explanation, whose figures are the finding's own, and whose
// two ends, where it names them, are as far apart as was measured.
func TestEveryFindingIsExplained(t *testing.T) {
	m, all := demo(t)
	k := explain.New(m, rules.Builtin())
	for i := range all {
		f := &all[i]
		got := text(t, k, f)
		if w := f.Worst(); w != nil && w.Relation != finding.None && !strings.Contains(got, finding.Plain(w.Figures())) {
			t.Errorf("%s: %q is not in\n%s", f.Title, w.Figures(), got)
		}
		if strings.Count(got, "<- governs") > 1 || strings.Contains(got, "NaN") || strings.Contains(got, "%!") {
			t.Errorf("%s:\n%s", f.Title, got)
		}
	}
}

func TestHostileNamesAreMadePlain(t *testing.T) {
	m, all := demo(t)
	for _, it := range m.Items {
		it.Name = "\x1b[31m\n\u202e"
		it.Evidence = append(it.Evidence, "\x1b]0;x\a")
	}
	k := explain.New(m, rules.Builtin())
	for i := range all {
		all[i].Title = "\x1b[2J"
		if got := text(t, k, &all[i]); strings.ContainsAny(got, "\x1b\a\u202e") {
			t.Errorf("%q", got)
		}
	}
}
