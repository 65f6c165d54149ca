package ifcread

import (
	"embed"
	"strings"
	"sync"
)

// Schema is an edition of IFC.
type Schema uint8

const (
	IFC2X3 Schema = iota
	IFC4
	IFC4X3
)

func (s Schema) String() string { return [...]string{"IFC2X3", "IFC4", "IFC4X3"}[s] }

// parseSchema maps the names met in FILE_SCHEMA to the nearest edition whose
// tables are here: release candidates and addenda, in any case.
func parseSchema(name string) (Schema, bool) {
	switch n := strings.ToUpper(name); {
	case strings.HasPrefix(n, "IFC2X"):
		return IFC2X3, true
	case strings.HasPrefix(n, "IFC4X1"), strings.HasPrefix(n, "IFC4X2"), strings.HasPrefix(n, "IFC4X3"):
		return IFC4X3, true
	case strings.HasPrefix(n, "IFC4"):
		return IFC4, true
	}
	return 0, false
}

// The tables have a line for each entity of a schema: its name and its
// supertype's without "Ifc" ("-" at the top), then the attributes that it adds.
//
//go:embed schema/*.txt
var tableFiles embed.FS

var tableNames = [...]string{"schema/ifc2x3.txt", "schema/ifc4.txt", "schema/ifc4x3.txt"}

// Type is an entity of any of the three schemas; 0 is none of them.
type Type uint16

// entities is what all schemas have in common: numbers for names.
type entities struct {
	names  []string        // by Type, "IfcWall"
	byName map[string]Type // upper case
	lookup keywords
	tables [3]table
}

// table is one schema.
type table struct {
	super []Type     // by Type; 0 at the top
	attrs [][]string // by Type, those that the entity adds
	pos   sync.Map   // attribute -> position, by attrKey
}

type attrKey struct {
	t    Type
	attr string
}

// known is read once, on first use.
var known = sync.OnceValue(readTables)

func readTables() *entities {
	e := &entities{names: []string{""}, byName: make(map[string]Type, 1400)}
	var lines [3][][]string
	for i, name := range tableNames {
		text, err := tableFiles.ReadFile(name)
		if err != nil {
			panic(err) // embedded: cannot be missing
		}
		for line := range strings.Lines(string(text)) {
			w := strings.Fields(line)
			lines[i] = append(lines[i], w)
			e.number(w[0])
		}
	}
	for i := range lines {
		t := &e.tables[i]
		t.super = make([]Type, len(e.names))
		t.attrs = make([][]string, len(e.names))
		for _, w := range lines[i] {
			n := e.number(w[0])
			t.attrs[n] = w[2:]
			if w[1] != "-" {
				t.super[n] = e.number(w[1])
			}
		}
	}
	e.lookup.build(e.names)
	return e
}

func (e *entities) number(short string) Type {
	key := "IFC" + strings.ToUpper(short)
	t, ok := e.byName[key]
	if !ok {
		t = Type(len(e.names))
		e.byName[key] = t
		e.names = append(e.names, "Ifc"+short)
	}
	return t
}

// TypeOf is the entity of a name in any case; 0 when no schema has it.
func TypeOf(name string) Type { return known().byName[strings.ToUpper(name)] }

// String is the name in the standard's spelling, "" for 0.
func (t Type) String() string { return known().names[t] }

// isA reports whether t is super or below it.
func (tb *table) isA(t, super Type) bool {
	for ; t != 0; t = tb.super[t] {
		if t == super {
			return true
		}
	}
	return false
}

// position is where an entity has an attribute among its parameters; -1 when it
// has none of that name. An attribute that is declared anew counts where it was
// declared first.
func (tb *table) position(t Type, attr string) int {
	key := attrKey{t, attr}
	if p, ok := tb.pos.Load(key); ok {
		return p.(int)
	}
	p := -1
	var chain []Type
	for s := t; s != 0; s = tb.super[s] {
		chain = append(chain, s)
	}
	n := 0
	for i := len(chain) - 1; i >= 0; i-- {
		for _, a := range tb.attrs[chain[i]] {
			if a == attr && p < 0 {
				p = n
			}
			n++
		}
	}
	tb.pos.Store(key, p)
	return p
}
