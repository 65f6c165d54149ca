package rod

import (
	"cmp"
	"math"
	"slices"

	"embedcheck/internal/geom"
)

// tubeEnd is one end of a tube with the direction out of it.
type tubeEnd struct {
	tube int
	far  bool // the end of the path, not its start
	axis
}

// link joins two tube ends over some points in between.
type link struct {
	x, y  int // numbers of ends, x < y
	cost  float64
	via   []geom.Vec
	broke bool // something thicker lies between two collinear pieces
}

// joinTubes puts tubes together that are one bar: pieces modelled as solids of
// their own, pieces that a nut or a plate of the same solid interrupts, and legs
// whose bend could not be followed.
func joinTubes(tubes []*tube) []*tube {
	ends := make([]tubeEnd, 0, 2*len(tubes))
	for i, t := range tubes {
		n := len(t.path)
		ends = append(ends,
			tubeEnd{i, false, axis{t.path[0], t.path[0].Sub(t.path[1]).Unit()}},
			tubeEnd{i, true, axis{t.path[n-1], t.path[n-1].Sub(t.path[n-2]).Unit()}})
	}
	links := findLinks(tubes, ends)
	taken := make([]*link, len(ends))
	bar := geom.NewDisjoint(len(tubes))
	for i := range links {
		l := &links[i]
		x, y := int32(l.x/2), int32(l.y/2)
		if taken[l.x] == nil && taken[l.y] == nil && bar.Find(x) != bar.Find(y) {
			taken[l.x], taken[l.y] = l, l
			bar.Join(x, y)
		}
	}
	var out []*tube
	done := make([]bool, len(tubes))
	for e := range ends {
		if !done[e/2] && taken[e] == nil {
			out = append(out, chainFrom(tubes, taken, done, e))
		}
	}
	return out
}

// findLinks lists the pairs of ends that may be joined, the nearest first.
func findLinks(tubes []*tube, ends []tubeEnd) []link {
	order := make([]int, len(ends))
	reach := 0.0
	for i := range ends {
		order[i] = i
		reach = math.Max(reach, maxBend*tubes[i/2].radius)
	}
	slices.SortFunc(order, func(i, j int) int {
		return cmp.Or(cmp.Compare(ends[i].a.X, ends[j].a.X), cmp.Compare(i, j))
	})
	var links []link
	for k, i := range order {
		for _, j := range order[k+1:] {
			if ends[j].a.X-ends[i].a.X > reach {
				break
			}
			x, y := min(i, j), max(i, j)
			if l, ok := linkOf(tubes, &ends[x], &ends[y]); ok && x/2 != y/2 {
				l.x, l.y = x, y
				links = append(links, l)
			}
		}
	}
	slices.SortFunc(links, func(a, b link) int {
		return cmp.Or(cmp.Compare(a.cost, b.cost), cmp.Compare(a.x, b.x), cmp.Compare(a.y, b.y))
	})
	return links
}

// maxBend bounds, in bar radii, how far apart the two ends of a bend can be that
// could not be followed, or two ends on both sides of a nut.
const maxBend = 30

func linkOf(tubes []*tube, x, y *tubeEnd) (link, bool) {
	tx, ty := tubes[x.tube], tubes[y.tube]
	r := tx.radius
	if math.Abs(r-ty.radius) > 0.03*r+0.05 {
		return link{}, false
	}
	gap := x.a.Dist(y.a)
	facing := -x.d.Dot(y.d) // cosine of the turn from one to the other
	if gap <= 0.3*r+0.5 && facing > -0.2 {
		return link{cost: gap}, true
	}
	s, t := x.closest(y.axis)
	px, py := x.at(s), y.at(t)
	crossing := facing < 0.94 && facing > -0.94 && px.Dist(py) <= 0.2*r
	if crossing && gap <= 1.6*r && math.Abs(s) <= 2*r && math.Abs(t) <= 2*r {
		return link{cost: gap, via: []geom.Vec{px.Lerp(py, 0.5)}}, true
	}
	if tx.shell != ty.shell || gap > maxBend*r || !tx.goesOn[b2i(x.far)] || !ty.goesOn[b2i(y.far)] {
		return link{}, false
	}
	if facing > 0.9998 && x.depth(y.a) > 0 && x.off(y.a) < 0.05*r+0.1 && tx.shell.filled(x.axis, gap, r) {
		return link{cost: gap, broke: true}, true
	}
	if crossing && s > 0 && math.Abs(s-t) < 0.1*s+0.1*r {
		return link{cost: gap, via: arcBetween(x.axis, y.axis, s)}, true
	}
	return link{}, false
}

// filled reports whether something thicker than radius r fills the axis up to the
// given distance.
func (s *shell) filled(x axis, length, r float64) bool {
	slabs := s.walk(x, 0, length-touch, false, func(sl *slab) bool { return !sl.thicker(r) })
	return reach(slabs, 0) > length-touch
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// arcBetween are points of the arc that leaves x and comes in along y, both of
// whose tangents have length l.
func arcBetween(x, y axis, l float64) []geom.Vec {
	turn := math.Acos(math.Max(-1, math.Min(1, -x.d.Dot(y.d))))
	radius := l / math.Tan(turn/2)
	in := y.d.Add(x.d.Mul(-x.d.Dot(y.d))).Unit().Neg() // towards the centre
	c := x.a.Add(in.Mul(radius))
	const n = 12
	var out []geom.Vec
	for i := 1; i < n; i++ {
		sin, cos := math.Sincos(turn * float64(i) / n)
		out = append(out, c.Add(x.d.Mul(radius*sin)).Sub(in.Mul(radius*cos)))
	}
	return out
}

// chainFrom follows the links from a free end.
func chainFrom(tubes []*tube, taken []*link, done []bool, e int) *tube {
	if taken[e^1] == nil {
		done[e/2] = true
		return tubes[e/2]
	}
	out := &tube{}
	longest, corner := 0.0, false
	for {
		t := tubes[e/2]
		done[e/2] = true
		path, goesOn := t.path, t.goesOn
		if e&1 == 1 {
			path = slices.Clone(path)
			slices.Reverse(path)
			goesOn[0], goesOn[1] = goesOn[1], goesOn[0]
		}
		if len(out.path) == 0 {
			out.goesOn[0] = goesOn[0]
		}
		if corner {
			path = path[1:]
		}
		out.path = append(out.path, path...)
		out.goesOn[1] = goesOn[1]
		out.residual = math.Max(out.residual, t.residual)
		if l := (geom.Rod{Path: t.path}).Length(); l > longest {
			longest, out.radius, out.sides, out.shell = l, t.radius, t.sides, t.shell
		}
		l := taken[e^1]
		if l == nil {
			out.path = cleanPath(out.path)
			return out
		}
		out.cross(l, e^1)
		corner = len(l.via) == 1
		e = l.x + l.y - (e ^ 1)
	}
}

// cross goes from the end of the path over a link that is left from end e.
func (t *tube) cross(l *link, e int) {
	last := len(t.path) - 1
	switch {
	case l.broke:
		t.breaks = append(t.breaks, t.path[last])
	case len(l.via) == 1:
		t.path[last] = l.via[0] // the corner takes the place of both ends
	default:
		n := len(t.path)
		t.path = append(t.path, l.via...)
		if l.x != e {
			slices.Reverse(t.path[n:])
		}
	}
}
