package sheet_test

import (
	"bytes"
	"math"
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
	ib "embedcheck/internal/ifcbuild"
	"embedcheck/internal/ifcbuild/embed"
	"embedcheck/internal/model"
	"embedcheck/internal/pdf"
	"embedcheck/internal/setout"
	"embedcheck/internal/sheet"
	"embedcheck/rules"
)

func run(t testing.TB, paths ...string) (*model.Model, *finding.Run) {
	t.Helper()
	m, r, err := check.Run(paths, check.Options{Workers: 2, Rules: rules.Builtin()})
	if err != nil {
		t.Fatal(err)
	}
	return m, r
}

func sheets(t testing.TB, o sheet.Options, paths ...string) map[string]*sheet.Sheet {
	t.Helper()
	m, r := run(t, paths...)
	k := sheet.New(m, r, o)
	out := map[string]*sheet.Sheet{}
	for _, u := range setout.Plan(m, setout.DefaultTolerances()) {
		out[u.Mark] = k.Of(u)
	}
	return out
}

func demo(t testing.TB, o sheet.Options) map[string]*sheet.Sheet {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join("..", "..", "testdata", "demo", "*.ifc"))
	if err != nil || len(paths) == 0 {
		t.Fatalf("no demo models: %v", err)
	}
	return sheets(t, o, paths...)
}

// written are all texts of a page.
func written(d *drawing.Drawing) []string {
	var out []string
	var walk func([]drawing.Mark)
	walk = func(marks []drawing.Mark) {
		for _, m := range marks {
			switch m := m.(type) {
			case drawing.Text:
				out = append(out, m.Text)
			case drawing.Group:
				walk(m.Marks)
			}
		}
	}
	walk(d.Marks)
	return out
}

func all(s *sheet.Sheet) string {
	var out []string
	for _, p := range s.Pages {
		out = append(out, written(p)...)
	}
	return strings.Join(out, "\n")
}

// TestDimensionsByHand holds what the elevation says to figures worked out from
// what the demo asks for: pump base 1500 x 1200 with bolts at 600 x 400 about
// (750, 330); wall 6400 long, outside down, so that what is 3545 from its left
// outside stands at 6400 - 3545.
func TestDimensionsByHand(t *testing.T) {
	s := demo(t, sheet.Options{Paper: sheet.A3})
	for mark, want := range map[string][]string{
		"PB-01": {"450 (HD-1)", "1050 (HD-1)", "130 (HD-1)", "530 (HD-1)", "1500", "1200", "500"},
		"WP-01": {"2855 (F-1.1)", "5300 (CP-1)", "1300 (CP-1)", "LI-1.4, 90 above form", "F-1.5 (form face)", "6400", "3200", "180"},
		"CO-01": {"-15 (CP-7)", "2780 (CP-7)", "1600 (FS-7.1)"},
		"RW-01": {"2880 (RB-3.1)", "2000 (RB-3.1)"},
	} {
		got := written(s[mark].Pages[0])
		for _, w := range want {
			if !slices.Contains(got, w) {
				t.Errorf("%s: the elevation does not say %q", mark, w)
			}
		}
	}
	for _, w := range []string{"600", "400", "721", "260", "110", "60", "220"} {
		if got := written(s["PB-01"].Pages[1]); !slices.Contains(got, w) {
			t.Errorf("PB-01: the detail does not say %s", w)
		}
	}
}

// TestEveryDimensionIsOnItsSheet looks for each dimension that is taped in the
// checklist, with the model's value.
func TestEveryDimensionIsOnItsSheet(t *testing.T) {
	for mark, s := range demo(t, sheet.Options{Paper: sheet.A4}) {
		text := all(s)
		for _, d := range s.Unit.Dims() {
			if d.Taped && !strings.Contains(text, drawing.FigureText(d.MM)) {
				t.Errorf("%s: %s = %.1f is not on the sheet", mark, d.Key, d.MM)
			}
		}
		for _, p := range s.Pages {
			for _, d := range p.Dims {
				i := slices.IndexFunc(s.Unit.Dims(), func(o setout.Dim) bool { return o.Key == d.Name })
				if i < 0 || math.Abs(s.Unit.Dims()[i].MM-d.ValueMM) > 1e-9 {
					t.Errorf("%s: drawn %s = %.3f, which is not set out so", mark, d.Name, d.ValueMM)
				}
			}
		}
	}
}

func TestMirroredFormFace(t *testing.T) {
	s := demo(t, sheet.Options{Paper: sheet.A3})
	for mark, want := range map[string]bool{"WP-01": true, "PB-01": false} {
		if got := strings.Contains(all(s[mark]), "MIRRORED"); got != want {
			t.Errorf("%s: says mirrored %v, want %v", mark, got, want)
		}
	}
}

