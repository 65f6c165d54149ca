package ifcread

import (
	"cmp"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

const (
	head = "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION((''),'2;1');\nFILE_NAME('a.ifc','2026-01-02T03:04:05',(''),(''),'p','s','');\nFILE_SCHEMA(('IFC4'));\nENDSEC;\nDATA;\n"
	tail = "ENDSEC;\nEND-ISO-10303-21;\n"
)

func parse(t testing.TB, text string, o Options) *File {
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

// scanned lists what the scanner found, as twinScan does.
func scanned(f *File) []string {
	var out []string
	for row, at := range f.offs {
		i := Inst{f, uint32(row)}
		out = append(out, fmt.Sprintf("%d #%s %s", at, digitsAt(f, at), f.keywordText(i)))
	}
	for _, p := range f.faults.list {
		if kind := kindName(reasons[p.why].kind); kind != "duplicate" {
			out = append(out, fmt.Sprintf("%d %s", p.at, kind))
		}
	}
	slices.SortStableFunc(out, func(a, b string) int { return cmp.Compare(offsetOf(a), offsetOf(b)) })
	return out
}

func digitsAt(f *File, at uint32) string {
	b := f.data[at+1:]
	n := 0
	for n < len(b) && b[n] >= '0' && b[n] <= '9' {
		n++
	}
	return string(b[:n])
}

// keywordText is the keyword as written, also where the number is 0.
func (f *File) keywordText(i Inst) string {
	at := skipBlank(f.data, f.keyword(int(f.offs[i.row])))
	return string(f.data[at:skipWord(f.data, at)])
}

func kindName(err error) string {
	for name, kind := range map[string]error{"syntax": ErrSyntax, "cut": ErrCut, "duplicate": ErrDuplicate, "unknown": ErrUnknown, "missing": ErrMissing} {
		if errors.Is(err, kind) {
			return name
		}
	}
	return "no kind"
}

// sameAsTwin reads text whole and in small ranges on several workers, and
// compares with the slow twin. Faults beyond the first 50 are not listed, so
// texts have to have fewer.
func sameAsTwin(t testing.TB, text string, chunks ...int) {
	t.Helper()
	f := &File{name: "t", data: []byte(text)}
	from, err := f.readHeader()
	if err != nil {
		return
	}
	want := twinScan(text, from)
	for _, chunk := range append([]int{1 << 30}, chunks...) {
		f := &File{name: "t", data: []byte(text)}
		f.scan(from, 3, chunk)
		if got := sortedLines(scanned(f)); !slices.Equal(got, sortedLines(want)) {
			t.Fatalf("ranges of %d bytes:\nread %q\nwant %q\nof   %q", chunk, got, want, text[from:])
		}
	}
}

// sortedLines puts lines about one offset in one order.
func sortedLines(lines []string) []string {
	lines = slices.Clone(lines)
	slices.SortFunc(lines, func(a, b string) int { return cmp.Or(cmp.Compare(offsetOf(a), offsetOf(b)), cmp.Compare(a, b)) })
	return lines
}

// nasty are pieces of text that mislead a scanner.
var nasty = []string{
	"#1=IFCWALL('a',$,*);\n", "#2=IFCSLAB(#1);", "#3 = IFCBEAM ( $ ) ;\r\n", "#4=\nIFCWALL\n(\n$,(1.,\n2.)\n)\n;\n",
	"/* a */#5/*b*/=/*c*/IFCWALL/*(*/(/*d*/$/*e*/,/*;*/'x'/*'*/)/*f*/;", "#6=IFCWALL('a;b)''c',$);\n",
	"#7=IFCWALL('a\nb',$);\n", "#8=IfcWall($);\n", "#9=IFCNOSUCH($);\n", "#10=IFCWALL($)\n", "#11=IFCWALL('a,$);\n",
	"#12=;\n", "#13 IFCWALL($);\n", "garbage;\n", ";;", "#14=IFCPROPERTYSINGLEVALUE('it''s',$,IFCLABEL('a=b'),$);\n",
	"ENDSEC;\nDATA;\n", "DATA('x',('IFC4'));", "ENDSEC\n", "#5000000000=IFCSLAB(#1);\n", "#99999999999999999999=IFCSLAB(#1);\n",
	"/* #15=IFCSLAB($);\n#16=IFCSLAB($);\n */", "'\n#17=IFCSLAB($);\n'", "/*", "*/", "'", "\"", "\\", "\r", "\n", " ", "#", "=", "(", ")", ";", "/",
	"#18=(IFCWALL($)IFCSLAB($));\n", "#19=IFCWALL($;\n", "#20=IFCWALL(1;2);\n", "#21=IFCPOLYLINE((#1,#2),/**/);", "#22=IFCWALL('\n  #23=IFCSLAB($);\n",
	"\t#24=IFCSLAB($);\n", "#25=IFCWALL('/*',$);\n", "#26=IFCWALL($)/* ; */;", "#27=IFCWALL($)*/;\n", "#28=<a#b>;\n", "END-ISO-10303-21;\n", "End-Iso-10303-21",
	"#29=IFCWALL(\"0F\",$);\n", "#30=IFCWALL(#1)#31=IFCSLAB(#1);\n", "\xef\xbb\xbf", "\x00", "#0=IFCSLAB();\n", "&SCOPE;", "#32=IFCWALL('é\xe9',.T.);\n", "#33=IFCWALL('\\S\\''',$);\n",
}

func TestScanIsThatOfTheTwin(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 4000 {
		var text strings.Builder
		text.WriteString(head)
		for range 1 + r.IntN(14) {
			text.WriteString(nasty[r.IntN(len(nasty))])
		}
		if r.IntN(2) == 0 {
			text.WriteString(tail)
		}
		s := text.String()
		if r.IntN(4) == 0 { // cut anywhere
			s = s[:len(head)+r.IntN(len(s)-len(head)+1)]
		}
		sameAsTwin(t, s, 1, 2+r.IntN(9), 10+r.IntN(90))
	}
}

// TestScanOfDamagedText changes single bytes of well-formed text.
func TestScanOfDamagedText(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	whole := head + strings.Repeat(strings.Join(nasty[:8], ""), 2) + tail
	const bytes = "#'=;()/*\n\r ,0A"
	for range 4000 {
		b := []byte(whole)
		for range 1 + r.IntN(4) {
			at := len(head) + r.IntN(len(b)-len(head))
			switch r.IntN(3) {
			case 0:
				b[at] = bytes[r.IntN(len(bytes))]
			case 1:
				b = slices.Delete(b, at, at+1)
			default:
				b = slices.Insert(b, at, bytes[r.IntN(len(bytes))])
			}
		}
		sameAsTwin(t, string(b), 1, 2+r.IntN(9), 10+r.IntN(90))
	}
}

// TestScanOfLargeText has statements longer than any window or range.
func TestScanOfLargeText(t *testing.T) {
	var text strings.Builder
	text.WriteString(head)
	for k := range 40 {
		fmt.Fprintf(&text, "#%d=IFCCARTESIANPOINTLIST3D((", 100+k)
		for i := range k * 400 {
			fmt.Fprintf(&text, "(%d.,%d.,0.),", i, k)
		}
		text.WriteString("(0.,0.,0.)));\n")
		fmt.Fprintf(&text, "#%d=IFCLABELLED('%s');\n/* %s */", 200+k, strings.Repeat("x;\n#=", k*500), strings.Repeat("#7=IFCWALL($);\n", k*300))
	}
	text.WriteString(tail)
	sameAsTwin(t, text.String(), 1000, 4096, 70000, 1<<20)
}

func TestWorkersMakeNoDifference(t *testing.T) {
	models, _ := filepath.Glob(filepath.Join("testdata", "*.ifc"))
	if len(models) < 20 {
		t.Fatalf("only %d models in testdata", len(models))
	}
	for _, path := range models {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		one, err := Parse(path, data, Options{Workers: 1})
		if err != nil {
			continue
		}
		for workers := 2; workers < 6; workers++ {
			many, err := Parse(path, data, Options{Workers: workers, chunk: 20 * workers})
			if err != nil {
				t.Fatal(err)
			}
			if got, want := seen(many), seen(one); !slices.Equal(got, want) {
				t.Errorf("%s: %d workers read %q, want %q", path, workers, got, want)
			}
			if got, want := fmt.Sprint(many.Problems()), fmt.Sprint(one.Problems()); got != want {
				t.Errorf("%s: %d workers: problems %s, want %s", path, workers, got, want)
			}
		}
	}
}
