package drawing

import (
	"math"

	"embedcheck/internal/geom"
)

// rect is an upright rectangle.
type rect struct{ min, max geom.Vec2 }

var emptyRect = rect{geom.Vec2{X: math.Inf(1), Y: math.Inf(1)}, geom.Vec2{X: math.Inf(-1), Y: math.Inf(-1)}}

func rectOf(pts ...geom.Vec2) rect {
	r := emptyRect
	for _, p := range pts {
		r = r.add(p)
	}
	return r
}

func (r rect) add(p geom.Vec2) rect {
	return rect{
		geom.Vec2{X: min(r.min.X, p.X), Y: min(r.min.Y, p.Y)},
		geom.Vec2{X: max(r.max.X, p.X), Y: max(r.max.Y, p.Y)},
	}
}

func (r rect) union(o rect) rect {
	if o.empty() {
		return r
	}
	return r.add(o.min).add(o.max)
}

func (r rect) grow(d float64) rect {
	return rect{geom.Vec2{X: r.min.X - d, Y: r.min.Y - d}, geom.Vec2{X: r.max.X + d, Y: r.max.Y + d}}
}

func (r rect) empty() bool       { return !(r.min.X <= r.max.X && r.min.Y <= r.max.Y) }
func (r rect) w() float64        { return r.max.X - r.min.X }
func (r rect) h() float64        { return r.max.Y - r.min.Y }
func (r rect) centre() geom.Vec2 { return r.min.Add(r.max).Mul(0.5) }
func (r rect) has(p geom.Vec2) bool {
	return r.min.X <= p.X && p.X <= r.max.X && r.min.Y <= p.Y && p.Y <= r.max.Y
}

// holds reports whether o lies in r.
func (r rect) holds(o rect) bool { return r.has(o.min) && r.has(o.max) }

func (r rect) cut(o rect) rect {
	return rect{
		geom.Vec2{X: max(r.min.X, o.min.X), Y: max(r.min.Y, o.min.Y)},
		geom.Vec2{X: min(r.max.X, o.max.X), Y: min(r.max.Y, o.max.Y)},
	}
}

func (r rect) corners() []geom.Vec2 {
	return []geom.Vec2{r.min, {X: r.max.X, Y: r.min.Y}, r.max, {X: r.min.X, Y: r.max.Y}}
}

// clipLine is the part of a-b in r (Liang and Barsky).
func (r rect) clipLine(a, b geom.Vec2) (geom.Vec2, geom.Vec2, bool) {
	t0, t1 := 0.0, 1.0
	d := b.Sub(a)
	for _, e := range [4][2]float64{{-d.X, a.X - r.min.X}, {d.X, r.max.X - a.X}, {-d.Y, a.Y - r.min.Y}, {d.Y, r.max.Y - a.Y}} {
		p, q := e[0], e[1]
		if p == 0 {
			if q < 0 {
				return a, b, false
			}
			continue
		}
		t := q / p
		if p < 0 {
			t0 = max(t0, t)
		} else {
			t1 = min(t1, t)
		}
	}
	if !(t0 < t1) {
		return a, b, false
	}
	return a.Add(d.Mul(t0)), a.Add(d.Mul(t1)), true
}

// box is a rectangle at any angle: the place of a text.
type box struct {
	c    geom.Vec2 // middle
	u, v geom.Vec2 // unit, along and across
	a, b float64   // half sizes
}

func (t box) corners() []geom.Vec2 {
	x, y := t.u.Mul(t.a), t.v.Mul(t.b)
	return []geom.Vec2{t.c.Sub(x).Sub(y), t.c.Add(x).Sub(y), t.c.Add(x).Add(y), t.c.Sub(x).Add(y)}
}

func (t box) bounds() rect { return rectOf(t.corners()...) }

func (t box) grow(d float64) box {
	t.a += d
	t.b += d
	return t
}

// meets reports whether two boxes overlap (separating axes).
func (t box) meets(o box) bool {
	d := o.c.Sub(t.c)
	for _, ax := range [4]geom.Vec2{t.u, t.v, o.u, o.v} {
		reach := t.a*math.Abs(ax.Dot(t.u)) + t.b*math.Abs(ax.Dot(t.v)) + o.a*math.Abs(ax.Dot(o.u)) + o.b*math.Abs(ax.Dot(o.v))
		if math.Abs(ax.Dot(d)) >= reach-1e-9 {
			return false
		}
	}
	return true
}

// local is a point in the box's own axes.
func (t box) local(p geom.Vec2) geom.Vec2 {
	d := p.Sub(t.c)
	return geom.Vec2{X: d.Dot(t.u), Y: d.Dot(t.v)}
}

// crossing is the part of the line a-b, from 0 to 1, that lies in the box.
func (t box) crossing(a, b geom.Vec2) (from, to float64, ok bool) {
	r := rect{geom.Vec2{X: -t.a, Y: -t.b}, geom.Vec2{X: t.a, Y: t.b}}
	p, q := t.local(a), t.local(b)
	c, d, ok := r.clipLine(p, q)
	if !ok {
		return 0, 0, false
	}
	l := q.Dist(p)
	return c.Dist(p) / l, d.Dist(p) / l, true
}

// textBox is the place that a text takes, with its descenders.
func textBox(t *Text) box {
	w := t.Width
	if w == 0 {
		w = textWidth(t.Text, t.Size, t.Bold)
	}
	s, c := math.Sincos(t.Turn * math.Pi / 180)
	u, v := geom.Vec2{X: c, Y: -s}, geom.Vec2{X: s, Y: c} // v points down the page
	mid := t.At
	switch t.Align {
	case Left:
		mid = mid.Add(u.Mul(w / 2))
	case Right:
		mid = mid.Sub(u.Mul(w / 2))
	}
	top, bottom := -1.08*t.Size, 0.32*t.Size
	return box{c: mid.Add(v.Mul((top + bottom) / 2)), u: u, v: v, a: w / 2, b: (bottom - top) / 2}
}
