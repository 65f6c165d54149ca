package check_test

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"embedcheck/internal/check"
	"embedcheck/internal/finding"
	"embedcheck/internal/report"
	"embedcheck/rules"
)

var instance = regexp.MustCompile(`(?m)^#\d+ ?=.*;\r?$`)

var reference = regexp.MustCompile(`'(?:[^']|'')*'|#\d+`)

// shuffled is a model with its instances in another order and under other
// numbers: by ISO 10303-21 neither has a meaning.
func shuffled(t *testing.T, data []byte, rnd *rand.Rand) []byte {
	t.Helper()
	lines := instance.FindAllString(string(data), -1)
	if len(lines) < 50 {
		t.Fatalf("%d instances on lines of their own", len(lines))
	}
	head, _, ok := strings.Cut(string(data), lines[0])
	if !ok {
		t.Fatal("no head")
	}
	number := map[string]string{}
	for i, k := range rnd.Perm(len(lines)) {
		id, _, _ := strings.Cut(lines[i], "=")
		number[strings.TrimSpace(id)] = fmt.Sprintf("#%d", 7+3*k)
	}
	rnd.Shuffle(len(lines), func(i, k int) { lines[i], lines[k] = lines[k], lines[i] })
	var out bytes.Buffer
	out.WriteString(head)
	for _, l := range lines {
		out.WriteString(reference.ReplaceAllStringFunc(l, func(s string) string {
			if n, ok := number[s]; ok {
				return n
			}
			return s
		}))
		out.WriteByte('\n')
	}
	out.WriteString("ENDSEC;\nEND-ISO-10303-21;\n")
	return out.Bytes()
}

// The same model in any order of its instances gives the same findings with the
// same ids, figures and places.
func TestOrderAndNumbersOfInstancesDoNotMatter(t *testing.T) {
	paths, err := filepath.Glob("../../testdata/demo/*.ifc")
	if err != nil || len(paths) == 0 {
		t.Fatal("no demo", err)
	}
	want := toldBy(t, paths)
	for seed := range uint64(3) {
		rnd := rand.New(rand.NewPCG(seed, 1))
		var other []string
		dir := t.TempDir()
		for _, p := range paths {
			data, err := os.ReadFile(p)
			if err != nil {
				t.Fatal(err)
			}
			q := filepath.Join(dir, filepath.Base(p))
			if err := os.WriteFile(q, shuffled(t, data, rnd), 0o600); err != nil {
				t.Fatal(err)
			}
			other = append(other, q)
		}
		got := toldBy(t, other)
		for i := range max(len(got), len(want)) {
			if i >= len(got) || i >= len(want) || got[i] != want[i] {
				t.Fatalf("seed %d: %d findings, %d in the demo; first difference:\n%s\nwant\n%s", seed, len(got), len(want), at(got, i), at(want, i))
			}
		}
	}
}

func at(list []string, i int) string {
	if i < len(list) {
		return list[i]
	}
	return "none"
}

// toldBy are the findings of models as they are written, sorted.
func toldBy(t *testing.T, paths []string) []string {
	t.Helper()
	_, run, err := check.Run(paths, check.Options{Rules: rules.Builtin()})
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, f := range run.Findings {
		var b bytes.Buffer
		if err := report.WriteJSON(&b, &finding.Run{Findings: []finding.Finding{f}}); err != nil {
			t.Fatal(err)
		}
		out = append(out, f.ID+"\n"+b.String())
	}
	slices.Sort(out)
	return out
}
