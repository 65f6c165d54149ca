package main

import (
	"archive/zip"
	"bytes"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"

	"embedcheck/internal/finding"
	ib "embedcheck/internal/ifcbuild"
)

// hostileTexts are names that steer terminals, start formulas, end markup, name
// files elsewhere, or are too long.
var hostileTexts = []string{
	"\x1b[31mred\x1b[2J\x1b]0;title\x07", "a\rb\nc\bd\x00e\x7f\u009b31m", "\u202egnp.exe\u2066\u200f\ufeff\u2028x\u2029y\U000e0041",
	"=cmd|'/C calc'!A0", "+1+1", "-1+1", "@SUM(A1)", "\t=1+1", "\r=1+1", `=HYPERLINK("http://a.example","x")`,
	"</script><img src=x onerror=alert(1)>\"'&", "]]>--><?xml?><!ENTITY x>&lt;", "javascript:alert(1)", "{{.}}${x}`touch pwned`$(touch pwned)%s%n",
	"../../../../tmp/pwned", "/etc/pwned", `C:\pwned`, `..\..\pwned`, "CON", "nul.svg", "a/b/c", ".", "..", "", "~/pwned", "file:///etc/passwd",
	strings.Repeat("long ", 60) + strings.Repeat("x", 5000), strings.Repeat("../", 100), "wp-1", "WP-1", "wp_1", "wp/1", "wp 1",
	"(\\) Tj ET endstream endobj", "\xff\xfe broken", "水\u0301\u0301\u0301", "%2e%2e%2f%2e%2e%2fpwned",
}

// hostileHosts are marks of hosts, which name files of sheets: out of the folder,
// too long, and some that are one name where case or signs do not count.
var hostileHosts = []string{"../../../../tmp/pwned", "/etc/pwned", "wp-1", "WP-1", "wp/1", "wp 1", "nul\x00", strings.Repeat("x", 300)}

// hostileModel is slabs with a bolt too near the edge, a bar that runs into it, an
// opening, a plate, a lifting insert and a nut each; everything that is a text in
// them is one of the hostile ones, each of which occurs.
func hostileModel() []byte {
	b := ib.New(ib.IFC4, ib.MM, ib.Names(hostileTexts[0], hostileTexts[10], hostileTexts[14], hostileTexts[3]), ib.File(hostileTexts[1], "2026-03-02T08:00:00"))
	next := 0
	text := func() string {
		next++
		return hostileTexts[next%len(hostileTexts)]
	}
	for i, mark := range hostileHosts {
		at := ib.At(float64(i)*3000, 0, 0)
		e := func(class, predefined string, body ...ib.Solid) ib.Element {
			s := text()
			props := []ib.PSet{{Name: s, Props: []ib.Prop{ib.Text(s, s), ib.Text("CorrosionTreatment", s), ib.Text("FaceUp", s), ib.Text("CastFace", s), ib.Text("StrengthGrade", s)}}}
			return ib.Element{Class: class, Predefined: predefined, Name: s, Description: s, ObjectType: s, Tag: s, At: at, Material: "Steel " + s, Props: props, Body: body, Seed: fmt.Sprint(class, predefined, i)}
		}
		slab := e("IfcSlab", "", ib.Block(ib.V(0, 0, 0), ib.V(2000, 1000, 200)))
		slab.Material = "Concrete " + slab.Name
		slab.Tag = mark
		host := b.Add(slab)
		host.OpenWith(ib.Element{Name: text(), Tag: text(), Seed: fmt.Sprint("O", i), Body: []ib.Solid{ib.Block(ib.V(1200, 300, -50), ib.V(1600, 700, 250))}})
		b.Add(e("IfcMechanicalFastener", "ANCHORBOLT", ib.Cylinder(ib.V(30, 500, 300), ib.V(30, 500, 50), 10)))
		b.Add(e("IfcMechanicalFastener", "NUT", ib.Hexagon(ib.V(30, 500, 210), ib.V(30, 500, 226), 30)))
		b.Add(e("IfcDiscreteAccessory", "ANCHORPLATE", ib.Block(ib.V(500, 300, 188), ib.V(700, 500, 200)), ib.Cylinder(ib.V(600, 400, 188), ib.V(600, 400, 100), 8)))
		insert := e("IfcDiscreteAccessory", "", ib.Cylinder(ib.V(900, 600, 200), ib.V(900, 600, 100), 12))
		insert.ObjectType = "Lifting insert " + insert.Name
		b.Add(insert)
		bar := e("IfcReinforcingBar", "", ib.Rod(ib.Straight(ib.V(35, 40, 100), ib.V(35, 960, 100)), 12))
		bar.Diameter = 12
		b.Add(bar)
	}
	return b.Bytes()
}

