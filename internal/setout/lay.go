package setout

import (
	"math"
	"slices"
	"strings"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// layer works out how one host is cast.
type layer struct {
	h       *model.Host
	axes    [3]geom.Vec // of the host, unit, at right angles
	size    [3]float64  // of its body along them
	faces   []geom.Vec  // that may be up
	outside geom.Vec    // unit, zero where it is not known
}

// lay sets the cast and the frame.
func (u *Unit) lay(near *surroundings) {
	l := layer{h: u.Host}
	l.axes = hostAxes(u.Host)
	for i, a := range l.axes {
		lo, hi := extent(u.Host.Body, a)
		l.size[i] = hi - lo
	}
	l.faces = l.candidates()
	l.outside = l.lookOut(near)
	l.faces = l.mouldable()
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

// candidates are the faces that may be up: the two large ones of a plate, the
// four long ones of a member, all six of a block.
func (l *layer) candidates() []geom.Vec {
	thin, long := 0, 0
	for i, s := range l.size {
		if s < l.size[thin]-1e-3 {
			thin = i
		}
		if s > l.size[long]+1e-3 {
			long = i
		}
	}
	mid := 3 - thin - long
	if thin == long {
		mid = (thin + 1) % 3
	}
	both := func(out []geom.Vec, i int) []geom.Vec { return append(out, l.axes[i], l.axes[i].Neg()) }
	const plate, member = 0.5, 1.6
	switch {
	case l.size[thin] < plate*l.size[mid]:
		return both(nil, thin)
	case l.size[long] > member*l.size[mid] && thin != long:
		return both(both(nil, thin), mid)
	}
	var out []geom.Vec
	for i := range l.axes {
		out = both(out, i)
	}
	return out
}

// mouldable are those candidates whose opposite face can lie on a form: flat over
// most of the host and nowhere below it, so that a corbel or the flight of a
// stair is not underneath; all where none is so.
func (l *layer) mouldable() []geom.Vec {
	var out []geom.Vec
	for _, up := range l.faces {
		if l.flatBelow(up.Neg()) {
			out = append(out, up)
		}
	}
	if len(out) == 0 {
		return l.faces
	}
	return out
}

// flatBelow reports whether one plane that looks nearly along down bounds the
// host there and is at least half as large as the host is seen from that side.
func (l *layer) flatBelow(down geom.Vec) bool {
	m := l.h.Body
	_, deepest := extent(m, down)
	type plane struct {
		n       geom.Vec
		d, area float64
		lowest  float64
	}
	var planes []plane
	seen := 0.0
	const most = 200
	for i := range m.Tris {
		a, b, c := m.Tri(i)
		n := b.Sub(a).Cross(c.Sub(a))
		area := n.Dot(down) / 2
		if area <= 0 {
			continue
		}
		seen += area
		if n = n.Unit(); n.Dot(down) < 0.95 {
			continue
		}
		low := max(a.Dot(down), b.Dot(down), c.Dot(down))
		k := slices.IndexFunc(planes, func(p plane) bool { return p.n.Dot(n) > 1-1e-6 && math.Abs(p.d-n.Dot(a)) < 1 })
		if k >= 0 {
			planes[k].area += area
			planes[k].lowest = max(planes[k].lowest, low)
		} else if len(planes) < most {
			planes = append(planes, plane{n, n.Dot(a), area, low})
		}
	}
	return slices.ContainsFunc(planes, func(p plane) bool { return p.area > 0.5*seen && p.lowest > deepest-2 })
}

// inPlace reports whether the model says that the host is cast where it stands.
func (l *layer) inPlace() bool {
	for _, p := range [2]string{"Pset_ConcreteElementGeneral.CastingMethod", "Pset_ConcreteElementGeneral.ConstructionMethod"} {
		if v, ok := l.property(p); ok {
			v = strings.ToLower(v)
			return strings.Contains(v, "situ") || strings.Contains(v, "in place") || strings.Contains(v, "in-place")
		}
	}
	return false
}

// entered counts, for each candidate, the anchors that stand out of it by more
// than a nut's play, and the anchors and plates that lie in it at all.
func (l *layer) entered() (out, any []int) {
	out, any = make([]int, len(l.faces)), make([]int, len(l.faces))
	const stands = 10
	for _, it := range l.h.Items {
		for i, f := range l.faces {
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
	for i, a := range l.axes {
		if math.Abs(a.Dot(up)) < 0.5 {
			in = append(in, i)
		}
	}
	a, b := in[0], in[1]
	const tall = 1.6
	for k, i := range in {
		v := l.axes[i]
		if math.Abs(v.Z) < 0.7 {
			continue
		}
		if v.Z < 0 {
			v = v.Neg()
		}
		if l.size[i] > tall*l.size[in[1-k]] {
			return v, "right end of the sheet: top as it stands"
		}
		return v.Cross(up), "top of the sheet: top as it stands"
	}
	if l.size[b] > l.size[a]+1 {
		a = b
	}
	return l.axes[a], "to the right on the sheet: model " + axisName(l.axes[a])
}
