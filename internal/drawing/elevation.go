package drawing

import (
	"math"

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
	scale  float64
	crop   rect
	title  string
	note   string    // how the view is turned
	wholly bool      // all of the face is shown
	onCone geom.Vec2 // on paper; a place on the outline of the cone
}

// newPlan looks at the face.
func newPlan(s *subject.Subject) *plan {
	p := &plan{s: s}
	n := s.Axis().Neg()
	if s.Face != nil {
		n = s.Face.Normal
	}
	p.turn(n)
	p.title = "View of the entry face"
	if s.Face != nil {
		p.face = p.faceOutline()
	} else {
		p.title = "View of the item"
		if s.Host != nil {
			p.face = sectionLoops(s.Host.Solid, p.frame, 0)
			p.title = "View, concrete cut at the item"
		}
	}
	p.whole = p.face.bounds()
	return p
}

// faceOutline is the concrete just below the face. Below a curved face that would
// be a strip: there it is the outline as it is seen, half through the concrete;
// for cones, half as deep as the anchor, as their share is worked out.
func (p *plan) faceOutline() region {
	solid := p.s.Face.Solid
	at := sectionLoops(solid, p.frame, -underFace)
	const grows = 1.05 // what a chamfer adds in 2 mm is less
	if sectionLoops(solid, p.frame, -3*underFace).area() < grows*at.area() {
		return at
	}
	deep, note := p.s.Face.Thickness/2, "; curved face, outline at half thickness"
	if a := p.s.Anchor; a != nil && a.Entry != nil && p.s.Quantity == subject.Cone {
		deep, note = min(a.Embedment(), a.Entry.Thickness)/2, "; curved face, outline at half embedment"
	}
	if r := sectionLoops(solid, p.frame, -deep); len(r) > 0 && deep > underFace {
		p.note += note
		return r
	}
	return at
}

// turn sets the frame: the top of the sheet is up where the face stands, and +Y
// of the model where it lies, as nearly as an axis of the host allows.
func (p *plan) turn(n geom.Vec) {
	up, side := geom.V(0, 0, 1), "seen from the open side"
	if math.Abs(n.Z) > 0.7 {
		up, side = geom.V(0, 1, 0), "seen from above"
		if n.Z < 0 {
			side = "seen from below"
		}
	}
	f := geom.FrameZX(p.s.Entry(), n, up.Cross(n))
	if h := p.s.Host; h != nil {
		if y, ok := nearestAxis(h.Frame, f); ok {
			f = geom.FrameZX(f.T, n, y.Cross(n))
		}
	}
	p.frame = f
	p.note = side + "; top of sheet: model " + axisName(geom.Identity, f.Y)
	if h := p.s.Host; h != nil {
		p.note += ", host " + axisName(h.Frame, f.Y)
	}
}

// nearestAxis is the axis of the host, laid into the face, that is nearest to
// the frame's y; false where none is within 45 degrees.
func nearestAxis(h, f geom.Affine) (geom.Vec, bool) {
	best, cos := geom.Vec{}, math.Sqrt2/2
	for _, a := range [3]geom.Vec{h.X, h.Y, h.Z} {
		for _, c := range [2]geom.Vec{a, a.Neg()} {
			c = c.Unit()
			c = c.Sub(f.Z.Mul(f.Z.Dot(c)))
			if c.Norm() < 0.7 {
				continue
			}
			if d := c.Unit().Dot(f.Y); d > cos+1e-9 {
				best, cos = c.Unit(), d
			}
		}
	}
	return best, best != (geom.Vec{})
}

// axisName is the axis of a frame that a direction runs along, with the angle
// between the two where there is one: "+Z", "-Y 12° off".
func axisName(f geom.Affine, d geom.Vec) string {
	best, cos := "", -2.0
	for i, a := range [3]geom.Vec{f.X, f.Y, f.Z} {
		for k, c := range [2]geom.Vec{a, a.Neg()} {
			if x := c.Unit().Dot(d); x > cos+1e-9 {
				best, cos = string("+-"[k])+string("XYZ"[i]), x
			}
		}
	}
	if off := math.Round(math.Acos(min(1, cos)) * 180 / math.Pi); off >= 1 {
		best += " (" + trim(off) + "° off)"
	}
	return best
}

func (p *plan) flat(q geom.Vec) geom.Vec2 {
	l := p.frame.Local(q)
	return geom.Vec2{X: l.X, Y: l.Y}
}

// must is what cannot be left out: the worst anchor and what was measured to
// where that is seen on the face.
func (p *plan) must() rect {
	r := emptyRect
	s := p.s
	if s.Anchor != nil {
		r = r.union(p.anchorRect(s.Anchor))
	} else {
		r = r.union(p.boxRect(s.Item.Box))
	}
	if s.OfItem {
		for _, c := range s.Item.Outline {
			r = r.add(p.flat(c))
		}
	}
	switch s.Quantity {
	case subject.EdgeDistance, subject.PlateEdge, subject.Spacing, subject.DepthToEdge, subject.HookCover, subject.ItemClearance:
		if s.Aim.Known {
			r = r.add(p.flat(s.Aim.From)).add(p.flat(s.Aim.To))
		}
	case subject.Cone:
		for _, a := range s.Group {
			if a.Entry != nil {
				q := p.flat(a.Entry.Point)
				r = r.union(rect{q, q}.grow(coneReach * a.Embedment()).cut(p.whole))
			}
		}
	}
	if s.Aim.Anchor != nil {
		r = r.union(p.anchorRect(s.Aim.Anchor))
	}
	return r
}

// wants is what is good to see besides.
func (p *plan) wants() []want {
	const most = 10
	var out []want
	for _, a := range p.s.Group {
		out = append(out, want{p.anchorRect(a), most})
	}
	for _, it := range p.s.Items {
		if it.Kind == model.Plate || it.Kind == model.Template {
			out = append(out, want{p.boxRect(it.Box), most})
		}
	}
	if e := p.s.Aim.Edge; e != nil && p.s.Aim.Known {
		q := p.flat(e.At)
		out = append(out, want{rect{q, q}, most})
		if v := voidAt(p.s.Host, e.At); v != nil {
			out = append(out, want{p.boxRect(v.Box), most})
		}
	}
	if len(p.s.Item.Anchors) < 2 {
		out = append(out, want{p.boxRect(p.s.Item.Box), most})
	}
	return out
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

// choose takes the scale and what is shown for a room of w x h mm on paper.
func (p *plan) choose(w, h float64) {
	p.crop, p.scale = frameUp(p.must(), p.wants(), p.whole, w, h, context)
	p.wholly = p.crop.holds(p.whole)
}

// voidAt is the opening or recess that a place on the surface belongs to; nil
// for an outer edge.
func voidAt(h *model.Host, at geom.Vec) *model.Void {
	if h == nil {
		return nil
	}
	for _, v := range h.Voids {
		if v.Mesh != nil && v.Box.Grow(1).Has(at) {
			return v
		}
	}
	return nil
}
