package ifcbuild

// batch gathers the objects that are related to one other object.
type batch struct {
	to  uint64
	ids []uint64
}

// batches are the relationships of one kind that are not written yet, in the
// order of their first use.
type batches struct {
	list  []batch
	index map[uint64]int
}

// Relationships of a kind are written when so many are open, and those that may
// be split when they relate so many objects: memory stays flat in a model of any
// size. A type and a property set may have one relationship only.
const (
	fullBatch   = 2000
	openBatches = 4000
)

func (b *Builder) add(s *batches, to, id uint64) {
	if s.index == nil {
		s.index = map[uint64]int{}
	}
	i, ok := s.index[to]
	if !ok {
		if len(s.list) >= openBatches {
			b.settle(s)
		}
		i = len(s.list)
		s.index[to] = i
		s.list = append(s.list, batch{to: to})
	}
	one := &s.list[i]
	one.ids = append(one.ids, id)
	if len(one.ids) >= fullBatch && (s == &b.contained || s == &b.made) {
		b.writeBatch(s, one)
	}
}

func (b *Builder) writeBatch(s *batches, one *batch) {
	if len(one.ids) == 0 {
		return
	}
	switch s {
	case &b.wholes:
		b.relAggregates(one.to, one.ids)
	case &b.contained:
		b.relTo("IFCRELCONTAINEDINSPATIALSTRUCTURE", one.to, one.ids)
	case &b.typed:
		b.relTo("IFCRELDEFINESBYTYPE", one.to, one.ids)
	case &b.made:
		b.relTo("IFCRELASSOCIATESMATERIAL", one.to, one.ids)
	case &b.propertied:
		b.relTo("IFCRELDEFINESBYPROPERTIES", one.to, one.ids)
	}
	one.ids = one.ids[:0]
}

// settle writes all open relationships of a kind.
func (b *Builder) settle(s *batches) {
	for i := range s.list {
		b.writeBatch(s, &s.list[i])
	}
	s.list = s.list[:0]
	clear(s.index)
}

// relate writes everything that was gathered.
func (b *Builder) relate() {
	b.relAggregates(b.building, b.storeys)
	for _, s := range []*batches{&b.wholes, &b.contained, &b.typed, &b.made, &b.propertied} {
		b.settle(s)
	}
}

// relTo writes a relationship whose related objects come before the relating one.
func (b *Builder) relTo(keyword string, to uint64, ids []uint64) {
	b.root(keyword, b.relGUID(), "", "")
	b.line.refs(ids)
	b.line.ref(to)
	b.end()
}

func (b *Builder) relAggregates(whole uint64, parts []uint64) {
	b.root("IFCRELAGGREGATES", b.relGUID(), "", "")
	b.line.ref(whole)
	b.line.refs(parts)
	b.end()
}

func (b *Builder) relPair(keyword string, from, to uint64) {
	b.root(keyword, b.relGUID(), "", "")
	b.line.ref(from)
	b.line.ref(to)
	b.end()
}

// Parts makes objects that were written before the parts of r.
func (r Ref) Parts(parts ...Ref) Ref {
	for _, p := range parts {
		r.b.add(&r.b.wholes, r.ID, p.ID)
	}
	return r
}

// Open cuts an opening into r; at is relative to r.
func (r Ref) Open(name string, at Frame, body ...Solid) Ref {
	return r.OpenWith(Element{Name: name, At: at, Body: body})
}

// OpenWith cuts an opening of which more is to be said; class and place default
// to an IfcOpeningElement relative to r.
func (r Ref) OpenWith(e Element) Ref {
	if e.Class == "" {
		e.Class = "IfcOpeningElement"
	}
	if e.Rel.ID == 0 {
		e.Rel = r
	}
	o := r.b.Add(e)
	r.b.relPair("IFCRELVOIDSELEMENT", r.ID, o.ID)
	return o
}

// Fill makes r the filling of an opening.
func (r Ref) Fill(opening Ref) Ref {
	r.b.relPair("IFCRELFILLSELEMENT", opening.ID, r.ID)
	return r
}

// Made tells what r is made of.
func (r Ref) Made(material string) Ref {
	b := r.b
	m, ok := b.materials[material]
	if !ok {
		m = b.inst("IFCMATERIAL")
		b.text(material)
		if b.schema != IFC2X3 {
			unset(b, 2)
		}
		b.end()
		b.materials[material] = m
	}
	b.add(&b.made, m, r.ID)
	return r
}

// TypeOf makes t the type of r.
func (r Ref) TypeOf(t Ref) Ref {
	r.b.add(&r.b.typed, t.ID, r.ID)
	return r
}
