package ifcread

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"embedcheck/internal/bounded"
)

// allowance is what reading a file may take.
var allowance = bounded.Limit{Base: 2 << 20, PerByte: 300}

// FuzzScan compares the scanner, whole and in ranges, with its slow twin.
func FuzzScan(f *testing.F) {
	for i, s := range nasty {
		f.Add([]byte(s+nasty[(i*7+3)%len(nasty)]+tail), uint16(i))
	}
	f.Fuzz(func(t *testing.T, data []byte, chunk uint16) {
		text := head + string(data)
		whole := &File{data: []byte(text)}
		whole.scan(len(head)-len("DATA;\n"), 1, 1<<30)
		for _, n := range whole.faults.count {
			if n > maxFaults {
				t.Skip("more problems than are listed")
			}
		}
		sameAsTwin(t, text, 1, 1+int(chunk))
	})
}

// FuzzParse reads whole files, and all their values.
func FuzzParse(f *testing.F) {
	paths, _ := filepath.Glob(filepath.Join("testdata", "*.ifc"))
	for _, path := range paths {
		data, err := os.ReadFile(path)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		var one *File
		var err error
		bounded.Work(t, len(data), allowance, func() { one, err = Parse("a", data, Options{Workers: 1}) })
		if err != nil {
			return
		}
		many, err := Parse("a", data, Options{Workers: 3, chunk: 1 + len(data)/7})
		if err != nil {
			t.Fatal("in ranges:", err)
		}
		if x, y := seen(one), seen(many); !slices.Equal(x, y) {
			t.Fatalf("whole %q, in ranges %q", x, y)
		}
		last := -1
		for row, at := range one.offs {
			if int(at) <= last || int(at) >= len(data) || data[at] != '#' {
				t.Fatalf("instance at byte %d of %d behind %d", at, len(data), last)
			}
			last = int(at)
			i := Inst{one, uint32(row)}
			if found, ok := one.Get(i.ID()); !ok || found.row > i.row {
				t.Fatalf("#%d is not found, or not the first", i.ID())
			}
			for _, v := range i.Args(nil) {
				checkValue(t, v, 0)
			}
		}
		line := 1
		for _, p := range one.Problems() {
			if p.Offset < 0 || p.Offset > int64(len(data)) || p.Line < line {
				t.Fatalf("%v: byte %d of %d, line %d behind %d", p, p.Offset, len(data), p.Line, line)
			}
			line = p.Line
		}
	})
}

// FuzzXML reads whole XML files, and all their values.
func FuzzXML(f *testing.F) {
	paths, _ := filepath.Glob(filepath.Join("testdata", "*.ifcxml"))
	for _, path := range paths {
		data, err := os.ReadFile(path)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if !isXML(data) {
			return
		}
		var file *File
		var err error
		bounded.Work(t, len(data), allowance, func() { file, err = Parse("a", data, Options{Workers: 1}) })
		if err != nil {
			return
		}
		if n := len(file.xml.lines); file.Len() != n-1 || n != len(file.xml.offsets) {
			t.Fatalf("%d instances from %d places", file.Len(), n-1)
		}
		for i := range file.All() {
			if line := file.Line(i); line < 1 || line > 1+bytes.Count(data, []byte{'\n'}) {
				t.Fatalf("#%d is on line %d", i.ID(), line)
			}
			args := i.Args(nil)
			if want := len(file.Attrs(i.Type())); len(args) != want {
				t.Fatalf("#%d=%s has %d parameters, want %d", i.ID(), i.Name(), len(args), want)
			}
			for _, v := range args {
				if v.Kind() == Bad {
					t.Fatalf("#%d=%s: bad value %q", i.ID(), i.Name(), v.Raw())
				}
				checkValue(t, v, 0)
			}
		}
		for _, p := range file.Problems() {
			if p.Line < 1 || p.Offset < 0 || errors.Is(p.Err, ErrCut) || errors.Is(p.Err, ErrSyntax) {
				t.Fatal(p)
			}
		}
	})
}

