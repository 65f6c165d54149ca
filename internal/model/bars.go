package model

import "embedcheck/internal/geom"

// Bars holds all reinforcement in flat slices: a model has up to millions of
// pieces, and a pointer for each would cost more than the bars.
type Bars struct {
	Marks  []BarMark
	Pieces []Piece
	Points []geom.Vec // centrelines of all pieces, one behind the other
	Meshes []BarMesh  // reinforcement that is no rod
}

// BarMark is one reinforcement element; it may carry many pieces.
type BarMark struct {
	Source   int
	Instance uint64
	Ref      func() Ref // read when it is asked for
	Assembly string     // innermost assembly, "" when there is none
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
