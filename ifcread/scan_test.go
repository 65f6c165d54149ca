package ifcread

import (
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

const head = "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION((''),'2;1');\nFILE_NAME('a.ifc','2026-01-02T03:04:05',(''),(''),'p','s','');\nFILE_SCHEMA(('IFC4'));\nENDSEC;\nDATA;\n"

func parse(t *testing.T, text string, o Options) *File {
	t.Helper()
	f, err := Parse("test.ifc", []byte(text), o)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// seen lists the instances of a file as "#id=Name(args)".
func seen(f *File) []string {
	var out []string
	for row := range f.offs {
		i := Inst{f, uint32(row)}
		var args []string
		for _, a := range i.Args(nil) {
			args = append(args, string(a.Raw()))
		}
		out = append(out, fmt.Sprintf("#%d=%s(%s)", i.ID(), i.Name(), strings.Join(args, ",")))
	}
	return out
}

// The syntax that real files were seen to have, each by its name.
var quirks = []struct {
	name, data string
	want       []string
	problems   []error
}{
	{"plain", "#1=IFCWALL('a',$,*);\n#2=IFCSLAB(#1);\nENDSEC;\nEND-ISO-10303-21;\n",
		[]string{"#1=IfcWall('a',$,*)", "#2=IfcSlab(#1)"}, nil},
	{"blanks around the equals sign", "#1 = IFCWALL ( 'a' , $ ) ;\n", []string{"#1=IfcWall('a',$)"}, nil},
	{"CR-only line ends", "#1=IFCWALL($);\r#2=IFCSLAB($);\r", []string{"#1=IfcWall($)", "#2=IfcSlab($)"}, nil},
	{"CRLF line ends", "#1=IFCWALL($);\r\n#2=IFCSLAB($);\r\n", []string{"#1=IfcWall($)", "#2=IfcSlab($)"}, nil},
	{"all on one line", "#1=IFCWALL($);#2=IFCSLAB($);", []string{"#1=IfcWall($)", "#2=IfcSlab($)"}, nil},
	{"line breaks inside an instance", "#1=\nIFCWALL\n(\n$,(1.,\n2.)\n)\n;\n", []string{"#1=IfcWall($,(1.,\n2.))"}, nil},
	{"comments between any tokens", "/* a */#1/*b*/=/*c*/IFCWALL/*(*/(/*d*/$/*e*/,/*;*/'x'/*'*/)/*f*/;/* #9=IFCSLAB($); */\n",
		[]string{"#1=IfcWall($,'x')"}, nil},
	{"semicolon, bracket and quote in a string", "#1=IFCWALL('a;b)''c',$);\n", []string{"#1=IfcWall('a;b)''c',$)"}, nil},
	{"string over several lines", "#1=IFCWALL('a\nb',$);\n#2=IFCSLAB($);\n", []string{"#1=IfcWall('a\nb',$)", "#2=IfcSlab($)"}, nil},
	{"lower-case keyword", "#1=IfcWall($);\n", []string{"#1=IfcWall($)"}, nil},
	{"unknown entity", "#1=IFCNOSUCHTHING($);\n#2=IFCSLAB($);\n", []string{"#1=IFCNOSUCHTHING($)", "#2=IfcSlab($)"}, []error{ErrUnknown}},
	{"lost semicolon", "#1=IFCWALL($)\n#2=IFCSLAB($);\n#3=IFCBEAM($);\n", []string{"#2=IfcSlab($)", "#3=IfcBeam($)"}, []error{ErrSyntax}},
	{"lost quote", "#1=IFCWALL('a,$);\n#2=IFCSLAB('b');\n#3=IFCBEAM($);\n", []string{"#2=IfcSlab('b')", "#3=IfcBeam($)"}, []error{ErrSyntax}},
	{"no entity", "#1=;\n#2=IFCSLAB($);\n", []string{"#2=IfcSlab($)"}, []error{ErrSyntax}},
	{"no equals sign", "#1 IFCWALL($);\n#2=IFCSLAB($);\n", []string{"#2=IfcSlab($)"}, []error{ErrSyntax}},
	{"stray text", "garbage;\n;;\n#2=IFCSLAB($);\n", []string{"#2=IfcSlab($)"}, nil},
	{"number used twice", "#1=IFCWALL('a');\n#1=IFCWALL('b');\n", []string{"#1=IfcWall('a')", "#1=IfcWall('b')"}, []error{ErrDuplicate}},
	{"two data sections", "#1=IFCWALL($);\nENDSEC;\nDATA;\n#2=IFCSLAB($);\nENDSEC;\n", []string{"#1=IfcWall($)", "#2=IfcSlab($)"}, nil},
	{"numbers over 2^31", "#1=IFCWALL($);\n#5000000000=IFCSLAB(#1);\n", []string{"#1=IfcWall($)", "#5000000000=IfcSlab(#1)"}, nil},
	{"cut in a string", "#1=IFCWALL($);\n#2=IFCSLAB('abc", []string{"#1=IfcWall($)"}, []error{ErrCut}},
	{"cut in a list", "#1=IFCWALL($);\n#2=IFCSLAB((1.,2.", []string{"#1=IfcWall($)"}, []error{ErrCut}},
	{"cut behind a whole instance", "#1=IFCWALL($);\n#2=IFCSLAB($)", []string{"#1=IfcWall($)", "#2=IfcSlab($)"}, nil},
	{"empty list and empty parameter", "#1=IFCWALL((),,$);\n", []string{"#1=IfcWall((),,$)"}, nil},
	{"raw bytes above 127", "#1=IFCWALL('\xe4\xff',$);\n", []string{"#1=IfcWall('\xe4\xff',$)"}, nil},
}

func TestQuirks(t *testing.T) {
	for _, q := range quirks {
		t.Run(q.name, func(t *testing.T) {
			f := parse(t, head+q.data, Options{Workers: 1})
			if got := seen(f); !slices.Equal(got, q.want) {
				t.Errorf("read %q, want %q", got, q.want)
			}
			var kinds []error
			for _, p := range f.Problems() {
				kinds = append(kinds, p.Err)
			}
			if len(kinds) != len(q.problems) {
				t.Fatalf("problems %v, want %v", kinds, q.problems)
			}
			for i := range kinds {
				if !errors.Is(kinds[i], q.problems[i]) {
					t.Errorf("problem %v, want %v", kinds[i], q.problems[i])
				}
			}
		})
	}
}

// TestChunks reads random sequences of all quirks in ranges of a few bytes on
// several workers: the result has to be that of one scan.
func TestChunks(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 300 {
		var text strings.Builder
		text.WriteString(head)
		for k := range 1 + r.IntN(12) {
			q := quirks[r.IntN(len(quirks))]
			if strings.HasPrefix(q.name, "cut") {
				continue
			}
			text.WriteString(strings.ReplaceAll(q.data, "#1", fmt.Sprintf("#%d", 100+k)))
		}
		whole, err := Parse("test.ifc", []byte(text.String()), Options{Workers: 1, chunk: 1 << 20})
		if err != nil {
			continue
		}
		for _, chunk := range []int{1, 7, 30, 100} {
			parts := parse(t, text.String(), Options{Workers: 3, chunk: chunk})
			if got, want := seen(parts), seen(whole); !slices.Equal(got, want) {
				t.Fatalf("chunk %d: read %q, want %q of\n%s", chunk, got, want, text.String())
			}
			if got, want := fmt.Sprint(parts.Problems()), fmt.Sprint(whole.Problems()); got != want {
				t.Fatalf("chunk %d: problems %s, want %s", chunk, got, want)
			}
		}
	}
}

// slowInstances is the slow twin of the scanner for well-formed text: one byte
// at a time, no shortcuts.
func slowInstances(text string) []string {
	var out []string
	var cur strings.Builder
	inString, inComment := false, false
	for i := 0; i < len(text); i++ {
		c := text[i]
		switch {
		case inComment:
			if c == '*' && i+1 < len(text) && text[i+1] == '/' {
				inComment = false
				i++
			}
		case inString:
			cur.WriteByte(c)
			inString = c != '\''
		case c == '/' && i+1 < len(text) && text[i+1] == '*':
			inComment = true
			i++
		case c == '\'':
			inString = true
			cur.WriteByte(c)
		case c == ';':
			if s := strings.TrimSpace(cur.String()); strings.HasPrefix(s, "#") {
				id, _, _ := strings.Cut(s, "=")
				out = append(out, strings.TrimSpace(id))
			}
			cur.Reset()
		default:
			cur.WriteByte(c)
		}
	}
	return out
}

func TestScanAgainstSlowTwin(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	pieces := []string{"'a''b;'", "$", "*", "#7", "12.5", ".T.", "(1.,(2.,3.))", "'x\n#5=y'", "/* ; ' */", " ", "\n", "IFCLABEL('q)')", "''"}
	for n := range 500 {
		var text strings.Builder
		text.WriteString(head)
		for k := range 1 + r.IntN(20) {
			fmt.Fprintf(&text, "#%d%s=%sIFCWALL(", k+1, strings.Repeat(" ", r.IntN(2)), strings.Repeat("\n", r.IntN(2)))
			for j := range r.IntN(6) {
				if j > 0 {
					text.WriteByte(',')
				}
				p := pieces[r.IntN(len(pieces))]
				if strings.Contains(p, "\n#5") { // a string that a lost quote cannot be told from
					p = "'x\n 5=y'"
				}
				text.WriteString(p)
			}
			text.WriteString(")" + []string{"", " ", "/* c */"}[r.IntN(3)] + ";" + []string{"", "\n", "\r\n"}[r.IntN(3)])
		}
		f := parse(t, text.String(), Options{Workers: 2, chunk: 1 + r.IntN(80)})
		var got []string
		for row := range f.offs {
			got = append(got, fmt.Sprintf("#%d", Inst{f, uint32(row)}.ID()))
		}
		if want := slowInstances(text.String()); !slices.Equal(got, want) {
			t.Fatalf("#%d: read %v, want %v of\n%s", n, got, want, text.String())
		}
	}
}

func TestProblemNamesThePlace(t *testing.T) {
	f := parse(t, head+"#1=IFCWALL(#99);\n#2 IFCSLAB($);\n", Options{})
	w, _ := f.Get(1)
	if _, ok := w.Arg(0).Inst(); ok {
		t.Error("#99 was found")
	}
	if _, ok := w.Arg(0).Inst(); ok {
		t.Error("#99 was found")
	}
	p := f.Problems()
	if len(p) != 2 {
		t.Fatalf("%d problems, want 2: a missing reference is told once", len(p))
	}
	if p[0].Line != 8 || p[0].ID != 1 || p[0].Entity != "IFCWALL" || !errors.Is(p[0], ErrMissing) {
		t.Errorf("first problem %+v", p[0])
	}
	if want := "test.ifc:9: #2="; !strings.HasPrefix(p[1].Error(), want) {
		t.Errorf("second problem %q, want it to begin with %q", p[1].Error(), want)
	}
}

func TestManyProblemsAreCounted(t *testing.T) {
	f := parse(t, head+strings.Repeat("#1 X;\n", 80)+"#2=IFCWALL($);\n", Options{})
	p := f.Problems()
	if len(p) != maxProblems || !strings.Contains(p[len(p)-1].Error(), "30 more") {
		t.Errorf("%d problems, the last %q", len(p), p[len(p)-1].Error())
	}
}

func TestNoIFC(t *testing.T) {
	for name, text := range map[string]string{
		"empty":          "",
		"other text":     "hello world",
		"unknown schema": strings.Replace(head, "IFC4", "AP214", 1) + "#1=IFCWALL($);",
		"no instance":    head,
		"pdf":            "%PDF-1.4\n" + string(bytes.Repeat([]byte{0, 255}, 100)),
	} {
		if _, err := Parse("x.ifc", []byte(text), Options{}); err == nil || !strings.HasPrefix(err.Error(), "x.ifc: ") {
			t.Errorf("%s: error %v, want one that names the file", name, err)
		}
	}
}

func FuzzParse(f *testing.F) {
	for _, q := range quirks {
		f.Add([]byte(head + q.data))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		a, err := Parse("a", bytes.Clone(data), Options{Workers: 1, chunk: 1 << 30})
		if err != nil {
			return
		}
		b, err := Parse("a", data, Options{Workers: 2, chunk: 16})
		if err != nil {
			t.Fatal("in ranges:", err)
		}
		if x, y := seen(a), seen(b); !slices.Equal(x, y) {
			t.Fatalf("whole %q, in ranges %q", x, y)
		}
		for _, p := range a.Problems() {
			if p.Offset < 0 || p.Offset > int64(len(data)) {
				t.Errorf("%v: offset outside of the %d bytes", p, len(data))
			}
		}
		for row := range a.offs {
			for _, v := range (Inst{a, uint32(row)}).Args(nil) {
				v.Str()
				v.Float()
				v.Int()
				v.Inst()
				v.Floats(nil)
				v.Ints(nil)
				v.Refs(nil)
				v.Typed()
			}
		}
	})
}
