package recognise

import (
	"cmp"
	"math"
	"slices"

	"embedcheck/internal/geom"
	"embedcheck/internal/rod"
)

// shank is a straight round member on its way to becoming an anchor, with what
// sits on it. Distances run from a to b.
type shank struct {
	elem   *elem
	a, b   geom.Vec
	radius float64
	hookA  []geom.Vec // centreline beyond a, from a on; nil for a straight end
	hookB  []geom.Vec // the same beyond b
	heads  []collar
	steps  []float64 // where pieces of different thickness meet
	inner  float64
	piece  int
}

// collar is something round the shank that is thicker than it: head, nut,
// washer plate.
type collar struct {
	from, to, radius float64
	plate            bool // a plate that others stand in too
}

func (s *shank) dir() geom.Vec   { return s.b.Sub(s.a).Unit() }
func (s *shank) length() float64 { return s.b.Dist(s.a) }

// isTube tells a thin-walled tube wide enough for a lifting pin.
func (s *shank) isTube() bool { return s.inner > 0.8*s.radius && s.radius > 15 }

// on is the distance along the axis from a, and the distance from the axis.
func (s *shank) on(p geom.Vec) (t, r float64) {
	d := p.Sub(s.a)
	t = d.Dot(s.dir())
	return t, d.Sub(s.dir().Mul(t)).Norm()
}

// shanksOf finds the straight members in the pieces of an item and puts
// together what belongs together: collinear members, hooks modelled as pieces of
// their own, heads, nuts and washers.
func shanksOf(pieces []piece) []*shank {
	var all []*shank
	round := make([]bool, len(pieces)) // pieces that are shanks
	for i := range pieces {
		for k := range pieces[i].members {
			if s := newShank(&pieces[i], &pieces[i].members[k], i); s != nil {
				all = append(all, s)
				round[i] = true
			}
		}
	}
	all = joinHooks(joinCollinear(all))
	slices.SortStableFunc(all, func(x, y *shank) int { return cmp.Compare(x.piece, y.piece) })
	for i := range pieces {
		if !round[i] {
			for _, s := range all {
				s.wear(&pieces[i], false)
			}
		}
	}
	return all
}

func newShank(p *piece, m *rod.Member, i int) *shank {
	if m.A.Dist(m.B) < 2*m.Radius {
		return nil // a disc: a head or a washer
	}
	s := &shank{elem: p.elem, a: m.A, b: m.B, radius: m.Radius, inner: m.Inner, piece: i}
	if m.Hook != nil {
		s.hookB = memberPath(m)[1:]
	}
	for _, h := range m.Heads {
		s.heads = append(s.heads, collar{from: h.From, to: h.To, radius: h.Radius})
	}
	return s
}

// joinCollinear joins members on one line whose ends meet or overlap: a thread
// and a shank of two solids, a socket and its tail bar. What is short and
// thicker becomes a collar.
func joinCollinear(all []*shank) []*shank {
	slices.SortStableFunc(all, func(x, y *shank) int {
		switch dx, dy := x.length(), y.length(); {
		case dx > dy+geom.Tol:
			return -1
		case dy > dx+geom.Tol:
			return 1
		}
		return 0
	})
	var out []*shank
next:
	for _, s := range all {
		for _, o := range out {
			if o.join(s) {
				continue next
			}
		}
		out = append(out, s)
	}
	return out
}

// join takes s into o when they lie on one line and touch. o is the longer one.
func (o *shank) join(s *shank) bool {
	const gap = 2 // mm between the ends of two solids that are one bar
	if math.Abs(o.dir().Dot(s.dir())) < math.Cos(math.Pi/180) || o.piece == s.piece {
		return false
	}
	ta, ra := o.on(s.a)
	tb, rb := o.on(s.b)
	if off := 0.1*o.radius + 1; ra > off || rb > off {
		return false
	}
	from, to := min(ta, tb), max(ta, tb)
	if from > o.length()+gap || to < -gap {
		return false
	}
	if s.radius > 1.15*o.radius && s.length() < 6*s.radius {
		o.heads = append(o.heads, collar{from: from, to: to, radius: s.radius})
		return true
	}
	d, a := o.dir(), o.a
	o.meet(s, from, to)
	if from < 0 {
		for i := range o.heads {
			o.heads[i].from -= from
			o.heads[i].to -= from
		}
		for i := range o.steps {
			o.steps[i] -= from
		}
		o.a = a.Add(d.Mul(from))
	}
	if to > a.Dist(o.b) {
		o.b = a.Add(d.Mul(to))
	}
	if o.hookB == nil {
		o.hookB = s.hookB
	}
	return true
}

// joinHooks turns a member that starts at the end of a longer one and leads
// away from it sideways into its hook.
func joinHooks(all []*shank) []*shank {
	gone := make([]bool, len(all))
	for i, s := range all {
		for j := i + 1; j < len(all) && !gone[i]; j++ {
			if !gone[j] && s.piece != all[j].piece && s.takeHook(all[j]) {
				gone[j] = true
			}
		}
	}
	var out []*shank
	for i, s := range all {
		if !gone[i] {
			out = append(out, s)
		}
	}
	return out
}

func (s *shank) takeHook(leg *shank) bool {
	if math.Abs(s.dir().Dot(leg.dir())) > 0.8 || leg.radius > 1.2*s.radius || leg.radius < 0.8*s.radius {
		return false
	}
	reach := s.radius + leg.radius + 1
	for _, end := range []struct {
		at   geom.Vec
		hook *[]geom.Vec
	}{{s.b, &s.hookB}, {s.a, &s.hookA}} {
		near, far := leg.a, leg.b
		if near.Dist(end.at) > far.Dist(end.at) {
			near, far = far, near
		}
		if near.Dist(end.at) <= reach && *end.hook == nil {
			*end.hook = []geom.Vec{end.at, near, far}
			return true
		}
	}
	return false
}

// wear adds a piece that is no rod itself as a collar when it sits round the
// axis: a nut, a washer plate, a template.
func (s *shank) wear(p *piece, plate bool) {
	widest := 0.0
	box := geom.EmptyBox
	f := geom.FrameZX(s.a, s.dir(), s.dir().Perp())
	if r := p.body.Rod; r != nil { // a disc
		for _, v := range r.Path {
			q := f.Local(v)
			box = box.Add(q.Sub(geom.V(r.Radius, r.Radius, 0))).Add(q.Add(geom.V(r.Radius, r.Radius, 0)))
			widest = max(widest, math.Hypot(q.X, q.Y)+r.Radius)
		}
	} else {
		for _, v := range p.body.Mesh.Verts {
			q := f.Local(v)
			widest = max(widest, math.Hypot(q.X, q.Y))
			box = box.Add(q)
		}
	}
	from, to := box.Min.Z, box.Max.Z
	centred := box.Min.X < 0 && box.Max.X > 0 && box.Min.Y < 0 && box.Max.Y > 0
	if !centred || widest < 1.15*s.radius || widest > maxCollar*s.radius || to-from > 6*s.radius || to < -s.radius || from > s.length()+s.radius {
		return
	}
	s.heads = append(s.heads, collar{from, to, widest, plate})
}

// maxCollar is how many radii a washer plate may reach from the axis; what is
// wider is the plate that the shank stands on. Common practice.
const maxCollar = 10
