package geom

import (
	"cmp"
	"slices"
)

// arrangement is segments in one plane, cut wherever they meet.
type arrangement struct {
	pool  *pool
	frame Affine
	tol   float64 // nearer than this a point lies on a segment
	local *places // of pool numbers in id and xy
	id    []int32
	xy    []Vec2
	segs  [][2]int32 // places, the smaller first
}

func (a *arrangement) place(id int32) int32 {
	i := a.local.of(id)
	if *i == 0 {
		q := a.frame.Local(a.pool.pts[id])
		a.id = append(a.id, id)
		a.xy = append(a.xy, Vec2{q.X, q.Y})
		*i = int32(len(a.id))
	}
	return *i - 1
}

// places is a table from pool numbers to places plus one, 0 for none.
type places struct{ at []int32 }

func (p *places) of(id int32) *int32 {
	if n := int(id) + 1; n > len(p.at) {
		p.at = append(p.at, make([]int32, n-len(p.at))...)
	}
	return &p.at[id]
}

// forget makes the table empty again.
func (a *arrangement) forget() {
	for _, id := range a.id {
		a.local.at[id] = 0
	}
}

func (a *arrangement) add(u, v int32) {
	if u != v {
		a.segs = append(a.segs, ordered(a.place(u), a.place(v)))
	}
}

func ordered(u, v int32) [2]int32 {
	if u > v {
		u, v = v, u
	}
	return [2]int32{u, v}
}

// cut cuts the segments until none meets another but at ends. Cutting at a point
// that lies beside a segment moves it a little, so that it may come to meet
// others; a few rounds settle that.
func (a *arrangement) cut() {
	for range 8 {
		a.dropRepeats()
		cuts := a.findCuts()
		if len(cuts) == 0 {
			return
		}
		a.apply(cuts)
	}
	a.dropRepeats()
}

func (a *arrangement) dropRepeats() {
	slices.SortFunc(a.segs, func(s, t [2]int32) int {
		if c := cmp.Compare(s[0], t[0]); c != 0 {
			return c
		}
		return cmp.Compare(s[1], t[1])
	})
	a.segs = slices.Compact(a.segs)
}

// cutAt is a place at which a segment is to be cut.
type cutAt struct {
	seg, at int32
}

// findCuts sweeps over the segments from left to right and looks at all pairs
// whose boxes meet.
func (a *arrangement) findCuts() []cutAt {
	type span struct {
		lo, hi Vec2
		seg    int32
	}
	spans := make([]span, len(a.segs))
	for i, s := range a.segs {
		p, q := a.xy[s[0]], a.xy[s[1]]
		lo, hi := Vec2{min(p.X, q.X), min(p.Y, q.Y)}, Vec2{max(p.X, q.X), max(p.Y, q.Y)}
		spans[i] = span{lo, Vec2{hi.X + a.tol, hi.Y + a.tol}, int32(i)}
	}
	slices.SortFunc(spans, func(s, t span) int {
		if c := cmp.Compare(s.lo.X, t.lo.X); c != 0 {
			return c
		}
		return cmp.Compare(s.seg, t.seg)
	})
	var cuts []cutAt
	var open []span
	for _, s := range spans {
		kept := open[:0]
		for _, o := range open {
			if o.hi.X < s.lo.X {
				continue
			}
			kept = append(kept, o)
			if o.lo.Y <= s.hi.Y && s.lo.Y <= o.hi.Y {
				cuts = a.meet(cuts, o.seg, s.seg)
			}
		}
		open = append(kept, s)
	}
	return cuts
}

// meet appends the cuts that two segments make in each other.
func (a *arrangement) meet(cuts []cutAt, s, t int32) []cutAt {
	n := len(cuts)
	for _, x := range [2][2]int32{{s, t}, {t, s}} {
		for _, v := range a.segs[x[1]] {
			if a.lies(v, a.segs[x[0]]) {
				cuts = append(cuts, cutAt{x[0], v})
			}
		}
	}
	if len(cuts) > n {
		return cuts
	}
	p, q := a.segs[s], a.segs[t]
	if p[0] == q[0] || p[0] == q[1] || p[1] == q[0] || p[1] == q[1] {
		return cuts
	}
	c, ok := a.crossing(p, q)
	if !ok {
		return cuts
	}
	at := a.place(a.pool.add(c))
	for _, x := range [2]int32{s, t} {
		if g := a.segs[x]; at != g[0] && at != g[1] {
			cuts = append(cuts, cutAt{x, at})
		}
	}
	return cuts
}

// lies reports whether point v lies on the segment between its ends.
func (a *arrangement) lies(v int32, s [2]int32) bool {
	if v == s[0] || v == s[1] {
		return false
	}
	p, q, r := a.xy[s[0]], a.xy[s[1]], a.xy[v]
	d := q.Sub(p)
	l := d.Dot(d)
	if t := r.Sub(p).Dot(d); !(t > 0 && t < l) {
		return false
	}
	h := d.Cross(r.Sub(p))
	return h*h < a.tol*a.tol*l
}

// crossing is the point, in space, where two segments cross.
func (a *arrangement) crossing(s, t [2]int32) (Vec, bool) {
	p, q, r, u := a.xy[s[0]], a.xy[s[1]], a.xy[t[0]], a.xy[t[1]]
	dp, dq := orient2d(r, u, p), orient2d(r, u, q)
	dr, du := orient2d(p, q, r), orient2d(p, q, u)
	if !(dp > 0 && dq < 0 || dp < 0 && dq > 0) || !(dr > 0 && du < 0 || dr < 0 && du > 0) {
		return Vec{}, false
	}
	return a.pool.pts[a.id[s[0]]].Lerp(a.pool.pts[a.id[s[1]]], dp/(dp-dq)), true
}

// apply cuts the segments.
func (a *arrangement) apply(cuts []cutAt) {
	type order struct {
		cutAt
		t float64
	}
	list := make([]order, len(cuts))
	for i, c := range cuts {
		s := a.segs[c.seg]
		p := a.xy[s[0]]
		list[i] = order{c, a.xy[c.at].Sub(p).Dot(a.xy[s[1]].Sub(p))}
	}
	slices.SortFunc(list, func(x, y order) int {
		if c := cmp.Compare(x.seg, y.seg); c != 0 {
			return c
		}
		if c := cmp.Compare(x.t, y.t); c != 0 {
			return c
		}
		return cmp.Compare(x.at, y.at)
	})
	var out [][2]int32
	next := 0
	for i, s := range a.segs {
		from := s[0]
		for ; next < len(list) && int(list[next].seg) == i; next++ {
			if at := list[next].at; at != from {
				out = append(out, ordered(from, at))
				from = at
			}
		}
		if from != s[1] {
			out = append(out, ordered(from, s[1]))
		}
	}
	a.segs = out
}
