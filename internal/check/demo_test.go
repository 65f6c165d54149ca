package check_test

import (
	"bytes"
	"path/filepath"
	"testing"

	"embedcheck/internal/check"
	"embedcheck/internal/demo"
	"embedcheck/internal/finding"
	"embedcheck/internal/report"
	"embedcheck/rules"
)

func demoModels(t *testing.T) []string {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join("..", "..", "testdata", "demo", "*.ifc"))
	if err != nil || len(paths) == 0 {
		t.Fatalf("no demo models: %v", err)
	}
	return paths
}

// TestDemo holds what is found in the demo to the mistakes that were planted in
// it: each with its figure, and nothing else.
func TestDemo(t *testing.T) {
	_, run, err := check.Run(demoModels(t), check.Options{Rules: rules.Builtin()})
	if err != nil {
		t.Fatal(err)
	}
	var seen []demo.Seen
	for _, f := range run.Findings {
		if f.Priority == finding.Note {
			continue
		}
		for _, in := range f.Instances {
			seen = append(seen, demo.Seen{Rule: f.Rule, Host: f.Host.Mark, Item: in.Item.Mark, Measured: in.Measured})
		}
	}
	missing, unexpected := demo.Compare(seen)
	for _, m := range missing {
		t.Errorf("not found: %s", m)
	}
	for _, u := range unexpected {
		t.Errorf("found, but not planted: %s", u)
	}
}

// TestSameBytesForAnyNumberOfWorkers compares findings.json byte by byte.
func TestSameBytesForAnyNumberOfWorkers(t *testing.T) {
	var first []byte
	for _, workers := range []int{1, 2, 5} {
		_, run, err := check.Run(demoModels(t), check.Options{Workers: workers, Rules: rules.Builtin()})
		if err != nil {
			t.Fatal(err)
		}
		var out bytes.Buffer
		if err := report.WriteJSON(&out, run); err != nil {
			t.Fatal(err)
		}
		if first == nil {
			first = out.Bytes()
		} else if !bytes.Equal(first, out.Bytes()) {
			t.Errorf("%d workers give other bytes than 1", workers)
		}
	}
}

// TestPublicModels looks for what a person must be told of the real models that
// lie beside the checkout: test files of a general-purpose IFC library, an open
// research data set, and the buildingSMART samples.
func TestPublicModels(t *testing.T) {
	for _, c := range []struct {
		file                           string
		sets, bolts, templates, nuts   int
		plates, lifters, bars, sockets int
	}{
		{file: "precast-building.ifc", sets: 6, bolts: 24, templates: 6, nuts: 48, plates: 25, lifters: 22},
		{file: "precast-stairs-with-rebar.ifc", lifters: 36, bars: 42},
		{file: "reinforced-beam-ifc4x3.ifc", bars: 34},
	} {
		t.Run(c.file, func(t *testing.T) {
			path := filepath.Join("..", "..", "..", "shared", "data", "models", c.file)
			if found, _ := filepath.Glob(path); len(found) == 0 {
				t.Skip("the public models are not beside the checkout")
			}
			m, run, err := check.Run([]string{path}, check.Options{Rules: rules.Builtin()})
			if err != nil {
				t.Fatal(err)
			}
			anchorSets := 0
			for _, s := range m.Sets {
				if s.Template != nil && len(s.Anchors) == 4 {
					anchorSets++
				}
			}
			for _, n := range []struct {
				what      string
				got, want int
			}{
				{"anchor sets with a template", anchorSets, c.sets},
				{"bolts", run.Counts.Kinds["bolt"], c.bolts},
				{"templates", run.Counts.Kinds["template"], c.templates},
				{"nuts", run.Counts.Kinds["fitting"], c.nuts},
				{"cast-in plates", run.Counts.Kinds["plate"], c.plates},
				{"lifting items", run.Counts.Kinds["lifter"], c.lifters},
				{"bars", run.Counts.Bars, c.bars},
			} {
				if n.got < n.want {
					t.Errorf("%s: %d, want at least %d", n.what, n.got, n.want)
				}
			}
			for _, it := range m.Items {
				if it.Host == nil {
					t.Errorf("%s has no host", it.Name)
				}
			}
		})
	}
}
