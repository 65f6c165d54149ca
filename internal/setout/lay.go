package setout

import (
	"math"
	"strings"

	"embedcheck/internal/geom"
	"embedcheck/internal/measure"
	"embedcheck/internal/model"
)

// layer works out how one host is cast.
type layer struct {
	*measure.Casting
	h *model.Host
}

// lay sets the cast and the frame.
func (u *Unit) lay(near *measure.Surroundings) {
	l := layer{measure.CastingOf(u.Host, near), u.Host}
	u.Cast = l.cast()
	x, turn := l.right(u.Cast.Up)
	u.Cast.Turn = turn
	f := geom.FrameZX(geom.Vec{}, u.Cast.Up, x)
	b := geom.EmptyBox
	for _, p := range u.Host.Body.Verts {
		b = b.Add(f.Local(p))
	}
	f.T = f.Apply(geom.V(b.Min.X, b.Min.Y, b.Max.Z))
	u.Frame, u.Size = f, b.Size()
}

// inPlace reports whether the model says that the host is cast where it stands.
func (l *layer) inPlace() bool {
	for _, p := range [2]string{"Pset_ConcreteElementGeneral.CastingMethod", "Pset_ConcreteElementGeneral.ConstructionMethod"} {
		if v, ok := l.h.Says(p); ok {
			v = strings.ToLower(v)
			return strings.Contains(v, "situ") || strings.Contains(v, "in place") || strings.Contains(v, "in-place")
		}
	}
	return false
}

// entered counts, for each candidate, the anchors that stand out of it by more
// than a nut's play, and the anchors and plates that lie in it at all.
func (l *layer) entered() (out, any []int) {
	out, any = make([]int, len(l.Faces)), make([]int, len(l.Faces))
	const stands = 10
	for _, it := range l.h.Items {
		for i, f := range l.Faces {
			if it.PlateIn != nil && it.PlateIn.Normal.Dot(f) > 0.9 {
				any[i]++
			}
			for _, a := range it.Anchors {
				if a.Entry == nil || a.Entry.Normal.Dot(f) < 0.9 {
					continue
				}
				any[i]++
				if a.Entry.Dist > stands {
					out[i]++
				}
			}
		}
	}
	return out, any
}

// single is the one count that is not zero.
func single(n []int) (int, bool) {
	at := -1
	for i, c := range n {
		if c > 0 && at >= 0 {
			return 0, false
		}
		if c > 0 {
			at = i
		}
	}
	return at, at >= 0
}

// largest is the one count that is above all others.
func largest(n []int) (int, bool) {
	at, same := 0, false
	for i := 1; i < len(n); i++ {
		switch {
		case n[i] > n[at]:
			at, same = i, false
		case n[i] == n[at]:
			same = true
		}
	}
	return at, !same && len(n) > 0 && n[at] > 0
}

// right is the direction that runs to the right on the sheet: that of a standing
// host's width, so that its top is up on the sheet; of a tall one its height, and
// of a lying one its length.
func (l *layer) right(up geom.Vec) (geom.Vec, string) {
	var in []int
	for i, a := range l.Axes {
		if math.Abs(a.Dot(up)) < 0.5 {
			in = append(in, i)
		}
	}
	a, b := in[0], in[1]
	const tall = 1.6
	for k, i := range in {
		v := l.Axes[i]
		if math.Abs(v.Z) < 0.7 {
			continue
		}
		if v.Z < 0 {
			v = v.Neg()
		}
		if l.Size[i] > tall*l.Size[in[1-k]] {
			return v, "right end of the sheet: top as it stands"
		}
		return v.Cross(up), "top of the sheet: top as it stands"
	}
	if l.Size[b] > l.Size[a]+1 {
		a = b
	}
	return l.Axes[a], "to the right on the sheet: model " + measure.AxisName(l.Axes[a])
}
