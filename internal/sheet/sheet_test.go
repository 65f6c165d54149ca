package sheet_test

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"embedcheck/internal/check"
	"embedcheck/internal/drawing"
	"embedcheck/internal/finding"
	ifc "embedcheck/internal/ifcbuild"
	"embedcheck/internal/model"
	"embedcheck/internal/pdf"
	"embedcheck/internal/setout"
	"embedcheck/internal/sheet"
	"embedcheck/rules"
)

func read(t *testing.T, paths ...string) (*model.Model, *finding.Run) {
	t.Helper()
	m, run, err := check.Run(paths, check.Options{Rules: rules.Builtin()})
	if err != nil {
		t.Fatal(err)
	}
	return m, run
}

func demo(t *testing.T) []string {
	t.Helper()
	paths, err := filepath.Glob("../../testdata/demo/*.ifc")
	if err != nil || len(paths) == 0 {
		t.Fatal("no demo", err)
	}
	return paths
}

func sheets(m *model.Model, run *finding.Run, p sheet.Paper) map[string]*sheet.Sheet {
	k := sheet.New(m, run, sheet.Options{Paper: p, Revision: "B"})
	out := map[string]*sheet.Sheet{}
	for _, u := range setout.Plan(m, setout.DefaultTolerances()) {
		out[u.Mark] = k.Of(u)
	}
	return out
}

// texts are all texts of a page, in the order of drawing.
func texts(marks []drawing.Mark) []drawing.Text {
	var out []drawing.Text
	for _, m := range marks {
		switch m := m.(type) {
		case drawing.Text:
			out = append(out, m)
		case drawing.Group:
			out = append(out, texts(m.Marks)...)
		}
	}
	return out
}

func words(s *sheet.Sheet) []string {
	var out []string
	for _, p := range s.Pages {
		for _, t := range texts(p.Marks) {
			out = append(out, t.Text)
		}
	}
	return out
}

// Worked out by hand from the demo's drawing: a footing of 1500 x 1140 x 500 with
// bolts M20 at 450 and 1050, 70 and 470, 110 mm out, 260 mm to the top of the
// hook; the diagonal is the root of 600^2 + 400^2.
func TestPadWorkedOutByHand(t *testing.T) {
	m, run := read(t, demo(t)...)
	got := words(sheets(m, run, sheet.A3)["PB-02"])
	for _, want := range []string{
		"PB-02", "1500 x 1140 x 500 mm", "450 HD-2", "1050 HD-2", "1500 form", "70 HD-2", "470 HD-2", "1140 form",
		"600", "400", "diagonals 1-4 = 721, 2-3 = 721", "110", "260", "220", "HD-2, 4 no. M20 x 390, face up (top)",
		"DO NOT POUR: 1 open finding on hold, see the last page.", "DATUM 0,0", "B", finding.Caution,
	} {
		if !slices.Contains(got, want) {
			t.Errorf("%q is not on the sheet", want)
		}
	}
	if !slices.ContainsFunc(got, func(s string) bool { return strings.Contains(s, "HOLD Edge distance: HD-2 in PB-02: 70 mm") }) {
		t.Error("the open finding is not on the sheet")
	}
}

// The outside of WP-01 lies on the form, so that its elevation is the mirror
// image of one drawn from outside.
func TestMirroredIsSaid(t *testing.T) {
	m, run := read(t, demo(t)...)
	all := sheets(m, run, sheet.A3)
	for mark, want := range map[string]bool{"WP-01": true, "PB-02": false} {
		got := slices.ContainsFunc(words(all[mark]), func(s string) bool { return strings.HasPrefix(s, "MIRRORED against") })
		if got != want || all[mark].Unit.Cast.Mirrored != want {
			t.Errorf("%s: mirrored %v, want %v", mark, got, want)
		}
	}
	if !slices.ContainsFunc(words(all["CO-01"]), func(s string) bool { return strings.HasPrefix(s, "FACE UP NOT KNOWN") }) {
		t.Error("CO-01: it is not said that the face up is not known")
	}
}

// Every value that is taped stands on the sheet with its box.
func TestChecklistHoldsAllTapedDimensions(t *testing.T) {
	m, run := read(t, demo(t)...)
	for mark, s := range sheets(m, run, sheet.A3) {
		got := words(s)
		for _, d := range s.Unit.Dims() {
			if want := drawing.Fit(pdf.Printable(d.Set+" / "+d.What), 2.5, false, 85); d.Taped && !slices.ContainsFunc(got, func(s string) bool { return strings.HasPrefix(s, want[:min(len(want), 20)]) }) {
				t.Errorf("%s: %q is not in the checklist", mark, want)
			}
		}
	}
}

// On no page of the demo does a text lie over another one or off the paper.
func TestTextsAreClearOfEachOther(t *testing.T) {
	m, run := read(t, demo(t)...)
	for _, paper := range []sheet.Paper{sheet.A3, sheet.A4} {
		for mark, s := range sheets(m, run, paper) {
			for i, p := range s.Pages {
				all := texts(p.Marks)
				for j, a := range all {
					ra := drawing.RectOf(drawing.TextCorners(a)...).Grow(-0.35)
					if ra.Min.X < 0 || ra.Min.Y < 0 || ra.Max.X > paper.W || ra.Max.Y > paper.H {
						t.Errorf("%s %s page %d: %q is off the paper", paper.Name, mark, i+1, a.Text)
					}
					for _, b := range all[:j] {
						if rb := drawing.RectOf(drawing.TextCorners(b)...).Grow(-0.35); a.Turn == b.Turn && crossing(ra, rb) {
							t.Errorf("%s %s page %d: %q lies over %q", paper.Name, mark, i+1, a.Text, b.Text)
						}
					}
				}
			}
		}
	}
}

