package mutate

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// module writes a module of one package and gives its folder.
func module(t *testing.T, source, tests string) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range map[string]string{"go.mod": "module yard\n\ngo 1.24\n", "yard.go": source, "yard_test.go": tests} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

const yard = `package yard

import "time"

const limit = 50.0

var table = []float64{2.5, 3}

// Short is what the tests below look at.
func Short(got float64, on, known bool) bool {
	if !known {
		return false
	}
	return on && got < limit
}

func sum(list []int) (n int) {
	for i := range list {
		n += list[i] - 1
	}
	return n
}

func share(a, b float64) float64 { return -a * b / table[1] }

func late(d time.Duration) bool { return d > 2*time.Second || len(table) == 0 }
`

func keysOf(t *testing.T, source string) []string {
	t.Helper()
	p, err := Load(module(t, source, "package yard\n"))
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, m := range p.Mutants {
		out = append(out, fmt.Sprintf("%d %s %s: %s -> %s", m.Line, m.Func, m.Kind, m.Was, m.Becomes))
	}
	return out
}

func TestWhatIsChanged(t *testing.T) {
	got := keysOf(t, yard)
	for _, want := range []string{
		"5 limit more: 50.0 -> 50.5",
		"5 limit less: 50.0 -> 49.5",
		"7 table more: 3 -> 3.03",
		"11 Short guard: !known -> false && (!known)",
		"14 Short connective: on && got < limit -> (on || got < limit)",
		"14 Short boundary: got < limit -> got <= limit",
		"14 Short negation: got < limit -> got >= limit",
		"19 sum sign: n += list[i] - 1 -> n -= list[i] - 1",
		"19 sum sign: list[i] - 1 -> list[i] + 1",
		"19 sum less: 1 -> 0",
		"24 share sign: -a -> +a",
		"24 share factor: -a * b -> -a / b",
		"24 share factor: -a * b / table[1] -> -a * b * table[1]",
		"26 late connective: d > 2*time.Second || len(table) == 0 -> (d > 2*time.Second && len(table) == 0)",
		"26 late negation: len(table) == 0 -> len(table) != 0",
	} {
		if !slices.Contains(got, want) {
			t.Errorf("%s is missing", want)
		}
	}
	for _, m := range got {
		if strings.Contains(m, "table[0]") || strings.Contains(m, ": 1 -> 2") && strings.HasPrefix(m, "24") {
			t.Errorf("an index is changed: %s", m)
		}
	}
}

// Each mutant is tried in the binary of all, or by itself where it has to be a
// constant, and what the tests do not look at survives.
func TestWhatIsCaught(t *testing.T) {
	const tests = `package yard

import "testing"

func TestShort(t *testing.T) {
	if Short(50.2, true, true) || !Short(49.8, true, true) || Short(10, false, true) || Short(10, true, false) {
		t.Error("short")
	}
}

func TestSum(t *testing.T) {
	if sum([]int{3, 4}) != 5 {
		t.Error("sum")
	}
}

func TestNothing(t *testing.T) { share(1, 2); late(3) }
`
	dir := module(t, yard, tests)
	before, _ := os.ReadFile(filepath.Join(dir, "yard.go"))
	p, err := Load(dir)
	if err != nil {
		t.Fatal(err)
	}
	told := 0
	verdicts, err := p.Judge(p.Mutants, nil, time.Minute, 2, func(Verdict) { told++ })
	if err != nil {
		t.Fatal(err)
	}
	if told != len(verdicts) || len(verdicts) != len(p.Mutants) {
		t.Fatalf("%d told, %d verdicts, %d mutants", told, len(verdicts), len(p.Mutants))
	}
	boundary := ""
	for _, v := range verdicts {
		want := Caught
		switch {
		case v.Kind == Boundary && v.Func == "Short":
			want, boundary = Alive, v.Key() // nobody asks at exactly 50
		case v.Func == "share", v.Func == "late", v.Func == "table":
			want = Alive
		}
		if v.Outcome != want {
			t.Errorf("%v: %s, want %s", v.Mutant, v.Outcome, want)
		}
		if (v.Func == "limit") != v.separate {
			t.Errorf("%v: built alone: %v", v.Mutant, v.separate)
		}
	}
	if after, _ := os.ReadFile(filepath.Join(dir, "yard.go")); !bytes.Equal(before, after) {
		t.Error("the source was changed")
	}
	files, err := filepath.Glob(filepath.Join(dir, "*"))
	if err != nil || len(files) != 3 {
		t.Errorf("files were left behind: %v, %v", files, err)
	}
	report(t, verdicts, boundary)
}

