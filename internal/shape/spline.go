package shape

import (
	"math"
	"sort"

	"embedcheck/internal/geom"
)

// spline is a B-spline curve with a full knot vector: len(knots) is
// len(points) + degree + 1. weights is nil for a polynomial one.
type spline struct {
	degree  int
	points  []geom.Vec
	knots   []float64
	weights []float64
}

// domain is the parameter range of s.
func (s *spline) domain() (lo, hi float64) {
	return s.knots[s.degree], s.knots[len(s.points)]
}

// span is the index k with knots[k] <= t < knots[k+1], within the domain.
func (s *spline) span(t float64) int {
	k := sort.SearchFloat64s(s.knots, math.Nextafter(t, math.Inf(1))) - 1
	k = min(max(k, s.degree), len(s.points)-1)
	for k > s.degree && s.knots[k] == s.knots[k+1] {
		k--
	}
	return k
}

// at is the point at t. Outside the domain it is the nearest end.
func (s *spline) at(t float64) geom.Vec {
	h := s.homogeneous(t)
	return h.v.Mul(1 / h.w)
}

// homogeneous is at as a point times its weight, by de Boor's recursion.
func (s *spline) homogeneous(t float64) hpoint {
	lo, hi := s.domain()
	t = min(max(t, lo), hi)
	k, p := s.span(t), s.degree
	var buf [8]hpoint
	d := buf[:0]
	for j := 0; j <= p; j++ {
		d = append(d, s.control(k-p+j))
	}
	for r := 1; r <= p; r++ {
		for j := p; j >= r; j-- {
			a, b := s.knots[j+k-p], s.knots[j+1+k-r]
			f := 0.0
			if b > a {
				f = (t - a) / (b - a)
			}
			d[j] = d[j-1].lerp(d[j], f)
		}
	}
	return d[p]
}

func (s *spline) control(i int) hpoint {
	if s.weights == nil {
		return hpoint{s.points[i], 1}
	}
	return hpoint{s.points[i].Mul(s.weights[i]), s.weights[i]}
}

// hpoint is a point times its weight, and the weight.
type hpoint struct {
	v geom.Vec
	w float64
}

func (a hpoint) lerp(b hpoint, t float64) hpoint {
	return hpoint{a.v.Lerp(b.v, t), a.w + (b.w-a.w)*t}
}

// sample appends points from t0 (left out) to t1, close enough for tol. Every
// knot between them is a point, since the curve may have a corner there.
func (s *spline) sample(dst []geom.Vec, t0, t1, tol float64) []geom.Vec {
	stops := []float64{t0}
	lo, hi := min(t0, t1), max(t0, t1)
	for i, k := range s.knots {
		if k > lo && k < hi && k > s.knots[max(i-1, 0)] {
			stops = append(stops, k)
		}
	}
	stops = append(stops, t1)
	if t1 < t0 {
		sort.Sort(sort.Reverse(sort.Float64Slice(stops)))
	}
	for i := 1; i < len(stops); i++ {
		dst = s.refine(dst, stops[i-1], stops[i], tol)
	}
	return dst
}

// refine samples one span evenly, doubling the steps until the quarter points
// between them are within tol of the chords.
func (s *spline) refine(dst []geom.Vec, t0, t1, tol float64) []geom.Vec {
	if s.degree == 1 {
		return append(dst, s.at(t1))
	}
	for n := 4; ; n *= 2 {
		at := func(i float64) geom.Vec { return s.at(t0 + (t1-t0)*i/float64(n)) }
		worst := 0.0
		pts := make([]geom.Vec, 0, n)
		a := at(0)
		for i := 1; i <= n; i++ {
			b := at(float64(i))
			for _, f := range [...]float64{0.25, 0.5, 0.75} {
				worst = max(worst, distToSegment(at(float64(i-1)+f), a, b))
			}
			pts = append(pts, b)
			a = b
		}
		if !(worst > tol) || n >= maxSides {
			return append(dst, pts...)
		}
	}
}

// distToSegment is the distance of p from the segment a-b.
func distToSegment(p, a, b geom.Vec) float64 {
	d := b.Sub(a)
	if n := d.Norm2(); n > 0 {
		t := min(max(p.Sub(a).Dot(d)/n, 0), 1)
		a = a.Add(d.Mul(t))
	}
	return p.Dist(a)
}
