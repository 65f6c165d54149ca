package ifcread

import (
	"errors"
	"fmt"
	"strings"
	"sync"
	"testing"
)

func TestProblemNamesThePlace(t *testing.T) {
	f := parse(t, head+"#1=IFCWALL(#99);\n#2 IFCSLAB($);\n"+tail, Options{})
	w, _ := f.Get(1)
	for range 2 {
		if _, ok := w.Arg(0).Inst(); ok {
			t.Error("#99 was found")
		}
	}
	p := f.Problems()
	if len(p) != 2 {
		t.Fatalf("%d problems, want 2: a missing instance is told once", len(p))
	}
	if p[0].File != "test.ifc" || p[0].Line != 8 || p[0].ID != 1 || p[0].Entity != "IFCWALL" || p[0].Offset != int64(len(head)) || !errors.Is(p[0], ErrMissing) {
		t.Errorf("first problem %+v", p[0])
	}
	if want := "test.ifc:8: #1=IFCWALL: missing instance: it refers to #99, "; !strings.HasPrefix(p[0].Error(), want) {
		t.Errorf("first problem %q, want it to begin with %q", p[0].Error(), want)
	}
	if want := "test.ifc:9: #2=IFCSLAB: broken statement: "; !strings.HasPrefix(p[1].Error(), want) || !errors.Is(p[1], ErrSyntax) {
		t.Errorf("second problem %q, want it to begin with %q", p[1].Error(), want)
	}
}

func TestManyProblemsAreCounted(t *testing.T) {
	for n, want := range map[int]string{maxFaults: "", maxFaults + 1: "(and 1 more like this)", maxFaults + 30: "(and 30 more like this)"} {
		for _, chunk := range []int{40, 1 << 20} {
			f := parse(t, head+strings.Repeat("#1 X;\n", n)+"#2=IFCWALL($);\n"+strings.Repeat("text;\n", 3)+tail, Options{Workers: 2, chunk: chunk})
			p := f.Problems()
			if len(p) != maxFaults+3 {
				t.Fatalf("%d problems, want %d", len(p), maxFaults+3)
			}
			last := p[maxFaults-1].Error()
			if want == "" && strings.Contains(last, "more like this") || !strings.HasSuffix(last, want) {
				t.Errorf("of %d the last is %q, want it to end with %q", n, last, want)
			}
		}
	}
}

// TestLateProblemsInAnyOrder looks references up forwards, backwards and from
// many goroutines: the problems are the same.
func TestLateProblemsInAnyOrder(t *testing.T) {
	const n = 3*maxLate + 7
	var text strings.Builder
	text.WriteString(head)
	for i := range n {
		fmt.Fprintf(&text, "#%d=IFCWALL(#%d,#1000000);\n", i+1, 2000000-i)
	}
	look := func(f *File, row int) {
		for _, v := range (Inst{f, uint32(row)}).Args(nil) {
			v.Inst()
		}
	}
	var told []string
	for _, order := range []string{"forwards", "backwards", "at a time"} {
		f := parse(t, text.String()+tail, Options{})
		switch order {
		case "forwards":
			for row := range n {
				look(f, row)
			}
		case "backwards":
			for row := n - 1; row >= 0; row-- {
				look(f, row)
			}
		default:
			var wg sync.WaitGroup
			for from := range 4 {
				wg.Go(func() {
					for row := from; row < n; row += 4 {
						look(f, row)
					}
				})
			}
			wg.Wait()
		}
		told = append(told, fmt.Sprint(f.Problems()))
	}
	if told[1] != told[0] || told[2] != told[0] {
		t.Error("the problems depend on the order of look-ups")
	}
	if !strings.Contains(told[0], "#1=IFCWALL: missing instance: it refers to #1000000,") || !strings.Contains(told[0], fmt.Sprintf("(and %d more like this)", maxLate-maxFaults)) {
		t.Errorf("problems %.2000s", told[0])
	}
}

func TestLines(t *testing.T) {
	for name, end := range map[string]string{"LF": "\n", "CRLF": "\r\n", "CR": "\r"} {
		var text strings.Builder
		text.WriteString(strings.ReplaceAll(head, "\n", end))
		const n = 5000 // several pieces of the line table
		for i := range n {
			fmt.Fprintf(&text, "#%d=IFCLABELLED('%s');%s", i+1, strings.Repeat("x", i%37), end)
		}
		f := parse(t, text.String(), Options{})
		for row := n - 1; row >= 0; row -= 97 {
			if got, want := f.Line(Inst{f, uint32(row)}), 8+row; got != want {
				t.Fatalf("%s: #%d is on line %d, want %d", name, row+1, got, want)
			}
		}
	}
	if (&File{}).Line(Inst{}) != 0 {
		t.Error("no instance has a line")
	}
}
