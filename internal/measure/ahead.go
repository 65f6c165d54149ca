package measure

import (
	"math"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// LongestWay is the length in mm of the ways for which the shapes of elements are
// at hand: farther ahead only their boxes may be known.
const LongestWay = 1000

// Way is a round corridor, from an open end out of the concrete.
type Way struct {
	From   geom.Vec
	Dir    geom.Vec // unit
	Radius float64  // mm
	Length float64  // mm
}

// WayOut is the way in front of an anchor's open end: as wide as two diameters,
// from the face for an end that is sunk below it. The anchor has an Entry.
func WayOut(a *model.Anchor, length float64) Way {
	return Way{a.At(min(a.Entry.Dist, 0)), a.Dir.Neg(), max(a.Diameter, 0), length}
}

// Box is the box around the corridor.
func (w Way) Box() geom.Box { return w.rod(w.Length).Box() }

func (w Way) rod(length float64) geom.Rod {
	return geom.Rod{Path: []geom.Vec{w.From, w.From.Add(w.Dir.Mul(length))}, Radius: w.Radius}
}

// ToSolid is the length of the way up to a solid, asked on its axis and on eight
// lines along its side; false when nothing is met.
func (w Way) ToSolid(s *geom.Solid) (float64, bool) {
	return w.first(func(o geom.Vec) []geom.Interval { return geom.Intervals(s.Inside(o, w.Dir)) })
}

// ToBox is ToSolid for an element of which only the box is known.
func (w Way) ToBox(b geom.Box) (float64, bool) {
	return w.first(func(o geom.Vec) []geom.Interval { return b.Inside(o, w.Dir) })
}

// AxisToSolid is ToSolid for the axis alone: beside a slanting axis its own face
// begins at once.
func (w Way) AxisToSolid(s *geom.Solid) (float64, bool) {
	w.Radius = 0
	return w.ToSolid(s)
}

// first is where the first of the lines meets something, within the length.
func (w Way) first(inside func(o geom.Vec) []geom.Interval) (float64, bool) {
	best := math.Inf(1)
	f := geom.FrameZX(w.From, w.Dir, w.Dir.Perp())
	lines := 8
	if w.Radius == 0 {
		lines = 0
	}
	for i := range lines + 1 {
		o := w.From
		if i > 0 {
			s, c := math.Sincos(2 * math.Pi * float64(i) / 8)
			o = f.Apply(geom.V(w.Radius*c, w.Radius*s, 0))
		}
		for _, in := range inside(o) {
			if in.To > wayTol && in.To-in.From > wayTol {
				best = min(best, max(in.From, 0))
			}
		}
	}
	return best, best < w.Length
}

// wayTol is how much, in mm, of something may reach into a way before it counts.
const wayTol = 0.1

// ToItem is the length of the way up to an item; false when it does not reach
// into it.
func (w Way) ToItem(it *model.Item) (float64, bool) {
	box := w.Box()
	best, ok := w.Length, false
	for i := range it.Bodies {
		b := &it.Bodies[i]
		if !b.Box.Overlaps(box) || !w.blocked(b, best) {
			continue
		}
		from, to := 0.0, best // what blocks a way blocks every longer one
		for to-from > geom.Tol/2 {
			if mid := (from + to) / 2; w.blocked(b, mid) {
				to = mid
			} else {
				from = mid
			}
		}
		best, ok = max(from-wayTol, 0), true
	}
	return best, ok
}

// blocked asks only whether the two meet: how far they are apart costs much more.
func (w Way) blocked(b *model.Body, length float64) bool {
	gap, _, ok := bodyRod(b, w.rod(length), 0)
	return ok && gap < -wayTol
}
