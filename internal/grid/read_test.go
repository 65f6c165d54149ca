package grid

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"embedcheck/internal/bounded"
)

func TestSeparatorsAndDecimals(t *testing.T) {
	for _, c := range []struct {
		name, text string
		cells      int
		want       float64 // in the second row, second column
	}{
		{"commas, points", "mark,x\nA,1.5\n", 2, 1.5},
		{"semicolons, commas", "mark;x\nA;1,5\n", 2, 1.5},
		{"semicolons, points", "mark;x\nA;1.5\n", 2, 1.5},
		{"semicolons, more commas than semicolons", "mark;x;y\nA;1,5;2,25,\n", 3, 1.5},
		{"tabs, commas", "mark\tx\nA\t1,5\n", 2, 1.5},
		{"byte order mark", "\ufeffmark;x\r\nA;-1,5\r\n", 2, -1.5},
		{"line ends of old", "mark;x\rA;1,5\r", 2, 1.5},
		{"separators in quotes", "mark,\"x;y;z\"\nA,\"1.5\"\n", 2, 1.5},
		{"empty rows", "\n\nmark;x\n;;\n  \nA;1,5\n\n", 2, 1.5},
		{"blanks", "mark ; x \n A ; 1,5 \n", 2, 1.5},
		{"exponent", "mark,x\nA,15e-1\n", 2, 1.5},
		{"no end of line", "mark,x\nA,1.5", 2, 1.5},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, err := Parse("points.csv", []byte(c.text))
			if err != nil {
				t.Fatal(err)
			}
			if len(s.Rows) != 2 || len(s.Rows[0].Cells) != c.cells || s.Cell(1, 0) != "A" || s.Cell(1, 99) != "" {
				t.Fatalf("rows are %v", s.Rows)
			}
			if v, ok, err := s.Float(1, 1); v != c.want || !ok || err != nil {
				t.Errorf("number is %v %v %v", v, ok, err)
			}
			if _, ok, err := s.Float(1, 98); ok || err != nil {
				t.Error("an empty cell is a number")
			}
		})
	}
}

// TestFilesThatAreRefused looks for row and column, and what to do, in each message.
func TestFilesThatAreRefused(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"nothing", "", "points.csv: holds no rows"},
		{"only blanks", " \n;;\n", "holds no rows"},
		{"quote not closed", "mark,x\nA,1\n\"B,2\n", "row 3, character 6: a cell begins with a quote and is not closed"},
		{"quote inside", "mark,x\nA,1\"5\n", "row 2, character 4: a quote inside a cell"},
		{"not UTF-8", "mark,x\nA\xe9,1\n", "line 2 holds characters that are not UTF-8"},
		{"UTF-16", "\xff\xfem\x00", "UTF-16"},
		{"no text", "mark\x00,1", "is no text"},
		{"too many columns", strings.Repeat(",", maxColumns) + "x\n", "row 1 has more than 1000 columns"},
		{"a text that never ends", "a,b\n1,\"" + strings.Repeat("x", 5*maxCell) + "\"\n", "row 2, column B: a text of"},
		{"a broken workbook", "PK\x03\x04 and nothing more", "is no readable workbook"},
	} {
		_, err := Parse("points.csv", []byte(c.text))
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
	}
	if _, err := Parse("big.csv", make([]byte, maxBytes+1)); err == nil || !strings.Contains(err.Error(), "64 MB") {
		t.Errorf("too large: %v", err)
	}
}

func TestTextsThatAreNoNumbers(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"m;x\nA;twelve\n", `points.csv, row 2, column B: "twelve" is no number; a number is wanted here`},
		{"m;x\nA;1.234,5\n", "without signs between thousands"},
		{"m;x\nA;1,234,567\n", "without signs between thousands"},
		{"m,x\nA,\"1,5\"\n", "without signs between thousands"},
		{"m;x\nA;0x10\n", "is no number"},
		{"m;x\nA;NaN\n", "is no number"},
		{"m;x\nA;1e999\n", "is no number"},
		{"m;x\nA;−5\n", "is no number"},
		{"m;x\n" + strings.Repeat(";", 27) + "z\nA;x1\n", "row 3, column B"},
	} {
		s, err := Parse("points.csv", []byte(c.text))
		if err != nil {
			t.Fatalf("%q: %v", c.text, err)
		}
		if _, _, err := s.Float(len(s.Rows)-1, 1); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: %v, want %q", c.text, err, c.want)
		}
	}
}

