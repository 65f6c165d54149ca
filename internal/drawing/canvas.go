package drawing

import (
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// Rect is an upright rectangle: on paper, or in the plane of a view.
type Rect struct{ Min, Max geom.Vec2 }

// RectAt is the rectangle with its upper left corner on paper at x, y.
func RectAt(x, y, w, h float64) Rect {
	return Rect{geom.Vec2{X: x, Y: y}, geom.Vec2{X: x + w, Y: y + h}}
}

// W and H are its width and height.
func (r Rect) W() float64 { return r.Max.X - r.Min.X }
func (r Rect) H() float64 { return r.Max.Y - r.Min.Y }

// Grow is the rectangle with every side moved out by d.
func (r Rect) Grow(d float64) Rect { return exported(r.own().grow(d)) }

// Union is the smallest rectangle around both.
func (r Rect) Union(o Rect) Rect { return exported(r.own().union(o.own())) }

// RectOf is the smallest rectangle around points.
func RectOf(pts ...geom.Vec2) Rect { return exported(rectOf(pts...)) }

func (r Rect) own() rect   { return rect{r.Min, r.Max} }
func exported(r rect) Rect { return Rect{r.min, r.max} }

// Canvas is a sheet that other packages draw on: it keeps texts off each other
// and off lines that are not theirs.
type Canvas struct{ s sheet }

// Line draws a line that texts keep clear of.
func (c *Canvas) Line(a, b geom.Vec2, p Pen) { c.s.line(a, b, p) }

// Frame draws a rectangle that texts keep clear of.
func (c *Canvas) Frame(r Rect, p Pen) {
	pts := r.own().corners()
	for i, a := range pts {
		c.s.line(a, pts[(i+1)%len(pts)], p)
	}
}

// Fill draws a shape under the texts.
func (c *Canvas) Fill(p Poly) { c.s.lines = append(c.s.lines, p) }

// Disc draws a circle.
func (c *Canvas) Disc(at geom.Vec2, r float64, p Pen, fill Ink) { c.s.ring(at, r, p, fill) }

// Write writes a text where it has to stand.
func (c *Canvas) Write(t Text) { c.s.fixed(t) }

// Free reports whether a text would stand clear of all texts and lines.
func (c *Canvas) Free(t Text, field Rect) bool {
	cost, on := c.s.textCost(textBox(&t), field.own())
	return cost == 0 && !on
}

// Label writes a text with a leader, which ends in a dot, to a place. It draws
// nothing and says so where there is no room clear of other texts.
func (c *Canvas) Label(at geom.Vec2, text string, field Rect) bool {
	l := label{at: at, text: text, dot: true}
	best, ok := c.s.findRoom(&l, field.own())
	if !ok || best.cost >= costLineText {
		return false
	}
	c.s.drawLabel(l, &best)
	return true
}

// ScaleBar draws a bar of a round length with its lower left corner at a place.
func (c *Canvas) ScaleBar(at geom.Vec2, scale float64) { c.s.scaleBar(at, scale) }

// Marks are what was drawn, in the order of drawing; Dims its dimensions.
func (c *Canvas) Marks() []Mark { return c.s.all() }
func (c *Canvas) Dims() []Dim   { return c.s.dims }

// View draws a part of a model to scale on a canvas.
type View struct{ v *view }

// View sets a view into a field of the canvas: of what is shown of the plane of a
// frame (rigid, z towards the reader), one to scale. Dimensions may stand
// anywhere in the field.
func (c *Canvas) View(f geom.Affine, shown Rect, scale float64, field Rect) *View {
	return &View{viewOn(&c.s, f, shown.own(), scale, field.own())}
}

// At is a point of the model on paper.
func (v *View) At(p geom.Vec) geom.Vec2 { return v.v.at(p) }

// Clip is what is shown, on paper.
func (v *View) Clip() Rect { return exported(v.v.clip) }

// Core sets what dimensions stand outside of, on paper.
func (v *View) Core(r Rect) { v.v.core = r.own() }

// Loops are closed lines in the plane of a view.
type Loops [][]geom.Vec2

// Section is what a plane at a right angle to a frame's z cuts out of a solid, at
// a height in the frame.
func Section(s *geom.Solid, f geom.Affine, z float64) Loops { return Loops(sectionLoops(s, f, z)) }

// Outline draws loops of the view's plane with break lines where they go on
// beyond what is shown.
func (v *View) Outline(l Loops, p Pen) {
	on := region(l).on(v.v)
	for _, loop := range on {
		v.v.loop(loop, p)
	}
	v.v.breaks(on)
}

// Hatch fills loops of the view's plane as cut, clear of all texts that stand
// there already.
func (v *View) Hatch(l Loops) { v.v.hatch(region(l).on(v.v), 1) }

// Stroke draws what is seen of a line of the model.
func (v *View) Stroke(a, b geom.Vec, p Pen) { v.v.stroke(v.v.at(a), v.v.at(b), p) }

// Body draws the edges of a body that face the reader. cover hides behind it
// what is drawn later.
func (v *View) Body(b *model.Body, p Pen, cover bool) {
	o := v.v.bodyOutline(b)
	for _, e := range o.edges {
		v.v.stroke(e.a, e.b, p)
	}
	if cover {
		v.v.hide(o.covers...)
	}
}

// Edges draws the edges of a mesh that face the reader and lie between two heights
// of the view's frame.
func (v *View) Edges(m *geom.Mesh, low, high float64, p Pen) {
	for _, e := range v.v.meshOutline(m).edges {
		if min(e.za, e.zb) >= low && max(e.za, e.zb) <= high {
			v.v.stroke(e.a, e.b, p)
		}
	}
}

// Bar draws a bar beside a section in the plane of the view: its cut where it
// crosses the plane, its length where it runs within 30 mm of it.
func (v *View) Bar(r geom.Rod, p Pen) { v.v.drawBar(r, p) }

// Cross draws the centre lines of a round thing of radius r.
func (v *View) Cross(at geom.Vec, r, least float64) {
	c := v.v.at(at)
	arm := max(r*v.v.k, least) + 2
	for _, d := range [2]geom.Vec2{{X: arm}, {Y: arm}} {
		if p, q, ok := v.v.clip.clipLine(c.Sub(d), c.Add(d)); ok {
			v.v.line(p, q, Pen{Width: Thin, Dash: Chain})
		}
	}
}

// Dimension places the distance between two points of the model, measured along
// a direction of the view's plane, where it is in nothing's way.
func (v *View) Dimension(name string, from, to, along geom.Vec, value float64) {
	v.v.dimension(name, from, to, along, value, false, "")
}

// Pattern is the lengths of a line's dashes and gaps for a width, in mm; nil for
// a solid one.
func (d Dash) Pattern(width float64) []float64 {
	var out []float64
	for _, v := range dashes[d] {
		out = append(out, v*width)
	}
	return out
}

// CapHeight is the height of capitals in ems that text sizes are made with.
const CapHeight = capHeight

// TextWidth is what a line of text takes on paper at most, for capitals of the
// given height.
func TextWidth(s string, size float64, bold bool) float64 { return textWidth(s, size, bold) }

// Fit cuts a text to a width on paper; Wrap breaks it into at most n lines.
func Fit(s string, size float64, bold bool, w float64) string { return fit(s, size, bold, w) }
func Wrap(s string, size float64, bold bool, w float64, n int) []string {
	return wrap(s, size, bold, w, n)
}

// ScaleText is how a scale is written.
func ScaleText(s float64) string { return scaleText(s) }

// FigureText is a length as a person reads it off a tape: to 1 mm, below 10 mm to
// half a mm.
func FigureText(mm float64) string { return figure(mm) }

// TextCorners are the corners of the place that a text takes.
func TextCorners(t Text) []geom.Vec2 { return textBox(&t).corners() }
