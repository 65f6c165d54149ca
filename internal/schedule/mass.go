package schedule

import (
	"math"
	"strings"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// SteelDensity is 7850 kg/m3: EN 1993-1-2, 3.2.2(1), and what the masses of bars
// in EN 10080 are worked out with (both from memory).
const SteelDensity = 7850e-9 // kg/mm3

// mass is that of a unit in kg, from its bodies. Threads count as full.
type mass struct {
	kg    float64
	steel bool   // some of it is of steel
	open  string // why it is not known; "" when it is
}

func massOf(items []*model.Item) mass {
	var m mass
	for _, it := range items {
		of, why := material(it)
		if why != "" {
			return mass{open: why}
		}
		if !of {
			continue
		}
		v, closed := volumeOf(it, items)
		if !closed {
			return mass{open: "a body of " + markOf(&it.Ref) + " is not closed"}
		}
		m.steel = true
		m.kg += v * SteelDensity
	}
	return m
}

// material reports whether an item is of steel: kinds that always are, others
// by their material. Why says that nobody knows.
func material(it *model.Item) (steel bool, why string) {
	switch it.Kind {
	case model.Former:
		return false, "" // goes back to the store
	case model.Sleeve, model.Other:
		m := strings.ToLower(finding.Plain(it.Material))
		if m == "" {
			return false, "the model does not say what " + markOf(&it.Ref) + " is made of"
		}
		for _, w := range []string{"steel", "stahl", "staal", "acier", "inox"} {
			if strings.Contains(m, w) {
				return true, ""
			}
		}
		return false, ""
	}
	return true, ""
}

// volumeOf is the steel of an item, mm3. Where rods run inside one another, as
// a shank does in its head, and where a nut is modelled without its hole, the
// common part counts once.
func volumeOf(it *model.Item, all []*model.Item) (v float64, closed bool) {
	var rods []*geom.Rod
	for i := range it.Bodies {
		b := &it.Bodies[i]
		if b.Rod != nil {
			v += rodVolume(b.Rod)
			for _, r := range rods {
				v -= shared(r, b.Rod)
			}
			rods = append(rods, b.Rod)
			continue
		}
		if !b.Mesh.Closed().OK {
			return 0, false
		}
		v += math.Abs(b.Mesh.Volume()) - onShank(b.Mesh, all)
	}
	return v, v > 0
}

func rodVolume(r *geom.Rod) float64 {
	return math.Pi * (r.Radius*r.Radius - r.Inner*r.Inner) * r.Length()
}

// shared is the volume that two straight solid rods on one axis have in common.
func shared(a, b *geom.Rod) float64 {
	if len(a.Path) != 2 || len(b.Path) != 2 || a.Inner > 0 || b.Inner > 0 {
		return 0
	}
	o, d := a.Path[0], a.Path[1].Sub(a.Path[0]).Unit()
	var t [2]float64
	for i, p := range b.Path {
		q := p.Sub(o)
		t[i] = q.Dot(d)
		if q.Sub(d.Mul(t[i])).Norm() > sameWithin {
			return 0
		}
	}
	long := min(max(t[0], t[1]), a.Length()) - max(min(t[0], t[1]), 0)
	r := min(a.Radius, b.Radius)
	return math.Pi * r * r * max(long, 0)
}

// onShank is the volume of the shank inside a nut, washer or head that is
// modelled without a hole for it. The shank may end inside.
func onShank(m *geom.Mesh, all []*model.Item) float64 {
	a, on := axisUnder(m, all)
	if !on || !m.Contains(m.Centroid()) {
		return 0
	}
	low, high := along(a, m)
	end := straightRod(a) // without a rod of its own the shank is in this body
	r := a.Diameter / 2
	return math.Pi * r * r * max(min(high, end)-max(low, 0), 0)
}

// straightRod is how far down the axis the shank's own rod reaches, 0 when the
// item has no such rod.
func straightRod(a *model.Anchor) float64 {
	end := 0.0
	for i := range a.Item.Bodies {
		r := a.Item.Bodies[i].Rod
		if r == nil || math.Abs(2*r.Radius-a.Diameter) > sameDiameter || offAxis(a, r.Path[0]) > sameWithin && offAxis(a, r.Path[len(r.Path)-1]) > sameWithin {
			continue
		}
		for _, p := range r.Path {
			end = max(end, p.Sub(a.Open).Dot(a.Dir))
		}
	}
	return end
}

// along is the part of an anchor's axis that a body lies on.
func along(a *model.Anchor, m *geom.Mesh) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, v := range m.Verts {
		t := v.Sub(a.Open).Dot(a.Dir)
		low, high = min(low, t), max(high, t)
	}
	return low, high
}