func crossing(a, b drawing.Rect) bool {
	return a.Min.X < b.Max.X && b.Min.X < a.Max.X && a.Min.Y < b.Max.Y && b.Min.Y < a.Max.Y
}

// slab is a slab with a bolt in a project that may stand anywhere, in any unit.
func slab(t *testing.T, name string, unit ifc.Unit, place ifc.Frame) *sheet.Sheet {
	t.Helper()
	b := ifc.New(ifc.IFC4, unit, ifc.Placed(place))
	at := ifc.At(0, 0, 0)
	b.Add(ifc.Element{Class: "IfcSlab", Name: name, At: at, Material: "Concrete C32/40",
		Body: []ifc.Solid{ifc.Block(ifc.V(0, 0, 0), ifc.V(2000, 1000, 200))}})
	b.Add(ifc.Element{Class: "IfcMechanicalFastener", Name: name, Predefined: "ANCHORBOLT", At: at, Material: "Steel 8.8",
		Body: []ifc.Solid{ifc.Rod(ifc.Bent(40, ifc.V(310, 420, 300), ifc.V(310, 420, 50), ifc.V(410, 420, 50)), 20)}})
	path := filepath.Join(t.TempDir(), "a.ifc")
	if err := os.WriteFile(path, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	m, run := read(t, path)
	for _, s := range sheets(m, run, sheet.A3) {
		return s
	}
	t.Fatal("no sheet")
	return nil
}

// The top of the hook lies 10 mm above its centre line, at 60 mm of 200 mm.
func TestSameSheetFromAnyPlaceAndUnit(t *testing.T) {
	hash := regexp.MustCompile(`sha256 [0-9a-f]+`)
	plain := func(s *sheet.Sheet) []string {
		var out []string
		for _, w := range words(s) {
			if !strings.Contains(w, "of the sheet") && !strings.Contains(w, "on the sheet") { // names the model's axes
				out = append(out, hash.ReplaceAllString(w, ""))
			}
		}
		return out
	}
	want := plain(slab(t, "SL-1", ifc.MM, ifc.At(0, 0, 0)))
	for _, w := range []string{"310 SL-1", "420 SL-1", "140", "100", "40", "2000 form", "1000 form"} {
		if !slices.Contains(want, w) {
			t.Errorf("%q is not on the sheet: %q", w, want)
		}
	}
	for _, c := range []struct {
		name  string
		unit  ifc.Unit
		place ifc.Frame
	}{
		{"metres", ifc.Metre, ifc.At(0, 0, 0)},
		{"feet", ifc.Foot, ifc.At(0, 0, 0)},
		{"far away", ifc.MM, ifc.At(5e6, -3e6, 100)},
		{"turned", ifc.MM, ifc.At(1e5, 2e5, 0).TurnZ(37)},
		{"inches, turned", ifc.Inch, ifc.At(-1e5, 0, 50).TurnZ(-20)},
	} {
		if got := plain(slab(t, "SL-1", c.unit, c.place)); !slices.Equal(got, want) {
			for i := range min(len(got), len(want)) {
				if got[i] != want[i] {
					t.Errorf("%s: %q, want %q", c.name, got[i], want[i])
				}
			}
			t.Errorf("%s: %d texts, want %d", c.name, len(got), len(want))
		}
	}
}

func TestHostileNames(t *testing.T) {
	for _, n := range []string{"\x00\x1b[31m", "\u202eabc", "\xff", strings.Repeat("W", 5000), "基礎", "", "😀", "=cmd|' /C calc'!A0", "<svg onload=x>", "Přípoj é ß"} {
		s := slab(t, n, ifc.MM, ifc.At(0, 0, 0))
		for _, w := range words(s) {
			if strings.ContainsFunc(w, finding.Unsafe) || strings.ContainsRune(w, '基') {
				t.Errorf("%.20q: the text %q", n, w)
			}
		}
		var b bytes.Buffer
		if err := pdf.Write(&b, pdf.Document{Title: n, Date: time.Unix(0, 0)}, s.Pages); err != nil {
			t.Errorf("%.20q: %v", n, err)
		}
		for _, p := range s.Pages {
			if err := p.SVG(&b); err != nil {
				t.Errorf("%.20q: %v", n, err)
			}
		}
	}
}

// A reader of PDF that shares no code with the project finds the figures.
func TestFiguresInThePDF(t *testing.T) {
	tool, err := exec.LookPath("pdftotext")
	if err != nil {
		t.Skip("no pdftotext")
	}
	m, run := read(t, demo(t)...)
	path := filepath.Join(t.TempDir(), "a.pdf")
	var first []byte
	for range 2 {
		var b bytes.Buffer
		if err := pdf.Write(&b, pdf.Document{Title: "é", Date: time.Unix(0, 0).UTC()}, sheets(m, run, sheet.A3)["PB-02"].Pages); err != nil {
			t.Fatal(err)
		}
		if first != nil && !bytes.Equal(first, b.Bytes()) {
			t.Error("the bytes differ from run to run")
		}
		first = b.Bytes()
	}
	if err := os.WriteFile(path, first, 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(tool, "-layout", path, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"450 HD-2", "1050 HD-2", "diagonals 1-4 = 721", "±6", "SETTING-OUT SHEET", "260"} {
		if !strings.Contains(strings.ReplaceAll(string(out), "\u2212", "-"), want) {
			t.Errorf("%q is not in the text of the PDF", want)
		}
	}
}

func TestPapers(t *testing.T) {
	for name, ok := range map[string]bool{"A3": true, "A4": true, "A2": false, "": false} {
		if p, got := sheet.ParsePaper(name); got != ok || ok && p.Name != name {
			t.Errorf("%q: %v %v", name, p, got)
		}
	}
}
