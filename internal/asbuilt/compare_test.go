package asbuilt

import (
	"bytes"
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"embedcheck/internal/grid"
	"embedcheck/internal/report"
	"embedcheck/internal/ruleset"
	"embedcheck/rules"
)

// asModelled are the values of the model for every dimension of a host.
func asModelled(p *Plan, host string) map[string]string {
	out := map[string]string{}
	for _, d := range p.dims {
		if d.Unit == host {
			out[d.Key] = strconv.FormatFloat(d.MM, 'f', 3, 64)
		}
	}
	return out
}

// Nothing is wrong: a form filled in with the values of the model, for every
// host of the demo, lying, standing and in metres.
func TestNothingIsWrong(t *testing.T) {
	p := plan(t, "")
	for _, u := range p.Units {
		values := asModelled(p, u.Mark)
		r := compare(t, p, text(fill(t, p, values), ","))
		for _, s := range []report.MeasuredState{report.Outside, report.NotCompared, report.UnknownKey, report.NotMeasured} {
			if n := count(r, s); n != 0 {
				t.Errorf("%s: %d %s: %+v", u.Mark, n, s, rowsOf(r, s))
			}
		}
		if got := count(r, report.Within) + count(r, report.NoTolerance); got != len(values) {
			t.Errorf("%s: %d compared of %d", u.Mark, got, len(values))
		}
		if len(r.Hints) > 0 || len(r.Unread) > 0 {
			t.Errorf("%s: hints %q, unread %v", u.Mark, r.Hints, r.Unread)
		}
	}
}

// Every dimension of the demo that has a tolerance, on both sides of it.
func TestBothSidesOfEachTolerance(t *testing.T) {
	p := plan(t, `{"tolerances": {"level": {"minus": {"mm": 5}, "plus": {"mm": 25}}, "size": {"within": {"mm": 4}}}}`)
	if len(p.dims) < 300 {
		t.Fatalf("%d dimensions in the demo", len(p.dims))
	}
	for _, d := range p.dims {
		if d.Tol == nil {
			t.Fatalf("%s has no tolerance", d.Key)
		}
		for _, c := range []struct {
			off  float64
			want report.MeasuredState
		}{
			{d.Tol.Plus, report.Within}, {d.Tol.Plus + 0.01, report.Outside},
			{-d.Tol.Minus, report.Within}, {-d.Tol.Minus - 0.01, report.Outside},
		} {
			v := d.MM + c.off
			r := p.Compare([]*Sheet{{Name: "s", Entries: []Entry{{Row: 2, Key: d.Key, Value: &v}}}})
			if got := r.Rows[0]; got.State != c.want || got.Key != d.Key || math.Abs(got.Deviation()-c.off) > 1e-9 || len(r.Values) != 1 {
				t.Errorf("%s off by %g: %+v", d.Key, c.off, got)
			}
		}
	}
}

func TestProjectTolerances(t *testing.T) {
	const key = "PB-01/HD-1/x 2"
	for _, c := range []struct {
		name, rules, source string
		plus                float64
	}{
		{"built in", "", "AISC 303", 6},
		{"for all", `{"tolerances": {"position": {"within": {"in": 0.5}, "source": "drawing S-7"}}}`, "drawing S-7", 12.7},
		{"for bolts", `{"tolerances": {"position": {"within": {"mm": 2}}}, "for": [{"items": {"kind": "bolt"}, "tolerances": {"position": {"within": {"mm": 3}}}}]}`, "rule file site.json", 3},
		{"for others", `{"for": [{"items": {"kind": "lifter"}, "tolerances": {"position": {"within": {"mm": 3}}}}]}`, "AISC 303", 6},
	} {
		p := plan(t, c.rules)
		d := p.dims[normal(key)]
		if d.Tol.Plus != c.plus || d.Tol.Minus != c.plus || !strings.Contains(d.Tol.Source, c.source) {
			t.Errorf("%s: %+v", c.name, d.Tol)
		}
		// The form states what is compared with.
		rows := fill(t, p, map[string]string{key: "1"})
		for _, r := range rows {
			if r[column(t, rows, "key")] == key && r[column(t, rows, "plus (mm)")] != strconv.FormatFloat(c.plus, 'f', -1, 64) {
				t.Errorf("%s: the form says %q", c.name, r)
			}
		}
	}
	// A project that begins with the file that states them changes nothing.
	starter := plan(t, string(ruleset.Starter()))
	for k, d := range plan(t, "").dims {
		if s := starter.dims[k]; (s.Tol == nil) != (d.Tol == nil) || s.Tol != nil && *s.Tol != *d.Tol {
			t.Errorf("%s: %+v with the starter file, %+v without", k, s.Tol, d.Tol)
		}
		if kind := d.kind; !slices.Contains(rules.ToleranceKinds, kind) {
			t.Errorf("%s has a tolerance of kind %q, which rule files do not know", k, kind)
		}
	}
}

