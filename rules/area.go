package rules

import (
	"math"
	"slices"

	"embedcheck/internal/geom"
)

// square is an axis-parallel square around a point.
type square struct {
	at   geom.Vec2
	half float64
}

// coveredArea is the area of the union of squares, in mm2, as far as it lies
// within the outline: loops of which every second one is a hole. A nil outline
// bounds nothing.
//
// Between the heights at which something begins, ends or crosses, the covered
// length of a horizontal line changes evenly, so that its middle times the
// height is exact.
func coveredArea(squares []square, outline [][]geom.Vec2) float64 {
	ys := heights(squares, outline)
	var sum float64
	var s spans
	for i := 1; i < len(ys); i++ {
		if h := ys[i] - ys[i-1]; h > 0 {
			sum += h * s.covered((ys[i]+ys[i-1])/2, squares, outline)
		}
	}
	return sum
}

// heights are all heights at which the covered length of a line changes its
// course, sorted.
func heights(squares []square, outline [][]geom.Vec2) []float64 {
	var ys []float64
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, q := range squares {
		ys = append(ys, q.at.Y-q.half, q.at.Y+q.half)
		lo, hi = min(lo, q.at.Y-q.half), max(hi, q.at.Y+q.half)
	}
	for _, loop := range outline {
		for i, a := range loop {
			b := loop[(i+1)%len(loop)]
			ys = append(ys, a.Y)
			for _, q := range squares {
				for _, x := range [2]float64{q.at.X - q.half, q.at.X + q.half} {
					if (a.X-x)*(b.X-x) < 0 {
						ys = append(ys, a.Y+(b.Y-a.Y)*(x-a.X)/(b.X-a.X))
					}
				}
			}
		}
	}
	ys = slices.DeleteFunc(ys, func(y float64) bool { return y < lo || y > hi })
	slices.Sort(ys)
	return ys
}

// spans is room for the pieces of one line.
type spans struct {
	union []span
	cross []float64
}

type span struct{ from, to float64 }

// covered is the length of the line at height y in the squares and the outline.
func (s *spans) covered(y float64, squares []square, outline [][]geom.Vec2) float64 {
	s.union = s.union[:0]
	for _, q := range squares {
		if math.Abs(y-q.at.Y) < q.half {
			s.union = append(s.union, span{q.at.X - q.half, q.at.X + q.half})
		}
	}
	slices.SortFunc(s.union, func(a, b span) int {
		if a.from < b.from {
			return -1
		}
		return 1
	})
	s.cross = s.cross[:0]
	for _, loop := range outline {
		for i, a := range loop {
			b := loop[(i+1)%len(loop)]
			if (a.Y > y) != (b.Y > y) {
				s.cross = append(s.cross, a.X+(b.X-a.X)*(y-a.Y)/(b.Y-a.Y))
			}
		}
	}
	slices.Sort(s.cross)
	var sum float64
	end := math.Inf(-1)
	for _, u := range s.union {
		u.from = max(u.from, end)
		if u.to <= u.from {
			continue
		}
		end = u.to
		if outline == nil {
			sum += u.to - u.from
			continue
		}
		for k := 1; k < len(s.cross); k += 2 {
			sum += max(0, min(u.to, s.cross[k])-max(u.from, s.cross[k-1]))
		}
	}
	return sum
}
