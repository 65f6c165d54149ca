package ifcbuild

// keptSolid is a solid that is written once and shared by the bodies it is in.
type keptSolid struct{ Solid }

type kept struct {
	id   uint64
	form form
}

// Shared is a solid that is written once however many bodies it is put in: the
// same instance under several representations, without a mapped item.
func Shared(s Solid) Solid { return &keptSolid{s} }

func (s *keptSolid) write(b *Builder) (uint64, form) {
	if b.kept == nil {
		b.kept = map[*keptSolid]kept{}
	}
	k, ok := b.kept[s]
	if !ok {
		k.id, k.form = s.Solid.write(b)
		b.kept[s] = k
	}
	return k.id, k.form
}

// Map is a shape that is written once and placed by mapped items.
type Map struct {
	Body   []Solid
	Origin Frame // MappingOrigin
}

// NewMap makes a map of a body.
func NewMap(body ...Solid) *Map { return &Map{Body: body} }

func (b *Builder) mapOf(m *Map) uint64 {
	if b.maps == nil {
		b.maps = map[*Map]uint64{}
	}
	id, ok := b.maps[m]
	if !ok {
		rep := b.representation(m.Body)
		at := b.axis3(m.Origin)
		id = b.inst("IFCREPRESENTATIONMAP")
		b.line.ref(at)
		b.line.ref(rep)
		b.end()
		b.maps[m] = id
	}
	return id
}

// Forget drops what the builder remembers of maps and shared solids, so that a
// stream of them needs no memory. What is used again after that is written again.
func (b *Builder) Forget() {
	clear(b.maps)
	clear(b.kept)
}

// To places the map.
func (m *Map) To(o Op) Solid { return mappedItem{m, o} }

// At places the map in a frame.
func (m *Map) At(f Frame) Solid { return mappedItem{m, To(f)} }

type mappedItem struct {
	m  *Map
	op Op
}

func (s mappedItem) write(b *Builder) (uint64, form) {
	source := b.mapOf(s.m)
	op := b.operator(s.op)
	id := b.inst("IFCMAPPEDITEM")
	b.line.ref(source)
	b.line.ref(op)
	b.end()
	return id, mapped
}