func TestPointsAndCommasInOneFile(t *testing.T) {
	s, err := Parse("points.csv", []byte("m;x;y\nA;1,5;7\nB;2;1.234\n"))
	if err != nil {
		t.Fatal(err)
	}
	for _, at := range [][2]int{{1, 1}, {1, 2}, {2, 1}} {
		if _, _, err := s.Float(at[0], at[1]); err != nil {
			t.Error(err)
		}
	}
	_, _, err = s.Float(2, 2)
	if err == nil || !strings.Contains(err.Error(), `row 3, column C: "1.234" and, in row 2, "1,5": decimal points and decimal commas in one file`) {
		t.Errorf("%v", err)
	}
}

func TestColumnLetters(t *testing.T) {
	for col, want := range map[int]string{0: "A", 25: "Z", 26: "AA", 51: "AZ", 52: "BA", 701: "ZZ", 702: "AAA"} {
		if got := letters(col); got != want {
			t.Errorf("column %d is %s, want %s", col, got, want)
		}
	}
}

func TestHeadingsWithUnits(t *testing.T) {
	for in, want := range map[string]Heading{
		"Length [mm]": {"length", "mm"}, "length_x (m)": {"length x", "m"}, " Point ID ": {"point id", ""}, "": {}, "a) b": {"a) b", ""}, "(mm)": {"", "mm"},
	} {
		if got := heading(strings.TrimSpace(in)); got != want {
			t.Errorf("%q is %v, want %v", in, got, want)
		}
	}
}

// TestWorkbooksOfOthers reads what another program may write: numbers, texts,
// a formula with its value, a second sheet, rows left out.
func TestWorkbooksOfOthers(t *testing.T) {
	f := excelize.NewFile()
	defer f.Close()
	for cell, v := range map[string]any{"A1": "mark", "B1": "x (m)", "A3": "P1", "B3": 12.5, "A4": "P2", "B4": "7,5"} {
		if err := f.SetCellValue("Sheet1", cell, v); err != nil {
			t.Fatal(err)
		}
	}
	var b bytes.Buffer
	if err := f.Write(&b); err != nil {
		t.Fatal(err)
	}
	s, err := Parse("p.xlsx", b.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Rows) != 3 || s.Rows[1].Number != 3 {
		t.Fatalf("rows are %v", s.Rows)
	}
	if v, ok, err := s.Float(1, 1); v != 12.5 || !ok || err != nil {
		t.Errorf("%v %v %v", v, ok, err)
	}
	if _, _, err := s.Float(2, 1); err == nil || !strings.Contains(err.Error(), "p.xlsx, sheet Sheet1, row 4, column B") {
		t.Errorf("a text with a comma in a workbook: %v", err)
	}
}

func TestReadNamesTheFile(t *testing.T) {
	dir := t.TempDir()
	if _, err := Read(dir); err == nil || !strings.Contains(err.Error(), "is a folder") {
		t.Errorf("%v", err)
	}
	if _, err := Read(filepath.Join(dir, "none.csv")); !os.IsNotExist(err) {
		t.Errorf("%v", err)
	}
	path := filepath.Join(dir, "p.csv")
	if err := os.WriteFile(path, written(t, WriteCSV, sample()), 0o600); err != nil {
		t.Fatal(err)
	}
	if s, err := Read(path); err != nil || s.Name != "p.csv" {
		t.Errorf("%v %v", s, err)
	}
}

func FuzzParse(f *testing.F) {
	var b bytes.Buffer
	for _, write := range []func(io.Writer, *Table) error{WriteCSV, book1} {
		b.Reset()
		if err := write(&b, sample()); err != nil {
			f.Fatal(err)
		}
		f.Add(bytes.Clone(b.Bytes()))
	}
	f.Add([]byte("a;b\n1,5;\"2\"\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		var s *Sheet
		var err error
		bounded.Work(t, len(data), bounded.Limit{Base: 64 << 20, PerByte: 20_000}, func() { s, err = Parse("f", data) })
		if err != nil {
			return
		}
		last := 0
		for r := range s.Rows {
			if s.Rows[r].Number <= last {
				t.Fatalf("row %d comes after row %d", s.Rows[r].Number, last)
			}
			last = s.Rows[r].Number
			for c := range s.Rows[r].Cells {
				if v, ok, err := s.Float(r, c); ok && (err != nil || v != v) {
					t.Fatalf("%v is a number, and %v", v, err)
				}
			}
		}
	})
}
