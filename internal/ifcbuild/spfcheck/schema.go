package spfcheck

import (
	"fmt"
	"os"
	"strings"
)

// Attribute is one attribute of an entity as the schema declares it.
type Attribute struct {
	Name              string
	Optional, Derived bool
	Type              string
}

// Entity is an entity with all its attributes, inherited ones first.
type Entity struct {
	Abstract bool
	Attrs    []Attribute
}

// Schemas are entities by schema and keyword.
type Schemas map[string]map[string]*Entity

// ReadSchemas reads a table with the columns schema, entity, abstract,
// supertype, index, attribute, optional, derived, type, declared_in.
func ReadSchemas(path string) (Schemas, error) {
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	out := Schemas{}
	for i, line := range strings.Split(strings.TrimSpace(string(text)), "\n") {
		c := strings.Split(line, "\t")
		if i == 0 || len(c) < 9 {
			continue
		}
		if out[c[0]] == nil {
			out[c[0]] = map[string]*Entity{}
		}
		k := strings.ToUpper(c[1])
		e := out[c[0]][k]
		if e == nil {
			e = &Entity{Abstract: c[2] == "1"}
			out[c[0]][k] = e
		}
		if c[4] != "-1" {
			e.Attrs = append(e.Attrs, Attribute{Name: c[5], Optional: c[6] == "1", Derived: c[7] == "1", Type: c[8]})
		}
	}
	return out, nil
}

// Against holds the file against the attribute lists of its schema.
func (f *File) Against(all Schemas) []error {
	table := all[f.Schema]
	if table == nil {
		return []error{fmt.Errorf("schema %q is not in the table", f.Schema)}
	}
	var errs []error
	for _, i := range f.Insts {
		bad := func(format string, args ...any) {
			errs = append(errs, fmt.Errorf("#%d=%s: %s", i.ID, i.Keyword, fmt.Sprintf(format, args...)))
		}
		e := table[i.Keyword]
		switch {
		case e == nil:
			bad("%s has no such entity", f.Schema)
		case e.Abstract:
			bad("the entity is abstract")
		case len(i.Args) != len(e.Attrs):
			bad("%d attributes, %s has %d", len(i.Args), f.Schema, len(e.Attrs))
		default:
			for k, a := range e.Attrs {
				if why := a.fits(i.Args[k]); why != "" {
					bad("attribute %s: %s", a.Name, why)
				}
			}
		}
	}
	return errs
}

func (a Attribute) fits(v Value) string {
	switch {
	case a.Derived != (v.Kind == Derived):
		return "* stands for a derived value, and for nothing else"
	case v.Kind == Unset && !a.Optional:
		return "it is mandatory"
	case v.Kind == Unset || v.Kind == Derived:
		return ""
	}
	t := a.Type
	aggregate := strings.HasPrefix(t, "LIST") || strings.HasPrefix(t, "SET") || strings.HasPrefix(t, "ARRAY") || strings.HasPrefix(t, "BAG")
	switch {
	case aggregate && v.Kind != List && v.Kind != Typed:
		return "a list is wanted"
	case aggregate && len(v.List) == 0:
		return "the list is empty"
	case aggregate:
		return ""
	case strings.HasSuffix(t, "Enum") && v.Kind != Enum:
		return "an enumerator is wanted"
	case (t == "IfcLabel" || t == "IfcText" || t == "IfcIdentifier" || t == "IfcGloballyUniqueId") && v.Kind != Text:
		return "a string is wanted"
	case strings.HasSuffix(t, "LengthMeasure") && v.Kind != Real:
		return "a real is wanted"
	case (t == "BOOLEAN" || t == "IfcBoolean") && (v.Kind != Enum || v.Text != "T" && v.Text != "F"):
		return "a Boolean is wanted"
	}
	return ""
}

// Sound checks what holds for every schema: references exist and GlobalIds are
// well formed and stand once.
func (f *File) Sound() []error {
	var errs []error
	ids := map[string]uint64{}
	for _, i := range f.Insts {
		walk(i.Args, func(v Value) {
			if v.Kind == Ref && f.ByID[v.Ref] == nil {
				errs = append(errs, fmt.Errorf("#%d=%s refers to #%d, which is not there", i.ID, i.Keyword, v.Ref))
			}
		})
		g, ok := i.GlobalID()
		if !ok {
			continue
		}
		if !validGUID(g) {
			errs = append(errs, fmt.Errorf("#%d=%s: GlobalId %q is not valid", i.ID, i.Keyword, g))
		}
		if o, ok := ids[g]; ok {
			errs = append(errs, fmt.Errorf("#%d=%s has the GlobalId of #%d", i.ID, i.Keyword, o))
		}
		ids[g] = i.ID
	}
	return errs
}

// GlobalID is the first attribute of a rooted object: 22 characters, followed
// by an owner history or none.
func (i *Instance) GlobalID() (string, bool) {
	if len(i.Args) < 5 || i.Args[0].Kind != Text || len(i.Args[0].Text) != 22 || i.Args[1].Kind != Ref && i.Args[1].Kind != Unset {
		return "", false
	}
	return i.Args[0].Text, true
}

func validGUID(g string) bool {
	const digits = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz_$"
	for _, c := range g {
		if !strings.ContainsRune(digits, c) {
			return false
		}
	}
	return g[0] >= '0' && g[0] <= '3'
}

func walk(vs []Value, see func(Value)) {
	for _, v := range vs {
		see(v)
		walk(v.List, see)
	}
}
