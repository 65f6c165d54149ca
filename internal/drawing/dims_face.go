package drawing

import (
	"math"
	"slices"
	"strings"

	"embedcheck/internal/drawing/subject"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// dimension places the distance between two points of the model, measured along
// a direction of the view's plane.
func (v *view) dimension(name string, from, to, along geom.Vec, value float64, fails bool, text string) {
	u := v.toward(along)
	n := u.Norm()
	if n < 1e-6 {
		return
	}
	if text == "" {
		text = figure(value)
	}
	a, b := v.at(from), v.at(to)
	if !v.near(a) || !v.near(b) {
		return
	}
	v.place(dimension{Dim: Dim{name, value, fails}, a: a, b: b, u: u.Mul(1 / n), text: text, near: fails && abs(value)*v.k < 12}, v.core, v.field)
}

// near reports whether a point is in the part that is shown, or hardly out of it.
func (v *view) near(p geom.Vec2) bool { return v.clip.grow(2).has(p) }

// dimFace dimensions the view of the face, what fails first.
func (p *plan) dimFace(v *view) {
	s := p.s
	done := p.dimFailing(v)
	if e := s.Aim.Edge; e != nil && done != subject.EdgeDistance && !belowFace(s) && s.Anchor != nil && s.Anchor.Entry != nil && !s.OfItem {
		o := s.Anchor.Entry.Point
		v.dimension(string(subject.EdgeDistance), o, o.Add(e.Dir.Mul(e.Dist)), e.Dir, e.Dist, false, "")
	}
	p.dimCone(v)
	p.dimGrid(v)
	p.dimEdges(v)
}

// dimFailing dimensions what the finding measures where that lies in the face,
// and gives what it was.
func (p *plan) dimFailing(v *view) subject.Quantity {
	s := p.s
	switch s.Quantity {
	case subject.EdgeDistance, subject.PlateEdge, subject.Spacing:
	default:
		return ""
	}
	if !s.Aim.Known || s.Quantity == subject.EdgeDistance && belowFace(s) {
		return ""
	}
	d := s.Aim.To.Sub(s.Aim.From)
	if d.Norm() < 0.2 {
		d = s.Aim.Dir
	}
	v.dimension(string(s.Quantity), s.Aim.From, s.Aim.To, d, s.Instance.Measured, true, failFigure(s))
	return s.Quantity
}

// dimCone dimensions the reach of the cone that is cut.
func (p *plan) dimCone(v *view) {
	s := p.s
	if s.Quantity != subject.Cone || s.Anchor == nil || s.Anchor.Entry == nil {
		return
	}
	d := coneReach * s.Anchor.Embedment()
	o := s.Anchor.Entry.Point
	for _, dir := range []geom.Vec{s.Aim.Dir.Neg(), p.frame.Z.Cross(s.Aim.Dir), s.Aim.Dir.Cross(p.frame.Z)} {
		end := o.Add(dir.Mul(d))
		if p.face.has(p.flat(end)) && v.clip.has(v.at(end)) {
			v.dimension("cone reach", o, end, dir, d, false, "1.5 h = "+figure(d))
			return
		}
	}
}

// dimGrid dimensions the rows of the set, from the anchors that are outermost.
func (p *plan) dimGrid(v *view) {
	var at []geom.Vec2
	for _, a := range p.s.Group {
		if a.Entry != nil && v.clip.has(v.anchorAt(a)) {
			at = append(at, p.flat(a.Entry.Point))
		}
	}
	if len(at) > 1 {
		p.dimRows(v, at, geom.Vec2{X: 1}, geom.Vec2{Y: -1})
		p.dimRows(v, at, geom.Vec2{Y: 1}, geom.Vec2{X: 1})
	}
}

// dimRows dimensions the distances of neighbouring rows along a direction, each
// row standing for its anchor that is farthest out.
func (p *plan) dimRows(v *view, at []geom.Vec2, along, out geom.Vec2) {
	list := slices.Clone(at)
	slices.SortStableFunc(list, func(a, b geom.Vec2) int { return compare(a.Dot(along), b.Dot(along)) })
	var rows []geom.Vec2
	for _, q := range list {
		n := len(rows)
		if n == 0 || q.Dot(along)-rows[n-1].Dot(along) >= 2 {
			rows = append(rows, q)
		} else if q.Dot(out) > rows[n-1].Dot(out)+1e-6 {
			rows[n-1] = q
		}
	}
	const most = 4 // rows that are dimensioned
	for i := 1; i < min(len(rows), most); i++ {
		d := rows[i].Sub(rows[i-1]).Dot(along)
		if p.s.Quantity == subject.Spacing && abs(d-p.s.Instance.Measured) < 0.01 && p.isAim(rows[i], rows[i-1]) {
			continue
		}
		v.dimension("spacing", p.space(rows[i-1]), p.space(rows[i]), p.frame.Turn(geom.V(along.X, along.Y, 0)), d, false, "")
	}
}

// isAim reports whether two anchors are those whose spacing fails.
func (p *plan) isAim(a, b geom.Vec2) bool {
	f, t := p.flat(p.s.Aim.From), p.flat(p.s.Aim.To)
	return a.Dist(f) < 1 && b.Dist(t) < 1 || a.Dist(t) < 1 && b.Dist(f) < 1
}

func (p *plan) space(q geom.Vec2) geom.Vec { return p.frame.Apply(geom.V(q.X, q.Y, 0)) }

// dimEdges dimensions the nearest edges of the concrete along the sheet's axes,
// where one is in view and the governing edge is not that way.
func (p *plan) dimEdges(v *view) {
	o := geom.Vec2{}
	if a := p.s.Anchor; a != nil && a.Entry != nil && !p.s.OfItem {
		o = p.flat(a.Entry.Point)
	} else if len(p.s.Item.Outline) > 0 {
		return
	}
	for _, axis := range []geom.Vec2{{X: 1}, {Y: 1}} {
		if e := p.s.Aim.Edge; e != nil && abs(e.Dir.Dot(p.frame.Turn(geom.V(axis.X, axis.Y, 0)))) > 0.7 {
			continue
		}
		best, dir := math.Inf(1), axis
		for _, d := range []geom.Vec2{axis, axis.Mul(-1)} {
			if t := rayOut(p.face, o, d); t < best-1e-6 {
				best, dir = t, d
			}
		}
		if math.IsInf(best, 1) || best < 1 {
			continue
		}
		v.dimension("to edge", p.space(o), p.space(o.Add(dir.Mul(best))), p.frame.Turn(geom.V(axis.X, axis.Y, 0)), best, false, "")
	}
}

// rayOut is the distance from a point inside a region to its outline.
func rayOut(g region, o, d geom.Vec2) float64 {
	best := math.Inf(1)
	n := geom.Vec2{X: -d.Y, Y: d.X}
	for _, l := range g {
		for i, a := range l {
			b := l[(i+1)%len(l)]
			s, t := a.Sub(o).Dot(n), b.Sub(o).Dot(n)
			if (s > 0) == (t > 0) {
				continue
			}
			x := lerp(a, b, s/(s-t)).Sub(o).Dot(d)
			if x > 1e-6 {
				best = min(best, x)
			}
		}
	}
	return best
}

// nameFace labels what is seen on the face.
func (p *plan) nameFace(v *view) {
	s := p.s
	if f := figureLabel(s); f != nil && s.Quantity == subject.Cone {
		at := p.labelPoint(v)
		if p.onCone != (geom.Vec2{}) {
			at = p.onCone
		}
		v.put(label{at: at, text: f.text, size: failText, figure: f.data}, v.field)
	}
	it := s.Item
	v.put(label{at: p.labelPoint(v), text: itemText(it)}, v.field)
	if o := s.Aim.Anchor; o != nil && o.Item != it && (it.Set == nil || o.Item.Set != it.Set) {
		v.put(label{at: v.anchorAt(o), text: itemText(o.Item)}, v.field)
	}
	if o := s.Aim.Item; o != nil {
		v.put(label{at: v.at(o.Box.Center()), text: itemText(o)}, v.field)
	}
	for _, t := range s.Items {
		if t.Kind == model.Template && t != it {
			if q, ok := p.onEdge(v, t); ok {
				v.put(label{at: q, text: itemText(t)}, v.field)
			}
		}
	}
	if s.Host != nil {
		p.nameVoids(v)
	}
}

// labelPoint is a place on the rim of the worst anchor, or on the item's outline.
func (p *plan) labelPoint(v *view) geom.Vec2 {
	if a := p.s.Anchor; a != nil && !p.s.OfItem {
		c := v.anchorAt(a)
		return c.Add(geom.Vec2{X: 0.707, Y: -0.707}.Mul(a.Diameter / 2 * v.k))
	}
	if q, ok := p.onEdge(v, p.s.Item); ok {
		return q
	}
	return v.at(p.s.Item.Box.Center())
}

// onEdge is a place on the outline of an item, near its upper right corner.
func (p *plan) onEdge(v *view, it *model.Item) (geom.Vec2, bool) {
	if len(it.Outline) < 3 {
		return v.rim(it, func(*model.Body) bool { return true })
	}
	var c corner
	for i, a := range it.Outline {
		c.try(v, v.at(a), v.at(it.Outline[(i+1)%len(it.Outline)]))
	}
	return c.at, c.found
}

// rim is a place on the outline of those bodies of an item that are shown, near
// its upper right corner.
func (v *view) rim(it *model.Item, shown func(*model.Body) bool) (geom.Vec2, bool) {
	var c corner
	for i := range it.Bodies {
		if b := &it.Bodies[i]; shown(b) {
			for _, e := range v.bodyOutline(b).edges {
				c.try(v, e.a, e.b)
			}
		}
	}
	return c.at, c.found
}

// corner looks for the place in view that is farthest up and to the right.
type corner struct {
	at    geom.Vec2
	rank  float64
	found bool
}

func (c *corner) try(v *view, a, b geom.Vec2) {
	for _, t := range [3]float64{0.2, 0.5, 0.8} {
		q := lerp(a, b, t)
		if r := q.X - q.Y; finite(q) && v.clip.has(q) && (!c.found || r > c.rank+1e-6) {
			c.at, c.rank, c.found = q, r, true
		}
	}
}

// nameVoids names the openings and recesses in view.
func (p *plan) nameVoids(v *view) {
	n := 0
	for _, o := range p.s.Host.Voids {
		if o.Mesh == nil || n == 2 {
			continue
		}
		r := emptyRect
		for _, c := range o.Box.Corners() {
			r = r.add(v.at(c))
		}
		r = r.cut(v.clip)
		name := short(subject.Label(&o.Ref), longestName)
		at, ok := p.freeIn(v, r)
		if r.empty() || r.w() < 6 || r.h() < 6 || !ok {
			continue
		}
		n++
		v.put(label{at: at, text: name, dot: true}, v.field)
	}
}

// freeIn is a place in an opening where nothing is written.
func (p *plan) freeIn(v *view, r rect) (geom.Vec2, bool) {
	for _, f := range [9]geom.Vec2{{X: 0.5, Y: 0.5}, {X: 0.5, Y: 0.25}, {X: 0.5, Y: 0.75}, {X: 0.75, Y: 0.5}, {X: 0.25, Y: 0.5},
		{X: 0.25, Y: 0.25}, {X: 0.75, Y: 0.25}, {X: 0.25, Y: 0.75}, {X: 0.75, Y: 0.75}} {
		q := geom.Vec2{X: r.min.X + f.X*r.w(), Y: r.min.Y + f.Y*r.h()}
		if !p.face.has(p.unpaper(v, q)) && !v.written(q) {
			return q, true
		}
	}
	return geom.Vec2{}, false
}

func (p *plan) unpaper(v *view, q geom.Vec2) geom.Vec2 {
	return geom.Vec2{X: (q.X-v.middle.X)/v.k + v.centre.X, Y: (v.middle.Y-q.Y)/v.k + v.centre.Y}
}

// figureMark is a figure that is no length, for a framed label.
type figureMark struct {
	text string
	data *Figure
}

func figureLabel(s *subject.Subject) *figureMark {
	in := s.Instance
	if in.Relation == "" && in.Unit == "" || s.Quantity == subject.NothingMeasured {
		return nil
	}
	text := failFigure(s)
	if !strings.HasPrefix(text, "overlap") {
		text = quantityName(s.Quantity) + " " + text
	}
	return &figureMark{text, figureOf(s)}
}

func figureOf(s *subject.Subject) *Figure {
	in := s.Instance
	if in.Unit == "" {
		return nil
	}
	name := string(s.Quantity)
	if name == "" {
		name = s.Finding.Rule
	}
	return &Figure{name, in.Measured, in.Required, in.Unit}
}

// belowFace reports whether the edge distance was taken below the face, where
// the section shows it.
func belowFace(s *subject.Subject) bool {
	return s.Aim.Edge != nil && s.Aim.Edge.Depth > 5 && !s.OfItem
}
