package ifcread

import (
	_ "embed" // for the schema tables
	"strings"
	"sync"
	"sync/atomic"
)

// The tables have a line for each entity of a schema, depth first: blanks for
// its depth below a top entity, its name without "Ifc" ("!" when it is abstract),
// and the attributes that it adds, each with "?" when it is optional and with its
// form behind ":". "*" before an attribute says that the entity derives one of
// its supertypes'.
var (
	//go:embed schema/ifc2x3.txt
	textIFC2X3 string
	//go:embed schema/ifc4.txt
	textIFC4 string
	//go:embed schema/ifc4x3.txt
	textIFC4X3 string
)

// entities is the union of the three schemas: numbers for names.
type entities struct {
	names  []string // by Type, "IfcWall"
	tables [len(schemaNames)]table
	keywords
}

// table is one schema. Its rows are depth first, so that what is below an entity
// are the rows behind it up to its last.
type table struct {
	at   []uint16 // row+1 by Type; 0: not in this schema
	rows []row
}

type row struct {
	super int32 // row; -1 at the top
	last  int32 // row of the last entity below
	own   string
	attrs atomic.Pointer[[]Attr] // all of them, made when asked for
}

// known is read once, on first use; it takes a fraction of a millisecond.
var known = sync.OnceValue(readTables)

func readTables() *entities {
	e := &entities{names: make([]string, 1, 1536)}
	texts := [...]string{textIFC2X3, textIFC4, textIFC4X3}
	var types [len(texts)][]Type // by row
	for s, text := range texts {
		types[s] = e.readTable(&e.tables[s], text)
	}
	for s := range e.tables {
		t := &e.tables[s]
		t.at = make([]uint16, len(e.names))
		for r, typ := range types[s] {
			t.at[typ] = uint16(r + 1)
		}
	}
	return e
}

// readTable reads the text of one schema and gives the entity of each row.
func (e *entities) readTable(t *table, text string) []Type {
	n := strings.Count(text, "\n")
	t.rows = make([]row, n)
	types := make([]Type, n)
	var above [16]int32 // the latest row of each depth
	for r := range t.rows {
		line, rest, _ := strings.Cut(text, "\n")
		text = rest
		depth := 0
		for line[depth] == ' ' {
			depth++
		}
		name, own, _ := strings.Cut(line[depth:], " ")
		types[r] = e.number(strings.TrimSuffix(name, "!"))
		t.rows[r].own = own
		t.rows[r].super = -1
		above[depth] = int32(r)
		for d := depth; d >= 0; d-- {
			t.rows[above[d]].last = int32(r)
		}
		if depth > 0 {
			t.rows[r].super = above[depth-1]
		}
	}
	return types
}

// number is the Type of a name without "Ifc", a new one when it is not known yet.
func (e *entities) number(short string) Type {
	var buf [64]byte
	word := append(buf[:0], "IFC"...)
	for i := range len(short) {
		word = append(word, upperByte(short[i]))
	}
	if t := e.find(word); t != 0 {
		return t
	}
	t := Type(len(e.names))
	e.names = append(e.names, "Ifc"+short)
	e.add(string(word), t)
	return t
}

func (t *table) has(typ Type) bool { return int(typ) < len(t.at) && t.at[typ] != 0 }

func (t *table) isA(typ, super Type) bool {
	if !t.has(typ) || !t.has(super) {
		return false
	}
	r, s := t.at[typ]-1, t.at[super]-1
	return s <= r && int32(r) <= t.rows[s].last
}

// attrs is all attributes of an entity, its supertypes' first.
func (t *table) attrs(typ Type) []Attr {
	if !t.has(typ) {
		return nil
	}
	r := &t.rows[t.at[typ]-1]
	if a := r.attrs.Load(); a != nil {
		return *a
	}
	list := t.collect(int32(t.at[typ] - 1))
	r.attrs.Store(&list)
	return list
}

func (t *table) collect(r int32) []Attr {
	if r < 0 {
		return nil
	}
	list := t.collect(t.rows[r].super)
	for w := range strings.FieldsSeq(t.rows[r].own) {
		if name, ok := strings.CutPrefix(w, "*"); ok {
			for i := range list {
				list[i].Derived = list[i].Derived || list[i].Name == name
			}
			continue
		}
		name, kind, _ := strings.Cut(w, ":")
		name, optional := strings.CutSuffix(name, "?")
		list = append(list, Attr{Name: name, Optional: optional, form: form(kind)})
	}
	return list
}
