package ifcbuild

import (
	"bytes"
	"fmt"
	"io"
	"slices"
)

// Builder writes one model.
type Builder struct {
	schema    Schema
	unit      Unit
	seed      string
	names     [4]string // project, site, building, storey
	file      string
	stamp     string
	base      Frame
	baked     bool
	perRadian float64
	syntax    Syntax

	w       io.Writer // nil: everything is kept
	out     []byte
	ends    []int // of the instances in out, when they are to be reversed
	written int64
	err     error
	closed  bool

	line    line
	spare   []byte
	ids     uint64 // instances so far
	lastID  uint64
	history uint64
	body    uint64 // representation context
	rooted  uint64 // rooted objects so far, for the GlobalIds of relationships
	taken   map[string]int

	dirs    map[Vec]uint64
	axes    [3]uint64
	origin  uint64
	upright uint64 // axes of the surroundings

	storey    Ref
	building  uint64
	storeys   []uint64
	placeBase uint64 // placement that those of storeys are relative to

	wholes, contained, typed, made, propertied batches

	materials map[string]uint64
	units     unitIDs
	maps      map[*Map]uint64
	kept      map[*keptSolid]kept
}

// unitIDs are the units that properties refer to.
type unitIDs struct{ length, angle uint64 }

// New starts a model that is kept in memory.
func New(s Schema, u Unit, opts ...Option) *Builder { return NewTo(nil, s, u, opts...) }

// NewTo starts a model that is written to w as it grows. Close completes it.
func NewTo(w io.Writer, s Schema, u Unit, opts ...Option) *Builder {
	b := &Builder{
		schema: s, unit: u, w: w, seed: "model", base: At(0, 0, 0), perRadian: 1,
		names: [4]string{"Project", "Site", "Building", "Storey"},
		file:  "model.ifc", stamp: "2026-01-05T08:00:00",
		dirs: map[Vec]uint64{}, taken: map[string]int{}, materials: map[string]uint64{},
	}
	for _, o := range opts {
		o(b)
	}
	if b.syntax.Backward && w != nil {
		panic("ifcbuild: a stream cannot be written backwards")
	}
	b.lastID = max(b.syntax.FirstID, 1)
	b.lastID -= b.step()
	b.header()
	b.spatial()
	return b
}

func (b *Builder) step() uint64 { return max(b.syntax.Step, 1) }

// Schema is the edition that the model is written in.
func (b *Builder) Schema() Schema { return b.schema }

// Unit is the length unit that the model is written in.
func (b *Builder) Unit() Unit { return b.unit }

// Size is the number of bytes written so far.
func (b *Builder) Size() int64 { return b.written + int64(len(b.out)) }

// Instances is the number of instances written so far.
func (b *Builder) Instances() uint64 { return b.ids }

// Close completes the model: relationships that were gathered and the end of
// the file. The error is the first one that the writer gave.
func (b *Builder) Close() error {
	if b.closed {
		return b.err
	}
	b.closed = true
	b.relate()
	if b.syntax.Backward {
		b.reverse()
	}
	b.words("ENDSEC;\nEND-ISO-10303-21;\n")
	b.flush(0)
	return b.err
}

// Bytes completes the model and is its whole text.
func (b *Builder) Bytes() []byte {
	if b.w != nil {
		panic("ifcbuild: the model was written to a stream")
	}
	b.Close()
	return b.out
}

// WriteTo completes the model and writes it.
func (b *Builder) WriteTo(w io.Writer) (int64, error) {
	n, err := w.Write(b.Bytes())
	return int64(n), err
}

// words writes text of the file that is no instance, with the line ends asked for.
func (b *Builder) words(s string) {
	b.out = append(b.out, bytes.ReplaceAll([]byte(s), []byte("\n"), []byte(b.syntax.newline()))...)
}

const block = 1 << 16

func (b *Builder) flush(keep int) {
	if b.w == nil || len(b.out) <= keep {
		return
	}
	if b.err == nil {
		_, b.err = b.w.Write(b.out)
	}
	b.written += int64(len(b.out))
	b.out = b.out[:0]
}

