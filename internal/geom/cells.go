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

// mark asks for the label of a point in each ring's cell.
func (c *cells) mark(ask func(p Vec2) label) {
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
		p, ok := c.pointIn(ring)
		if !ok {
			continue
		}
		l := ask(p)
		for _, g := range ring {
			c.label[g] = l
		}
	}
}

// pointIn is a point of the cell to the left of a ring, away from all segments;
// false in the unbounded cell.
func (c *cells) pointIn(ring []int32) (Vec2, bool) {
	const tries = 4
	order := slices.Clone(ring)
	slices.SortFunc(order, func(g, h int32) int {
		if x := cmp.Compare(c.way(h).Norm(), c.way(g).Norm()); x != 0 {
			return x
		}
		return cmp.Compare(g, h)
	})
	var best Vec2
	most := -1.0
	for _, h := range order[:min(tries, len(order))] {
		way := c.way(h)
		l := way.Norm()
		mid := c.xy[c.start(h)].Add(way.Mul(0.5))
		left := Vec2{-way.Y / l, way.X / l}
		far := c.firstHit(mid, left, h/2)
		if math.IsInf(far, 1) {
			return Vec2{}, false
		}
		p := mid.Add(left.Mul(far / 2))
		room := c.room(p)
		if room > most {
			best, most = p, room
		}
		if room > 0.05*l || room > 1 {
			break
		}
	}
	return best, most > 0
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
		q := nearestOnSegment2(p, c.xy[s[0]], c.xy[s[1]]).Sub(p)
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