// TestHostileTexts runs every command on a model whose every text is hostile and
// looks at all that is printed and written.
func TestHostileTexts(t *testing.T) {
	root := t.TempDir()
	work := filepath.Join(root, "a", "b", "c")
	if err := os.MkdirAll(filepath.Join(work, "yard"), 0o777); err != nil {
		t.Fatal(err)
	}
	t.Chdir(work)
	model := string(hostileModel())
	put(t, "m.ifc", model)
	put(t, "yard/=1+1.ifc", model)
	put(t, "yard/\x1b[31m.ifc", string(ib.New(ib.IFC4, ib.MM, ib.Names(hostileTexts[0], hostileTexts[3], "", "")).Bytes()))
	calls := [][]string{
		{"check", "m.ifc", "--out", "out", "--drawings", "--bcf", "3.0", "--author", hostileTexts[10]},
		{"check", "m.ifc", "--summary", "markdown"},
		{"check", "m.ifc", "--summary", "json"},
		{"check", "m.ifc", "--since", "out"},
		{"check", "yard"},
		{"inventory", "m.ifc"}, {"inventory", "m.ifc", "--json"}, {"inventory", "m.ifc", "--shapes"},
		{"schedule", "m.ifc", "--out", "schedule"},
		{"sheet", "m.ifc", "--form", "--revision", hostileTexts[10], "--out", "sheets"},
		{"screen", "yard", "--out", "screened"},
		{"compare", "m.ifc", "--measured", "sheets/form-tape.csv", "--measured", "sheets/form-points.xlsx", "--out", "compared"},
		{"rules"},
	}
	for _, call := range calls {
		var out, errs bytes.Buffer
		if code := run(append([]string{"embedcheck"}, call...), &out, &errs); code > exitFound {
			t.Errorf("%q: exit code %d: %s", call, code, errs.String())
		}
		printsNothingUnsafe(t, call, out.String()+errs.String())
	}
	decided := decideAndExplainAll(t)
	if decided < 3*len(hostileHosts) {
		t.Errorf("%d findings decided", decided)
	}
	looked := 0
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		rel, _ := filepath.Rel(work, path)
		if strings.HasPrefix(filepath.Base(rel), "pwned") || strings.HasPrefix(rel, "..") && !d.IsDir() {
			t.Errorf("%s is there", path)
		}
		if err == nil && !d.IsDir() && looksSafe(t, rel) {
			looked++
		}
		return err
	})
	if err != nil || looked < 50 {
		t.Errorf("%d files looked at, %v", looked, err)
	}
}

// decideAndExplainAll explains every finding and decides on it.
func decideAndExplainAll(t *testing.T) int {
	t.Helper()
	list := append(append(ids(t, "hold"), ids(t, "review")...), ids(t, "note")...)
	for i, id := range list {
		if i%10 == 0 {
			var out, errs bytes.Buffer
			run([]string{"embedcheck", "explain", id}, &out, &errs)
			printsNothingUnsafe(t, []string{"explain"}, out.String()+errs.String())
		}
	}
	said := embedcheck(t, exitDone, append([]string{"decide", "--accept", "--reason", hostileTexts[1], "--by", hostileTexts[0]}, list...)...)
	printsNothingUnsafe(t, []string{"decide"}, said)
	printsNothingUnsafe(t, []string{"check", "decided"}, embedcheck(t, exitDone, "check", "m.ifc", "--out", "out"))
	return len(list)
}

// printsNothingUnsafe: what is printed steers no terminal.
func printsNothingUnsafe(t *testing.T, call []string, said string) {
	t.Helper()
	if !utf8.ValidString(said) {
		t.Errorf("%q prints what is no UTF-8", call)
	}
	for _, r := range said {
		if r != '\n' && finding.Unsafe(r) {
			t.Errorf("%q prints %q", call, r)
			return
		}
	}
}

// looksSafe looks at one file by its kind; false for kinds that it does not know.
func looksSafe(t *testing.T, path string) bool {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	switch ext := filepath.Ext(path); ext {
	case ".svg":
		safeSVG(t, path, data)
	case ".html":
		safePage(t, path, data)
	case ".csv":
		safeCSV(t, path, data)
	case ".xlsx":
		safeWorkbook(t, path, data)
	case ".json":
		if !json.Valid(data) {
			t.Errorf("%s is no JSON", path)
		}
		printsNothingUnsafe(t, []string{path}, string(data))
	case ".bcf":
		safeIssues(t, path, data)
	case ".pdf":
		if bytes.Contains(data, []byte("/JavaScript")) || bytes.Contains(data, []byte("/Launch")) || bytes.Contains(data, []byte("/URI")) {
			t.Errorf("%s does something", path)
		}
	case ".ifc", ".lock":
		return false
	default:
		t.Errorf("%s is of no known kind", path)
	}
	return true
}

