package grid

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"io"
	"math"
	"strings"
	"testing"
	"unicode"
)

// hostile are texts that a spreadsheet must not run and that a terminal must not
// obey. The first column is what may be left of them in a file.
var hostile = []string{
	`=cmd|'/c calc'!A1`, `=HYPERLINK("x")`, `+1+cmd`, `-2+3`, `@SUM(1)`, " =1+1", "\t=1", "\r=1", "\n=1", "\x1b[31mred", "＝1+1", "＋1", "－1", "＠a",
	`'=1`, `''=1`, `'plain`, `"=1"`, `a;b,c`, "a\nb", "<b>&amp;</b>", "–5", "\u202eevil", "\x00", "no UTF-8 \xff",
}

func sample() *Table {
	t := &Table{
		Name: "Cast-in items",
		Columns: []Column{
			{Name: "mark"}, {Name: "length", Unit: "mm", Type: Number, Decimals: 1},
			{Name: "count", Type: Number}, {Name: "note"},
		},
	}
	t.Add(Str("HB-1"), Num(450.04), Int(4), Str("hooks inwards"))
	t.Add(Str("007"), Num(-12.5), Int(0), Missing("not stated"))
	t.Add(Str("Élément φ16 基礎"), Cell{}, Int(-3))
	t.Add(Cell{}, Num(math.NaN()), Num(1e6), Str("-7.5"))
	for i, s := range hostile {
		t.Add(Str(s), Num(float64(i)+0.25), Int(i), Str(s+" "+s))
	}
	return t
}

func written(t *testing.T, write func(io.Writer, *Table) error, table *Table) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := write(&b, table); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func book1(w io.Writer, t *Table) error { return WriteXLSX(w, t) }

func TestWhatIsWrittenIsReadBack(t *testing.T) {
	table := sample()
	for _, f := range []struct {
		name  string
		write func(io.Writer, *Table) error
	}{{"t.csv", WriteCSV}, {"t.xlsx", book1}} {
		t.Run(f.name, func(t *testing.T) {
			s, err := Parse(f.name, written(t, f.write, table))
			if err != nil {
				t.Fatal(err)
			}
			if len(s.Rows) != len(table.Rows)+1 {
				t.Fatalf("%d rows read, %d written", len(s.Rows), len(table.Rows)+1)
			}
			if h := s.Headings(0); len(h) != 4 || h[1] != (Heading{"length", "mm"}) || h[2] != (Heading{"count", ""}) {
				t.Errorf("headings are %v", h)
			}
			for r := range table.Rows {
				for c, col := range table.Columns {
					sameCell(t, s, r+1, c, col, table.cell(r, c))
				}
			}
		})
	}
}

func sameCell(t *testing.T, s *Sheet, row, col int, c Column, want Cell) {
	t.Helper()
	if want.is != number {
		if got := s.Cell(row, col); got != want.text {
			t.Errorf("%s: %q, want %q", s.At(row, col), got, want.text)
		}
		return
	}
	got, ok, err := s.Float(row, col)
	if err != nil || !ok || math.Abs(got-c.round(want.number)) > 1e-9 {
		t.Errorf("%s: %v %v %v, want %v", s.At(row, col), got, ok, err, want.number)
	}
}

// TestNoTextBeginsAsAFormula takes the CSV apart by hand: no cell that is not a
// number may begin with what a spreadsheet runs.
func TestNoTextBeginsAsAFormula(t *testing.T) {
	data := written(t, WriteCSV, sample())
	s := strings.TrimPrefix(string(data), bom)
	for _, line := range strings.Split(strings.TrimSuffix(s, "\r\n"), "\r\n") {
		for _, cell := range splitByHand(line) {
			first, _ := strings.CutPrefix(cell, "\ufeff")
			if first == "" || strings.Trim(first, "-.0123456789") == "" {
				continue
			}
			if r := []rune(first)[0]; strings.ContainsRune("=+-@\t\r\n＝＋－＠", r) {
				t.Errorf("cell %q begins as a formula", cell)
			}
		}
	}
	noControls(t, strings.ReplaceAll(s, "\r\n", ""))
}

// splitByHand is a second reader of one line of RFC 4180.
func splitByHand(line string) []string {
	var out []string
	cell, quoted := "", false
	for i := 0; i < len(line); i++ {
		switch c := line[i]; {
		case c == '"' && quoted && i+1 < len(line) && line[i+1] == '"':
			cell += `"`
			i++
		case c == '"':
			quoted = !quoted
		case c == ',' && !quoted:
			out, cell = append(out, cell), ""
		default:
			cell += string(c)
		}
	}
	return append(out, cell)
}

func noControls(t *testing.T, s string) {
	t.Helper()
	for i, r := range s {
		if unicode.IsControl(r) && r != '\n' || r == 0x202e {
			t.Errorf("control character %U at %d", r, i)
		}
	}
}