// report holds the report against the verdicts: what is listed as equivalent does
// not count, and what is listed and caught is told.
func report(t *testing.T, verdicts []Verdict, boundary string) {
	t.Helper()
	var all, with, wrong bytes.Buffer
	share, sound := WriteReport(&all, verdicts, &Equivalents{})
	if share >= 100 || !sound || !strings.Contains(all.String(), boundary) {
		t.Errorf("%v %%, sound %v:\n%s", share, sound, all.String())
	}
	more, sound := WriteReport(&with, verdicts, &Equivalents{reasons: map[string]string{boundary: "moves a tie only"}})
	if more <= share || !sound || strings.Contains(with.String(), boundary) {
		t.Errorf("%v %% with one less to catch, sound %v:\n%s", more, sound, with.String())
	}
	caught := verdicts[slices.IndexFunc(verdicts, func(v Verdict) bool { return v.Outcome == Caught })].Key()
	if _, sound = WriteReport(&wrong, verdicts, &Equivalents{reasons: map[string]string{caught: "it is not"}}); sound || !strings.Contains(wrong.String(), "listed as equivalent, but caught (1)") {
		t.Errorf("what is caught may not be listed:\n%s", wrong.String())
	}
}

func TestSamplesAreTheSameForASeed(t *testing.T) {
	p, err := Load(module(t, yard, "package yard\n"))
	if err != nil {
		t.Fatal(err)
	}
	any := func(*Mutant) bool { return true }
	a, b, c := p.Sample(1, 8, any), p.Sample(1, 8, any), p.Sample(2, 8, any)
	if len(a) != 8 || !slices.Equal(a, b) || slices.Equal(a, c) || !slices.IsSortedFunc(a, func(x, y *Mutant) int { return x.ID - y.ID }) {
		t.Errorf("%v, %v, %v", a, b, c)
	}
	if got := p.Sample(1, 0, func(m *Mutant) bool { return m.Kind == Guard }); len(got) != 1 {
		t.Errorf("%d guards", len(got))
	}
}

func TestNestedChanges(t *testing.T) {
	src := []byte("a+b < c")
	var w wrapping
	m, n := &Mutant{ID: 1}, &Mutant{ID: 2}
	w.wrap(m, 0, 7, "not(", ")")
	w.wrap(n, 0, 7, "lss(", ")")
	w.replace(n, 4, 5, ",")
	w.wrap(m, 2, 3, "flip(", ")")
	if got := string(apply(src, w.edits())); got != "not(lss(a+flip(b) , c))" {
		t.Error(got)
	}
}

func TestListsOfEquivalents(t *testing.T) {
	path := filepath.Join(t.TempDir(), "list.txt")
	for _, c := range []struct{ text, want string }{
		{"# a comment\n\nkey | x # moves a tie\n", ""},
		{"key | x\n", "list.txt:1: a reason is wanted"},
		{"key | x # \n", "list.txt:1: a reason is wanted"},
		{"key | x # a\nkey | x # b\n", "list.txt:2: listed twice"},
	} {
		if err := os.WriteFile(path, []byte(c.text), 0o600); err != nil {
			t.Fatal(err)
		}
		l, err := ReadEquivalents(path)
		if (err == nil) != (c.want == "") || err != nil && !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: %v", c.text, err)
		}
		if err == nil && !slices.Equal(l.Stale(nil), []string{"key | x"}) {
			t.Errorf("%q: %v", c.text, l.Stale(nil))
		}
	}
}

// What is listed as equivalent has to be there still.
func TestEquivalentsOfTheRulesAreThere(t *testing.T) {
	p, err := Load(filepath.Join("..", "..", "rules"))
	if err != nil {
		t.Fatal(err)
	}
	l, err := ReadEquivalents(filepath.Join("testdata", "equivalent.txt"))
	if err != nil {
		t.Fatal(err)
	}
	for _, key := range l.Stale(p.Mutants) {
		t.Errorf("no mutant is called: %s", key)
	}
	if len(l.reasons) == 0 || len(p.Mutants) < 1000 {
		t.Errorf("%d of %d mutants are listed", len(l.reasons), len(p.Mutants))
	}
}
