package geom

// cutEars cuts triangles off a loop that may run along bridges twice and touch
// itself. A corner is an ear when it turns left and no other point lies in its
// triangle or on it; points at the place of a corner do not count, since the
// loop does not cross itself there. So points on a straight side are never cut
// off: they wait for a triangle that has them as a corner.
func cutEars(pts []Vec2, loop []int) [][3]int {
	e := newEars(pts, loop)
	i := e.clean(0)
	work := 0
	for idle := 0; e.n > 2 && work <= maxWork; {
		work++
		switch {
		case e.isEar(i):
			i, idle = e.cut(i), 0
		case idle <= e.n:
			i, idle = int(e.next[i]), idle+1
		default: // the loop crosses itself, or what is left has no area
			if i = e.sharpest(i); i < 0 {
				return e.out
			}
			work += e.n
			i, idle = e.cut(i), 0
		}
	}
	return e.out
}

// ears is a ring of the loop's places that have not been cut off.
type ears struct {
	pts        []Vec2
	loop       []int
	prev, next []int32
	gone       []bool
	n          int
	tree       *BoxTree // nil for short loops
	out        [][3]int
}

// treeFrom is the length from which looking points up in a tree pays.
const treeFrom = 80

func newEars(pts []Vec2, loop []int) *ears {
	n := len(loop)
	links := make([]int32, 2*n)
	e := &ears{pts: pts, loop: loop, prev: links[:n], next: links[n:], gone: make([]bool, n), n: n, out: make([][3]int, 0, n)}
	for i := range loop {
		e.prev[i], e.next[i] = int32((i+n-1)%n), int32((i+1)%n)
	}
	if n >= treeFrom {
		boxes := make([]Box, n)
		for i, v := range loop {
			p := Vec{pts[v].X, pts[v].Y, 0}
			boxes[i] = Box{p, p}
		}
		e.tree = NewBoxTree(boxes)
	}
	return e
}

func (e *ears) corner(i int) (a, b, c Vec2) {
	return e.pts[e.loop[e.prev[i]]], e.pts[e.loop[i]], e.pts[e.loop[e.next[i]]]
}

// degenerate reports whether the way through i has no length, or goes out and
// back the same way.
func (e *ears) degenerate(i int) bool {
	a, b, c := e.corner(i)
	return a == b || a == c
}

// clean drops degenerate places all the way round, and is a place that is left.
func (e *ears) clean(i int) int {
	for idle := 0; idle <= e.n && e.n > 2; idle++ {
		if e.degenerate(i) {
			i, idle = int(e.prev[e.drop(i)]), 0
		} else {
			i = int(e.next[i])
		}
	}
	return i
}

// cut cuts the triangle at i off and is the place to go on with: not the next
// one, so that ears are taken all round and not in a fan.
func (e *ears) cut(i int) int {
	e.out = append(e.out, [3]int{e.loop[e.prev[i]], e.loop[i], e.loop[e.next[i]]})
	i = e.drop(i)
	for k := int(e.prev[i]); e.n > 2 && e.degenerate(k); k = int(e.prev[i]) {
		i = e.drop(k)
	}
	for e.n > 2 && e.degenerate(i) {
		i = e.drop(i)
	}
	return int(e.next[i])
}

func (e *ears) isEar(i int) bool {
	a, b, c := e.corner(i)
	if !(orient2d(a, b, c) > 0) {
		return false
	}
	blocks := func(k int) bool {
		p := e.pts[e.loop[k]]
		return !e.gone[k] && p != a && p != b && p != c && inTriangle(p, a, b, c)
	}
	if e.tree != nil {
		clear := true
		lo := Vec{min(a.X, b.X, c.X), min(a.Y, b.Y, c.Y), 0}
		hi := Vec{max(a.X, b.X, c.X), max(a.Y, b.Y, c.Y), 0}
		e.tree.Query(Box{lo, hi}, func(k int) bool {
			clear = !blocks(k)
			return clear
		})
		return clear
	}
	for k := int(e.next[e.next[i]]); k != int(e.prev[i]); k = int(e.next[k]) {
		if blocks(k) {
			return false
		}
	}
	return true
}

// inTriangle reports whether p lies in the counter-clockwise triangle or on it.
func inTriangle(p, a, b, c Vec2) bool {
	return min(a.X, b.X, c.X) <= p.X && p.X <= max(a.X, b.X, c.X) &&
		orient2d(a, b, p) >= 0 && orient2d(b, c, p) >= 0 && orient2d(c, a, p) >= 0
}

// drop takes place i out of the ring and is the one after it.
func (e *ears) drop(i int) int {
	p, n := e.prev[i], e.next[i]
	e.next[p], e.prev[n] = n, p
	e.gone[i] = true
	e.n--
	return int(n)
}

// sharpest is the corner that turns left with the least area, -1 without one.
func (e *ears) sharpest(from int) int {
	best, at := 0.0, -1
	for k, i := 0, from; k < e.n; k, i = k+1, int(e.next[i]) {
		a, b, c := e.corner(i)
		if o := orient2d(a, b, c); o > 0 && (at < 0 || o < best) {
			best, at = o, i
		}
	}
	return at
}
