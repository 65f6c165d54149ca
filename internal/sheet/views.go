package sheet

import (
	"fmt"
	"math"

	"embedcheck/internal/drawing"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
	"embedcheck/internal/setout"
)

// dimRoom is what a view leaves for dimensions on each side, in mm on paper.
const dimRoom = 19.0

// faceFrame is the frame that a face is looked at in: faces up and down from
// above, sides from outside with the form below.
func (b *book) faceFrame(f setout.Face) geom.Affine {
	u := b.u.Frame
	if !f.Side() {
		return u
	}
	n := u.Turn(f.Normal())
	return geom.FrameZX(u.T, n, u.Z.Cross(n))
}

// corners are points of a set's bodies, in the model.
func corners(items []*model.Item) []geom.Vec {
	var out []geom.Vec
	for _, it := range items {
		for i := range it.Bodies {
			out = append(out, bodyPoints(&it.Bodies[i])...)
		}
	}
	return out
}

func bodyPoints(b *model.Body) []geom.Vec {
	if b.Rod != nil {
		return b.Rod.Path
	}
	return b.Mesh.Verts
}

// bounds is the rectangle around points as a frame sees them.
func bounds(f geom.Affine, pts []geom.Vec) drawing.Rect {
	flat := make([]geom.Vec2, len(pts))
	for i, q := range pts {
		l := f.Local(q)
		flat[i] = at(l.X, l.Y)
	}
	return drawing.RectOf(flat...)
}

// faceView draws a set as its face shows it, with what is taped from axis to axis.
func (b *book) faceView(p *page, s *setout.Set, field drawing.Rect) {
	f := b.faceFrame(s.Face)
	r := bounds(f, corners(s.Items))
	for i := range s.Anchors {
		r = r.Union(bounds(f, []geom.Vec{b.u.Frame.Apply(s.Anchors[i].At)}))
	}
	r = b.reachSides(f, r.Grow(20+0.06*max(r.W(), r.H())))
	scale := scaleFor(r.W(), r.H(), field.W()-2*dimRoom, field.H()-2*dimRoom)
	v := p.View(f, r, scale, field)
	v.Edges(b.u.Host.Body, math.Inf(-1), math.Inf(1), drawing.Pen{Width: drawing.Thick})
	b.draw(v, s, s.Face != setout.Down)
	core := drawing.RectOf(v.Clip().Min, v.Clip().Max)
	v.Core(core)
	for i := range s.Anchors {
		a := &s.Anchors[i]
		q := b.u.Frame.Apply(a.At)
		if s.Face.Side() {
			v.Cross(q, a.Diameter/2, 0.5)
		}
	}
	b.numbers(p, v, s, scale)
	title := "Seen from above"
	if s.Face.Side() {
		title = "The " + s.Face.String() + " from outside, form below"
	}
	p.put(field.Min.X+3, field.Min.Y+4, title+"   "+drawing.ScaleText(scale), small, true, field.W()-6)
	b.faceDims(v, s)
}

// numbers writes the number of each anchor beside it, on a side where nothing is.
// Where all are taken it is left out: the table has the places.
func (b *book) numbers(p *page, v *drawing.View, s *setout.Set, scale float64) {
	if len(s.Anchors) < 2 {
		return
	}
	for i := range s.Anchors {
		a := &s.Anchors[i]
		q := v.At(b.u.Frame.Apply(a.At))
		t := drawing.Text{Text: text(a.Number), Size: small, Bold: true}
		w := drawing.TextWidth(t.Text, small, true)
		free := func(far float64) bool {
			d := a.Diameter/2/scale + far
			for _, o := range [4]geom.Vec2{{X: d, Y: -d}, {X: -d - w, Y: -d}, {X: d, Y: d + small}, {X: -d - w, Y: d + small}} {
				if t.At = q.Add(o); p.Free(t, p.room) {
					return true
				}
			}
			return false
		}
		if free(0.9) || free(2) || free(3.5) || free(5) {
			p.Write(t)
		}
	}
}

// reachSides widens what is shown to the sides of the form that are near, so that
// they can be seen.
func (b *book) reachSides(f geom.Affine, r drawing.Rect) drawing.Rect {
	whole := bounds(f, b.u.Host.Body.Verts)
	most := 0.6 * max(r.W(), r.H())
	out := r
	if d := r.Min.X - whole.Min.X; d < most {
		out.Min.X = whole.Min.X - 12
	}
	if d := whole.Max.X - r.Max.X; d < most {
		out.Max.X = whole.Max.X + 12
	}
	if d := r.Min.Y - whole.Min.Y; d < most {
		out.Min.Y = whole.Min.Y - 12
	}
	if d := whole.Max.Y - r.Max.Y; d < most {
		out.Max.Y = whole.Max.Y + 12
	}
	return r.Union(out)
}

// faceDims are the centres, diagonals and sizes of a set, those that are equal in
// one row once, and how far it is from the sides of the form that are shown.
func (b *book) faceDims(v *drawing.View, s *setout.Set) {
	done := map[string]bool{}
	for _, q := range []setout.Quantity{setout.Spacing, setout.Extent, setout.Place, setout.Diagonal} {
		for i := range s.Dims {
			d := &s.Dims[i]
			if d.Quantity != q || d.From == d.To || !b.shownOnFace(s, d) {
				continue
			}
			way := func(v float64) float64 { return math.Round(v*100) + 0 } // no -0
			from := math.Round(d.From.Dot(d.Dir)) + 0
			key := fmt.Sprintf("%s %v %v %v %v %s", q, way(d.Dir.X), way(d.Dir.Y), way(d.Dir.Z), from, mm(d.MM))
			if done[key] {
				continue
			}
			done[key] = true
			b.dimension(v, d)
		}
	}
}

// shownOnFace reports whether a dimension belongs on the view of a set's face.
func (b *book) shownOnFace(s *setout.Set, d *setout.Dim) bool {
	if d.Quantity == setout.Place && len(s.Plates) > 0 {
		return len(d.Anchors) == 0
	}
	return math.Abs(d.Dir.Dot(s.Face.Normal())) < 0.1
}

func (b *book) dimension(v *drawing.View, d *setout.Dim) {
	u := b.u.Frame
	v.Dimension(d.Key, u.Apply(d.From), u.Apply(d.To), u.Turn(d.Dir), d.MM)
}
