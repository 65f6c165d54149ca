package rod

import (
	"cmp"
	"math"
	"slices"

	"embedcheck/internal/geom"
)

// thicker reports whether the slab stands out from a shank of radius r all
// around; a hook or a leg that crosses the axis does not.
func (s *slab) thicker(r float64) bool { return s.least > 1.02*r+0.05 }

// thinner reports whether the slab continues the shank no thicker than it is: a
// chamfer, a rounded end, a thread that is modelled with its core diameter.
func (s *slab) thinner(r float64) bool {
	return s.most <= 1.01*r+0.02 && s.offset < 0.1*r+0.02 && (s.most >= 0.75*r || s.tapered)
}

const (
	upset     = 1.3 // a long part up to this many times thicker belongs to the shank: a thread, an upset end
	longShare = 1.5 // a part longer than this many of its own widths is no head: a socket, a coupler, a sleeve
	plateSize = 8   // shank radii: a head that reaches farther is a plate
	touch     = 0.5 // mm between two solids that are made to touch
)

// dresser adds what a mesh holds around a shank.
type dresser struct {
	body *body
	tube *tube
}

// dress adds heads to the run of c that m was made from, and moves the ends of
// the axis to the ends of the steel. It reports whether a bore opens at B.
func (w *dresser) dress(m *Member, c *chain, r run) (mouthAtB bool) {
	x := axis{m.A.Sub(w.body.origin), m.Axis()}
	lo, hi := 0.0, m.Length()
	var slabs []slab
	if r.to == len(c.path)-1 && w.tube.goesOn[1] {
		more := w.beyond(x, hi, m.Radius)
		hi = reach(more, hi)
		slabs = append(slabs, more...)
	}
	if r.from == 0 && w.tube.goesOn[0] {
		more := w.beyond(axis{x.a, x.d.Neg()}, 0, m.Radius)
		lo = -reach(more, 0)
		for _, s := range slices.Backward(more) {
			s.from, s.to = -s.to, -s.from
			slabs = append(slabs, s)
		}
	}
	for _, p := range w.tube.breaks {
		p = p.Sub(w.body.origin)
		if z := x.depth(p); x.off(p) < m.Radius && z > lo && z < hi {
			slabs = append(slabs, w.beyond(x, z, m.Radius)...)
		}
	}
	sortSlabs(slabs)
	heads := headsOf(slabs, m.Radius)
	w.others(x, m, &lo, &hi, func(more []slab) { heads = append(heads, headsOf(more, m.Radius)...) })
	slices.SortFunc(heads, func(a, b Head) int {
		return cmp.Or(cmp.Compare(a.From, b.From), cmp.Compare(a.To, b.To), cmp.Compare(a.Radius, b.Radius))
	})
	for i := range heads {
		heads[i].From -= lo
		heads[i].To -= lo
	}
	m.Heads = heads
	if lo != 0 {
		m.A = x.at(lo).Add(w.body.origin)
	}
	if hi != x.depth(m.B.Sub(w.body.origin)) {
		m.B = x.at(hi).Add(w.body.origin)
	}
	return w.bore(m)
}

func sortSlabs(s []slab) {
	slices.SortStableFunc(s, func(a, b slab) int { return cmp.Compare(a.from, b.from) })
}

// beyond walks on from where the clean surface of the shank ends, over heads,
// chamfers and threads, and stops at sockets and at the shank itself.
func (w *dresser) beyond(x axis, z, r float64) []slab {
	slabs := w.tube.shell.walk(x, z, math.Inf(1), false, func(s *slab) bool {
		again := s.least > 0.9*r && s.thinner(r) && !s.tapered && math.Abs(s.most-r) < 0.01*r && s.from > z+touch
		return again || !s.thicker(r) && !s.thinner(r)
	})
	for i := 0; i < len(slabs); {
		k := i + 1
		for k < len(slabs) && slabs[k].like(&slabs[k-1]) {
			k++
		}
		if s := &slabs[i]; s.most > upset*r && s.outlineFor(r) != PlateHead && slabs[k-1].to-s.from > longShare*2*s.most {
			return slabs[:i]
		}
		i = k
	}
	return slabs
}

// like reports whether two slabs on top of each other are one part.
func (s *slab) like(o *slab) bool {
	return math.Abs(s.from-o.to) < touch && s.outline == o.outline && !s.tapered && !o.tapered &&
		math.Abs(s.most-o.most) < 0.02*math.Max(s.most, o.most)
}

func (s *slab) outlineFor(r float64) Outline {
	if s.offset > 0.15*s.most || s.most > plateSize*r {
		return PlateHead
	}
	return s.outline
}

func reach(slabs []slab, z float64) float64 {
	for i := range slabs {
		z = math.Max(z, slabs[i].to)
	}
	return z
}

// others collects heads that are shells of their own: nuts, washers, plates.
func (w *dresser) others(x axis, m *Member, lo, hi *float64, add func([]slab)) {
	for _, s := range w.body.shells {
		if s == w.tube.shell || !s.onAxis(x, *lo-1, *hi+1) || s.otherBar(x) {
			continue
		}
		low, high := math.Inf(1), math.Inf(-1)
		for _, v := range s.ids {
			low, high = math.Min(low, x.depth(s.verts[v])), math.Max(high, x.depth(s.verts[v]))
		}
		if high < *lo-1 || low > *hi+1 {
			continue
		}
		slabs := s.walk(x, low, high, true, func(sl *slab) bool { return !sl.thicker(m.Radius) })
		if len(slabs) == 0 {
			continue
		}
		from, to := slabs[0].from, slabs[len(slabs)-1].to
		widest := 0.0
		for i := range slabs {
			widest = math.Max(widest, slabs[i].most)
		}
		if to < *lo-touch || from > *hi+touch || slabs[0].outlineFor(m.Radius) != PlateHead && to-from > longShare*2*widest {
			continue
		}
		add(slabs)
		if from >= *hi-touch { // a head that the shank does not enter
			*hi = math.Max(*hi, to)
		}
		if to <= *lo+touch {
			*lo = math.Min(*lo, from)
		}
	}
}