// inst starts an instance; end completes it. Nothing may be written in between,
// so that what an instance refers to is written first.
func (b *Builder) inst(keyword string) uint64 {
	b.ids++
	b.lastID += b.step()
	b.line.begin(b.lastID, keyword)
	return b.lastID
}

func (b *Builder) end() { b.endWith("") }

// endWith completes an instance with a comment behind it.
func (b *Builder) endWith(comment string) {
	text := append(b.line.buf, ')', ';')
	if !b.syntax.plain() {
		b.spare = b.syntax.rewrite(b.spare[:0], text)
		b.out = append(b.out, b.spare...)
	} else {
		b.out = append(b.out, text...)
	}
	if comment != "" {
		b.out = append(b.out, " /* "...)
		b.out = append(b.out, comment...)
		b.out = append(b.out, " */"...)
	}
	b.out = append(b.out, b.syntax.newline()...)
	b.line.buf = text[:0]
	if b.syntax.Backward {
		b.ends = append(b.ends, len(b.out))
	}
	b.flush(block)
}

// Comment writes a comment on a line of its own.
func (b *Builder) Comment(text string) {
	b.words("/* " + text + " */\n")
	if n := len(b.ends); n > 0 {
		b.ends[n-1] = len(b.out)
	}
}

// reverse turns the order of the instances round.
func (b *Builder) reverse() {
	if len(b.ends) == 0 {
		return
	}
	start := b.ends[0] // the first entry marks where the data begin
	out := slices.Clone(b.out[:start])
	for i := len(b.ends) - 1; i > 0; i-- {
		out = append(out, b.out[b.ends[i-1]:b.ends[i]]...)
	}
	b.out = out
}

func (b *Builder) header() {
	t := b.syntax.Texts
	q := func(s string) string { return string(appendText(nil, s, t)) }
	b.words("ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION(('ViewDefinition [NotAssigned]'),'2;1');\n")
	b.words(fmt.Sprintf("FILE_NAME(%s,%s,(''),(''),'','','');\n", q(b.file), q(b.stamp)))
	b.words(fmt.Sprintf("FILE_SCHEMA(('%s'));\nENDSEC;\nDATA;\n", b.schema))
	if b.syntax.Backward {
		b.ends = append(b.ends, len(b.out))
	}
}

// Short forms for fields.

func (b *Builder) length(mm float64) {
	b.line.real(mm/perUnit[b.unit], decimals[b.unit])
}

func (b *Builder) angle(radians float64) { b.line.real(radians*b.perRadian, 12) }

func (b *Builder) text(s string) { b.line.text(s, b.syntax.Texts) }

func (b *Builder) guid(g GUID) {
	b.line.next()
	b.line.buf = append(b.line.buf, '\'')
	b.line.buf = append(b.line.buf, g[:]...)
	b.line.buf = append(b.line.buf, '\'')
}

// root starts a rooted instance with its first four attributes.
func (b *Builder) root(keyword string, g GUID, name, description string) uint64 {
	id := b.inst(keyword)
	b.guid(g)
	b.line.ref(b.history)
	b.text(name)
	b.text(description)
	return id
}

// newGUID is a GlobalId for an object that no seed was given for: it depends on
// class and name, and on how many of that name came before.
func (b *Builder) newGUID(class, name string) GUID {
	key := class + "\x00" + name
	n := b.taken[key]
	b.taken[key] = n + 1
	return guidOf(fmt.Appendf(nil, "%s\x00%s\x00%d", b.seed, key, n))
}

func (b *Builder) seeded(seed string) GUID {
	return guidOf(fmt.Appendf(nil, "%s\x00\x00%s", b.seed, seed))
}

// relGUID is a GlobalId for a relationship.
func (b *Builder) relGUID() GUID {
	b.rooted++
	return guidOf(fmt.Appendf(nil, "%s\x00rel\x00%d", b.seed, b.rooted))
}
