package ifcbuild

// PSet is a property set.
type PSet struct {
	Name  string
	Props []Prop
}

// Prop is a property with one value.
type Prop struct {
	Name    string
	measure string
	write   func(*Builder)
	listed  bool // an enumerated value
}

// Length is a positive length in mm.
func Length(name string, mm float64) Prop {
	return Prop{Name: name, measure: "IFCPOSITIVELENGTHMEASURE", write: func(b *Builder) { b.length(mm) }}
}

// Label is a short text.
func Label(name, text string) Prop { return textProp(name, "IFCLABEL", text) }

// Text is a long text.
func Text(name, text string) Prop { return textProp(name, "IFCTEXT", text) }

// Identifier is a mark.
func Identifier(name, text string) Prop { return textProp(name, "IFCIDENTIFIER", text) }

func textProp(name, measure, text string) Prop {
	return Prop{Name: name, measure: measure, write: func(b *Builder) {
		b.line.next()
		b.line.buf = appendText(b.line.buf, text, b.syntax.Texts)
	}}
}

// Real is a number without a unit.
func Real(name string, v float64) Prop {
	return Prop{Name: name, measure: "IFCREAL", write: func(b *Builder) { b.line.real(v, 9) }}
}

// Integer is a whole number.
func Integer(name string, n int) Prop {
	return Prop{Name: name, measure: "IFCINTEGER", write: func(b *Builder) { b.line.integer(n) }}
}

// Count is a number of pieces.
func Count(name string, n int) Prop {
	return Prop{Name: name, measure: "IFCCOUNTMEASURE", write: func(b *Builder) {
		if b.schema == IFC4X3 {
			b.line.integer(n)
		} else {
			b.line.real(float64(n), 0)
		}
	}}
}

// Boolean is a truth value.
func Boolean(name string, v bool) Prop {
	return Prop{Name: name, measure: "IFCBOOLEAN", write: func(b *Builder) {
		b.line.raw(map[bool]string{true: ".T.", false: ".F."}[v])
	}}
}

// Enumerated is one word of a list, as the standard's own sets have them.
func Enumerated(name, word string) Prop {
	p := Label(name, word)
	p.listed = true
	return p
}

func (b *Builder) prop(p Prop) uint64 {
	keyword := "IFCPROPERTYSINGLEVALUE"
	if p.listed {
		keyword = "IFCPROPERTYENUMERATEDVALUE"
	}
	id := b.inst(keyword)
	b.text(p.Name)
	b.line.raw("$")
	if p.listed {
		b.line.open("")
	}
	b.line.open(p.measure)
	p.write(b)
	b.line.close()
	if p.listed {
		b.line.close()
	}
	b.line.raw("$")
	b.end()
	return id
}

// PropertySet writes a property set that several objects can share.
func (b *Builder) PropertySet(s PSet) Ref {
	ids := make([]uint64, len(s.Props))
	for i, p := range s.Props {
		ids[i] = b.prop(p)
	}
	b.rooted++
	g := guidOf([]byte(b.seed + "\x00pset\x00" + s.Name + "\x00" + itoa(b.rooted)))
	id := b.root("IFCPROPERTYSET", g, s.Name, "")
	b.line.refs(ids)
	b.end()
	return Ref{b: b, ID: id, guid: g}
}

// Has gives r a property set of its own.
func (r Ref) Has(s PSet) Ref { return r.Shares(r.b.PropertySet(s)) }

// Shares gives r a property set that others may have too.
func (r Ref) Shares(set Ref) Ref {
	r.b.add(&r.b.propertied, set.ID, r.ID)
	return r
}
