package shape

import (
	"errors"
	"fmt"
	"math"

	"embedcheck/internal/geom"
)

// outline lays the loops of a curved face out in u and v. Parameters run on over
// a seam; loops that go around the surface are joined by a cut.
func (p *patch) outline(f *face) (outer []int, holes [][]int, err error) {
	pu, pv := p.surf.periods()
	type turned struct {
		loop []int
		u, v int
	}
	var around []turned
	for _, l := range f.loops {
		loop, end, err := p.lay(l, pu, pv)
		if err != nil {
			return nil, nil, err
		}
		w := turned{loop: loop, u: turns(end.X-p.uv[loop[0]].X, pu), v: turns(end.Y-p.uv[loop[0]].Y, pv)}
		if w.u == 0 && w.v == 0 {
			holes = append(holes, loop)
			continue
		}
		around = append(around, w)
	}
	switch {
	case len(around) == 0 && len(holes) > 0:
		outer, holes = holes[0], holes[1:]
		p.bringNear(outer, holes, pu, pv)
		return outer, holes, nil
	case len(around) == 2 && around[0].u == -around[1].u && around[0].v == -around[1].v:
		shift := geom.Vec2{X: float64(around[0].u) * pu, Y: float64(around[0].v) * pv}
		outer = p.joined(around[0].loop, around[1].loop, shift)
	case len(around) == 1 && around[0].v == 0:
		shift := geom.Vec2{X: float64(around[0].u) * pu}
		outer, err = p.toPole(around[0].loop, shift, f.forward)
	default:
		err = errors.New("a curved face is bounded in a way that is not read")
	}
	if err == nil {
		p.bringNear(outer, holes, pu, pv)
	}
	return outer, holes, err
}

// turns is how many periods lie in d.
func turns(d, period float64) int {
	if period == 0 {
		return 0
	}
	return int(math.Round(d / period))
}

// lay makes corners of a loop, each near the one before, and gives where the
// first one would lie after the last.
//
// A point that lies off the surface is an error: either the file is wrong, or
// the parameters of the point were not found.
func (p *patch) lay(l []int32, pu, pv float64) (loop []int, end geom.Vec2, err error) {
	first := p.surf.params(p.s.points[l[0]], geom.Vec2{})
	if len(l) > 1 { // at a pole the angle of the next point is better than none
		first = p.surf.params(p.s.points[l[0]], p.surf.params(p.s.points[l[1]], first))
	}
	at := first
	for i := 0; i <= len(l); i++ {
		v := l[i%len(l)]
		if i > 0 {
			at = nearer(p.surf.params(p.s.points[v], at), at, pu, pv)
		}
		if i < len(l) {
			loop = append(loop, p.corner(v, at))
		}
		if d := p.surf.at(at.X, at.Y).Dist(p.s.points[v]); !(d <= maxGap) {
			return nil, at, fmt.Errorf("a bound of a curved face lies %.4g mm off its surface", d)
		}
	}
	return loop, at, nil
}

// nearer is q moved by whole periods to lie near o.
func nearer(q, o geom.Vec2, pu, pv float64) geom.Vec2 {
	if pu > 0 {
		q.X -= pu * math.Round((q.X-o.X)/pu)
	}
	if pv > 0 {
		q.Y -= pv * math.Round((q.Y-o.Y)/pv)
	}
	return q
}

// bringNear moves holes by whole periods to where the outer loop lies.
func (p *patch) bringNear(outer []int, holes [][]int, pu, pv float64) {
	m := p.middle(outer)
	for _, h := range holes {
		c := p.middle(h)
		d := nearer(c, m, pu, pv).Sub(c)
		for _, k := range h {
			p.uv[k] = p.uv[k].Add(d)
		}
	}
}

func (p *patch) middle(loop []int) geom.Vec2 {
	lo, hi := p.uv[loop[0]], p.uv[loop[0]]
	for _, k := range loop {
		lo = geom.Vec2{X: min(lo.X, p.uv[k].X), Y: min(lo.Y, p.uv[k].Y)}
		hi = geom.Vec2{X: max(hi.X, p.uv[k].X), Y: max(hi.Y, p.uv[k].Y)}
	}
	return lo.Add(hi).Mul(0.5)
}

