package measure

import (
	"math"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// FlushTol is how far the open end of an item that lies wholly inside may be
// sunk below a face that still counts as its entry face, in mm.
const FlushTol = 10

// Entry finds where the anchor's axis enters the solid. ownRecess says that the
// open end stands in a recess of the item's own, so that any depth below the
// face is accepted. nil when the axis meets no concrete, or when the open end is
// buried.
func Entry(a *model.Anchor, solid *geom.Solid, ownRecess bool) *model.Entry {
	in, ok := embedded(a, solid)
	if !ok {
		return nil
	}
	if in.From.T < -FlushTol-geom.Tol && !ownRecess {
		return nil
	}
	return &model.Entry{
		Point:     a.At(in.From.T),
		Normal:    in.From.Normal,
		Dist:      in.From.T,
		Thickness: in.To.T - in.From.T,
		Solid:     solid,
		Part:      in.From.Part,
		Tri:       in.From.Tri,
	}
}

// EntryAround is Entry for an anchor whose own hole is cut out of the solid: the
// face is found on lines beside the axis, at the distance clear, in mm.
func EntryAround(a *model.Anchor, solid *geom.Solid, clear float64, ownRecess bool) *model.Entry {
	f := geom.FrameZX(a.Open, a.Dir, a.Dir.Perp())
	const lines = 8
	from := make([]geom.Vec, lines)
	for i := range from {
		w := 2 * math.Pi * float64(i) / lines
		from[i] = f.Apply(geom.V((clear+0.5)*math.Cos(w), (clear+0.5)*math.Sin(w), 0))
	}
	e := EntryBeside(a, solid, from, ownRecess)
	if e != nil {
		e.Clear = clear + 0.25
	}
	return e
}

// EntryBeside finds the face that the axis would enter from lines along it that
// begin at the given points. Most of the lines have to meet that face.
func EntryBeside(a *model.Anchor, solid *geom.Solid, from []geom.Vec, ownRecess bool) *model.Entry {
	var best *model.Entry
	most := len(from) / 2
	all, at := make([]geom.Span, 0, len(from)), make([]geom.Vec, 0, len(from))
	for _, p := range from {
		side := *a
		side.Open = p
		if in, ok := embedded(&side, solid); ok {
			all, at = append(all, in), append(at, side.At(in.From.T))
		}
	}
	for i, p := range at {
		in := &all[i]
		n, cos := in.From.Normal, a.Dir.Dot(in.From.Normal)
		if cos > -0.1 {
			continue
		}
		agree, thick := 0, 0.0
		for k := range all {
			if math.Abs(at[k].Sub(p).Dot(n)) < 0.5 {
				agree++
				thick += all[k].To.T - all[k].From.T
			}
		}
		if agree <= most {
			continue
		}
		dist := p.Sub(a.Open).Dot(n) / cos
		if dist < -FlushTol-geom.Tol && !ownRecess {
			continue
		}
		most = agree
		best = &model.Entry{
			Point: a.At(dist), Normal: n, Dist: dist, Thickness: thick / float64(agree), Solid: solid, Part: in.From.Part, Tri: in.From.Tri,
		}
	}
	return best
}

// embedded is the piece of concrete on the axis that the anchor enters first,
// seen from its open end. An axis that only grazes the concrete for less than
// a millimetre does not enter it.
func embedded(a *model.Anchor, solid *geom.Solid) (geom.Span, bool) {
	for _, in := range solid.Inside(a.Open, a.Dir) {
		if math.Min(in.To.T, a.Deepest)-math.Max(in.From.T, 0) > 1 {
			return in, true
		}
	}
	return geom.Span{}, false
}