// wellFormed reads XML to its end and calls see for each element.
func wellFormed(t *testing.T, path string, data []byte, see func(xml.StartElement)) {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(data))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return
		}
		if err != nil {
			t.Errorf("%s: %v", path, err)
			return
		}
		switch x := token.(type) {
		case xml.StartElement:
			see(x)
		case xml.Directive:
			t.Errorf("%s has the directive %s", path, x)
		}
	}
}

var drawn = regexp.MustCompile(`^(svg|g|path|line|polyline|polygon|circle|ellipse|rect|text|tspan|title|desc|defs|style|pattern|clipPath|marker|use|symbol|metadata)$`)

func safeSVG(t *testing.T, path string, data []byte) {
	t.Helper()
	wellFormed(t, path, data, func(e xml.StartElement) {
		if !drawn.MatchString(e.Name.Local) {
			t.Errorf("%s has an element %s", path, e.Name.Local)
		}
		for _, a := range e.Attr {
			if strings.HasPrefix(a.Name.Local, "on") || a.Name.Local == "href" && !strings.HasPrefix(a.Value, "#") {
				t.Errorf("%s: %s=%q", path, a.Name.Local, a.Value)
			}
		}
	})
}

// safePage: texts of the model stand in the page escaped; that nothing of them
// runs is tested in a browser, in internal/page.
func safePage(t *testing.T, path string, data []byte) {
	t.Helper()
	for _, bad := range []string{"<img src=x", "</script><img", "<!ENTITY", "href=\"javascript:", "href=\"file:"} {
		if bytes.Contains(data, []byte(bad)) {
			t.Errorf("%s has %s in it", path, bad)
		}
	}
	if !bytes.Contains(data, []byte("Content-Security-Policy")) {
		t.Errorf("%s has no policy", path)
	}
}

// formula is the start of what a spreadsheet runs.
var formula = regexp.MustCompile(`^[\s\x00]*[=+@|]|^[\s\x00]*-[^0-9.\s]|^[\t\r]`)

func safeCSV(t *testing.T, path string, data []byte) {
	t.Helper()
	r := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(data, []byte("\ufeff"))))
	r.FieldsPerRecord = -1
	if bytes.Contains(data[:min(len(data), 200)], []byte(";")) {
		r.Comma = ';'
	}
	rows, err := r.ReadAll()
	if err != nil || len(rows) == 0 {
		t.Errorf("%s: %d rows, %v", path, len(rows), err)
	}
	for _, row := range rows {
		for _, cell := range row {
			if formula.MatchString(cell) {
				t.Errorf("%s: a cell begins %.20q", path, cell)
				return
			}
		}
	}
}

func safeWorkbook(t *testing.T, path string, data []byte) {
	t.Helper()
	f, err := excelize.OpenReader(bytes.NewReader(data))
	if err != nil {
		t.Errorf("%s: %v", path, err)
		return
	}
	defer f.Close()
	eachPart(t, path, data, func(name string, part []byte) {
		if bytes.Contains(part, []byte("<f>")) || bytes.Contains(part, []byte("<hyperlink")) || strings.Contains(name, "vba") || strings.Contains(name, "externalLink") {
			t.Errorf("%s: %s runs or leads somewhere", path, name)
		}
	})
}

func safeIssues(t *testing.T, path string, data []byte) {
	t.Helper()
	eachPart(t, path, data, func(name string, part []byte) {
		if strings.Contains(name, "..") || strings.HasPrefix(name, "/") || strings.ContainsAny(name, "\\:\x00") {
			t.Errorf("%s holds %q", path, name)
		}
		switch filepath.Ext(name) {
		case ".bcf", ".bcfv", ".version", ".xml", ".bcfp":
			wellFormed(t, path+" "+name, part, func(xml.StartElement) {})
		case ".svg":
			safeSVG(t, path+" "+name, part)
		}
	})
}

func eachPart(t *testing.T, path string, data []byte, look func(name string, part []byte)) {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Errorf("%s: %v", path, err)
		return
	}
	for _, e := range z.File {
		r, err := e.Open()
		if err != nil {
			t.Errorf("%s: %v", path, err)
			return
		}
		part, err := io.ReadAll(r)
		r.Close()
		if err != nil {
			t.Errorf("%s: %s: %v", path, e.Name, err)
		}
		look(e.Name, part)
	}
}