func TestHoldsAndRevision(t *testing.T) {
	s := demo(t, sheet.Options{Paper: sheet.A3, Revision: "C, 3 May"})
	if got := all(s["WP-01"]); s["WP-01"].Holds == 0 || !strings.Contains(got, "DO NOT POUR") {
		t.Error("WP-01 is on hold and the sheet does not say so")
	}
	if strings.Contains(all(s["PB-01"]), "DO NOT POUR") {
		t.Error("PB-01 is not on hold and the sheet says so")
	}
	for _, p := range s["WP-01"].Pages {
		if text := strings.Join(written(p), "\n"); !strings.Contains(text, "C, 3 May") || !regexp.MustCompile(`sha256 [0-9a-f]{12}`).MatchString(text) {
			t.Errorf("%s: no revision or hash", p.Title)
		}
	}
}

// TestTextsKeepOffEachOther holds every text to its sheet and off all other
// texts.
func TestTextsKeepOffEachOther(t *testing.T) {
	for _, paper := range []sheet.Paper{sheet.A3, sheet.A4} {
		for _, s := range demo(t, sheet.Options{Paper: paper}) {
			for _, p := range s.Pages {
				keepApart(t, p)
			}
		}
	}
}

func keepApart(t *testing.T, p *drawing.Drawing) {
	t.Helper()
	type placed struct {
		text string
		r    drawing.Rect
		halo bool
	}
	var texts []placed
	var walk func([]drawing.Mark)
	walk = func(marks []drawing.Mark) {
		for _, m := range marks {
			switch m := m.(type) {
			case drawing.Text:
				if math.Mod(m.Turn, 90) == 0 { // the boxes of slanted ones say little
					texts = append(texts, placed{m.Text, drawing.RectOf(drawing.TextCorners(m)...), m.Halo})
				}
				if m.Size < 2.5 {
					t.Errorf("%s: %q is %.1f mm high, less than ISO 3098 has for such sheets", p.Title, m.Text, m.Size)
				}
			case drawing.Group:
				walk(m.Marks)
			}
		}
	}
	walk(p.Marks)
	lines := loose(p.Marks)
	for i, a := range texts {
		for _, l := range lines {
			if !a.halo && crosses(l, a.r.Grow(-0.5)) {
				t.Errorf("%s: a line runs through %q", p.Title, a.text)
				break
			}
		}
		if a.r.Min.X < 0 || a.r.Min.Y < 0 || a.r.Max.X > p.Width || a.r.Max.Y > p.Height {
			t.Errorf("%s: %q leaves the paper", p.Title, a.text)
		}
		for _, b := range texts[:i] {
			const play = 0.35
			if a.r.Min.X < b.r.Max.X-play && b.r.Min.X < a.r.Max.X-play && a.r.Min.Y < b.r.Max.Y-play && b.r.Min.Y < a.r.Max.Y-play {
				t.Errorf("%s: %q stands on %q", p.Title, a.text, b.text)
			}
		}
	}
}

// loose are all lines of a page but hatching, which ends beside texts, and those of
// groups, which go with their text.
func loose(marks []drawing.Mark) []drawing.Line {
	var out []drawing.Line
	for _, m := range marks {
		if l, ok := m.(drawing.Line); ok && l.Pen.Width > drawing.Hair {
			out = append(out, l)
		}
	}
	return out
}

// crosses samples a line: it is a slow twin of what the canvas does.
func crosses(l drawing.Line, r drawing.Rect) bool {
	const steps = 400
	for i := range steps + 1 {
		q := l.A.Add(l.B.Sub(l.A).Mul(float64(i) / steps))
		if r.Min.X < q.X && q.X < r.Max.X && r.Min.Y < q.Y && q.Y < r.Max.Y {
			return true
		}
	}
	return false
}

