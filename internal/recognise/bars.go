package recognise

import (
	"embedcheck/ifcread"
	"embedcheck/internal/element"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// bars reads the reinforcement of one file. Workers read blocks of it; the
// blocks are put together in file order.
func (b *builder) bars(m *element.Model, source int) {
	const block = 64 // and Parallel hands out sixteen at a time
	n := (len(m.Bars) + block - 1) / block
	blocks := make([]barBlock, n)
	run := &barReader{b: b, m: m, source: source}
	for len(b.out.Bars.Resolve) <= source {
		b.out.Bars.Resolve = append(b.out.Bars.Resolve, nil)
	}
	file := m.File // and nothing else of what was read is kept
	b.out.Bars.Resolve[source] = func(instance uint64) model.Ref { return barRef(file, source, instance) }
	element.Parallel(n, b.opt.Workers, func(i int) {
		blocks[i] = run.read(m.Bars[i*block : min((i+1)*block, len(m.Bars))])
	})
	for i := range blocks {
		b.append(&blocks[i])
	}
	for _, e := range b.elems {
		if e.role == barRole && e.source == source {
			blk := run.elem(e)
			b.append(&blk)
		}
	}
}

// barBlock is reinforcement with numbers of its own, to be shifted.
type barBlock struct {
	bars       model.Bars
	assemblies []string // of the marks, one each; nil while all are ""
	unread     []model.Unread
}

func (b *builder) append(blk *barBlock) {
	out := &b.out.Bars
	mark, point := int32(len(out.Marks)), int32(len(out.Points))
	for i := range blk.bars.Pieces {
		p := &blk.bars.Pieces[i]
		p.Mark, p.From, p.To = p.Mark+mark, p.From+point, p.To+point
	}
	for i := range blk.bars.Meshes {
		blk.bars.Meshes[i].Mark += mark
	}
	for i, a := range blk.assemblies {
		if a != "" {
			blk.bars.Marks[i].Assembly = b.assemblyNumber(a)
		}
	}
	out.Marks = append(out.Marks, blk.bars.Marks...)
	out.Pieces = append(out.Pieces, blk.bars.Pieces...)
	out.Points = append(out.Points, blk.bars.Points...)
	out.Meshes = append(out.Meshes, blk.bars.Meshes...)
	b.out.Unread = append(b.out.Unread, blk.unread...)
}

// assemblyNumber is the number under which bars refer to an assembly.
func (b *builder) assemblyNumber(id string) int32 {
	if n, ok := b.assemblies[id]; ok {
		return n
	}
	b.out.Bars.Assemblies = append(b.out.Bars.Assemblies, id)
	b.assemblies[id] = int32(len(b.out.Bars.Assemblies))
	return b.assemblies[id]
}

type barReader struct {
	b      *builder
	m      *element.Model
	source int
}

func (r *barReader) read(insts []ifcread.Inst) barBlock {
	var blk barBlock
	blk.bars.Marks = make([]model.BarMark, 0, len(insts))
	blk.bars.Pieces = make([]model.Piece, 0, len(insts))
	blk.bars.Points = make([]geom.Vec, 0, 2*len(insts))
	for _, i := range insts {
		r.bar(&blk, i)
	}
	return blk
}

func (r *barReader) bar(blk *barBlock, i ifcread.Inst) {
	mark := int32(len(blk.bars.Marks))
	blk.bars.Marks = append(blk.bars.Marks, model.BarMark{Source: int32(r.source), Instance: uint64(i.ID())})
	if a := r.assembly(i); a != "" {
		for len(blk.assemblies) <= int(mark) {
			blk.assemblies = append(blk.assemblies, "")
		}
		blk.assemblies[mark] = a
	}
	origin := r.b.out.Origin
	before := len(blk.bars.Pieces)
	ok, problem := r.m.BarPieces(i, func(path []geom.Vec, radius float64, at geom.Affine) {
		scale, _ := at.Scale()
		at = at.Shift(origin.Neg())
		from := len(blk.bars.Points)
		for _, p := range path {
			blk.bars.Points = append(blk.bars.Points, at.Apply(p))
		}
		blk.bars.Pieces = append(blk.bars.Pieces, model.Piece{
			Mark: mark, From: int32(from), To: int32(len(blk.bars.Points)), Radius: float32(radius * scale),
		})
	})
	if problem == "" && !ok {
		blk.bars.Pieces = blk.bars.Pieces[:before]
		problem = r.meshes(blk, mark, i)
	}
	if problem != "" {
		blk.unread = append(blk.unread, model.Unread{Ref: barRef(r.m.File, r.source, uint64(i.ID())), Role: "bar", Why: problem})
	}
}

// meshes reads a bar that is no rod.
func (r *barReader) meshes(blk *barBlock, mark int32, i ifcread.Inst) string {
	s, at := r.m.BarShape(i)
	if len(s.Parts) == 0 && len(s.Unread) == 0 {
		return "" // no shape: a bar that only a schedule knows
	}
	for k := range s.Parts {
		p := &s.Parts[k]
		m, err := p.Solid.Mesh()
		if err != nil {
			return p.Solid.ItemType + ": " + err.Error()
		}
		m = m.Transform(at.Mul(p.At).Shift(r.b.out.Origin.Neg()))
		blk.bars.Meshes = append(blk.bars.Meshes, model.BarMesh{Mark: mark, Mesh: m, Box: m.Box()})
	}
	for _, u := range s.Unread {
		return u.ItemType + ": " + u.Why
	}
	return ""
}

// elem takes an element that the rule file calls a bar.
func (r *barReader) elem(e *elem) barBlock {
	var blk barBlock
	ref := e.ref()
	if g := r.b.group(e.Whole); g != nil {
		blk.assemblies = []string{g.GlobalID}
	}
	blk.bars.Marks = []model.BarMark{{Source: int32(r.source), Instance: ref.Instance}}
	pieces, lack := e.pieces()
	blk.unread = lack
	for _, p := range pieces {
		if p.body.Rod != nil {
			from := len(blk.bars.Points)
			blk.bars.Points = append(blk.bars.Points, p.body.Rod.Path...)
			blk.bars.Pieces = append(blk.bars.Pieces, model.Piece{From: int32(from), To: int32(len(blk.bars.Points)), Radius: float32(p.body.Rod.Radius)})
			continue
		}
		blk.bars.Meshes = append(blk.bars.Meshes, model.BarMesh{Mesh: p.body.Mesh, Box: p.body.Box})
	}
	return blk
}

// assembly is the assembly of items and bars that a bar belongs to, "" for one
// that belongs to the cast unit or to nothing.
func (r *barReader) assembly(i ifcread.Inst) string {
	if g := r.b.group(r.m.Whole(i)); g != nil {
		return g.GlobalID
	}
	return ""
}

// barRef names a reinforcing element.
func barRef(f *ifcread.File, source int, instance uint64) model.Ref {
	i, _ := f.Get(ifcread.ID(instance))
	get := func(attr string) string {
		s, _ := i.Attr(attr).Str()
		return s
	}
	return model.Ref{
		GlobalID: get("GlobalId"), Class: i.Name(), Name: get("Name"), Mark: get("Tag"), Type: get("ObjectType"),
		Source: source, Instance: instance,
	}
}
