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

// nextScale is the scale one step smaller.
func nextScale(s float64) float64 {
	for _, n := range scales {
		if n > s*1.001 {
			return n
		}
	}
	return s
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
	at(1, figure(length))
	s.fixed(Text{At: x(1).Add(geom.Vec2{X: 2.5}), Text: "mm", Size: dimText})
	s.boxes = append(s.boxes, boxOfRect(rect{p.Add(geom.Vec2{Y: -high}), x(1)}))
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
