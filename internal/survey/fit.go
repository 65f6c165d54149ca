package survey

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"

	"embedcheck/internal/geom"
)

// Pair is one point that both sides know.
type Pair struct {
	Name     string
	Model    geom.Vec // mm, where the model has it
	Measured geom.Vec // mm, in the frame of the survey
}

// Fit is the motion that brings a survey to the model.
type Fit struct {
	Motion    geom.Affine // rigid and proper: a measured point to where it is in the model
	Residuals []Residual  // in the order of the pairs
	RMS       float64     // mm, root of the mean square of the residuals

	spread spread // of the references in the model
}

// Residual is what one reference misses the fit by.
type Residual struct {
	Name string
	Off  geom.Vec // mm, the measured point brought to the model, less the point of the model
}

// Size is how far the reference is off, mm.
func (r Residual) Size() float64 { return r.Off.Norm() }

// ErrReferences is wrapped by errors about references that fix no motion.
var ErrReferences = errors.New("the references do not fix the survey")

// leastOffLine is how far references have to lie off their best line, as root of
// the mean square: in mm, and as a part of their spread along it. A turn about
// the line is known no better than a point can be sighted divided by that.
const (
	leastOffLine      = 10.0
	leastOffLineShare = 0.02
)

// New fits a survey to the model: least squares of the distances, without scale
// and without mirroring, after Arun, Huang and Blostein (1987) with the sign of
// Umeyama (1991). The error, which wraps ErrReferences, says what is missing:
// three references at least, not on one line.
func New(refs []Pair) (*Fit, error) {
	if err := usable(refs); err != nil {
		return nil, err
	}
	f := &Fit{Motion: motion(refs, false), spread: spreadOf(models(refs))}
	for _, p := range refs {
		r := Residual{p.Name, f.Apply(p.Measured).Sub(p.Model)}
		f.Residuals = append(f.Residuals, r)
		f.RMS += r.Off.Norm2()
	}
	f.RMS = math.Sqrt(f.RMS / float64(len(refs)))
	return f, nil
}

// Apply brings a measured point to the model.
func (f *Fit) Apply(measured geom.Vec) geom.Vec { return f.Motion.Apply(measured) }

// Worst is the place in Residuals of the largest one.
func (f *Fit) Worst() int {
	w := 0
	for i, r := range f.Residuals {
		if r.Size() > f.Residuals[w].Size() {
			w = i
		}
	}
	return w
}

// maxReferences keeps a sheet that is none from holding up everything: what looks
// wrong is sought in all pairs of references.
const maxReferences = 500

func usable(refs []Pair) error {
	for _, p := range refs {
		if !p.Model.Finite() || !p.Measured.Finite() {
			return fmt.Errorf("%w: %s has a coordinate that is no number", ErrReferences, p.Name)
		}
	}
	switch n := len(refs); {
	case n > maxReferences:
		return fmt.Errorf("%w: there are %d, more than %d", ErrReferences, n, maxReferences)
	case n < 3:
		return fmt.Errorf("%w: three at least are needed, there are %d", ErrReferences, len(refs))
	}
	for _, side := range []struct {
		name   string
		points []geom.Vec
	}{{"in the model", models(refs)}, {"as measured", measured(refs)}} {
		s := spreadOf(side.points)
		if off := s.offLine(); off < leastOffLine || off < leastOffLineShare*s.along() {
			return fmt.Errorf("%w: %s they lie on one line, within %.0f mm; add one well off that line", ErrReferences, side.name, math.Ceil(off))
		}
	}
	return nil
}

func models(refs []Pair) []geom.Vec   { return pick(refs, func(p Pair) geom.Vec { return p.Model }) }
func measured(refs []Pair) []geom.Vec { return pick(refs, func(p Pair) geom.Vec { return p.Measured }) }

func pick(refs []Pair, of func(Pair) geom.Vec) []geom.Vec {
	out := make([]geom.Vec, len(refs))
	for i, p := range refs {
		out[i] = of(p)
	}
	return out
}

// motion is the least squares motion from the measured points to the model's;
// with mirrored set it is the best one that mirrors.
func motion(refs []Pair, mirrored bool) geom.Affine {
	from, to := mean(measured(refs)), mean(models(refs))
	h := mat.NewDense(3, 3, nil)
	for _, p := range refs {
		a, b := rows(p.Measured.Sub(from)), rows(p.Model.Sub(to))
		for i := range 3 {
			for j := range 3 {
				h.Set(i, j, h.At(i, j)+b[i]*a[j])
			}
		}
	}
	m := turn(h, mirrored)
	m.T = to.Sub(m.Turn(from))
	return m
}

// turn is the rotation, or the rotation with a mirroring, that is nearest to h.
func turn(h *mat.Dense, mirrored bool) geom.Affine {
	var svd mat.SVD
	if !svd.Factorize(h, mat.SVDFull) {
		return geom.Identity // never of finite numbers
	}
	var u, v mat.Dense
	svd.UTo(&u)
	svd.VTo(&v)
	sign := 1.0
	if mirrored != (mat.Det(&u)*mat.Det(&v) < 0) {
		sign = -1
	}
	column := func(j int) geom.Vec {
		var c [3]float64
		for i := range 3 {
			c[i] = u.At(i, 0)*v.At(j, 0) + u.At(i, 1)*v.At(j, 1) + sign*u.At(i, 2)*v.At(j, 2)
		}
		return geom.V(c[0], c[1], c[2])
	}
	return geom.Affine{X: column(0), Y: column(1), Z: column(2)}
}

func rows(v geom.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }

func mean(points []geom.Vec) geom.Vec {
	var sum geom.Vec
	for _, p := range points {
		sum = sum.Add(p)
	}
	return sum.Mul(1 / float64(len(points)))
}
