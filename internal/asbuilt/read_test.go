package asbuilt

import (
	"bytes"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"embedcheck/internal/grid"
	"embedcheck/internal/report"
)

func TestValues(t *testing.T) {
	for _, c := range []struct {
		unit, cell string
		mm         float64
		bad        string // part of why it is none; "" when it is one
	}{
		{"mm", "212", 212, ""},
		{"mm", " 212.5 ", 212.5, ""},
		{"mm", "-3", -3, ""},
		{"mm", "0", 0, ""},
		{"cm", "21.2", 212, ""},
		{"m", "0.212", 212, ""},
		{"in", "8", 203.2, ""},
		{"ft", "5.5", 1676.4, ""},
		{"in", "12 3/8", 314.325, ""},
		{"in", "12-3/8", 314.325, ""},
		{"in", "3/8", 9.525, ""},
		{"in", "-3/8", -9.525, ""},
		{"in", `5' 3 1/2"`, 1612.9, ""},
		{"in", `5'-3 1/2"`, 1612.9, ""},
		{"in", `5'`, 1524, ""},
		{"ft", `5' 3"`, 1600.2, ""},
		{"ft", `3"`, 76.2, ""},
		{"ft", "1/2", 152.4, ""},
		{"in", "8 in", 203.2, ""},
		{"mm", "212 mm", 0, "the unit stands in the heading"},
		{"mm", "21.2 cm", 0, "it says cm, the heading says mm"},
		{"mm", `8"`, 0, "it says in, the heading says mm"},
		{"mm", "12 3/8", 0, "is no number"},
		{"mm", "n/a", 0, "is no number"},
		{"mm", "-", 0, "is no number"},
		{"mm", "53O", 0, "is no number"},
		{"mm", "1,234", 0, "is no number"},
		{"mm", "NaN", 0, "is no number"},
		{"mm", "Inf", 0, "is no number"},
		{"mm", "0x10", 0, "is no number"},
		{"mm", "1e400", 0, "is no number"},
		{"mm", "1e12", 0, "longer than anything"},
		{"m", "1e9", 0, "longer than anything"},
		{"in", "3/0", 0, "is no number"},
		{"in", "1/2/3", 0, "is no number"},
		{"in", "'", 0, "is no number"},
		{"mm", "=1+1", 0, "is no number"},
		{"mm", "\x1b[2J", 0, "is no number"},
		{"mm", "٣", 0, "is no number"},
	} {
		rows := [][]string{{"key", "measured (" + c.unit + ")"}, {"A/B/x 1", c.cell}}
		s, err := ParseSheet("s.csv", text(rows, ","))
		if err != nil {
			t.Errorf("%q: %v", c.cell, err)
			continue
		}
		e := s.Entries[0]
		switch {
		case c.bad != "":
			if e.Value != nil || !strings.Contains(e.Bad, c.bad) || strings.Contains(e.Bad, "\x1b") || strings.Contains(e.Bad, "row 2") {
				t.Errorf("%q in %s: %v, %q", c.cell, c.unit, e.Value, e.Bad)
			}
		case e.Value == nil || math.Abs(*e.Value-c.mm) > 1e-9:
			t.Errorf("%q in %s: %v, %q, want %g mm", c.cell, c.unit, e.Value, e.Bad, c.mm)
		}
	}
}

