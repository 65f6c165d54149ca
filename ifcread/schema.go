package ifcread

import "strings"

// Schema is an edition of IFC.
type Schema uint8

// The editions that are read. Others are read as the nearest of them.
const (
	IFC2X3 Schema = iota
	IFC4
	IFC4X3
)

var schemaNames = [...]string{"IFC2X3", "IFC4", "IFC4X3"}

// String is the short name: IFC2X3, IFC4 or IFC4X3.
func (s Schema) String() string {
	if int(s) < len(schemaNames) {
		return schemaNames[s]
	}
	return "no schema"
}

// editions are the names met in FILE_SCHEMA without what follows "_": addenda,
// corrigenda and release candidates. IFC4X1 and IFC4X2 are IFC4 with additions
// of which IFC4X3 took over most; see File.edition for those.
var editions = map[string]Schema{
	"IFC2X": IFC2X3, "IFC2X2": IFC2X3, "IFC2X3": IFC2X3,
	"IFC4": IFC4, "IFC4X1": IFC4, "IFC4X2": IFC4,
	"IFC4X3": IFC4X3,
}

// parseSchema is the nearest edition of a name in any case.
func parseSchema(name string) (Schema, bool) {
	base, _, _ := strings.Cut(strings.ToUpper(strings.TrimSpace(name)), "_")
	s, ok := editions[base]
	return s, ok
}

// Type is an entity of any of the three schemas; 0 is none of them. It is the
// same number for the same name in all files of a run, and not to be stored.
type Type uint16

// TypeOf is the entity of a name in any case, "IfcWall"; 0 when no schema has it.
func TypeOf(name string) Type {
	var buf [64]byte
	if len(name) > len(buf) {
		return 0
	}
	for i := range len(name) {
		buf[i] = upperByte(name[i])
	}
	return known().find(buf[:len(name)])
}

// String is the name in the standard's spelling, "" for 0.
func (t Type) String() string {
	if e := known(); int(t) < len(e.names) {
		return e.names[t]
	}
	return ""
}

// Attr is an attribute of an entity, as a schema declares it.
type Attr struct {
	Name     string
	Optional bool // may be $
	Derived  bool // is *: the entity derives what its supertype states
	form     form
}

// edition is the table that an entity is looked up in: that of the file's schema,
// or of the newest other one when a writer used an entity that is not in it.
func (f *File) edition(t Type) *table {
	e := known()
	if e.tables[f.schema].has(t) {
		return &e.tables[f.schema]
	}
	for s := len(e.tables) - 1; s >= 0; s-- {
		if e.tables[s].has(t) {
			return &e.tables[s]
		}
	}
	return &e.tables[f.schema]
}

// IsA reports whether entity t is super or below it, by the file's schema.
func (f *File) IsA(t, super Type) bool {
	return t == super && t != 0 || f.edition(t).isA(t, super)
}

// Attrs is the attributes of an entity in the order of its parameters, by the
// file's schema; none for 0. The slice is shared: do not change it.
func (f *File) Attrs(t Type) []Attr { return f.edition(t).attrs(t) }

// Pos is the position of an attribute among the parameters of an entity; -1 when
// the file's schema has none of that name.
func (f *File) Pos(t Type, attr string) int {
	for i, a := range f.edition(t).attrs(t) {
		if a.Name == attr {
			return i
		}
	}
	return -1
}

func upperByte(c byte) byte {
	if c >= 'a' && c <= 'z' {
		c -= 'a' - 'A'
	}
	return c
}
