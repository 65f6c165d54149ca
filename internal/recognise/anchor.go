package recognise

import (
	"cmp"
	"math"
	"slices"

	"embedcheck/internal/geom"
	"embedcheck/internal/measure"
	"embedcheck/internal/model"
)

// anchor orients the shank in its host: which end is open, how deep it bears.
// Without a host the end away from hook and head is the open one.
func (s *shank) anchor(h *model.Host) *model.Anchor {
	fore := s.towards(false, h)
	back := s.towards(true, h)
	if back.rank > fore.rank || back.rank == fore.rank && back.out > fore.out+geom.Tol {
		fore = back
	}
	return fore.anchor
}

// anchorFrom is the anchor that runs into the concrete from a plate with the
// outer normal n.
func (s *shank) anchorFrom(n geom.Vec, h *model.Host) *model.Anchor {
	return s.towards(s.dir().Dot(n) > 0, h).anchor
}

// trial is an anchor seen from one of its ends, and how well that fits.
type trial struct {
	anchor *model.Anchor
	rank   int     // 2: enters here and holds at the other end, 1: enters here
	out    float64 // mm that the open end stands out
}

func (s *shank) towards(reverse bool, h *model.Host) trial {
	a := &model.Anchor{
		Open: s.a, Dir: s.dir(), Length: s.length(), Diameter: 2 * s.radius, Hook: s.hookB,
	}
	heads := slices.Clone(s.heads)
	openHook := s.hookA
	if reverse {
		a.Open, a.Dir, a.Hook, openHook = s.b, s.dir().Neg(), s.hookA, s.hookB
		for i, c := range heads {
			heads[i] = collar{a.Length - c.to, a.Length - c.from, c.radius, c.plate}
		}
	}
	a.Bearing, a.Deepest = a.Length, a.Length
	entry := a.Length / 2
	t := trial{anchor: a, out: math.Inf(-1)}
	if h != nil {
		if e := measure.Entry(a, geom.NewSolid(h.Body), true); e != nil {
			entry, t.out = e.Dist, e.Dist
		}
	}
	hold(a, heads, entry)
	a.Parts = partsOf(heads, a.Diameter)
	a.Thread = s.threadFrom(reverse)
	if t.out >= -measure.FlushTol {
		t.rank++
	}
	if a.End != model.Plain && openHook == nil {
		t.rank++
	}
	return t
}

// hold finds how the anchor bears: on its hook, or on the collars that are
// stacked at its embedded end. entry is where it enters the concrete.
func hold(a *model.Anchor, heads []collar, entry float64) {
	if a.Hook != nil {
		deepest := a.Length
		for _, p := range a.Hook {
			deepest = max(deepest, p.Sub(a.Open).Dot(a.Dir))
		}
		a.End = model.Hooked
		a.Bearing, a.Deepest = deepest-a.Diameter/2, deepest+a.Diameter/2
	}
	slices.SortFunc(heads, func(x, y collar) int { return cmp.Compare(y.to, x.to) })
	middle := max(entry, 0) + (a.Length-max(entry, 0))/2
	top, size := math.Inf(1), 0.0
	for _, c := range heads {
		if c.from < middle {
			continue
		}
		a.Deepest = max(a.Deepest, c.to)
		if stacked := top - c.to; !math.IsInf(top, 1) && stacked > 0.3*a.Diameter+2 {
			break
		}
		if c.from < top {
			top = c.from
		}
		size = max(size, 2*c.radius)
	}
	if size > 0 && a.Hook == nil {
		a.End, a.Bearing, a.HeadSize = model.Headed, top, size
	}
}

// enter fills in where the anchor enters its host. Voids that it owns, and
// filled ones that are full of other items' steel, count as concrete. Where its
// hole may be part of the host's own shape, the face is looked for beside it too.
func enter(a *model.Anchor, h *model.Host, mayHole bool, fills, filled func(*model.Void) bool, solidOf func([]*model.Void) *geom.Solid) {
	var own []*model.Void
	recess := false
	for _, v := range h.Voids {
		if fills(v) {
			own, recess = append(own, v), true
			continue
		}
		is, sunk := ownVoid(a, v)
		if is || filled(v) {
			own = append(own, v)
			recess = recess || is && sunk
		}
	}
	solid := solidOf(own)
	a.Entry = measure.Entry(a, solid, recess)
	if a.Entry == nil && mayHole {
		a.Entry = enterHole(a, solid, recess)
	}
}

// enterHole finds the entry face of an anchor whose hole is part of the host's
// own shape, as exporters write it who cut every part out before they mesh.
func enterHole(a *model.Anchor, solid *geom.Solid, recess bool) *model.Entry {
	r := max(a.Diameter, 2) / 2
	for _, play := range []float64{1, 4, 12, 30} {
		if !narrowVoid(a, r+play) {
			break
		}
		if e := measure.EntryAround(a, solid, r+play, recess); e != nil {
			return e
		}
	}
	return nil
}

// ownVoid reports whether a void of the host belongs to the anchor, and whether
// the anchor's open end stands in it. A void belongs to an anchor whose axis
// runs through it when it is no wider than the anchor's own hardware needs, or
// when it is a shallow recess around the open end. The figures are common
// practice, no published source: sleeves and pockets for one anchor are at most
// 4 diameters from its axis; recesses of lifting inserts are up to about 300 mm
// long and 120 mm deep.
func ownVoid(a *model.Anchor, v *model.Void) (own, sunk bool) {
	const longRecess, deepRecess = 160, 120
	from, to := math.Inf(1), math.Inf(-1)
	for _, in := range v.Mesh.Inside(a.Open, a.Dir) {
		if in.To > -deepRecess && in.From < a.Deepest {
			from, to = min(from, in.From), max(to, in.To)
		}
	}
	if to-max(from, -deepRecess) < 1 {
		return false, false
	}
	widest := 0.0
	for _, p := range v.Mesh.Verts {
		d := p.Sub(a.Open)
		widest = max(widest, d.Sub(a.Dir.Mul(d.Dot(a.Dir))).Norm())
	}
	sunk = from < 0.5 && to > -10
	shallow := sunk && widest <= longRecess && to < min(deepRecess, a.Bearing/2+20)
	return narrowVoid(a, widest) || shallow, sunk
}

func narrowVoid(a *model.Anchor, widest float64) bool {
	return widest <= max(60, 4*a.Diameter, 1.2*a.HeadSize)
}

// jacket reports whether a void is cut for the anchor's own steel: it runs along
// the embedded axis and is hardly wider.
func jacket(a *model.Anchor, v *model.Void) bool {
	if !v.Box.Overlaps(geom.BoxOf(a.Open, a.At(a.Deepest))) {
		return false
	}
	// the corners of a square hole lie farther out than a round one's wall
	widest := 1.2 * (max(a.Diameter, a.HeadSize) + 20) / 2
	for _, p := range v.Mesh.Verts {
		if d := p.Sub(a.Open); d.Sub(a.Dir.Mul(d.Dot(a.Dir))).Norm() > widest {
			return false
		}
	}
	var in float64
	for _, i := range v.Mesh.Inside(a.Open, a.Dir) {
		in += max(0, min(i.To, a.Deepest)-max(i.From, 0))
	}
	return in >= a.Deepest/3
}
