package ifcread

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the files that tests compare with")

// TestCorpus reads the files in testdata, each named by what is special about
// it, and compares with what stands in the .want file beside it.
func TestCorpus(t *testing.T) {
	paths, _ := filepath.Glob(filepath.Join("testdata", "*.ifc"))
	xml, _ := filepath.Glob(filepath.Join("testdata", "*.ifcxml"))
	if len(paths) == 0 || len(xml) == 0 {
		t.Fatal("no files in testdata")
	}
	for _, path := range append(paths, xml...) {
		name := strings.TrimSuffix(path, filepath.Ext(path))
		t.Run(filepath.Base(name), func(t *testing.T) {
			got := describe(path)
			wantPath := name + ".want"
			if *update {
				if err := os.WriteFile(wantPath, []byte(got), 0o666); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(wantPath)
			if err != nil {
				t.Fatal(err)
			}
			if got != string(want) {
				t.Errorf("read\n%s\nwant\n%s", got, want)
			}
		})
	}
}

// describe is all that can be read of a file, in lines.
func describe(path string) string {
	f, err := Open(path, Options{})
	if err != nil {
		return "error: " + filepath.ToSlash(err.Error()) + "\n"
	}
	var b strings.Builder
	h := f.Header()
	fmt.Fprintf(&b, "%s: %q by %q at %q\n", f.Schema(), h.Name, h.System, h.TimeStamp)
	for row := range f.offs {
		i := Inst{f, uint32(row)}
		fmt.Fprintf(&b, "%d: #%d %s", f.Line(i), i.ID(), i.Name())
		attrs := f.Attrs(i.Type())
		for k, v := range i.Args(nil) {
			if v.IsNull() {
				continue
			}
			name := fmt.Sprint(k)
			if k < len(attrs) {
				name = attrs[k].Name
			}
			fmt.Fprintf(&b, " %s=%s", name, show(v))
		}
		b.WriteByte('\n')
	}
	for _, p := range f.Problems() {
		b.WriteString(filepath.ToSlash(p.Error()) + "\n")
	}
	return b.String()
}

// show is a value as its methods tell it.
func show(v Value) string {
	switch v.Kind() {
	case Null, Derived:
		return string(append(v.Raw(), '?')[0])
	case Int, Real:
		x, ok := v.Float()
		if !ok {
			return "no number"
		}
		return fmt.Sprint(x)
	case String:
		s, _ := v.Str()
		return fmt.Sprintf("%q", s)
	case Enum:
		return "." + v.Enum() + "."
	case Ref:
		id, _ := v.Ref()
		i, ok := v.Inst()
		if !ok {
			return fmt.Sprintf("#%d (missing)", id)
		}
		return fmt.Sprintf("#%d %s", id, i.Name())
	case List:
		var members []string
		for m := range v.All() {
			members = append(members, show(m))
		}
		return "(" + strings.Join(members, " ") + ")"
	case Typed:
		name, inner, ok := v.Typed()
		if !ok {
			return "bad type"
		}
		return name + ":" + show(inner)
	}
	return fmt.Sprintf("bad %q", v.Raw())
}
