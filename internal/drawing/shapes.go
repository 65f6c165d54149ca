package drawing

import (
	"math"

	"embedcheck/internal/geom"
)

func circlePoints(c geom.Vec2, r float64, n int) []geom.Vec2 {
	out := make([]geom.Vec2, n)
	for i := range out {
		s, k := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		out[i] = geom.Vec2{X: c.X + r*k, Y: c.Y + r*s}
	}
	return out
}

func lerp(a, b geom.Vec2, t float64) geom.Vec2 { return a.Add(b.Sub(a).Mul(t)) }