// parts are the files of a workbook; package by package, as ISO/IEC 29500-2 has it.
func parts(t *testing.T, data []byte) map[string]string {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		b, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		out[f.Name] = string(b)
	}
	return out
}

func TestAWorkbookHoldsNoFormulas(t *testing.T) {
	sheet := parts(t, written(t, book1, sample()))["xl/worksheets/sheet1.xml"]
	if strings.Contains(sheet, "<f>") || strings.Contains(sheet, "<f ") {
		t.Error("a cell is a formula")
	}
	for _, want := range []string{
		`<pane activePane="bottomLeft" state="frozen" topLeftCell="A2" ySplit="1"`, // ISO/IEC 29500-1 18.3.1.66
		`<col min="1" max="1"`, `<v>-12.5</v>`,
	} {
		if !strings.Contains(sheet, want) {
			t.Errorf("no %s in the sheet", want)
		}
	}
}

func TestTheSameBytesOnEveryRun(t *testing.T) {
	many := func(w io.Writer, t *Table) error { return WriteXLSX(w, t, t, t, t, t) }
	for _, write := range []func(io.Writer, *Table) error{WriteCSV, many, func(w io.Writer, t *Table) error { return WriteJSON(w, t) }} {
		first := written(t, write, sample())
		for range 10 {
			if !bytes.Equal(first, written(t, write, sample())) {
				t.Fatal("two runs give different bytes")
			}
		}
	}
}

func TestTheListOfPartsComesFirst(t *testing.T) {
	data := written(t, book1, sample())
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	if z.File[0].Name != "[Content_Types].xml" {
		t.Errorf("the first part is %s", z.File[0].Name)
	}
}

func TestJSONIsReadByAnyReader(t *testing.T) {
	data := written(t, func(w io.Writer, t *Table) error { return WriteJSON(w, t, t) }, sample())
	noControls(t, string(data))
	var out struct {
		Schema int
		Tables []struct {
			Name    string
			Columns []struct{ Key, Name, Unit, Type string }
			Rows    []map[string]any
		}
	}
	if err := json.Unmarshal(data, &out); err != nil {
		t.Fatal(err)
	}
	first := out.Tables[1].Rows[1]
	if out.Schema != 1 || first["mark"] != "007" || first["length_mm"] != -12.5 || out.Tables[0].Rows[2]["length_mm"] != nil {
		t.Errorf("%v", first)
	}
}

func TestSheetNames(t *testing.T) {
	var tables []*Table
	for _, n := range []string{"", "[a]:b", "A B", strings.Repeat("x", 40), strings.Repeat("x", 41), "'quoted'", "=1"} {
		tables = append(tables, &Table{Name: n, Columns: []Column{{Name: "c"}}})
	}
	var b bytes.Buffer
	if err := WriteXLSX(&b, tables...); err != nil {
		t.Fatal(err)
	}
	long := strings.Repeat("x", 28) + "..."
	for _, want := range []string{"table", "a b", "A B 2", long, long[:26] + "... 2", "quoted", "=1"} {
		if !strings.Contains(parts(t, b.Bytes())["xl/workbook.xml"], `name="`+want+`"`) {
			t.Errorf("no sheet %q in %s", want, parts(t, b.Bytes())["xl/workbook.xml"])
		}
	}
}

func TestTablesThatNoFormatShows(t *testing.T) {
	for _, c := range []struct {
		name string
		t    *Table
	}{
		{"no name", &Table{Columns: []Column{{}}}},
		{"one name twice", &Table{Columns: []Column{{Name: "a b"}, {Name: "A B"}}}},
		{"row too long", &Table{Columns: []Column{{Name: "a"}}, Rows: [][]Cell{{Int(1), Int(2)}}}},
	} {
		for i, write := range []func(io.Writer, *Table) error{WriteCSV, book1, func(w io.Writer, t *Table) error { return WriteJSON(w, t) }} {
			if err := write(io.Discard, c.t); err == nil {
				t.Errorf("%s: writer %d says nothing", c.name, i)
			}
		}
	}
	if err := WriteXLSX(io.Discard); err == nil {
		t.Error("a workbook without sheets was written")
	}
}

func TestNumbersAreRoundedToTheirColumn(t *testing.T) {
	for _, c := range []struct {
		v        float64
		decimals int
		want     string
	}{
		{450.04, 1, "450"}, {450.05001, 1, "450.1"}, {-0.04, 1, "0"}, {1e6, 0, "1000000"}, {1234567.891, 3, "1234567.891"},
	} {
		if got := (Column{Type: Number, Decimals: c.decimals}).Show(Num(c.v)); got != c.want {
			t.Errorf("%v to %d: %s, want %s", c.v, c.decimals, got, c.want)
		}
	}
}

func FuzzInert(f *testing.F) {
	for _, s := range hostile {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		made := inert(s)
		if runs(made) && made[0] != '\'' {
			t.Errorf("%q became %q, which runs", s, made)
		}
		if got := lively(made); got != s {
			t.Errorf("%q became %q and comes back as %q", s, made, got)
		}
	})
}
