package ifcxml_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"embedcheck/ifcread"
	"embedcheck/internal/ifcbuild/ifcxml"
)

// models are the demo, and the public models that lie beside the checkout.
func models(t *testing.T) []string {
	t.Helper()
	root := filepath.Join("..", "..", "..")
	demo, _ := filepath.Glob(filepath.Join(root, "testdata", "demo", "*.ifc"))
	if len(demo) == 0 {
		t.Fatal("no demo models")
	}
	public, _ := filepath.Glob(filepath.Join(root, "..", "shared", "data", "models", "*.ifc"))
	if len(public) == 0 {
		t.Log("the public models are not beside the checkout")
	}
	return append(demo, public...)
}

// TestSameInstances writes models as XML and reads them again: every instance has
// the same number, entity and values as in clear text.
func TestSameInstances(t *testing.T) {
	for _, path := range models(t) {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		spf, err := ifcread.Parse(path, text, ifcread.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, form := range []ifcxml.Form{ifcxml.Flat, ifcxml.Labeled, ifcxml.Nested} {
			t.Run(filepath.Base(path)+" "+form.String(), func(t *testing.T) {
				got, err := ifcread.Parse("model.ifcxml", ifcxml.Write(spf, form), ifcread.Options{})
				if err != nil {
					t.Fatal(err)
				}
				compare(t, spf, got, form != ifcxml.Nested)
			})
		}
	}
}

func compare(t *testing.T, want, got *ifcread.File, numbered bool) {
	t.Helper()
	if got.Schema() != want.Schema() || got.Len() != want.Len() || got.Header().TimeStamp != want.Header().TimeStamp {
		t.Errorf("%s with %d instances of %q, want %s with %d of %q", got.Schema(), got.Len(), got.Header().TimeStamp, want.Schema(), want.Len(), want.Header().TimeStamp)
	}
	for _, p := range got.Problems() {
		t.Fatal(p)
	}
	wrong := 0
	if !numbered {
		return
	}
	for w := range want.All() {
		g, ok := got.Get(w.ID())
		if a, b := show(w), show(g); !ok || a != b {
			t.Errorf("line %d:\n%s\nwant\n%s", got.Line(g), b, a)
			if wrong++; wrong == 5 {
				t.FailNow()
			}
		}
	}
}

// show is an instance in words that do not depend on the form.
func show(i ifcread.Inst) string {
	var b strings.Builder
	fmt.Fprintf(&b, "#%d %s", i.ID(), i.Name())
	for _, v := range i.Args(nil) {
		b.WriteString(" " + value(v))
	}
	return b.String()
}

func value(v ifcread.Value) string {
	if name, inner, ok := v.Typed(); ok {
		return name + ":" + value(inner)
	}
	switch v.Kind() {
	case ifcread.List:
		var list []string
		for m := range v.All() {
			list = append(list, value(m))
		}
		return "(" + strings.Join(list, " ") + ")"
	case ifcread.Int, ifcread.Real:
		x, _ := v.Float()
		return fmt.Sprint(x)
	case ifcread.String:
		s, _ := v.Str()
		return fmt.Sprintf("%q", s)
	case ifcread.Enum:
		return v.Enum()
	case ifcread.Null:
		return "$"
	}
	return string(v.Raw())
}
