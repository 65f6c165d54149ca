package drawing

import (
	"strings"

	"embedcheck/internal/drawing/subject"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// dimCut dimensions the section, what fails first.
func (c *cut) dimCut(v *view) {
	s := c.s
	done := map[string]bool{}
	c.dimFailing(v, done)
	a := s.Anchor
	if a == nil || a.Entry == nil {
		if s.Face != nil && s.Face.Thickness > 0 {
			far := s.Face.Point.Sub(s.Face.Normal.Mul(s.Face.Thickness))
			v.dimension(string(subject.Thickness), s.Face.Point, far, s.Face.Normal, s.Face.Thickness, false, "")
		}
		return
	}
	in := a.Entry.Point
	far := in.Add(a.Dir.Mul(a.Entry.Thickness))
	plain := func(q subject.Quantity, from, to geom.Vec, value float64) {
		if !done[string(q)] && value > 0.4 {
			v.dimension(string(q), from, to, a.Dir, value, false, "")
		}
	}
	if e := s.Aim.Edge; e != nil && belowFace(s) && !done[string(subject.EdgeDistance)] && abs(e.Dir.Dot(s.Aim.Dir)) > 0.999 {
		v.dimension(string(subject.EdgeDistance), e.At.Sub(e.Dir.Mul(e.Dist)), e.At, e.Dir, e.Dist, false, "")
	}
	plain(subject.Embedment, in, a.At(a.Bearing), a.Embedment())
	if s.Quantity != subject.Flush {
		plain(subject.Projection, a.Open, in, a.Entry.Dist)
	}
	if v.near(v.at(far)) {
		plain(subject.BackCover, a.At(a.Deepest), far, a.BackCover())
		plain(subject.Thickness, in, far, a.Entry.Thickness)
	}
}

// dimFailing dimensions what the finding measures where that lies in the section.
func (c *cut) dimFailing(v *view, done map[string]bool) {
	s := c.s
	from, to, ok := s.Measured()
	if !ok || c.told || !c.seenTrue(from, to) {
		return
	}
	switch s.Quantity {
	case subject.EdgeDistance:
		if !belowFace(s) {
			return
		}
	case subject.PlateEdge, subject.Spacing:
		return
	}
	along := to.Sub(from)
	along = along.Sub(c.frame.Z.Mul(along.Dot(c.frame.Z)))
	if along.Norm() < 0.2 {
		along = c.s.Axis()
	}
	v.dimension(string(s.Quantity), from, to, along, s.Instance.Measured, true, failFigure(s))
	done[string(s.Quantity)] = true
}

// seenTrue reports whether a distance is seen at its true length in the section.
func (c *cut) seenTrue(from, to geom.Vec) bool {
	switch c.s.Quantity {
	case subject.BarClearance, subject.ItemClearance, subject.BarDistance:
	default:
		return true
	}
	d := to.Sub(from)
	flat := d.Sub(c.frame.Z.Mul(d.Dot(c.frame.Z))).Norm()
	got := abs(c.s.Instance.Measured)
	return d.Norm() > 0.2 && abs(flat-got) < max(1, 0.03*got)
}

// nameCut labels what is seen in the section.
func (c *cut) nameCut(v *view) {
	s := c.s
	if f := figureLabel(s); f != nil && !c.told && !v.failed() && s.Quantity != subject.Cone {
		v.put(label{at: c.figurePoint(v), text: f.text, size: failText, figure: f.data}, v.field)
	}
	if b := s.Aim.Bar; b != nil {
		v.put(label{at: c.barPoint(v, b), text: barText(s, b)}, v.field)
	}
	if o := s.Aim.Item; o != nil {
		v.put(label{at: v.at(s.Aim.To), text: itemText(o)}, v.field)
	}
	if o := s.Aim.Host; o != nil {
		if r := c.other.on(v).bounds().cut(v.clip); !r.empty() {
			v.put(label{at: r.centre(), text: short(subject.Label(&o.Ref), longestName), dot: true}, v.field)
		}
	}
	v.put(label{at: c.itemPoint(v), text: itemText(s.Item)}, v.field)
	if a := s.Anchor; a != nil && a.Diameter > 0 && a.Item.Kind != model.Plate && !strings.Contains(itemText(s.Item), figure(a.Diameter)) {
		v.put(label{at: c.shankPoint(v), text: "ø" + figure(a.Diameter)}, v.field)
	}
}

// figurePoint is where the failing figure points at.
func (c *cut) figurePoint(v *view) geom.Vec2 {
	s := c.s
	switch {
	case s.Aim.Bar != nil || s.Aim.Item != nil:
		return v.at(s.Aim.From)
	case s.Anchor != nil:
		return v.at(s.Anchor.At(min(s.Anchor.Deepest, max(0, s.Anchor.Deepest/2))))
	}
	return v.at(s.Item.Box.Center())
}

func (c *cut) barPoint(v *view, b *subject.Bar) geom.Vec2 {
	if b.Rod == nil {
		return v.at(c.s.Aim.To)
	}
	return v.at(c.s.Aim.To)
}

// itemPoint is a place on the item's outline in view.
func (c *cut) itemPoint(v *view) geom.Vec2 {
	if a := c.s.Anchor; a != nil {
		return c.shank(v, 1, 0.12, 0.3, 0.02, 0.5, 0.6, 0.7, 0.8, 0.9)
	}
	if q, ok := v.rim(c.s.Item, func(b *model.Body) bool { return c.shows(c.s.Item, b) }); ok {
		return q
	}
	return v.at(c.s.Item.Box.Center())
}

func (c *cut) shankPoint(v *view) geom.Vec2 {
	return c.shank(v, -1, 0.7, 0.5, 0.3, 0.4, 0.6, 0.8, 0.9, 0.2)
}

// shank is a place on a side of the shank, at the first of the given parts of
// its depth that is in view.
func (c *cut) shank(v *view, side float64, parts ...float64) geom.Vec2 {
	a := c.s.Anchor
	off := v.toward(c.s.Aim.Dir).Mul(side * a.Diameter / 2 * v.k)
	for _, t := range parts {
		if q := v.at(a.At(t * a.Deepest)).Add(off); v.clip.has(q) {
			return q
		}
	}
	return v.at(c.s.Entry())
}
