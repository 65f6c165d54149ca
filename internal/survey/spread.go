package survey

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"embedcheck/internal/geom"
)

// spread is how points lie about their mean.
type spread struct {
	count int
	mean  geom.Vec
	axis  [3]geom.Vec // of greatest spread first, right-handed or not
	sum   [3]float64  // mm2, sums of the squares along the axes
}

func spreadOf(points []geom.Vec) spread {
	s := spread{count: len(points), mean: mean(points)}
	m := mat.NewSymDense(3, nil)
	for _, p := range points {
		d := rows(p.Sub(s.mean))
		for i := range 3 {
			for j := i; j < 3; j++ {
				m.SetSym(i, j, m.At(i, j)+d[i]*d[j])
			}
		}
	}
	var eig mat.EigenSym
	if !eig.Factorize(m, true) {
		return s // never of finite numbers
	}
	var vectors mat.Dense
	eig.VectorsTo(&vectors)
	values := eig.Values(nil) // least first
	for k := range 3 {
		i := 2 - k
		s.axis[k] = geom.V(vectors.At(0, i), vectors.At(1, i), vectors.At(2, i))
		s.sum[k] = max(values[i], 0)
	}
	return s
}

// along is the root of the mean square along the best line, mm.
func (s *spread) along() float64 { return math.Sqrt(s.sum[0] / float64(s.count)) }

// offLine is the same across the best line, within the best plane.
func (s *spread) offLine() float64 { return math.Sqrt(s.sum[1] / float64(s.count)) }

// size is the root of the mean square of the distances from the mean, mm.
func (s *spread) size() float64 {
	return math.Sqrt((s.sum[0] + s.sum[1] + s.sum[2]) / float64(s.count))
}

// Uncertainty is the standard deviation, in mm, of the place of a point of the
// model as far as the references fix it: what the scatter of the residuals makes
// of the shift and of the three turns of the fit, by the law of propagation of
// variances. It says nothing of how well the point itself was sighted.
func (f *Fit) Uncertainty(model geom.Vec) float64 {
	n := float64(len(f.Residuals))
	variance := f.RMS * f.RMS * n / (3*n - 6) // six unknowns
	d := model.Sub(f.spread.mean)
	sum := 3 / n
	for k := range 3 {
		lever := d.Norm2() - d.Dot(f.spread.axis[k])*d.Dot(f.spread.axis[k])
		sum += lever / (f.spread.sum[(k+1)%3] + f.spread.sum[(k+2)%3])
	}
	return math.Sqrt(variance * sum)
}