// FuzzValue reads one parameter list.
func FuzzValue(f *testing.F) {
	for _, s := range []string{"$", "*", "12,-3.5E2,.5", "'it''s',$", "((1.,2.),(3,$))", "IFCLABEL('x')", "IFCA(IFCB(1.))", "#1,(#1,#2)", ".T.,.F.,.U.",
		"\"0FF\"", "(1./*)*/,2.)/*,*/", "1.#IND,NaN", "(IFCX(1.),2.)", "(('a',(')')),", ",,", "1e400,00000000000000000000000001.", "(1 2,'3')"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		file, err := Parse("a", []byte(head+"#1=IFCWALL("+string(data)+");\n#2=IFCSLAB($);\n"+tail), Options{Workers: 1})
		if err != nil {
			return
		}
		i, ok := file.Get(1)
		if !ok {
			return
		}
		args := i.Args(nil)
		for n, v := range args {
			if one := i.Arg(n); one != v {
				t.Fatalf("parameter %d is %q or %q", n, v.Raw(), one.Raw())
			}
			checkValue(t, v, 0)
		}
		if v := i.Arg(len(args)); !v.IsNull() {
			t.Fatalf("behind the last parameter: %q", v.Raw())
		}
	})
}

// checkValue checks what has to hold for any value.
func checkValue(t *testing.T, v Value, depth int) {
	t.Helper()
	kind, raw := v.Kind(), v.Raw()
	if len(raw) > 0 && (raw[0] <= ' ' || raw[len(raw)-1] <= ' ') {
		t.Fatalf("%q has blanks around it", raw)
	}
	if x, ok := v.Float(); ok {
		if kind != Int && kind != Real && kind != Typed || math.IsNaN(x) || math.IsInf(x, 0) {
			t.Fatalf("%q is the number %v", raw, x)
		}
		if want, err := strconv.ParseFloat(string(v.inner().Raw()), 64); err != nil || want != x {
			t.Fatalf("%q is %v, want %v", raw, x, want)
		}
	}
	if x, ok := v.Int(); ok {
		if y, isFloat := v.Float(); !isFloat || math.Abs(y-float64(x)) > math.Abs(y)*1e-15 {
			t.Fatalf("%q is the integer %d and the number %v", raw, x, y)
		}
	}
	if s, ok := v.Str(); ok && !utf8.ValidString(s) {
		t.Fatalf("%q gives the string %q", raw, s)
	}
	if _, ok := v.Ref(); ok && kind != Ref {
		t.Fatalf("%q is a reference", raw)
	}
	if _, ok := v.Bool(); ok && kind != Enum && kind != Typed {
		t.Fatalf("%q is a boolean", raw)
	}
	v.Inst()
	v.Enum()
	members := 0
	for m := range v.List {
		members++
		if m.off < v.off || m.off+m.n > v.off+v.n {
			t.Fatalf("%q has the member %q from outside", raw, m.Raw())
		}
		if kind == List && depth < 20 {
			checkValue(t, m, depth+1)
		}
	}
	if n := v.Len(); n != members {
		t.Fatalf("%q has %d members and a length of %d", raw, members, n)
	}
	if len(v.Refs(nil)) > members {
		t.Fatalf("%q has more references than its %d members", raw, members)
	}
	if a, b := len(v.Floats(nil)), len(v.Ints(nil)); kind == List && a != b {
		t.Fatalf("%q has %d numbers or %d", raw, a, b)
	}
	if name, inner, ok := v.Typed(); ok {
		if name == "" || kind != Typed {
			t.Fatalf("%q is of type %q", raw, name)
		}
		if depth < 20 {
			checkValue(t, inner, depth+1)
		}
	}
}

func FuzzDecodeString(f *testing.F) {
	for _, s := range []string{`\X2\00C4\X0\`, `\S\D`, `it''s`, `\X4\0001F600\X0\`, "\xff", `\PE\\S\0`, `\X2\D83D\X0\\X2\DE00\X0\`, `\\X2\\00C4`} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, raw []byte) {
		var got string
		bounded.Work(t, len(raw), bounded.Limit{Base: 2 << 20, PerByte: 16}, func() { got = DecodeString(raw) })
		if !utf8.ValidString(got) || len(got) > 3*len(raw) {
			t.Fatalf("%q gives %q", raw, got)
		}
		if !bytes.ContainsAny(raw, "\\'\r\n") && utf8.Valid(raw) && got != string(raw) {
			t.Fatalf("%q gives %q", raw, got)
		}
		// What an exporter writes in place of any string comes back as it was.
		if back := DecodeString([]byte(encodeX2(got))); back != got {
			t.Fatalf("%q comes back as %q", got, back)
		}
	})
}

// encodeX2 writes every character as UTF-16 in hexadecimal digits.
func encodeX2(s string) string {
	var out strings.Builder
	out.WriteString(`\X2\`)
	for _, r := range s {
		if r >= 0x10000 {
			r -= 0x10000
			fmt.Fprintf(&out, "%04X%04x", 0xD800+r>>10, 0xDC00+r&0x3FF)
		} else {
			fmt.Fprintf(&out, "%04X", r)
		}
	}
	out.WriteString(`\X0\`)
	return out.String()
}
