package report

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
)

func writeJSON(t *testing.T, run *finding.Run) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := WriteJSON(&b, run); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestWriteJSON(t *testing.T) { golden(t, "findings.json", writeJSON(t, demo())) }

func TestWriteJSONWithoutFindings(t *testing.T) {
	golden(t, "empty.json", writeJSON(t, &finding.Run{}))
}

func TestWriteJSONIsTheSameForAnyOrder(t *testing.T) {
	run := large(20, 10)
	want := writeJSON(t, run)
	r := rand.New(rand.NewPCG(7, 8))
	for range 5 {
		r.Shuffle(len(run.Findings), func(i, j int) { run.Findings[i], run.Findings[j] = run.Findings[j], run.Findings[i] })
		r.Shuffle(len(run.Models), func(i, j int) { run.Models[i], run.Models[j] = run.Models[j], run.Models[i] })
		if !bytes.Equal(writeJSON(t, run), want) {
			t.Fatal("another order of findings gives other bytes")
		}
	}
}

// The layout is our own, so the standard library has to agree that it is JSON
// and that it holds what was put in.
func TestWriteJSONIsJSON(t *testing.T) {
	run := nasty()
	var got struct {
		Schema   int
		Findings []struct {
			ID        string
			Title     string
			Host      *struct{ Name string }
			Instances []struct {
				Measured *float64
				At       []*float64
				Others   []struct{ Name string }
			}
		}
	}
	data := writeJSON(t, run)
	if err := json.Unmarshal(data, &got); err != nil {
		t.Fatalf("%v in\n%s", err, data)
	}
	f := got.Findings[0]
	if f.Title != nastyText || f.Host.Name != nastyText || f.Instances[0].Others[0].Name != nastyText {
		t.Errorf("texts changed: %q", f.Title)
	}
	if f.Instances[0].Measured != nil || f.Instances[0].At[0] != nil {
		t.Error("what is no number has to be null")
	}
	if bytes.ContainsFunc(data, func(r rune) bool { return r != '\n' && finding.Unsafe(r) }) {
		t.Error("a character that can steer a terminal is written as it is")
	}
	if strings.Contains(string(data), "-0,") {
		t.Error("-0 is written")
	}
}

const nastyText = "a\"b\\c\x1b[31m\x00\u202e\u009b\u2028\U000e0041 <&> é基"

func nasty() *finding.Run {
	ref := finding.Ref{Name: nastyText, GlobalID: "x", Class: nastyText}
	run := &finding.Run{Findings: []finding.Finding{{
		ID: "n", Title: nastyText, Message: nastyText, Host: ref, Set: nastyText,
		Instances: []finding.Instance{{
			Item: ref, Measured: math.NaN(), Required: math.Copysign(0, -1), Relation: finding.AtLeast, Unit: "mm",
			At: geom.V(math.Inf(1), -1e-9, 6.7e6), Others: []finding.Ref{ref},
		}},
	}}}
	run.Tally()
	return run
}

func TestReadJSONGivesBackWhatWasWritten(t *testing.T) {
	for name, run := range map[string]*finding.Run{"demo": demo(), "large": large(5, 5), "empty": {}} {
		got, err := ReadJSON(bytes.NewReader(writeJSON(t, run)))
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		want := run.Sorted()
		roundPlaces(want)
		if !reflect.DeepEqual(got, want) {
			t.Errorf("%s: got\n%+v\nwant\n%+v", name, got, want)
		}
		if !bytes.Equal(writeJSON(t, got), writeJSON(t, run)) {
			t.Errorf("%s: written again, the bytes differ", name)
		}
	}
}

// roundPlaces does to the places what the file does.
func roundPlaces(run *finding.Run) {
	for i := range run.Findings {
		for j := range run.Findings[i].Instances {
			in := &run.Findings[i].Instances[j]
			in.Measured, in.Required = in.Rounded()
			in.At = geom.V(finding.Round(in.At.X, 6), finding.Round(in.At.Y, 6), finding.Round(in.At.Z, 6))
		}
	}
}

