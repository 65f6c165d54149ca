package drawing

import (
	"embedcheck/internal/drawing/subject"
	"embedcheck/internal/geom"
)

// coneReach is how far a breakout cone reaches sideways, in embedment depths
// (ACI 318-19 17.6.2.1, EN 1992-4 7.2.1.4).
const coneReach = 1.5

// viewOn sets a view into a field of the sheet.
func viewOn(sh *sheet, f geom.Affine, crop rect, scale float64, field rect) *view {
	v := &view{sheet: sh, frame: f, k: 1 / scale, centre: crop.centre(), middle: field.centre(), field: field}
	a, b := v.paper(crop.min), v.paper(crop.max)
	v.clip = rectOf(a, b)
	v.core = v.clip
	return v
}

// drawFace draws the view of the entry face without its dimensions.
func (p *plan) drawFace(v *view) {
	paper := p.face.on(v)
	p.drawConcrete(v, paper)
	p.lowerEdges(v, paper)
	if r := paper.bounds().cut(v.clip); !r.empty() {
		v.core = r
	}
	for _, l := range v.drawn {
		v.core = v.core.add(l.a).add(l.b)
	}
	v.breaks(paper)
	p.drawItems(v)
	p.drawBars(v, paper)
	for _, a := range p.shown(v) {
		p.drawAnchor(v, a)
	}
	if p.s.Quantity == subject.Cone || p.s.Quantity == subject.BarDistance {
		p.drawCone(v, paper)
	}
}

// drawConcrete draws the outline of the face, as hidden where a plate lies on it.
func (p *plan) drawConcrete(v *view, face region) {
	var own []cover
	for _, it := range p.s.Items {
		if len(it.Outline) < 3 || it.PlateIn == nil || it.PlateIn.Normal.Dot(p.frame.Z) < 0.9 {
			continue
		}
		pts := make([]geom.Vec2, len(it.Outline))
		for i, c := range it.Outline {
			pts[i] = v.at(c)
		}
		for _, l := range face {
			for i, a := range l {
				s := seg{a, l[(i+1)%len(l)]}
				if in, ok := insideConvex(s, pts); ok {
					v.stroke(lerp(s.a, s.b, in.from), lerp(s.a, s.b, in.to), Pen{Width: Fine, Dash: Dashed})
				}
			}
		}
		own = append(own, cover{pts, rectOf(pts...)})
	}
	v.covers = own
	for _, l := range face {
		v.loop(l, Pen{Width: Thick})
	}
	v.covers = nil
}

// lowerEdges draws the edges of the concrete that are seen below the face, such
// as chamfers and steps, and of round hosts the sides.
func (p *plan) lowerEdges(v *view, face region) {
	if p.s.Face == nil || p.s.Face.Solid == nil {
		return
	}
	m := p.s.Face.Solid.Mesh()
	if len(m.Tris) > mostTris {
		return
	}
	for _, e := range v.meshOutline(m).edges {
		if e.za > -underFace && e.zb > -underFace {
			continue // of the face, or above it
		}
		mid := lerp(e.a, e.b, 0.5)
		if face.has(mid) || onOutline(face, e.a) && onOutline(face, e.b) {
			continue // hidden behind the face, or its own outline
		}
		if !p.hidden(v, e) {
			v.stroke(e.a, e.b, Pen{Width: Fine})
		}
	}
}

// hidden reports whether there is concrete between the middle of an edge and the
// reader.
func (p *plan) hidden(v *view, e edge) bool {
	q := p.unpaper(v, lerp(e.a, e.b, 0.5))
	o := v.frame.Apply(geom.V(q.X, q.Y, (e.za+e.zb)/2))
	for _, in := range p.s.Face.Solid.Inside(o, v.frame.Z) {
		if in.To.T > 0.5 {
			return true
		}
	}
	return false
}

// onOutline reports whether a point lies on the outline of a region, within what
// is seen on paper.
func onOutline(g region, p geom.Vec2) bool {
	for _, l := range g {
		for i, a := range l {
			if nearSide(p, a, l[(i+1)%len(l)]) < 0.1 {
				return true
			}
		}
	}
	return false
}

// nearSide is the distance from p to the line a-b.
func nearSide(p, a, b geom.Vec2) float64 {
	ab := b.Sub(a)
	t := 0.0
	if n := ab.Dot(ab); n > 0 {
		t = min(1, max(0, p.Sub(a).Dot(ab)/n))
	}
	return a.Add(ab.Mul(t)).Dist(p)
}

// breaks draws break lines where the concrete goes on beyond the clip.
func (v *view) breaks(g region) {
	c := v.clip.corners()
	for i, a := range c {
		b := c[(i+1)%4]
		for _, in := range g.inside(seg{a, b}) {
			p, q := lerp(a, b, in.from), lerp(a, b, in.to)
			if p.Dist(q) > 1 {
				v.zigzag(p, q)
			}
		}
	}
}

// zigzag is the break line of ISO 128-2: thin, straight with zigzags.
func (v *view) zigzag(a, b geom.Vec2) {
	d := b.Sub(a)
	n := d.Norm()
	u := d.Mul(1 / n)
	w := geom.Vec2{X: -u.Y, Y: u.X}
	pen := Pen{Width: Thin}
	at := a
	const z = 1.5
	count := 1
	if n > 60 {
		count = 2
	}
	if n > 8 {
		for i := range count {
			m := a.Add(u.Mul(n * (float64(i) + 0.5) / float64(count)))
			for _, q := range []geom.Vec2{m.Sub(u.Mul(z)), m.Sub(u.Mul(z / 3)).Add(w.Mul(z)), m.Add(u.Mul(z / 3)).Sub(w.Mul(z)), m.Add(u.Mul(z))} {
				v.line(at, q, pen)
				at = q
			}
		}
	}
	v.line(at, b, pen)
}