func TestDecimalComma(t *testing.T) {
	p := plan(t, "")
	rows := fill(t, p, map[string]string{"PB-01/HD-1/x 1": "450,5", "PB-01/HD-1/x 2": "1050,25"})
	// A form saved with semicolons: its own figures may have kept their points.
	s, err := ParseSheet("s.csv", text(rows, ";"))
	if err != nil {
		t.Fatal(err)
	}
	got := map[string]float64{}
	for _, e := range s.Entries {
		if e.Bad != "" {
			t.Errorf("%s: %s", e.Key, e.Bad)
		}
		if e.Value != nil {
			got[e.Key] = *e.Value
		}
	}
	if len(got) != 2 || got["PB-01/HD-1/x 1"] != 450.5 || got["PB-01/HD-1/x 2"] != 1050.25 {
		t.Errorf("got %v", got)
	}
	// With commas between the cells a decimal comma is one too many.
	for name, data := range map[string]string{
		"in quotes":     "key,measured (mm)\nPB-01/HD-1/x 1,\"450,5\"\n",
		"not in quotes": "key,measured (mm)\nPB-01/HD-1/x 1,450,5\n",
	} {
		s, err := ParseSheet("s.csv", []byte(data))
		if err != nil {
			t.Fatal(err)
		}
		if e := s.Entries[0]; e.Value != nil || e.Bad == "" {
			t.Errorf("%s: read as %v", name, *e.Value)
		}
	}
	// Both signs in one sheet: one of them is not what it seems.
	s, err = ParseSheet("s.csv", []byte("key;measured (mm)\nA/B/x 1;450,5\nA/B/x 2;1.050\n"))
	if err != nil {
		t.Fatal(err)
	}
	if e := s.Entries[1]; e.Value != nil || !strings.Contains(e.Bad, "decimal points and decimal commas") {
		t.Errorf("got %+v", e)
	}
}

func TestHeadings(t *testing.T) {
	for _, c := range []struct{ name, data, want string }{
		{"no unit", "key,measured\nA,1\n", `column B: "measured" states no unit; write it as "measured (mm)"`},
		{"unknown unit", "key,measured (furlong)\nA,1\n", `unit "furlong" is not known`},
		{"two units", "key,x (mm),y (m),z (mm)\nA,1,2,3\n", "one sheet has one unit"},
		{"no headings", "a,b\n1,2\n", "no row of headings was found"},
		{"two of three coordinates", "key,x (mm),y (mm)\nA,1,2\n", "no row of headings was found"},
		{"no key", "measured (mm)\n1\n", "no row of headings was found"},
		{"empty", "", "holds no rows"},
		{"no text", "\x00\x01", "is no text"},
		{"no workbook", "PK\x03\x04nonsense", "no readable workbook"},
	} {
		if _, err := ParseSheet("s.csv", []byte(c.data)); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
	}
	for _, c := range []struct {
		name, data, unit string
		entries          int
	}{
		{"brackets", "Key,Measured [in]\nA/B/x 1,1\n", "in", 1},
		{"no brackets", "key,measured mm\nA/B/x 1,1\n", "mm", 1},
		{"below a title", "Pump station\n\nkey,measured (cm)\nA/B/x 1,1\n", "cm", 1},
		{"other order", "measured (mm),remark,key\n1,none,A/B/x 1\n", "mm", 1},
		{"headings again", "key,measured (mm)\nA/B/x 1,1\nkey,measured (mm)\nA/B/x 2,1\n", "mm", 2},
		{"survey words", "key,easting (m),northing (m),height (m)\nA/B/point 1,1,2,3\n", "m", 1},
		{"value", "host,mark,dimension,value (mm)\nA,B,x 1,1\n", "mm", 1},
	} {
		s, err := ParseSheet("s.csv", []byte(c.data))
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if s.Unit.Name != c.unit || len(s.Entries) != c.entries || s.Entries[0].blank() || s.Entries[0].Bad != "" {
			t.Errorf("%s: %+v", c.name, s)
		}
	}
}

func TestPointsInASheet(t *testing.T) {
	s, err := ParseSheet("s.csv", []byte("key,x (m),y (m),z (m)\nA/B/point 1,1,2,3\nA/B/point 2,1,,3\nA/B/point 3,,,\nA/B/point 4,1,2,x\n"))
	if err != nil {
		t.Fatal(err)
	}
	if e := s.Entries[0]; e.Point == nil || e.Point.X != 1000 || e.Point.Z != 3000 {
		t.Errorf("got %+v", e)
	}
	for i, want := range map[int]string{1: "2 of them are given", 3: "is no number"} {
		if e := s.Entries[i]; e.Point != nil || !strings.Contains(e.Bad, want) {
			t.Errorf("row %d: %+v", e.Row, e)
		}
	}
	if e := s.Entries[2]; !e.blank() {
		t.Errorf("a blank point: %+v", e)
	}
}

