package asbuilt

import (
	"bytes"
	"io"
	"math"
	"strconv"
	"testing"

	"embedcheck/internal/bounded"
	"embedcheck/internal/grid"
	"embedcheck/internal/survey"
)

// FuzzParseSheet reads anything without a panic; what it takes for a value is a
// finite length with a key, in a sheet with a unit.
func FuzzParseSheet(f *testing.F) {
	f.Add([]byte("key,measured (mm)\nA/B/x 1,12\n"))
	f.Add([]byte("key;measured (in);x (in);y (in);z (in)\nA/B/x 1;12 3/8\nA/B/point 1;;1;2;3\n"))
	f.Add([]byte("host,set,dimension,value (ft)\nA,B,x 1,5' 3 1/2\"\n"))
	f.Add([]byte("key\tmeasured mm\tmodel (m)\tmodel file\nA/B/x 1\t1,5\t0.0015\ta.ifc 12\n"))
	f.Add([]byte("Pump station\nkey,measured (mm)\n,12\n=1,=2\n\x1b,1e400\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		s, err := ParseSheet("s", data)
		if err != nil {
			return
		}
		if u, ok := survey.ParseUnit(s.Unit.Name); !ok || u != s.Unit {
			t.Errorf("unit %+v", s.Unit)
		}
		for i := range s.Entries {
			e := &s.Entries[i]
			if e.Value != nil && (math.Abs(*e.Value) > longest || math.IsNaN(*e.Value) || e.Key == "" || e.Bad != "") {
				t.Errorf("value %v of %+v", *e.Value, e)
			}
			if e.Point != nil && (!e.Point.Finite() || e.Key == "" || e.Bad != "") {
				t.Errorf("point %v of %+v", *e.Point, e)
			}
			if e.Row < 1 {
				t.Errorf("row %d", e.Row)
			}
		}
	})
}

// FuzzCompare holds anything that can be read against the demo: no panic, and
// whatever was filled in comes back in some row.
func FuzzCompare(f *testing.F) {
	f.Add([]byte("key,measured (mm)\nPB-01/HD-1/x 1,450\nPB-01/HD-1/x 1,\nPB-01/form/length,1\nWP-03/CH-3.1/plate flush,-3\n"))
	f.Add([]byte("key,x (m),y (m),z (m)\nPB-01/form/corner 1,0,0,0\nPB-01/form/corner 2,1.5,0,0\nPB-01/form/corner 3,1.5,1.2,0\nPB-01/HD-1/point 1,.45,.13,.11\nWP-03/CH-3.1/plate point 1,1,2,3\n"))
	f.Add([]byte("key,x (mm),y (mm),z (mm),measured (mm)\nPB-01/form/corner 1,1e11,-1e11,0\nPB-01/form/corner 2,0,0,0\nPB-01/form/corner 3,1,1,1\nPB-01/HD-1/point 1,,,,3\nPB-01/HD-1/x 1,1,2,3\n"))
	p := plan(f, "")
	f.Fuzz(func(t *testing.T, data []byte) {
		s, err := ParseSheet("s", data)
		if err != nil {
			return
		}
		r := p.Compare([]*Sheet{s})
		told := map[string]bool{}
		for i := range r.Rows {
			w := &r.Rows[i]
			if w.Taken && (math.IsNaN(w.Measured) || math.IsInf(w.Measured, 0)) {
				t.Errorf("%s measures %v", w.Key, w.Measured)
			}
			told[w.Where] = true
		}
		fitted := map[string]bool{}
		for _, v := range r.Surveys {
			fitted[v.Host] = true
		}
		for i := range s.Entries {
			e := &s.Entries[i]
			_, pt := p.find(e.Key)
			part := pt != nil && e.Point != nil && fitted[pt.unit.Mark] // may be a reference, or one of several points
			if !e.blank() && !part && !told[where(s, e)] {
				t.Errorf("row %d is not told: %+v", e.Row, e)
			}
		}
	})
}

// FuzzFilledIn fills a form of the tape in and reads it back, from CSV and from a
// workbook: what stood for a length in the one stands for the same in the other.
func FuzzFilledIn(f *testing.F) {
	for _, s := range []string{"450", "450.5", "450,5", "-3", "1e3", "12 3/8", "=1+1", "'450", "1,234.5", " 450 ", "450 mm", "+.5", "\x00", "NaN", "1e400", "٤٥٠", "450\n", "\"450\""} {
		f.Add(s, uint16(0), true)
		f.Add(s, uint16(40), false)
	}
	p := plan(f, "")
	f.Fuzz(func(t *testing.T, value string, row uint16, numeric bool) {
		bounded.Work(t, len(value), bounded.Limit{Base: 256 << 20, PerByte: 20_000}, func() { filledIn(t, p, value, row, numeric) })
	})
}

func filledIn(t *testing.T, p *Plan, value string, row uint16, numeric bool) {
	cell := grid.Str(value)
	number, err := strconv.ParseFloat(value, 64)
	if numeric = numeric && err == nil && !math.IsInf(number, 0) && !math.IsNaN(number); numeric {
		number = math.Round(number*10) / 10 // as many decimals as the column has
		cell = grid.Num(number)
	}
	var read [2]*Entry
	for i, write := range []func(io.Writer, *grid.Table) error{grid.WriteCSV, func(w io.Writer, t *grid.Table) error { return grid.WriteXLSX(w, t) }} {
		form := p.TapeForm(p.Units[:1])
		r := form.Rows[int(row)%len(form.Rows)]
		key := r[10].Text()
		r[7] = cell
		var b bytes.Buffer
		if err := write(&b, form); err != nil {
			t.Fatal(err)
		}
		s, err := ParseSheet("form", b.Bytes())
		if err != nil {
			t.Fatalf("%q: %v", value, err)
		}
		for k := range s.Entries {
			if e := &s.Entries[k]; e.Key == key {
				read[i] = e
			} else if !e.blank() {
				t.Fatalf("%q in %s fills %+v", value, key, e)
			}
		}
		if read[i] == nil {
			t.Fatalf("%s is not in the form any more", key)
		}
		if e := read[i]; numeric && math.Abs(number) <= longest && (e.Value == nil || math.Abs(*e.Value-number) > 1e-9*math.Abs(number)) {
			t.Fatalf("%v was read as %+v", number, e)
		}
	}
	a, b := read[0], read[1]
	if (a.Value == nil) != (b.Value == nil) || a.Value != nil && *a.Value != *b.Value {
		t.Fatalf("%q: from CSV %+v, from a workbook %+v", value, a, b)
	}
}
