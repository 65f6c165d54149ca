package check_test

import (
	"os"
	"path/filepath"
	"testing"

	"embedcheck/ifcread"
	"embedcheck/internal/check"
	"embedcheck/internal/demo"
	"embedcheck/internal/element"
	"embedcheck/internal/ifcbuild"
	"embedcheck/internal/recognise"
	"embedcheck/rules"
)

// yard writes a yard of panels of about 5 MB.
func yard(b *testing.B) string {
	path := filepath.Join(b.TempDir(), "yard.ifc")
	if _, err := (demo.Yard{Size: 5e6, Schema: ifcbuild.IFC4, Unit: ifcbuild.MM}).WriteFile(path); err != nil {
		b.Fatal(err)
	}
	return path
}

// pump is the demo, a federation.
func pump(b *testing.B) []string {
	paths, err := filepath.Glob("../../testdata/demo/*.ifc")
	if err != nil || len(paths) == 0 {
		b.Fatal("no demo", err)
	}
	return paths
}

// BenchmarkCheck reads and checks whole models: the demo, and a yard of 5 MB.
// Others are named, as a pattern, by the environment variable MODELS, each a
// run of its own.
func BenchmarkCheck(b *testing.B) {
	runs := [][]string{pump(b), {yard(b)}}
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
			setBytes(b, paths...)
			b.ReportAllocs()
			for b.Loop() {
				if _, _, err := check.Run(paths, check.Options{Rules: rules.Builtin()}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func setBytes(b *testing.B, paths ...string) {
	var bytes int64
	for _, p := range paths {
		s, err := os.Stat(p)
		if err != nil {
			b.Fatal(err)
		}
		bytes += s.Size()
	}
	b.SetBytes(bytes)
}

// BenchmarkStages is the way of a yard of 5 MB, one step after the other, with
// one worker: what one of them gains or loses is seen there first.
func BenchmarkStages(b *testing.B) {
	path := yard(b)
	f, err := ifcread.Open(path, ifcread.Options{Workers: 1})
	if err != nil {
		b.Fatal(err)
	}
	build := func(m *element.Model) { recognise.Build([]*element.Model{m}, recognise.Options{Workers: 1}) }
	stage := func(name string, do func(b *testing.B)) {
		b.Run(name, func(b *testing.B) {
			setBytes(b, path)
			b.ReportAllocs()
			do(b)
		})
	}
	stage("index", func(b *testing.B) {
		for b.Loop() {
			if _, err := ifcread.Open(path, ifcread.Options{Workers: 1}); err != nil {
				b.Fatal(err)
			}
		}
	})
	stage("elements", func(b *testing.B) {
		for b.Loop() {
			element.Read(f, 1)
		}
	})
	stage("elements and recognition", func(b *testing.B) { // what is read is used up by recognition
		for b.Loop() {
			build(element.Read(f, 1))
		}
	})
	m, err := check.Read([]string{path}, check.Options{Workers: 1, Rules: rules.Builtin()})
	if err != nil {
		b.Fatal(err)
	}
	stage("rules", func(b *testing.B) {
		for b.Loop() {
			if _, err := rules.Run(m, rules.Builtin(), 1); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// BenchmarkRule runs each rule alone over the demo, where all have something to
// do. What rules share is worked out anew in each round; "none" is that alone.
func BenchmarkRule(b *testing.B) {
	m, err := check.Read(pump(b), check.Options{Rules: rules.Builtin()})
	if err != nil {
		b.Fatal(err)
	}
	for _, id := range append([]string{"none"}, ruleIDs()...) {
		b.Run(id, func(b *testing.B) {
			set := only(id)
			b.ReportAllocs()
			for b.Loop() {
				if _, err := rules.Run(m, set, 1); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// ruleIDs are those of all rules that look at models and can be switched off.
func ruleIDs() (ids []string) {
	for _, r := range rules.All {
		if !r.Always && !r.Values {
			ids = append(ids, r.ID)
		}
	}
	return ids
}

// only is the built-in set with all rules off but one.
func only(id string) *rules.Set {
	set, off := rules.Builtin(), true
	set.Rules = map[string]rules.Change{}
	for _, other := range ruleIDs() {
		if other != id {
			set.Rules[other] = rules.Change{Off: &off}
		}
	}
	return set
}
