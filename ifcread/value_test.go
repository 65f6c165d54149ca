package ifcread

import (
	"bufio"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

func TestValues(t *testing.T) {
	f := parse(t, head+"#1=IFCWALL($,*,12,-3.5E2,'it''s',.ELEMENT.,.t.,#2,(1.,(2,-3.)),IFCLENGTHMEASURE(4.),(#2,$,#1),\"0F\",IFCLINEINDEX((1,2)),12x,.5);\n#2=IFCSLAB($);\n", Options{})
	w, _ := f.Get(1)
	a := w.Args(nil)
	kinds := []Kind{Null, Derived, Int, Real, String, Enum, Enum, Ref, List, Typed, List, Binary, Typed, Int, Real}
	for i, k := range kinds {
		if a[i].Kind() != k {
			t.Errorf("parameter %d: kind %d, want %d", i, a[i].Kind(), k)
		}
	}
	if v, ok := a[3].Float(); !ok || v != -350 {
		t.Errorf("real %v %v", v, ok)
	}
	if v, ok := a[9].Float(); !ok || v != 4 {
		t.Errorf("typed real %v %v", v, ok)
	}
	if v, ok := a[14].Float(); !ok || v != .5 {
		t.Errorf("real without a digit before its point %v %v", v, ok)
	}
	if _, ok := a[13].Float(); ok {
		t.Error("12x is a number")
	}
	if s, ok := a[4].Str(); !ok || s != "it's" {
		t.Errorf("string %q %v", s, ok)
	}
	if a[5].Enum() != "ELEMENT" || a[4].Enum() != "" {
		t.Error("enumerators")
	}
	if v, ok := a[6].Bool(); !v || !ok {
		t.Error("lower-case .t. is not true")
	}
	if got := a[8].Floats(nil); !slices.Equal(got, []float64{1, 2, -3}) {
		t.Errorf("numbers %v", got)
	}
	if got := a[10].Refs(nil); len(got) != 2 || got[0].ID() != 2 || got[1].ID() != 1 {
		t.Errorf("references %v", got)
	}
	if name, in, ok := a[12].Typed(); !ok || name != "IFCLINEINDEX" || !slices.Equal(in.Ints(nil), []int64{1, 2}) {
		t.Errorf("typed %s %s %v", name, in.Raw(), ok)
	}
	if !w.Arg(99).IsNull() || !(Inst{}).Attr("Name").IsNull() {
		t.Error("what is not there is not null")
	}
}

func TestFloats(t *testing.T) {
	good := []string{"0.", "-0.", "1.", "1.E+02", "1.5e-3", "-12.25", "123456789012345678901234567890.", "1.7976931348623157E308",
		"4.9E-324", "0.1", "3.14159265358979", "6.7E9", "510000000.123456", "+1.", "1", "1E5"}
	for _, s := range good {
		want, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		if got, ok := parseFloat([]byte(s)); !ok || got != want {
			t.Errorf("%s: %v %v, want %v", s, got, ok, want)
		}
	}
	for _, s := range []string{"", ".", "-", "E5", "1.E", "NaN", "1.#IND", "Inf", "0x10", "1_0", "1e400", "1.2.3", "1-2"} {
		if v, ok := parseFloat([]byte(s)); ok {
			t.Errorf("%q is %v", s, v)
		}
	}
	r := rand.New(rand.NewPCG(5, 6))
	for range 20000 {
		v := math.Float64frombits(r.Uint64())
		if math.IsNaN(v) || math.IsInf(v, 0) {
			continue
		}
		for _, s := range []string{strconv.FormatFloat(v, 'E', -1, 64), strconv.FormatFloat(r.NormFloat64()*1e4, 'f', r.IntN(9), 64)} {
			want, _ := strconv.ParseFloat(s, 64)
			if got, ok := parseFloat([]byte(s)); !ok || got != want {
				t.Fatalf("%s: %v %v, want %v", s, got, ok, want)
			}
		}
	}
}

// The examples for A-umlaut are those of the standards body's guidance on string
// encoding in IFC files.
func TestDecodeString(t *testing.T) {
	for raw, want := range map[string]string{
		`plain`: "plain", `it''s`: "it's", `a\\b`: `a\b`,
		`\S\D`: "Ä", `\PA\\S\D`: "Ä", `\X\C4`: "Ä", `\X2\00C4\X0\`: "Ä", `\x2\00c4\x0\`: "Ä",
		`\X2\00C400D6\X0\x`: "ÄÖx", `\X4\0001F600\X0\`: "😀", `\X2\D83DDE00\X0\`: "😀",
		`\PE\\S\0`: "А", "\xc3\x84": "Ä", "\xc4": "Ä", "a\r\nb": "ab", `\N\x\F\`: "x",
		`\X2\00C4`: "Ä", `\X2\zz\X0\`: `zz`, `\q`: `\q`, `\`: `\`, `\S\`: `\S\`, `\X\Z`: "Z",
	} {
		if got := DecodeString([]byte(raw)); got != want {
			t.Errorf("%q: %q, want %q", raw, got, want)
		}
	}
}

func FuzzDecodeString(f *testing.F) {
	for _, s := range []string{`\X2\00C4\X0\`, `\S\D`, `it''s`, `\X4\0001F600\X0\`, "\xff"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, raw []byte) {
		if got := DecodeString(raw); len(got) > 4*len(raw)+4 {
			t.Errorf("%d bytes out of %d", len(got), len(raw))
		}
	})
}

// The vectors come from the definition of IfcGloballyUniqueId, worked out by two
// methods.
func TestGlobalID(t *testing.T) {
	for uuid, want := range map[string]string{
		"00000000000000000000000000000000": "0000000000000000000000",
		"ffffffffffffffffffffffffffffffff": "3$$$$$$$$$$$$$$$$$$$$$",
		"0123456789abcdef0123456789abcdef": "018qLdYQlDxm4ZHMU9gytl",
		"61954ad034904de6b6338a396bf50752": "1XbKhGD91DvhOpYZbhzGTI",
	} {
		var b [16]byte
		for i := range b {
			v, _ := strconv.ParseUint(uuid[2*i:2*i+2], 16, 8)
			b[i] = byte(v)
		}
		if got := GlobalIDOf(b); got != want {
			t.Errorf("%s: %s, want %s", uuid, got, want)
		}
		if back, ok := GlobalIDBytes(want); !ok || back != b {
			t.Errorf("%s: %x, want %s", want, back, uuid)
		}
	}
	for _, s := range []string{"", "4000000000000000000000", "000000000000000000000", "00000000000000000000-0"} {
		if ValidGlobalID(s) {
			t.Errorf("%q is valid", s)
		}
	}
}

func TestAttributesBySchema(t *testing.T) {
	args := "('g',$,'n',$,$,$,$,'tag'"
	for _, c := range []struct{ schema, tail, attr, want string }{
		{"IFC2X3", ",.ELEMENT.)", "CompositionType", ".ELEMENT."},
		{"IFC4", ",.ELEMENT.)", "PredefinedType", ".ELEMENT."},
		{"IFC4", ",.ELEMENT.)", "CompositionType", ""},
		{"IFC4X3_ADD2", ",.ELEMENT.)", "Tag", "'tag'"},
		{"ifc4x1", ",.ELEMENT.)", "Name", "'n'"},
	} {
		f := parse(t, strings.Replace(head, "IFC4", c.schema, 1)+"#1=IFCBUILDINGELEMENTPROXY"+args+c.tail+";\n", Options{})
		i, _ := f.Get(1)
		if got := string(i.Attr(c.attr).Raw()); got != c.want {
			t.Errorf("%s %s: %q, want %q", c.schema, c.attr, got, c.want)
		}
	}
}

// TestTables compares the embedded tables with the list made from the EXPRESS
// schemas of the standard, where that lies beside the checkout.
func TestTables(t *testing.T) {
	file, err := os.Open(filepath.Join("..", "..", "shared", "reference", "entities.tsv"))
	if err != nil {
		t.Skip("the list of entities is not beside the checkout")
	}
	defer file.Close()
	number := map[string]Schema{"IFC2X3": IFC2X3, "IFC4": IFC4, "IFC4X3_ADD2": IFC4X3}
	e := known()
	lines := 0
	for s := bufio.NewScanner(file); s.Scan(); {
		c := strings.Split(s.Text(), "\t")
		schema, ok := number[c[0]]
		if !ok {
			continue
		}
		ty := TypeOf(c[1])
		if ty == 0 || ty.String() != c[1] {
			t.Fatalf("%s: unknown", c[1])
		}
		tb := &e.tables[schema]
		if super := tb.super[ty].String(); super != c[3] && (super != "" || c[3] != "-") {
			t.Errorf("%s %s: supertype %q, want %q", c[0], c[1], super, c[3])
		}
		if c[4] != "-1" {
			if got := tb.position(ty, c[5]); strconv.Itoa(got) != c[4] {
				t.Errorf("%s %s.%s: position %d, want %s", c[0], c[1], c[5], got, c[4])
			}
		}
		lines++
	}
	if lines < 15000 {
		t.Errorf("only %d lines compared", lines)
	}
}

// TestPublicModels counts instances with an independent pattern.
func TestPublicModels(t *testing.T) {
	models, _ := filepath.Glob(filepath.Join("..", "..", "shared", "data", "models", "*.ifc"))
	if len(models) == 0 {
		t.Skip("no public models beside the checkout")
	}
	pattern := regexp.MustCompile(`(?m)^\s*#(\d+)\s*=\s*([A-Z0-9]+)`)
	for _, path := range models {
		f, err := Open(path, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if want := len(pattern.FindAll(f.Data(), -1)); f.Len() != want {
			t.Errorf("%s: %d instances, want %d", path, f.Len(), want)
		}
		if p := f.Problems(); len(p) > 0 {
			t.Errorf("%s: %v", path, p[0])
		}
	}
}

func ExampleFile_Of() {
	f, err := Parse("wall.ifc", []byte(head+"#10=IFCWALL('2O2Fr$t4X7Zf8NOew3FNr2',$,'WP-03',$,$,$,$,$,$);\n"), Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, w := range f.Of(TypeOf("IfcElement")) {
		name, _ := w.Attr("Name").Str()
		fmt.Println(w.Name(), name, "line", f.Line(w))
	}
	// Output: IfcWall WP-03 line 8
}

func BenchmarkDecode(b *testing.B) {
	f, err := Parse("a", []byte(head+"#1=IFCCARTESIANPOINT((1234.5,-67.25,89.125));\n"), Options{})
	if err != nil {
		b.Fatal(err)
	}
	i, _ := f.Get(1)
	var buf []float64
	for b.Loop() {
		buf = i.Arg(0).Floats(buf[:0])
	}
}
