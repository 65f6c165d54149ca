package rod

import (
	"math"
	"slices"

	"embedcheck/internal/geom"
)

// Member is one straight round shank with what is at its ends. When a hook or a
// head tells the two ends apart it is at B, and A is the open end; the mouth of
// a blind bore is at A.
type Member struct {
	A, B     geom.Vec // ends of the straight axis, the part inside a head included; B of a hooked one is the tangent point
	Radius   float64  // of the circle that the corners of the section lie on
	Sides    int      // corners of the section; 0 when Exact. 6: a hexagonal bar or a coarse round one
	Hook     *Hook    // the bend that follows at B; nil for a straight end
	Back     *Hook    // the bend that follows at A, seen from B: only when both ends are bent
	Heads    []Head   // what is thicker than the shank, in the order from A to B
	Inner    float64  // radius of the bore of a tube or a socket, 0 for a solid one
	Bore     float64  // depth of the bore from A; the length when it goes through
	Exact    bool     // from an exact rod, not fitted
	Residual float64  // worst distance of a corner of the section from the fitted circle

	// Alternatives are the other straight pieces of the same bar that could be
	// the shank, the longest first: the leg of a short L, the base of a U. Only
	// the first member found in a bar has them.
	Alternatives []Member
}

// Hook is what follows a straight shank: a hook, an offset, the rest of a bent
// bar. Distances run along the shank's axis from its A towards B.
type Hook struct {
	Path    []geom.Vec // centreline from the tangent point on
	Deepest float64    // deepest point of the surface
	Inside  float64    // bearing side: deepest point of the centreline less the radius
	Leg     float64    // length of the last straight piece
	Reach   float64    // greatest distance of the centreline from the shank's axis
	Turn    float64    // greatest angle turned from the shank's direction, radians
}

// bearingTurn is the least turn of a bend that bears as a hook: less is an
// offset or a cranked bar (common practice, no published source).
const bearingTurn = math.Pi / 6

// Bears reports whether the bend can hold as a hook.
func (h *Hook) Bears() bool { return h != nil && h.Turn >= bearingTurn }

// Outline is the outline of a head seen along the axis.
type Outline int

const (
	Other Outline = iota
	RoundHead
	HexHead
	SquareHead
	PlateHead // a plate that the shank stands on: off centre, or wider than 8 shank radii
)

func (o Outline) String() string {
	return [...]string{"other", "round", "hexagonal", "square", "plate"}[o]
}

// Head is something thicker than the shank around its axis: a head, a nut, a
// washer, a washer plate, a collar. Distances run from the member's A to B.
type Head struct {
	From, To float64
	Radius   float64 // of the circle around it, centred on the axis
	Flat     float64 // width across flats; the diameter of a round one
	Outline  Outline
}

// Axis is the unit vector from A to B.
func (m *Member) Axis() geom.Vec { return m.B.Sub(m.A).Unit() }

// Length is the length of the straight axis.
func (m *Member) Length() float64 { return m.A.Dist(m.B) }

// At is the point on the axis at distance t from A.
func (m *Member) At(t float64) geom.Vec { return m.A.Add(m.Axis().Mul(t)) }

// Reversed is the same member seen from its other end.
func (m *Member) Reversed() Member {
	r := *m
	l := m.Length()
	r.A, r.B, r.Hook, r.Back = m.B, m.A, m.Back, m.Hook
	r.Heads = make([]Head, 0, len(m.Heads))
	for _, h := range slices.Backward(m.Heads) {
		h.From, h.To = l-h.To, l-h.From
		r.Heads = append(r.Heads, h)
	}
	if len(r.Heads) == 0 {
		r.Heads = nil
	}
	return r
}

// Bearing is the distance from A to the surface that the member bears on when
// it enters the concrete at distance entry from A: the bearing side of its hook
// or, without one, the near side of the first head past the entry that is not a
// plate. ok is false for a member that has neither; its length then counts.
func (m *Member) Bearing(entry float64) (at float64, ok bool) {
	if m.Hook.Bears() {
		return m.Hook.Inside, true
	}
	for _, h := range m.Heads {
		if h.From > entry+geom.Tol && h.Outline != PlateHead {
			return h.From, true
		}
	}
	return m.Length(), false
}

// orient puts what bears at B when it is at one end only, and otherwise the mouth
// of a bore at A.
func (m *Member) orient(mouthAtB bool) {
	if m.backFirst(mouthAtB) {
		*m = m.Reversed()
	}
}

func (m *Member) backFirst(mouthAtB bool) bool {
	if hb, ha := m.Hook.Bears(), m.Back.Bears(); hb != ha {
		return ha
	}
	low, high := 0, 0
	for _, h := range m.Heads {
		switch mid := (h.From + h.To) / 2; {
		case h.Outline == PlateHead:
		case mid < m.Length()/2:
			low++
		default:
			high++
		}
	}
	if (low == 0) != (high == 0) {
		return high == 0
	}
	if (m.Hook == nil) != (m.Back == nil) {
		return m.Hook == nil
	}
	return mouthAtB
}
