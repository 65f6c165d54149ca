package sheet

import (
	"cmp"
	"math"
	"slices"

	"embedcheck/internal/drawing"
	"embedcheck/internal/drawing/subject"
	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/pdf"
)

const (
	mostBars  = 80 // that are drawn in one section
	namedBars = 2  // of them carry their mark: those nearest to the axis
	besideCut = 30 // mm to both sides of a section within which bars are shown
)

// nearBar is a bar that a section cuts.
type nearBar struct {
	at   geom.Vec // on its axis, in the plane of the section
	off  float64  // mm from the upright line through the middle of the section
	text string
}

// bars draws the reinforcement in a section, and gives what crosses it.
func (b *book) bars(v *drawing.View, f geom.Affine, r drawing.Rect) []nearBar {
	box := geom.EmptyBox
	for _, z := range [2]float64{-besideCut, besideCut} {
		for _, q := range [4]geom.Vec2{r.Min, r.Max, {X: r.Min.X, Y: r.Max.Y}, {X: r.Max.X, Y: r.Min.Y}} {
			box = box.Add(f.Apply(geom.V(q.X, q.Y, z)))
		}
	}
	var out []nearBar
	for _, bar := range b.k.index.Bars(box, mostBars) {
		if bar.Rod == nil {
			continue
		}
		v.Bar(*bar.Rod, drawing.Pen{Width: drawing.Fine})
		if at, ok := crossing(f, r, bar.Rod); ok {
			ref := b.k.index.Ref(&bar)
			text := finding.Short(finding.Plain(subject.Label(&ref)), 24) + " ø" + mm(2*bar.Rod.Radius)
			out = append(out, nearBar{f.Apply(at), math.Abs(at.X), text})
		}
	}
	slices.SortStableFunc(out, func(a, b nearBar) int { return cmp.Compare(math.Round(a.off), math.Round(b.off)) })
	return out
}

// crossing is where a bar goes through the plane of a section within what is
// shown, in its frame.
func crossing(f geom.Affine, shown drawing.Rect, r *geom.Rod) (geom.Vec, bool) {
	for i := 1; i < len(r.Path); i++ {
		p, q := f.Local(r.Path[i-1]), f.Local(r.Path[i])
		if (p.Z < 0) == (q.Z < 0) {
			continue
		}
		at := p.Lerp(q, p.Z/(p.Z-q.Z))
		if shown.Min.X < at.X && at.X < shown.Max.X && shown.Min.Y < at.Y && at.Y < shown.Max.Y {
			return at, true
		}
	}
	return geom.Vec{}, false
}

// nameBars writes the marks of the bars nearest to the axis, where there is room.
func (p *page) nameBars(v *drawing.View, bars []nearBar, field drawing.Rect) {
	var done []string
	for _, b := range bars {
		if len(done) == namedBars {
			return
		}
		if !slices.Contains(done, b.text) && p.Label(v.At(b.at), pdf.Printable(b.text), field) {
			done = append(done, b.text)
		}
	}
}
