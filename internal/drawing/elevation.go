package drawing

import (
	"math"
	"slices"

	"embedcheck/internal/drawing/subject"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// underFace is how deep below the entry face, in mm, the concrete is cut to see
// its outline there.
const underFace = 1

// plan is the view of the entry face, before it is drawn.
type plan struct {
	s      *subject.Subject
	frame  geom.Affine // at the entry point; z out of the concrete
	face   region      // concrete just below the face, in the frame
	whole  rect        // of the face
	roi    rect        // what has to be seen
	scale  float64
	crop   rect
	up     string // what the top of the sheet is
	wholly bool   // all of the face is shown
}

// newPlan looks at the face and chooses what is shown of it.
func newPlan(s *subject.Subject, w, h float64) *plan {
	p := &plan{s: s}
	n := s.Axis().Neg()
	if s.Face != nil {
		n = s.Face.Normal
	}
	p.turn(n)
	if s.Face != nil {
		p.face = sectionLoops(s.Face.Solid, p.frame, -underFace)
	}
	p.whole = p.face.bounds()
	p.choose(w, h)
	return p
}

// turn sets the frame: the top of the sheet is up where the face stands; where
// it lies, the y axis of the host nearest to world y. The sheet is turned by less than
// 45 degrees more to have the long sides of the host along its own.
func (p *plan) turn(n geom.Vec) {
	up := geom.V(0, 0, 1)
	p.up = "top of view: up (+Z)"
	if math.Abs(n.Z) > 0.7 {
		up = geom.V(0, 1, 0)
		p.up = "seen from above, top of view: +Y"
		if n.Z < 0 {
			p.up = "seen from below, top of view: +Y"
		}
	}
	o := p.s.Entry()
	x := up.Cross(n)
	f := geom.FrameZX(o, n, x)
	if h := p.s.Host; h != nil {
		best, cos := geom.Vec{}, 0.75
		for _, a := range []geom.Vec{h.Frame.X, h.Frame.Y, h.Frame.Z} {
			for _, c := range [2]geom.Vec{a, a.Neg()} {
				c = c.Sub(n.Mul(n.Dot(c))).Unit()
				if d := c.Dot(f.Y); d > cos+1e-9 {
					best, cos = c, d
				}
			}
		}
		if best != (geom.Vec{}) {
			if cos < 0.9999 {
				p.up = "turned by " + trim(math.Round(math.Acos(min(1, cos))*180/math.Pi)) + "° to the host's own axes"
			}
			f = geom.FrameZX(o, n, best.Cross(n))
		}
	}
	p.frame = f
}

func (p *plan) flat(q geom.Vec) geom.Vec2 {
	l := p.frame.Local(q)
	return geom.Vec2{X: l.X, Y: l.Y}
}

// must is what cannot be left out: the worst anchor and what was measured to.
func (p *plan) must() rect {
	r := emptyRect
	s := p.s
	if s.Anchor != nil {
		r = r.union(p.anchorRect(s.Anchor))
	} else {
		r = r.union(p.boxRect(s.Item.Box))
	}
	if s.OfItem || s.Item.Kind == model.Plate {
		for _, c := range s.Item.Outline {
			r = r.add(p.flat(c))
		}
	}
	if s.Aim.Known && s.Quantity != subject.InOther {
		r = r.add(p.flat(s.Aim.From)).add(p.flat(s.Aim.To))
	}
	if s.Aim.Anchor != nil {
		r = r.union(p.anchorRect(s.Aim.Anchor))
	}
	if s.Quantity == subject.Cone {
		for _, a := range s.Group {
			if a.Entry != nil {
				q := p.flat(a.Entry.Point)
				r = r.union(rect{q, q}.grow(coneReach * a.Embedment()).cut(p.whole))
			}
		}
	}
	return r
}

func (p *plan) anchorRect(a *model.Anchor) rect {
	q := p.flat(a.Open)
	if a.Entry != nil {
		q = p.flat(a.Entry.Point)
	}
	r := rect{q, q}.grow(max(a.Diameter, a.HeadSize, 1) / 2)
	for _, h := range a.Hook {
		r = r.add(p.flat(h))
	}
	return r
}

func (p *plan) boxRect(b geom.Box) rect {
	r := emptyRect
	for _, c := range b.Corners() {
		r = r.add(p.flat(c))
	}
	return r
}

// choose takes the scale and what is cropped: what must be seen at the largest
// scale, and what else comes in at no more than one step smaller.
func (p *plan) choose(w, h float64) {
	const margin = 8 // mm on paper around what is shown
	fit := func(r rect) float64 { return scaleFor(r.w(), r.h(), w, h) }
	pad := func(r rect) rect { return r.grow(max(0.12*max(r.w(), r.h()), 20)) }
	roi := pad(p.must())
	at := fit(roi)
	most := max(nextScale(at), 10)
	var more []rect
	for _, a := range p.s.Group {
		more = append(more, p.anchorRect(a))
	}
	for _, it := range p.s.Items {
		if it.Kind == model.Plate || it.Kind == model.Template {
			more = append(more, p.boxRect(it.Box))
		}
	}
	c := roi.centre()
	slices.SortStableFunc(more, func(a, b rect) int {
		return compare(a.centre().Dist(c), b.centre().Dist(c))
	})
	for _, r := range more {
		if u := roi.union(pad(r)); fit(u) <= most {
			roi = u
		}
	}
	at = fit(roi)
	p.roi = roi
	if !p.whole.empty() {
		if all := p.whole.union(p.roiHard()); fit(all) <= max(nextScale(at), 5) && fit(all) <= 50 || fit(all) <= at {
			p.scale, p.crop, p.wholly = fit(all), all.grow(margin*fit(all)), true
			p.roi = all
			return
		}
	}
	p.scale = at
	p.crop = p.snap(roi, margin*at)
}

// roiHard is what must be seen, without room around it.
func (p *plan) roiHard() rect {
	r := p.must()
	for _, a := range p.s.Group {
		if q := p.anchorRect(a); p.roi.holds(q) {
			r = r.union(q)
		}
	}
	return r
}

// snap moves the sides of a crop that nearly reach the edge of the concrete out
// to it.
func (p *plan) snap(r rect, margin float64) rect {
	out := r
	if p.whole.empty() {
		return out
	}
	near := 2.5 * margin
	if d := out.min.X - p.whole.min.X; d < near {
		out.min.X = min(out.min.X, p.whole.min.X) - margin
	}
	if d := p.whole.max.X - out.max.X; d < near {
		out.max.X = max(out.max.X, p.whole.max.X) + margin
	}
	if d := out.min.Y - p.whole.min.Y; d < near {
		out.min.Y = min(out.min.Y, p.whole.min.Y) - margin
	}
	if d := p.whole.max.Y - out.max.Y; d < near {
		out.max.Y = max(out.max.Y, p.whole.max.Y) + margin
	}
	return out
}

func compare(a, b float64) int {
	switch {
	case a < b-1e-6:
		return -1
	case a > b+1e-6:
		return 1
	}
	return 0
}
