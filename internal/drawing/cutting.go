package drawing

import (
	"math"

	"embedcheck/internal/geom"
)

// drawCuttingLine shows on the face where the section is taken: a chain line
// with thick ends and arrows in the direction of sight.
func (c *cut) drawCuttingLine(v *view) {
	o := v.at(c.s.Entry())
	if !v.clip.has(o) {
		return
	}
	u := v.toward(c.s.Aim.Dir)
	if n := u.Norm(); n < 0.1 {
		return
	} else {
		u = u.Mul(1 / n)
	}
	look := v.toward(c.frame.Z.Neg())
	if n := look.Norm(); n > 0.1 {
		look = look.Mul(1 / n)
	}
	for _, dir := range [2]float64{-1, 1} {
		d := u.Mul(dir)
		end, ok := reachSide(o, d, v.core.add(o).grow(4))
		if !ok {
			continue
		}
		in := end.Sub(d.Mul(5))
		v.lines = append(v.lines, Line{in, end, Pen{Width: Heavy}})
		v.drawn = append(v.drawn, seg{in, end}, seg{end, end.Add(look.Mul(6))})
		head := bigArrow(end.Add(look.Mul(6)), look)
		v.lines = append(v.lines, Line{end, end.Add(look.Mul(4)), Pen{Width: Mid}}, head)
		v.drawn = append(v.drawn, seg{head.Points[0], head.Points[1]}, seg{head.Points[1], head.Points[2]}, seg{head.Points[2], head.Points[0]})
		v.letter(end, d, look)
	}
}

// letter writes the name of the cutting plane beside the end of its line, where
// it is in nothing's way.
func (v *view) letter(end, d, look geom.Vec2) {
	t := Text{Text: "A", Size: failText, Bold: true, Align: Middle}
	t.Width = textWidth(t.Text, t.Size, t.Bold)
	best, least := t, math.Inf(1)
	for _, far := range []float64{4.4, 6.5, 9, 12} {
		for _, along := range []float64{3, 0, -3, 8, -8} {
			t.At = end.Add(d.Mul(far)).Add(look.Mul(along)).Add(geom.Vec2{Y: t.Size / 2})
			cost, on := v.textCost(textBox(&t), v.field)
			t.Halo = on
			if cost += far + abs(along-3); cost < least-1e-9 {
				best, least = t, cost
			}
		}
	}
	v.texts = append(v.texts, best)
	v.take(textBox(&best))
}

// bigArrow is an arrow head of a cutting line with its point at p.
func bigArrow(p, d geom.Vec2) Poly {
	side := geom.Vec2{X: -d.Y, Y: d.X}
	back := p.Sub(d.Mul(3))
	return Poly{Points: []geom.Vec2{p, back.Add(side.Mul(0.8)), back.Sub(side.Mul(0.8))}, Closed: true, Fill: Black}
}

// reachSide is where a way from o along d leaves a rectangle.
func reachSide(o, d geom.Vec2, r rect) (geom.Vec2, bool) {
	far := o.Add(d.Mul(2 * (r.w() + r.h() + 1)))
	_, q, ok := r.clipLine(o, far)
	return q, ok
}