func TestFormsHoldEveryDimensionOnce(t *testing.T) {
	p := plan(t, "")
	for name, table := range map[string]*grid.Table{"tape": p.TapeForm(p.Units), "points": p.PointForm(p.Units)} {
		want := slices.Sorted(maps.Keys(p.dims))
		if name == "points" {
			want = slices.Sorted(maps.Keys(p.points))
		}
		var csv, book bytes.Buffer
		if err := grid.WriteCSV(&csv, table); err != nil {
			t.Fatal(err)
		}
		if err := grid.WriteXLSX(&book, table); err != nil {
			t.Fatal(err)
		}
		for kind, data := range map[string][]byte{"csv": csv.Bytes(), "xlsx": book.Bytes()} {
			s, err := ParseSheet("form", data)
			if err != nil {
				t.Fatal(err)
			}
			var got []string
			for i := range s.Entries {
				e := &s.Entries[i]
				if !e.blank() || e.File == "" {
					t.Fatalf("%s, %s: row %+v is not blank, or of no model", name, kind, e)
				}
				got = append(got, normal(e.Key))
			}
			slices.Sort(got)
			if !slices.Equal(got, want) {
				t.Errorf("%s, %s: the form has %d keys, the plan %d", name, kind, len(got), len(want))
			}
			// A blank form passes nothing.
			if r := p.Compare([]*Sheet{s}); count(r, report.Within) != 0 || len(r.Values) != 0 || count(r, report.NotMeasured) == 0 || len(r.Hints) > 0 {
				t.Errorf("%s, %s: a blank form gives %+v", name, kind, r)
			}
		}
	}
}

func TestHalfFilledForm(t *testing.T) {
	p := plan(t, "")
	all := asModelled(p, "PB-01")
	half := map[string]string{}
	for _, k := range slices.Sorted(maps.Keys(all))[:len(all)/2] {
		half[k] = all[k]
	}
	r := compare(t, p, text(fill(t, p, half), ","))
	if got := count(r, report.NotMeasured); got != len(all)-len(half) {
		t.Errorf("%d not measured, want %d", got, len(all)-len(half))
	}
	if s := r.Sheets[0]; s.Values != len(half) || s.Blank != len(all)-len(half) {
		t.Errorf("sheet: %+v", s)
	}
	for _, w := range r.Rows {
		if w.State == report.NotMeasured && w.Note != "" {
			t.Errorf("%s: %q", w.Key, w.Note)
		}
	}
}

// What stands on no sheet is not measured either, as far as it can be taped.
func TestRowsThatWereDropped(t *testing.T) {
	p := plan(t, "")
	r := compare(t, p, []byte("key,measured (mm)\nPB-01/HD-1/x 1,450\n"))
	taped := 0
	for _, d := range p.dims {
		if d.Unit == "PB-01" && d.Taped {
			taped++
		}
	}
	if got := count(r, report.NotMeasured); got != taped-1 {
		t.Errorf("%d not measured, want %d", got, taped-1)
	}
}

func TestKeysAndNames(t *testing.T) {
	p := plan(t, "")
	for _, c := range []struct {
		row  string
		want report.MeasuredState
		key  string
	}{
		{"PB-01,HD-1,x 2,1050", report.Within, "PB-01/HD-1/x 2"},
		{"pb-01,hd-1,X  2,1050", report.Within, "PB-01/HD-1/x 2"},
		{"PB-01,HD-1.2,x,1050", report.Within, "PB-01/HD-1/x 2"},
		{"PB-01,HD-1.2,projection,110", report.Within, "PB-01/HD-1/projection 2"},
		{"PB-01,HD-1,x 9,1050", report.UnknownKey, ""},
		{"PB-09,HD-1,x 2,1050", report.UnknownKey, ""},
		{",,,1050", report.UnknownKey, ""},
		{"PB-01,HD-1,point 1,1050", report.NotCompared, "PB-01/HD-1/point 1"},
	} {
		r := compare(t, p, []byte("host,set,dimension,measured (mm)\n"+c.row+"\n"))
		w := r.Rows[0]
		if w.State != c.want || c.key != "" && w.Key != c.key {
			t.Errorf("%s: %+v", c.row, w)
		}
		if c.want == report.UnknownKey && len(r.Unread) != 1 {
			t.Errorf("%s is not told: %v", c.row, r.Unread)
		}
	}
	for row, want := range map[string]string{
		"PB-01,HD-1,x 22,1050": "the nearest is PB-01/HD-1/x 2",
		"PB-0l,HD-1,x 2,1050":  "no host PB-0l with items; the nearest is PB-01",
	} {
		r := compare(t, p, []byte("host,set,dimension,measured (mm)\n"+row+"\n"))
		if got := r.Rows[0].Note; !strings.Contains(got, want) {
			t.Errorf("%s: %q, want %q", row, got, want)
		}
	}
}

