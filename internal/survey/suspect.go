package survey

import (
	"fmt"
	"math"

	"embedcheck/internal/geom"
)

// Hint is something that looks as if the sheet was filled in wrongly. It is a
// sentence for people, and nothing is changed on account of it.
type Hint struct {
	Kind Suspicion
	Text string
}

// Suspicion is what a hint is about.
type Suspicion string

const (
	WrongUnit  Suspicion = "unit"
	WrongScale Suspicion = "scale"
	Mirrored   Suspicion = "mirrored"
	WrongShape Suspicion = "shape"
	Exchanged  Suspicion = "exchanged"
)

// Where suspicion starts.
const (
	mirrorTimes = 5.0  // the mirrored fit is better by so many times,
	mirrorLeast = 10.0 // and the proper one worse than so many mm
	shapeShare  = 0.02 // residuals above this share of the references' spread
	shapeLeast  = 25.0 // and above so many mm
)

// Suspect says what looks wrong in a sheet whose header states the unit: other
// units, a mirrored frame (two axes exchanged, or one with the opposite sign),
// sizes that are those of no unit, references of another shape. Points that are
// no references help where the references lie in one plane, which a mirrored
// sheet fits as well as a right one when it is turned over.
func Suspect(refs, others []Pair, stated Unit) []Hint {
	var hints []Hint
	if len(refs) > maxReferences {
		return nil
	}
	factor := scale(refs)
	if factor == 0 {
		return nil
	}
	true1 := 1.0
	if u, ok := Misstated(factor, stated); ok {
		true1 = u.MM / stated.MM
		hints = append(hints, Hint{WrongUnit, fmt.Sprintf("LIKELY in another unit: the header says %s, the distances between the references are right in %s",
			stated.Word, u.Word)})
	} else if math.Abs(factor-1) > unitShare {
		more, word := 100*(1/factor-1), "larger"
		if more < 0 {
			more, word = -more, "smaller"
		}
		return append(hints, Hint{WrongScale, fmt.Sprintf("LIKELY another host or a wrong scale: the distances between the references are %.0f %% %s than in the model", more, word)})
	}
	refs, others = rescaled(refs, true1), rescaled(others, true1)
	if h, ok := suspectMirror(refs, others); ok {
		return append(hints, h)
	}
	if h, ok := suspectShape(refs); ok {
		hints = append(hints, h)
	}
	return hints
}

// scale is by how much the distances between the references are larger in the
// model than as measured: the middle ratio of all, so that one wrong point has
// no part in it. It is 0 when there are no distances.
func scale(refs []Pair) float64 {
	var ratios []float64
	for i, p := range refs {
		for _, q := range refs[:i] {
			m, s := p.Model.Dist(q.Model), p.Measured.Dist(q.Measured)
			if m > 0 && s > 0 && !math.IsInf(m/s, 0) {
				ratios = append(ratios, m/s)
			}
		}
	}
	return median(ratios)
}

func rescaled(pairs []Pair, by float64) []Pair {
	out := make([]Pair, len(pairs))
	for i, p := range pairs {
		p.Measured = p.Measured.Mul(by)
		out[i] = p
	}
	return out
}

func suspectMirror(refs, others []Pair) (Hint, bool) {
	all := append(rescaled(refs, 1), others...)
	if len(refs) < 3 || usable(refs) != nil {
		return Hint{}, false
	}
	// Planar points are fitted as well by the one as by the other.
	proper, mirrored := rmsOf(all, motion(all, false)), rmsOf(all, motion(all, true))
	if proper < mirrorLeast || mirrored*mirrorTimes > proper {
		return Hint{}, false
	}
	return Hint{Mirrored, "LIKELY mirrored: " + axes(all) + fmt.Sprintf("; the points fit to %.0f mm as they stand and to %.0f mm when mirrored", proper, mirrored)}, true
}

func rmsOf(pairs []Pair, m geom.Affine) float64 {
	sum := 0.0
	for _, p := range pairs {
		sum += m.Apply(p.Measured).Sub(p.Model).Norm2()
	}
	return math.Sqrt(sum / float64(len(pairs)))
}

// axes says which axes must be wrong when the sheet has the axes of the form,
// or that it is one of the two ways.
func axes(pairs []Pair) string {
	x, y, z := geom.V(1, 0, 0), geom.V(0, 1, 0), geom.V(0, 0, 1)
	from, to := mean(measured(pairs)), mean(models(pairs))
	for _, c := range []struct {
		text string
		m    geom.Affine
	}{
		{"x and y are exchanged", geom.Affine{X: y, Y: x, Z: z}},
		{"x has the opposite sign", geom.Affine{X: x.Neg(), Y: y, Z: z}},
		{"y has the opposite sign", geom.Affine{X: x, Y: y.Neg(), Z: z}},
		{"z has the opposite sign", geom.Affine{X: x, Y: y, Z: z.Neg()}},
		{"y and z are exchanged", geom.Affine{X: x, Y: z, Z: y}},
		{"x and z are exchanged", geom.Affine{X: z, Y: y, Z: x}},
	} {
		c.m.T = to.Sub(c.m.Turn(from))
		if rmsOf(pairs, c.m) < shapeLeast {
			return c.text
		}
	}
	return "two axes are exchanged, such as northing and easting, or one has the opposite sign"
}

// suspectShape is about references that fit neither as they are nor without one
// of them.
func suspectShape(refs []Pair) (Hint, bool) {
	f, err := New(refs)
	if err != nil || len(Outliers(refs)) > 0 {
		return Hint{}, false
	}
	worst := f.Residuals[f.Worst()]
	if worst.Size() < shapeLeast || worst.Size() < shapeShare*f.spread.size() {
		return Hint{}, false
	}
	return Hint{WrongShape, fmt.Sprintf("LIKELY another host, another revision or exchanged references: they do not lie as in the model, %s is off by %.0f mm", worst.Name, worst.Size())}, true
}

// FindExchanged names points whose measured places, brought to the model, are
// those of each other. Pairs hold places in one frame; near is what counts as
// one place, mm.
func FindExchanged(pairs []Pair, near float64) []Hint {
	var hints []Hint
	var off []Pair // those that are not where they belong
	for _, p := range pairs {
		if p.Measured.Dist(p.Model) > near {
			off = append(off, p)
		}
	}
	if len(off) > maxReferences {
		return nil // then more is wrong than two rows
	}
	for i, p := range off {
		for _, q := range off[:i] {
			if p.Measured.Dist(q.Model) <= near && q.Measured.Dist(p.Model) <= near {
				hints = append(hints, Hint{Exchanged, fmt.Sprintf("LIKELY exchanged: %s and %s each lie where the model has the other", q.Name, p.Name)})
			}
		}
	}
	return hints
}