// What a form is filled in with may have been made to do harm; what is written
// about it holds nothing that a terminal or a spreadsheet would run.
func TestHostileCells(t *testing.T) {
	p := plan(t, "")
	nasty := []string{"=cmd|' /C calc'!A0", "@SUM(A1)", "\x1b[31mred\x1b[0m", "a\u202eb", "<script>", strings.Repeat("x", 5000), "-1+2", "\"", "a\nb"}
	rows := [][]string{{"host", "set", "dimension", "key", "measured (mm)", "model file"}}
	for _, n := range nasty {
		rows = append(rows, []string{n, n, n, n, "12", n}, []string{"PB-01", "HD-1", "x 1", "PB-01/HD-1/x 1", n, n}, []string{"PB-01", n, n, "PB-01/" + n, "5", n})
	}
	r := compare(t, p, text(rows, ","))
	var all strings.Builder
	for _, w := range r.Rows {
		for _, s := range []string{w.Host, w.Set, w.What, w.Key, w.Note, w.Where} {
			all.WriteString(s + " ")
		}
	}
	for _, u := range r.Unread {
		all.WriteString(u.Why + " ")
	}
	all.WriteString(strings.Join(r.Hints, " "))
	if s := all.String(); strings.ContainsAny(s, "\x1b\n\u202e") {
		t.Errorf("what is told holds control characters: %q", s)
	}
	for _, row := range csvOf(t, r.Table()) {
		for _, c := range row {
			if strings.ContainsAny(c, "\x1b\n\u202e") {
				t.Errorf("the table holds %q", c)
			}
		}
	}
	// In a workbook a formula is what it was worked out to when it was saved.
	f := excelize.NewFile()
	f.SetCellValue("Sheet1", "A1", "key")
	f.SetCellValue("Sheet1", "B1", "measured (mm)")
	f.SetCellValue("Sheet1", "A2", "PB-01/HD-1/x 1")
	if err := f.SetCellFormula("Sheet1", "B2", "1+1"); err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := f.Write(&b); err != nil {
		t.Fatal(err)
	}
	s, err := ParseSheet("s.xlsx", b.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	if e := s.Entries[0]; e.Value != nil {
		t.Errorf("a formula was worked out: %+v", e)
	}
}

// A workbook that is filled in as people do: numbers as numbers, a text here and
// there.
func TestWorkbookFilledIn(t *testing.T) {
	p := plan(t, "")
	var b bytes.Buffer
	table := p.TapeForm(p.Units)
	if err := grid.WriteXLSX(&b, table); err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(&b)
	if err != nil {
		t.Fatal(err)
	}
	sheet := f.GetSheetList()[0]
	rows, err := f.GetRows(sheet)
	if err != nil {
		t.Fatal(err)
	}
	values := map[string]any{"PB-01/HD-1/x 1": 451.5, "PB-01/HD-1/x 2": "1050.25", "PB-01/HD-1/y 1": "about 130"}
	for i, r := range rows {
		if v, ok := values[r[len(r)-2]]; ok {
			if err := f.SetCellValue(sheet, "H"+strconv.Itoa(i+1), v); err != nil {
				t.Fatal(err)
			}
		}
	}
	var filled bytes.Buffer
	if err := f.Write(&filled); err != nil {
		t.Fatal(err)
	}
	r := compare(t, p, filled.Bytes())
	within := rowsOf(r, report.Within)
	if len(within) != 2 || within["PB-01/HD-1/x 1"].Measured != 451.5 || within["PB-01/HD-1/x 2"].Measured != 1050.25 {
		t.Errorf("within: %+v", within)
	}
	if w := rowsOf(r, report.NotCompared)["PB-01/HD-1/y 1"]; w == nil || !strings.Contains(w.Note, `column H: "about 130" is no number`) {
		t.Errorf("got %+v", w)
	}
}
