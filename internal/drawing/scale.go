package drawing

import (
	"math"
	"strconv"

	"embedcheck/internal/geom"
)

// scales are those of ISO 5455 and of building drawings, as model mm for one mm
// on paper.
var scales = []float64{0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10000, 20000, 50000, 100000}

// scaleFor is the largest scale at which w x h mm of the model fit into the
// field. Enlargements are for what is tiny only.
func scaleFor(w, h, fieldW, fieldH float64) float64 {
	for _, s := range scales {
		if s < 1 && max(w, h) > 60*s {
			continue
		}
		if w <= fieldW*s && h <= fieldH*s {
			return s
		}
	}
	return math.Max(w/fieldW, h/fieldH)
}

// context is how much of the concrete around a place is shown at least, in mm;
// less around a small clear distance.
const context, closeContext = 240, 90

// fill is the part of the room that a cropped view takes at least, where there
// is concrete to be shown.
const fill = 0.75

// want is what is good to see unless the scale gets smaller by it than 1:most.
type want struct {
	rect
	most float64
}

// frameUp chooses what is shown of a face or section that is whole, and the
// scale, for a room of w x h mm on paper: what must be seen with so many mm of
// concrete around, as large as it can be, and what is wanted besides.
func frameUp(must rect, wants []want, whole rect, w, h, around float64) (crop rect, scale float64) {
	const margin = 8 // mm on paper around what is shown
	fit := func(r rect) float64 { return scaleFor(r.w(), r.h(), w, h) }
	pad := func(r rect) rect { return r.grow(max(0.1*max(r.w(), r.h()), 10)) }
	r := widen(must, around, around, whole.union(must))
	for _, q := range wants {
		if u := r.union(q.rect); fit(pad(u)) <= max(fit(pad(r)), q.most) {
			r = u
		}
	}
	scale = fit(pad(r))
	if whole.empty() {
		return pad(r).grow(margin * scale), scale
	}
	if all := whole.union(r); fit(all) <= scale {
		scale = fit(all)
		return all.grow(margin * scale), scale
	}
	r = widen(pad(r), fill*w*scale, fill*h*scale, whole.union(pad(r)))
	crop = snap(r, whole, margin*scale)
	for _, s := range scales { // what was added may not fit
		if s >= scale && crop.w() <= (w+2*margin)*s && crop.h() <= (h+2*margin)*s {
			return crop, s
		}
	}
	return crop, scale
}

// widen makes a rectangle at least w x h as far as it stays within what is
// whole; what is missing on one side is added on the other.
func widen(r rect, w, h float64, whole rect) rect {
	if whole.empty() {
		return r
	}
	r.min.X, r.max.X = stretch(r.min.X, r.max.X, w, whole.min.X, whole.max.X)
	r.min.Y, r.max.Y = stretch(r.min.Y, r.max.Y, h, whole.min.Y, whole.max.Y)
	return r
}

func stretch(from, to, length, least, most float64) (float64, float64) {
	d := (length - (to - from)) / 2
	if d <= 0 {
		return from, to
	}
	lo, hi := from-d, to+d
	if lo < least {
		lo, hi = least, hi+least-lo
	}
	if hi > most {
		lo, hi = max(least, lo-(hi-most)), most
	}
	return min(lo, from), max(hi, to)
}

// snap moves the sides of a crop that nearly reach the edge of what is whole
// out to it.
func snap(r, whole rect, margin float64) rect {
	near := 1.5 * margin
	if r.min.X-whole.min.X < near {
		r.min.X = min(r.min.X, whole.min.X) - margin
	}
	if whole.max.X-r.max.X < near {
		r.max.X = max(r.max.X, whole.max.X) + margin
	}
	if r.min.Y-whole.min.Y < near {
		r.min.Y = min(r.min.Y, whole.min.Y) - margin
	}
	if whole.max.Y-r.max.Y < near {
		r.max.Y = max(r.max.Y, whole.max.Y) + margin
	}
	return r
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

func scaleText(s float64) string {
	if s < 1 {
		return strconv.FormatFloat(math.Round(100/s)/100, 'f', -1, 64) + ":1"
	}
	return "1:" + strconv.FormatFloat(math.Round(s*100)/100, 'f', -1, 64)
}

// scaleBar draws a bar of a round length with its lower left corner at p.
func (s *sheet) scaleBar(p geom.Vec2, scale float64) {
	length := 0.0
	for _, l := range []float64{5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 1e4, 2e4, 5e4, 1e5, 2e5, 5e5, 1e6} {
		if l/scale <= 40 || length == 0 {
			length = l
		}
	}
	w := length / scale
	x := func(t float64) geom.Vec2 { return geom.Vec2{X: p.X + t*w, Y: p.Y} }
	pen := Pen{Width: Thin}
	const high = 1.4
	for i, part := range [2]rect{{x(0), x(0.5)}, {x(0.5), x(1)}} {
		part.min.Y -= high
		fill := Black
		if i == 1 {
			fill = White
		}
		s.texts = append(s.texts, Poly{Points: part.corners(), Closed: true, Fill: fill, Pen: pen})
	}
	at := func(t float64, text string) {
		s.fixed(Text{At: x(t).Add(geom.Vec2{Y: -high - 1}), Text: text, Size: dimText, Align: Middle})
	}
	at(0, "0")
	at(1, figure(length)+" mm")
	s.take(boxOfRect(rect{p.Add(geom.Vec2{Y: -high}), x(1)}))
}

func boxOfRect(r rect) box {
	return box{c: r.centre(), u: geom.Vec2{X: 1}, v: geom.Vec2{Y: 1}, a: r.w() / 2, b: r.h() / 2}
}

// figure is a length as a person reads it off a tape: to 1 mm, below 10 mm to
// half a mm.
func figure(mm float64) string {
	if abs(mm) < 9.75 {
		return trim(math.Round(mm*2) / 2)
	}
	return trim(math.Round(mm))
}

func trim(v float64) string { return strconv.FormatFloat(v+0, 'f', -1, 64) }
