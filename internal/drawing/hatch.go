package drawing

import (
	"math"

	"embedcheck/internal/geom"
)

// hatch fills the cut concrete with thin lines at 45 degrees, on paper, and
// leaves out what hides it and what is written on it.
func (v *view) hatch(g region, slope float64) {
	r := g.bounds().cut(v.clip)
	if r.empty() {
		return
	}
	const apart = 4.0
	d := geom.Vec2{X: math.Sqrt2 / 2, Y: -slope * math.Sqrt2 / 2}
	n := geom.Vec2{X: -d.Y, Y: d.X}
	lo, hi := math.Inf(1), math.Inf(-1)
	far := 0.0
	for _, c := range r.corners() {
		lo, hi = min(lo, c.Dot(n)), max(hi, c.Dot(n))
		far = max(far, abs(c.Dot(d)))
	}
	covers := append([]cover(nil), v.covers...)
	for i := range v.boxes {
		pts := v.boxes[i].grow(0.8).corners()
		covers = append(covers, cover{pts, rectOf(pts...)})
	}
	for t := math.Ceil(lo/apart) * apart; t < hi; t += apart {
		a, b, ok := v.clip.clipLine(n.Mul(t).Sub(d.Mul(far+1)), n.Mul(t).Add(d.Mul(far+1)))
		if !ok {
			continue
		}
		for _, in := range g.inside(seg{a, b}) {
			for _, s := range uncovered(seg{lerp(a, b, in.from), lerp(a, b, in.to)}, covers) {
				if s.a.Dist(s.b) > 0.6 {
					v.under = append(v.under, Line{s.a, s.b, Pen{Width: Hair, Ink: Grey}})
				}
			}
		}
	}
}