// pad is a model of a footing with four bolts and their template.
func pad(t testing.TB, name string, unit ib.Unit, place ib.Option) string {
	t.Helper()
	b := ib.New(ib.IFC4, unit, place)
	b.Add(ib.Element{Class: "IfcFooting", Name: name, Tag: name, Material: "Concrete C32/40", Body: []ib.Solid{ib.Block(ib.V(0, 0, 0), ib.V(1800, 1000, 400))}})
	embed.Set{
		Name: "HD-1", BoltName: "L-bolt M20", Material: "Steel 4.6", Pattern: embed.Grid(2, 2, 500, 300), Turns: []float64{0, 180, 0, 180},
		Bolt:     embed.Bolt{D: 20, Depth: 240, Out: 100, End: embed.L, Leg: 110},
		Template: &embed.Template{W: 600, H: 400, T: 8, Hole: 22, Under: 50},
	}.Loose(b, ib.Element{At: ib.At(700, 400, 400)})
	path := filepath.Join(t.TempDir(), "pad.ifc")
	if err := os.WriteFile(path, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// TestSameSheetWhereverItStands compares the drawn dimensions and the running ones
// of a pad in other units and places; its texts are those of the pad at the origin.
func TestSameSheetWhereverItStands(t *testing.T) {
	here := ib.Placed(ib.At(0, 0, 0))
	figures := func(path string) []string {
		var out []string
		for _, p := range sheets(t, sheet.Options{Paper: sheet.A3}, path)["PAD"].Pages[:3] {
			for _, s := range written(p) {
				if regexp.MustCompile(`^-?[0-9.]+( \(.*\))?$`).MatchString(s) {
					out = append(out, s)
				}
			}
		}
		slices.Sort(out)
		return out
	}
	want := figures(pad(t, "PAD", ib.MM, here))
	for _, s := range []string{"450 (HD-1)", "250 (HD-1)", "950 (HD-1)", "550 (HD-1)", "500", "300", "583", "240", "100", "50", "140"} {
		if !slices.Contains(want, s) {
			t.Errorf("the sheet does not say %s, but %v", s, want)
		}
	}
	for name, path := range map[string]string{
		"inch, turned": pad(t, "PAD", ib.Inch, ib.Placed(ib.At(0, 0, 0).TurnZ(37))),
		"metre, far":   pad(t, "PAD", ib.Metre, ib.Placed(ib.At(5.1e8, 4.2e9, 31000).TurnZ(-61))),
		"foot, stands": pad(t, "PAD", ib.Foot, ib.Placed(ib.At(500, -300, 1200).TurnX(90))),
		"tilted":       pad(t, "PAD", ib.MM, ib.Placed(ib.At(0, 0, 0).TurnZ(37).TurnX(12))),
	} {
		if got := figures(path); !slices.Equal(got, want) {
			t.Errorf("%s: %v, want %v", name, got, want)
		}
	}
}

// TestHostileNames makes sheets of names that are markup, escapes and letters that
// the font lacks.
func TestHostileNames(t *testing.T) {
	for name, want := range map[string]string{
		"Fundação Nº 3":                       "Fundação Nº 3",
		"水泵 1":                                "[U+6C34 U+6CF5] 1",
		"a\x1b[31mb</text><script>x</script>": "<script>",
		strings.Repeat("W", 400):              "WWW",
		"../../../etc/passwd":                 "..-..-..",
	} {
		for _, s := range sheets(t, sheet.Options{Paper: sheet.A4, Revision: name}, pad(t, name, ib.MM, ib.Placed(ib.At(0, 0, 0)))) {
			if text := all(s); !strings.Contains(text, want) {
				t.Errorf("%.20q: the sheet does not say %q", name, want)
			} else if strings.ContainsRune(text, 0x1b) {
				t.Errorf("%.20q: an escape is on the sheet", name)
			}
			for _, p := range s.Pages {
				keepApart(t, p)
				var svg bytes.Buffer
				if err := p.SVG(&svg); err != nil || bytes.Contains(svg.Bytes(), []byte("<script")) {
					t.Errorf("%.20q: markup in the SVG, %v", name, err)
				}
			}
		}
	}
}

// TestPDFSaysTheSame reads the PDF by a reader of its own, where there is one, and
// writes it twice.
func TestPDFSaysTheSame(t *testing.T) {
	s := sheets(t, sheet.Options{Paper: sheet.A3}, pad(t, "PAD Ä", ib.MM, ib.Placed(ib.At(0, 0, 0))))["PAD Ä"]
	var first, second bytes.Buffer
	for _, w := range []*bytes.Buffer{&first, &second} {
		if err := pdf.Write(w, pdf.Document{Title: "t", Date: time.Date(2020, 1, 2, 3, 4, 5, 0, time.UTC)}, s.Pages); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(first.Bytes(), second.Bytes()) {
		t.Error("the same sheets give other bytes")
	}
	tool, err := exec.LookPath("pdftotext")
	if err != nil {
		t.Skip("no pdftotext here: the SVG's texts are tested above")
	}
	cmd := exec.Command(tool, "-", "-")
	cmd.Stdin = &first
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	got := strings.Join(strings.Fields(string(out)), " ")
	for _, p := range s.Pages {
		for _, w := range written(p) {
			if w = strings.Join(strings.Fields(w), " "); !strings.Contains(got, w) {
				t.Errorf("the PDF does not say %q", w)
			}
		}
	}
}