// onAxis reports whether the shell's box meets the axis between two distances.
func (s *shell) onAxis(x axis, lo, hi float64) bool {
	for _, c := range [3][4]float64{
		{x.a.X, x.d.X, s.box.Min.X, s.box.Max.X},
		{x.a.Y, x.d.Y, s.box.Min.Y, s.box.Max.Y},
		{x.a.Z, x.d.Z, s.box.Min.Z, s.box.Max.Z},
	} {
		a, d, least, most := c[0], c[1], c[2], c[3]
		if math.Abs(d) < 1e-12 {
			if a < least || a > most {
				return false
			}
			continue
		}
		p, q := (least-a)/d, (most-a)/d
		lo, hi = math.Max(lo, math.Min(p, q)), math.Min(hi, math.Max(p, q))
	}
	return lo <= hi
}

// otherBar reports whether the shell is a bar of its own that only crosses the
// axis.
func (s *shell) otherBar(x axis) bool {
	for _, t := range s.tubes {
		for i := 1; i < len(t.path); i++ {
			u := t.path[i].Sub(t.path[i-1])
			if u.Norm() > 2*t.radius && x.d.Cross(u).Norm() > 0.1*u.Norm() {
				return true
			}
		}
	}
	return false
}

// headsOf puts slabs together that are one head: a nut with its chamfers, a
// forged head with its cone.
func headsOf(slabs []slab, r float64) []Head {
	var out []Head
	var flat float64 // length of the untapered part that named the outline
	open := false    // the last head consists of tapered slabs only
	for i := range slabs {
		s := &slabs[i]
		if !s.thicker(r) {
			continue
		}
		var h *Head
		if n := len(out); n > 0 && math.Abs(out[n-1].To-s.from) < touch {
			same := out[n-1].Outline == s.outlineFor(r) && math.Abs(out[n-1].Radius-s.most) < 0.05*s.most
			if same || s.tapered || open {
				h = &out[n-1]
			}
		}
		if h == nil {
			out = append(out, Head{From: s.from, To: s.to, Radius: s.most, Flat: s.flat, Outline: s.outlineFor(r)})
			open, flat = s.tapered, s.to-s.from
			continue
		}
		h.To = s.to
		h.Radius = math.Max(h.Radius, s.most)
		if !s.tapered && (open || s.to-s.from > flat) {
			h.Flat, h.Outline = s.flat, s.outlineFor(r)
			open, flat = false, s.to-s.from
		}
	}
	return slices.DeleteFunc(out, func(h Head) bool {
		return h.Outline != PlateHead && h.Radius <= upset*r && h.To-h.From > longShare*2*h.Radius
	})
}

// bore finds the hole of a tube or a socket: concentric, and open at an end. It
// reports whether it opens at B.
func (w *dresser) bore(m *Member) (atB bool) {
	s := w.tube.shell
	x := axis{m.A.Sub(w.body.origin), m.Axis()}
	l := m.Length()
	if !s.hasBore(x, l, m.Radius) {
		return false
	}
	near, far := math.Min(0.02*l, 1), math.Min(0.1*l, 3)
	for _, z := range [5]float64{near, l - near, far, l - far, l / 2} {
		sec := s.cut(x.at(z), x.d)
		for i := range sec.loops {
			g, ok := sec.fit(int32(i), x.d)
			if ok && g.inward && g.round() && x.off(g.a) < 0.2*m.Radius && g.r < 0.998*m.Radius {
				m.Inner = g.r
				m.Bore = math.Min(l, s.boreDepth(x, z, l, g))
				return z > l/2
			}
		}
	}
	return false
}

// hasBore reports whether faces that belong to no tube run along the inside of
// the shank.
func (s *shell) hasBore(x axis, length, r float64) bool {
	for i, n := range s.normal {
		if s.used[i] || math.Abs(n.Dot(x.d)) > 0.1 || n == (geom.Vec{}) {
			continue
		}
		p := s.verts[s.tris[i][0]]
		if z := x.depth(p); z > -touch && z < length+touch && x.off(p) < r {
			return true
		}
	}
	return false
}

// boreDepth is how far the sides of a bore reach from the end near z.
func (s *shell) boreDepth(x axis, z, l float64, g ring) float64 {
	lo, hi := z, z
	tol := g.residual + 0.01*g.r + 0.01
	for _, t := range s.tris {
		on := true
		a, b := math.Inf(1), math.Inf(-1)
		for _, v := range t {
			p := s.verts[v]
			on = on && math.Abs(g.off(p)-g.r) < tol
			a, b = math.Min(a, x.depth(p)), math.Max(b, x.depth(p))
		}
		if on {
			lo, hi = math.Min(lo, a), math.Max(hi, b)
		}
	}
	if z < l/2 {
		return hi
	}
	return l - lo
}
