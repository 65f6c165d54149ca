package geom

import (
	"cmp"
	"math"
	"slices"
)

// label tells what a cell is in the result: nothing, or a piece of face number,
// that looks along the plane's normal (side 1) or against it (side -1).
type label struct {
	side   int8
	number int32
}

// cells is the cells between the segments of an arrangement. Each segment has
// two half-edges, 2*i from its first end and 2*i+1 from its second, with the cell
// to the left. A cell with islands has one ring of half-edges around it and one
// around each island.
type cells struct {
	*arrangement
	next  []int32 // the half-edge that goes on around the same cell
	label []label // by half-edge
}

func newCells(a *arrangement) *cells {
	c := &cells{arrangement: a, next: make([]int32, 2*len(a.segs)), label: make([]label, 2*len(a.segs))}
	out := make([][]int32, len(a.xy))
	for h := range int32(2 * len(a.segs)) {
		out[c.start(h)] = append(out[c.start(h)], h)
	}
	for v, hs := range out {
		slices.SortFunc(hs, func(g, h int32) int { return compareAngles(c.way(g), c.way(h)) })
		for i, h := range hs {
			// Coming in along h's twin, the cell to the left goes on along
			// the half-edge that is next clockwise.
			c.next[h^1] = hs[(i+len(hs)-1)%len(hs)]
		}
		_ = v
	}
	return c
}

func (c *cells) start(h int32) int32 { return c.segs[h/2][h&1] }
func (c *cells) end(h int32) int32   { return c.segs[h/2][1-h&1] }
func (c *cells) way(h int32) Vec2    { return c.xy[c.end(h)].Sub(c.xy[c.start(h)]) }

// compareAngles orders directions counter-clockwise from the x axis.
func compareAngles(a, b Vec2) int {
	upper := func(v Vec2) int {
		if v.Y > 0 || v.Y == 0 && v.X > 0 {
			return 0
		}
		return 1
	}
	if c := cmp.Compare(upper(a), upper(b)); c != 0 {
		return c
	}
	return cmp.Compare(0, cross2(a, b))
}

// mark asks for the label of a point in each ring's cell. ask is not sure when
// something else touches the plane just there: another point is taken then.
func (c *cells) mark(ask func(p Vec2) (l label, sure bool)) {
	done := make([]bool, len(c.next))
	var ring []int32
	for h := range int32(len(c.next)) {
		if done[h] {
			continue
		}
		ring = ring[:0]
		for g := h; !done[g]; g = c.next[g] {
			done[g] = true
			ring = append(ring, g)
		}
		l := c.labelOf(ring, ask)
		for _, g := range ring {
			c.label[g] = l
		}
	}
}

// labelOf looks for a point of the cell to the left of a ring, away from all
// segments, beginning at the longest ones. The unbounded cell has no label.
func (c *cells) labelOf(ring []int32, ask func(p Vec2) (label, bool)) label {
	const tries = 5
	order := slices.Clone(ring)
	slices.SortFunc(order, func(g, h int32) int {
		return cmp.Or(cmp.Compare(c.way(h).Norm(), c.way(g).Norm()), cmp.Compare(g, h))
	})
	var best Vec2
	most := -1.0
	for _, h := range order[:min(tries, len(order))] {
		p, far := c.beside(h)
		if math.IsInf(far, 1) {
			return label{}
		}
		room := c.room(p)
		if room > most {
			best, most = p, room
		}
		if room > 0.05*c.way(h).Norm() || room > 1 {
			if l, sure := ask(p); sure {
				return l
			}
		}
	}
	if !(most > 0) {
		return label{}
	}
	l, _ := ask(best)
	return l
}

// beside is a point to the left of a half-edge, and how far the next segment is
// there; +Inf when there is none. It keeps off the middle, where by chance other
// corners of regular bodies lie.
func (c *cells) beside(h int32) (p Vec2, far float64) {
	way := c.way(h)
	l := way.Norm()
	from := c.xy[c.start(h)].Add(way.Mul(0.4637))
	left := Vec2{-way.Y / l, way.X / l}
	far = c.firstHit(from, left, h/2)
	return from.Add(left.Mul(0.4419 * far)), far
}

// firstHit is how far one can go from o along unit d to the first segment other
// than skip.
func (c *cells) firstHit(o, d Vec2, skip int32) float64 {
	best := math.Inf(1)
	for i, s := range c.segs {
		if int32(i) == skip {
			continue
		}
		p, q := c.xy[s[0]].Sub(o), c.xy[s[1]].Sub(o)
		a, b := d.Cross(p), d.Cross(q)
		if a > 0 && b > 0 || a < 0 && b < 0 {
			continue
		}
		if a == b { // along the way
			for _, t := range [2]float64{d.Dot(p), d.Dot(q)} {
				if t > 0 {
					best = min(best, t)
				}
			}
			continue
		}
		if t := d.Dot(p) + (d.Dot(q)-d.Dot(p))*a/(a-b); t > 0 {
			best = min(best, t)
		}
	}
	return best
}

// room is the distance from p to the nearest segment.
func (c *cells) room(p Vec2) float64 {
	best := math.Inf(1)
	for _, s := range c.segs {
		q := NearestOnSegment2(p, c.xy[s[0]], c.xy[s[1]]).Sub(p)
		best = min(best, q.Dot(q))
	}
	return math.Sqrt(best)
}

// loop is an outline of cells with one label, the cells to its left.
type loop struct {
	label
	ids []int32 // pool numbers
}

// outlines is the loops around neighbouring cells with the same label.
func (c *cells) outlines() []loop {
	done := make([]bool, len(c.next))
	border := func(h int32) bool { return c.label[h].side != 0 && c.label[h] != c.label[h^1] }
	var out []loop
	for h := range int32(len(c.next)) {
		if done[h] || !border(h) {
			continue
		}
		l := loop{label: c.label[h]}
		for g := h; !done[g]; {
			done[g] = true
			l.ids = append(l.ids, c.id[c.start(g)])
			for g = c.next[g]; !border(g); {
				g = c.next[g^1]
			}
		}
		out = append(out, l)
	}
	return out
}