func TestReadJSONTakesLaterMembersAndNull(t *testing.T) {
	data := writeJSON(t, nasty())
	data = bytes.Replace(data, []byte(`"schema": 1`), []byte(`"schema": 1, "later": {"a": [1]}`), 1)
	run, err := ReadJSON(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	in := run.Findings[0].Instances[0]
	if !math.IsNaN(in.Measured) || !math.IsNaN(in.At.X) || in.At.Z != 6.7e6 || run.Findings[0].Title != nastyText {
		t.Errorf("got %+v", run.Findings[0])
	}
}

func TestReadJSONRefuses(t *testing.T) {
	good := string(writeJSON(t, demo()))
	change := func(old, new string) string {
		if !strings.Contains(good, old) {
			t.Fatalf("%s is not in the file", old)
		}
		return strings.Replace(good, old, new, 1)
	}
	for _, c := range []struct{ name, in, want string }{
		{"nothing", "", "no valid JSON"},
		{"cut short", good[:len(good)/2], "cut short"},
		{"another schema", change(`"schema": 1`, `"schema": 2`), "has schema 2; this program reads 1"},
		{"no schema", change(`"schema"`, `"scheme"`), "schema: a whole number wanted, nothing found"},
		{"a list", "[1]", "schema: a whole number wanted, nothing found"},
		{"findings are no list", change(`"findings": [`, `"findings": 3, "x": [`), "findings: a list wanted, 3 found"},
		{"priority", change(`"priority":"hold"`, `"priority":"urgent"`), `findings[0].priority: hold, review or note wanted, "urgent" found`},
		{"relation", change(`"relation":">="`, `"relation":"~"`), `findings[0].instances[0].relation: >=, <= or = wanted, "~" found`},
		{"measured", change(`"measured":65`, `"measured":"65"`), `findings[0].instances[0].measured: a number wanted, "65" found`},
		{"no measured", change(`"measured":65,`, ``), `findings[0].instances[0].measured: a number wanted, nothing found`},
		{"place", change(`"at":[1.165,2.6,0.58]`, `"at":[1.165,2.6]`), `findings[0].instances[0].at: a place of three numbers wanted, [1.165,2.6] found`},
		{"anchor", change(`"anchor":0`, `"anchor":0.5`), `findings[0].instances[0].anchor: a whole number wanted, 0.5 found`},
		{"id", change(`"id":"f-edge"`, `"id":7`), "findings[0].id: a text wanted, 7 found"},
		{"kinds", change(`"lifter":1`, `"lifter":"1"`), `counts.kinds.lifter: a whole number wanted, "1" found`},
		{"nested", strings.Repeat("[", 1<<20), "nested deeper than 64"},
	} {
		_, err := ReadJSON(strings.NewReader(c.in))
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got error %v, want one with %q", c.name, err, c.want)
		}
	}
}

func TestDepthIgnoresBracketsInTexts(t *testing.T) {
	for _, c := range []struct {
		in   string
		want int
	}{
		{`{"a": "[[[[", "b": [1]}`, 2},
		{`{"a": "\"[[", "b": "\\"}`, 1},
		{`[][][]`, 1},
		{`[[]`, 2},
	} {
		if got := depth([]byte(c.in)); got != c.want {
			t.Errorf("depth(%s) = %d, want %d", c.in, got, c.want)
		}
	}
}

type brokenWriter struct{ n int }

func (w *brokenWriter) Write(p []byte) (int, error) {
	if w.n -= len(p); w.n < 0 {
		return 0, errFull
	}
	return len(p), nil
}

var errFull = errors.New("disk full")

func TestWritersTellThatWritingFailed(t *testing.T) {
	run := large(400, 10)
	for name, write := range map[string]func(io.Writer) error{
		"findings.json":  func(w io.Writer) error { return WriteJSON(w, run) },
		"summary":        func(w io.Writer) error { return WriteSummary(w, run, Summary{}) },
		"inventory":      func(w io.Writer) error { return WriteInventory(w, demoInventory(), Layout{}) },
		"inventory json": func(w io.Writer) error { return WriteInventoryJSON(w, demoInventory()) },
	} {
		for _, n := range []int{0, 500} {
			if err := write(&brokenWriter{n}); !errors.Is(err, errFull) {
				t.Errorf("%s, room for %d bytes: got %v", name, n, err)
			}
		}
	}
}

func FuzzReadJSON(f *testing.F) {
	var b bytes.Buffer
	for _, run := range []*finding.Run{demo(), nasty(), {}} {
		b.Reset()
		if err := WriteJSON(&b, run); err != nil {
			f.Fatal(err)
		}
		f.Add(b.Bytes())
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		run, err := ReadJSON(bytes.NewReader(data))
		if err != nil {
			return
		}
		first := writeJSON(t, run)
		again, err := ReadJSON(bytes.NewReader(first))
		if err != nil {
			t.Fatalf("what was written cannot be read: %v\n%s", err, first)
		}
		if second := writeJSON(t, again); !bytes.Equal(first, second) {
			t.Errorf("written twice:\n%s\n%s", first, second)
		}
	})
}

func BenchmarkWriteJSON(b *testing.B) {
	run := large(200, 10)
	b.ReportAllocs()
	for b.Loop() {
		if err := WriteJSON(io.Discard, run); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkReadJSON(b *testing.B) {
	var buf bytes.Buffer
	if err := WriteJSON(&buf, large(200, 10)); err != nil {
		b.Fatal(err)
	}
	b.SetBytes(int64(buf.Len()))
	for b.Loop() {
		if _, err := ReadJSON(bytes.NewReader(buf.Bytes())); err != nil {
			b.Fatal(err)
		}
	}
}