// joined is the loop around the surface a, which ends shift from where it
// started, and the opposite loop b, joined by a cut that is passed both ways.
func (p *patch) joined(a, b []int, shift geom.Vec2) []int {
	from := p.uv[a[0]]
	best, at, move := math.Inf(1), 0, geom.Vec2{}
	for i, k := range b {
		d := p.uv[k].Sub(from.Add(shift))
		n := geom.Vec2{}
		if shift.X != 0 {
			n.X = -shift.X * math.Round(d.X/shift.X)
		}
		if shift.Y != 0 {
			n.Y = -shift.Y * math.Round(d.Y/shift.Y)
		}
		if l := d.Add(n).Norm(); l < best {
			best, at, move = l, i, n
		}
	}
	out := append([]int(nil), a...)
	out = append(out, p.corner(p.point[a[0]], from.Add(shift)))
	cut := p.cut(out[len(out)-1], b[at], move)
	out = append(out, cut...)
	for i := range b {
		k := b[(at+i)%len(b)]
		q := p.uv[k].Add(move)
		if at+i >= len(b) {
			q = q.Sub(shift)
		}
		out = append(out, p.corner(p.point[k], q))
	}
	out = append(out, p.corner(p.point[b[at]], p.uv[b[at]].Add(move).Sub(shift)))
	for i := len(cut) - 1; i >= 0; i-- {
		out = append(out, p.corner(p.point[cut[i]], p.uv[cut[i]].Sub(shift)))
	}
	return out
}

// cut is the corners between corner a and corner b, moved, on the surface; none
// where the straight way lies on it.
func (p *patch) cut(a, b int, move geom.Vec2) []int {
	from, to := p.uv[a], p.uv[b].Add(move)
	point := func(t float64) geom.Vec {
		q := from.Add(to.Sub(from).Mul(t))
		return p.surf.at(q.X, q.Y)
	}
	n := 1
	for ; n < maxSides; n *= 2 {
		worst := 0.0
		for i := range n {
			t0, t1 := float64(i)/float64(n), float64(i+1)/float64(n)
			worst = max(worst, point((t0+t1)/2).Dist(point(t0).Lerp(point(t1), 0.5)))
		}
		if worst <= bodyTol {
			break
		}
	}
	var out []int
	for i := 1; i < n; i++ {
		t := float64(i) / float64(n)
		p.s.points = append(p.s.points, point(t))
		out = append(out, p.corner(int32(len(p.s.points)-1), from.Add(to.Sub(from).Mul(t))))
	}
	return out
}

// toPole closes a loop that goes around once through a pole of a sphere or a
// surface of revolution.
func (p *patch) toPole(a []int, shift geom.Vec2, forward bool) ([]int, error) {
	t, ok := p.surf.(torus)
	if !ok || t.major != 0 {
		return nil, errors.New("a curved face is bounded in a way that is not read")
	}
	// the face lies to the left of its loop, seen from outside
	v := math.Pi / 2
	if (shift.X > 0) != forward {
		v = -v
	}
	p.s.points = append(p.s.points, t.at(0, v))
	pole := p.corner(int32(len(p.s.points)-1), geom.Vec2{X: p.uv[a[0]].X + shift.X, Y: v})
	out := append([]int(nil), a...)
	out = append(out, p.corner(p.point[a[0]], p.uv[a[0]].Add(shift)))
	cut := p.cut(out[len(out)-1], pole, geom.Vec2{})
	out = append(out, cut...)
	out = append(out, pole, p.corner(p.point[pole], p.uv[pole].Sub(shift)))
	for i := len(cut) - 1; i >= 0; i-- {
		out = append(out, p.corner(p.point[cut[i]], p.uv[cut[i]].Sub(shift)))
	}
	return out, nil
}
