package drawing

import (
	"embedcheck/internal/drawing/subject"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// shown are the anchors in the clip.
func (p *plan) shown(v *view) []*model.Anchor {
	var out []*model.Anchor
	take := func(a *model.Anchor) {
		for _, o := range out {
			if o == a {
				return
			}
		}
		if a.Entry != nil || a == p.s.Anchor {
			if v.clip.has(v.anchorAt(a)) {
				out = append(out, a)
			}
		}
	}
	for _, a := range p.s.Group {
		take(a)
	}
	if p.s.Host == nil {
		return out
	}
	for _, it := range p.s.Host.Items {
		for _, a := range it.Anchors {
			if a.Entry != nil && a.Entry.Normal.Dot(p.frame.Z) > 0.9 && abs(p.frame.Local(a.Entry.Point).Z) < 50 {
				take(a)
			}
		}
	}
	return out
}

// anchorAt is where an anchor enters, on paper.
func (v *view) anchorAt(a *model.Anchor) geom.Vec2 {
	if a.Entry != nil {
		return v.at(a.Entry.Point)
	}
	return v.at(a.Open)
}

// drawAnchor draws a shank as a circle with centre lines, and what holds it in
// the concrete as hidden.
func (p *plan) drawAnchor(v *view, a *model.Anchor) {
	c := v.anchorAt(a)
	r := a.Diameter / 2 * v.k
	pen := Pen{Width: Mid}
	if p.behindPlate(a) {
		pen = Pen{Width: Fine, Dash: Dashed}
	}
	fill := NoInk
	if a == p.s.Anchor && !p.s.OfItem || p.s.Bad[a] {
		pen.Width = Thick
	}
	v.circle(c, max(r, 0.4), pen, fill)
	if h := a.HeadSize / 2 * v.k; h > r {
		v.circle(c, h, Pen{Width: Thin, Dash: Dashed}, NoInk)
		r = h
	}
	cross := max(r, 0.4) + 2
	for _, d := range [2]geom.Vec2{{X: cross}, {Y: cross}} {
		if q, w, ok := v.clip.clipLine(c.Sub(d), c.Add(d)); ok {
			v.line(q, w, Pen{Width: Thin, Dash: Chain})
		}
	}
}

// behindPlate reports whether an anchor is hidden by the plate that it hangs on.
func (p *plan) behindPlate(a *model.Anchor) bool {
	return a.Item.Kind == model.Plate || len(a.Item.Outline) > 0
}

// drawItems draws what else the items in the clip consist of: what stands out of
// the face or lies in it as seen, the rest as hidden.
func (p *plan) drawItems(v *view) {
	for _, it := range p.s.Index.ItemsIn(p.reachBox(v, 100, 600)) {
		if it.Host != p.s.Host && it != p.s.Item {
			continue
		}
		own := p.isOwn(it)
		for i := range it.Bodies {
			if b := &it.Bodies[i]; own || p.reaches(b.Box) {
				p.drawBody(v, b, own)
			}
		}
		if len(it.Outline) > 2 && it.PlateIn != nil && it.PlateIn.Normal.Dot(p.frame.Z) > 0.9 {
			pts := make([]geom.Vec2, len(it.Outline))
			for i, c := range it.Outline {
				pts[i] = v.at(c)
			}
			w := Mid
			if it == p.s.Item {
				w = Thick
			}
			v.loop(pts, Pen{Width: w})
		}
	}
}

// reaches reports whether something comes up to the face.
func (p *plan) reaches(b geom.Box) bool {
	for _, c := range b.Corners() {
		if p.frame.Local(c).Z > -5 {
			return true
		}
	}
	return false
}

func (p *plan) isOwn(it *model.Item) bool {
	for _, o := range p.s.Items {
		if o == it {
			return true
		}
	}
	return it == p.s.Aim.Item
}

// reachBox is the box in the model that the clip shows, from depth below the
// face to above it.
func (p *plan) reachBox(v *view, above, depth float64) geom.Box {
	b := geom.EmptyBox
	for _, c := range v.clip.corners() {
		x := (c.X-v.middle.X)/v.k + v.centre.X
		y := (v.middle.Y-c.Y)/v.k + v.centre.Y
		b = b.Add(v.frame.Apply(geom.V(x, y, above))).Add(v.frame.Apply(geom.V(x, y, -depth)))
	}
	return b
}

func (p *plan) drawBody(v *view, b *model.Body, own bool) {
	for _, e := range v.bodyOutline(b).edges {
		pen := Pen{Width: Thin, Dash: Dashed}
		if own && e.za > -0.5 && e.zb > -0.5 {
			pen = Pen{Width: Fine}
		}
		v.stroke(e.a, e.b, pen)
	}
}

// mostBars is how many pieces of reinforcement a view shows.
const mostBars = 400

// drawBars draws the bars under the face, no deeper than the items reach, as far
// as there is concrete above them.
func (p *plan) drawBars(v *view, face region) {
	depth := 60.0
	for _, a := range p.s.Group {
		if a.Entry != nil {
			depth = max(depth, a.Deepest-a.Entry.Dist)
		}
	}
	depth = min(depth, 250)
	for _, b := range p.s.Index.Bars(p.reachBox(v, 0, depth), mostBars) {
		pen := Pen{Width: Thin, Dash: Dashed, Ink: Grey}
		named := p.s.Aim.Bar != nil && p.s.Aim.Bar.Piece == b.Piece
		if !named && !p.within(&b, depth) {
			continue
		}
		if named {
			pen = Pen{Width: Mid, Dash: Dashed}
		}
		for _, e := range p.barLines(v, &b, named) {
			if len(face) == 0 || named {
				v.stroke(e.a, e.b, pen)
				continue
			}
			for _, in := range face.inside(e) {
				v.stroke(lerp(e.a, e.b, in.from), lerp(e.a, e.b, in.to), pen)
			}
		}
	}
}

// within reports whether a bar comes up to less than a depth below the face.
func (p *plan) within(b *subject.Bar, depth float64) bool {
	path := []geom.Vec(nil)
	if b.Rod != nil {
		path = b.Rod.Path
	} else {
		path = b.Mesh.Verts
	}
	for _, q := range path {
		if z := p.frame.Local(q).Z; z > -depth && z < 1 {
			return true
		}
	}
	return false
}

// barLines is a bar's outline, or its centre line where that would be too narrow.
func (p *plan) barLines(v *view, b *subject.Bar, wide bool) []seg {
	var out []seg
	if b.Rod != nil && b.Rod.Radius*v.k < 0.4 && !wide {
		for i := 1; i < len(b.Rod.Path); i++ {
			out = append(out, seg{v.at(b.Rod.Path[i-1]), v.at(b.Rod.Path[i])})
		}
		return out
	}
	for _, e := range v.bodyOutline(&model.Body{Rod: b.Rod, Mesh: b.Mesh}).edges {
		out = append(out, seg{e.a, e.b})
	}
	return out
}

// drawCone draws the outline of the breakout cones on the face, as far as there
// is concrete: squares with sides of three embedment depths.
func (p *plan) drawCone(v *view, face region) {
	var squares [][]geom.Vec2
	for _, a := range p.s.Group {
		if a.Entry == nil || a.Embedment() <= 0 {
			continue
		}
		if p.s.Quantity == subject.BarDistance && a != p.s.Anchor {
			continue
		}
		d := coneReach * a.Embedment()
		x := p.s.Aim.Dir.Mul(d)
		y := p.frame.Z.Cross(p.s.Aim.Dir).Mul(d)
		o := a.Entry.Point
		squares = append(squares, []geom.Vec2{
			v.at(o.Sub(x).Sub(y)), v.at(o.Add(x).Sub(y)), v.at(o.Add(x).Add(y)), v.at(o.Sub(x).Add(y)),
		})
	}
	for i, sq := range squares {
		var others []cover
		for k, o := range squares {
			if k != i {
				others = append(others, cover{o, rectOf(o...)})
			}
		}
		for j, a := range sq {
			for _, part := range uncovered(seg{a, sq[(j+1)%4]}, others) {
				for _, in := range face.inside(part) {
					if q := lerp(part.a, part.b, (in.from+in.to)/2); v.clip.has(q) {
						p.onCone = q
					}
					v.stroke(lerp(part.a, part.b, in.from), lerp(part.a, part.b, in.to), Pen{Width: Mid, Dash: TwoDotted})
				}
			}
		}
	}
}