func TestOldForm(t *testing.T) {
	p := plan(t, "")
	rows := fill(t, p, map[string]string{"PB-01/HD-1/x 2": "1050"})
	file, value, key := column(t, rows, "model file"), column(t, rows, "model (mm)"), column(t, rows, "key")
	for _, r := range rows[1:] {
		if f := strings.Fields(r[file]); len(f) != 2 || f[0] != "pump-station-base.ifc" || len(f[1]) != hashDigits {
			t.Fatalf("the form carries %q", r[file])
		}
		r[file] = "pump-station-base.ifc 0123456789ab"
	}
	r := compare(t, p, text(rows, ","))
	if len(r.Hints) != 1 || !strings.Contains(r.Hints[0], "OLD FORM for PB-01: it was made of pump-station-base.ifc 0123456789ab") ||
		!strings.Contains(r.Hints[0], "no dimension on the form has changed since") {
		t.Errorf("hints are %q", r.Hints)
	}
	if count(r, report.Within) != 1 {
		t.Error("the value is not compared with the model that was read")
	}
	for _, c := range rows[1:] {
		if c[key] == "PB-01/HD-1/x 2" {
			c[value] = "1000"
		}
	}
	r = compare(t, p, text(rows, ","))
	if len(r.Hints) != 1 || !strings.Contains(r.Hints[0], "changed since: HD-1/x 2 from 1000.0 to 1050.0 mm") {
		t.Errorf("hints are %q", r.Hints)
	}
}

func TestWorstFirst(t *testing.T) {
	p := plan(t, "")
	r := compare(t, p, []byte("key,measured (mm)\nPB-01/HD-1/x 1,449\nPB-01/HD-1/x 2,1060\nPB-01/HD-1/y 1,100\nPB-01/HD-1/y 2,abc\nPB-01/HD-1/projection 1,112\nnone/a/b,3\nPB-01/form/length,1500\n"))
	var got []string
	for _, w := range r.Rows {
		if w.State != report.NotMeasured {
			got = append(got, fmt.Sprintf("%s %s", w.Key, w.State))
		}
	}
	want := []string{
		"PB-01/HD-1/y 1 outside", "PB-01/HD-1/x 2 outside", "PB-01/HD-1/y 2 not compared", "none/a/b unknown key",
		"PB-01/HD-1/x 1 within", "PB-01/HD-1/projection 1 within", "PB-01/form/length no tolerance",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got %q", got)
	}
	if r.Rows[len(r.Rows)-1].State != report.NotMeasured {
		t.Error("what was not measured does not come last")
	}
}

// A key that stands twice is compared twice: nobody knows which one is right.
func TestStatedTwice(t *testing.T) {
	r := compare(t, plan(t, ""), []byte("key,measured (mm)\nPB-01/HD-1/x 1,450\nPB-01/HD-1/x 1,470\n"))
	if count(r, report.Within) != 1 || count(r, report.Outside) != 1 {
		t.Errorf("got %+v", r.Rows[:2])
	}
	for _, w := range r.Rows {
		if w.Taken != (w.Note == "2 values were taken of it") {
			t.Errorf("%s: note %q", w.Key, w.Note)
		}
	}
}

// Where two anchors have one mark, the mark alone tells neither.
func TestMarksThatAreShared(t *testing.T) {
	p := plan(t, "")
	p.name("PB-01", "HD-1.2", "x", "PB-01/HD-1/x 3")
	r := compare(t, p, []byte("host,set,dimension,measured (mm)\nPB-01,HD-1.2,x,1050\nPB-01,HD-1,x 2,1050\n"))
	if count(r, report.UnknownKey) != 1 || !strings.Contains(rowsOf(r, report.UnknownKey)["PB-01/HD-1.2/x"].Note, "several items of PB-01 have this mark") {
		t.Errorf("got %+v", r.Rows[:2])
	}
	if count(r, report.Within) != 1 {
		t.Error("the key does not find its dimension any more")
	}
}
