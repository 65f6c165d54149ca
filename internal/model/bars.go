package model

import "embedcheck/internal/geom"

// Bars holds all reinforcement in flat slices: a model has up to millions of
// pieces, and a pointer for each would cost more than the bars.
type Bars struct {
	Marks      []BarMark
	Pieces     []Piece
	Points     []geom.Vec // centrelines of all pieces, one behind the other
	Meshes     []BarMesh  // reinforcement that is no rod
	Assemblies []string   // assemblies that bars belong to
	Resolve    []func(instance uint64) Ref
}

// BarMark is one reinforcement element; it may carry many pieces.
type BarMark struct {
	Instance uint64 // number in the file
	Source   int32  // index in Model.Sources
	Assembly int32  // 1 + index in Bars.Assemblies; 0 for none of its own
}

// Piece is one bar: Points[From:To] with a radius.
type Piece struct {
	Mark     int32 // index in Marks
	From, To int32
	Radius   float32
}

// BarMesh is a piece of reinforcement known only as a body.
type BarMesh struct {
	Mark int32
	Mesh *geom.Mesh
	Box  geom.Box
}

// Count is the number of pieces.
func (b *Bars) Count() int { return len(b.Pieces) + len(b.Meshes) }

// Path is the centreline of piece i.
func (b *Bars) Path(i int) []geom.Vec { p := b.Pieces[i]; return b.Points[p.From:p.To] }

// Rod is piece i as a rod; the path is shared, not copied.
func (b *Bars) Rod(i int) geom.Rod {
	return geom.Rod{Path: b.Path(i), Radius: float64(b.Pieces[i].Radius)}
}

// Ref names the element of a mark; it is read from the file on each call.
func (b *Bars) Ref(mark int32) Ref {
	m := b.Marks[mark]
	if int(m.Source) < len(b.Resolve) && b.Resolve[m.Source] != nil {
		return b.Resolve[m.Source](m.Instance)
	}
	return Ref{Source: int(m.Source), Instance: m.Instance}
}

// Assembly is the innermost assembly that a mark belongs to; "" when it is the
// cast unit or nothing.
func (b *Bars) Assembly(mark int32) string {
	if a := b.Marks[mark].Assembly; a > 0 {
		return b.Assemblies[a-1]
	}
	return ""
}
