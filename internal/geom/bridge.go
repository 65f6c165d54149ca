package geom

import (
	"cmp"
	"slices"
)

// bridger joins holes to the outer loop, so that one loop remains that runs
// along each bridge twice. Holes are taken from the right: what lies to the
// right of a hole's rightmost point is then already part of the loop, and one of
// the points there can be seen from it (Eberly, Triangulation by ear clipping).
type bridger struct {
	pts  []Vec2
	loop []int // counter-clockwise, holes clockwise
	work int   // sides of the loop that were looked at
}

// maxWork bounds the work on one polygon, so that one with thousands of holes
// that lie on each other comes to an end. A plate with ten thousand round holes
// that lie apart takes a tenth of it.
const maxWork = 1 << 30

// after orders points by x, then y.
func (a Vec2) after(b Vec2) bool { return a.X > b.X || a.X == b.X && a.Y > b.Y }

func (b *bridger) addHoles(holes [][]Vec2) {
	var loops [][]int
	for _, h := range holes {
		if len(h) == 0 {
			continue
		}
		l := numbers(len(b.pts), len(h), loopArea(h) > 0)
		b.pts = append(b.pts, h...)
		right := 0
		for i := range l {
			if b.pts[l[i]].after(b.pts[l[right]]) {
				right = i
			}
		}
		loops = append(loops, append(l[right:len(l):len(l)], l[:right]...))
	}
	slices.SortStableFunc(loops, func(l, k []int) int {
		p, q := b.pts[l[0]], b.pts[k[0]]
		if c := cmp.Compare(q.X, p.X); c != 0 {
			return c
		}
		return cmp.Compare(q.Y, p.Y)
	})
	for _, l := range loops {
		if b.work > maxWork {
			return
		}
		b.join(l)
	}
}

// join makes the hole, given from its rightmost point on, part of the loop. Where
// the two touch there is no bridge, and the point is named by its number in the
// loop.
func (b *bridger) join(hole []int) {
	b.splitAt(hole[0])
	at, from := b.visible(hole)
	hole = append(hole[from:len(hole):len(hole)], hole[:from]...)
	out := make([]int, 0, len(b.loop)+len(hole)+2)
	out = append(out, b.loop[:at+1]...)
	if b.pts[b.loop[at]] == b.pts[hole[0]] {
		out = append(out, hole[1:]...)
	} else {
		out = append(out, hole...)
		out = append(out, hole[0])
	}
	b.loop = append(out, b.loop[at:]...)
}

// splitAt inserts a point that lies on a side of the loop into it.
func (b *bridger) splitAt(h int) {
	p := b.pts[h]
	for i, v := range b.loop {
		q, r := b.pts[v], b.pts[b.loop[(i+1)%len(b.loop)]]
		if p != q && p != r && between(q, r, p) && orient2d(q, r, p) == 0 {
			b.loop = slices.Insert(b.loop, i+1, h)
			return
		}
	}
}

// between reports whether p lies in the box of segment a-b.
func between(a, b, p Vec2) bool {
	return min(a.X, b.X) <= p.X && p.X <= max(a.X, b.X) && min(a.Y, b.Y) <= p.Y && p.Y <= max(a.Y, b.Y)
}

// visible is the place in the loop of the nearest point that the hole's first one
// can be joined to, and the place in the hole to join it from: a hole may come by
// its first point several times.
func (b *bridger) visible(hole []int) (at, from int) {
	h := b.pts[hole[0]]
	type place struct {
		at    int
		dist2 float64
	}
	var left []place
	for i, v := range b.loop {
		if p := b.pts[v]; p == h || p.after(h) {
			left = append(left, place{i, p.Sub(h).Dot(p.Sub(h))})
		}
	}
	first := 0
	for tried := false; len(left) > 0 && b.work <= maxWork; tried = true {
		b.work += len(left)
		// The first few are nearly always enough: no need to sort.
		k := 0
		for i := range left {
			if left[i].dist2 < left[k].dist2 || left[i].dist2 == left[k].dist2 && left[i].at < left[k].at {
				k = i
			}
		}
		i := left[k].at
		left[k] = left[len(left)-1]
		left = left[:len(left)-1]
		if !tried {
			first = i
		}
		p := b.pts[b.loop[i]]
		if p != h && !(b.fits(b.loop, i, h) && b.clear(h, p)) {
			continue
		}
		if from, ok := b.start(hole, i); ok {
			return i, from
		}
	}
	return first, 0
}

// start is the place in the hole, at its first point, from which the way to the
// loop's place i starts inside.
func (b *bridger) start(hole []int, i int) (int, bool) {
	h, p := b.pts[hole[0]], b.pts[b.loop[i]]
	for k, v := range hole {
		if b.pts[v] != h {
			continue
		}
		if p != h {
			if b.fits(hole, k, p) {
				return k, true
			}
			continue
		}
		if b.fits(b.loop, i, b.pts[hole[(k+1)%len(hole)]]) && b.fits(hole, k, b.pts[b.loop[(i+1)%len(b.loop)]]) {
			return k, true
		}
	}
	return 0, false
}

// fits reports whether the way from place i of a ring, the inside to its left, to
// p starts inside.
func (b *bridger) fits(ring []int, i int, p Vec2) bool {
	n := len(ring)
	prev, at, next := b.pts[ring[(i+n-1)%n]], b.pts[ring[i]], b.pts[ring[(i+1)%n]]
	left, right := orient2d(at, next, p), orient2d(prev, at, p)
	if turn := orient2d(prev, at, next); turn > 0 || turn == 0 && next.Sub(at).Dot(prev.Sub(at)) <= 0 {
		return left > 0 && right > 0
	}
	return left > 0 || right > 0
}

// clear reports whether no side of the loop meets h-p but at these points.
func (b *bridger) clear(h, p Vec2) bool {
	b.work += len(b.loop)
	for i, v := range b.loop {
		q, r := b.pts[v], b.pts[b.loop[(i+1)%len(b.loop)]]
		switch {
		case q == p || q == h:
			if r != p && r != h && between(h, p, r) && orient2d(h, p, r) == 0 {
				return false
			}
		case r == p || r == h:
			if between(h, p, q) && orient2d(h, p, q) == 0 {
				return false
			}
		case touches2(h, p, q, r):
			return false
		}
	}
	return true
}

// touches2 reports whether the segments a-b and c-d have a point in common.
func touches2(a, b, c, d Vec2) bool {
	if max(a.X, b.X) < min(c.X, d.X) || max(c.X, d.X) < min(a.X, b.X) ||
		max(a.Y, b.Y) < min(c.Y, d.Y) || max(c.Y, d.Y) < min(a.Y, b.Y) {
		return false
	}
	return opposed(orient2d(a, b, c), orient2d(a, b, d)) && opposed(orient2d(c, d, a), orient2d(c, d, b))
}

func opposed(x, y float64) bool { return x <= 0 && y >= 0 || x >= 0 && y <= 0 }
