package geom

import "math"

// Box is an axis-aligned box. EmptyBox has Min above Max.
type Box struct{ Min, Max Vec }

// EmptyBox holds nothing; adding a point to it gives that point.
var EmptyBox = Box{
	Vec{math.Inf(1), math.Inf(1), math.Inf(1)},
	Vec{math.Inf(-1), math.Inf(-1), math.Inf(-1)},
}

// BoxOf is the smallest box around the points.
func BoxOf(pts ...Vec) Box {
	b := EmptyBox
	for _, p := range pts {
		b = b.Add(p)
	}
	return b
}

// Add is b grown to hold p.
func (b Box) Add(p Vec) Box {
	return Box{
		Vec{min(b.Min.X, p.X), min(b.Min.Y, p.Y), min(b.Min.Z, p.Z)},
		Vec{max(b.Max.X, p.X), max(b.Max.Y, p.Y), max(b.Max.Z, p.Z)},
	}
}

// Union is the smallest box that holds both.
func (b Box) Union(o Box) Box {
	return Box{
		Vec{min(b.Min.X, o.Min.X), min(b.Min.Y, o.Min.Y), min(b.Min.Z, o.Min.Z)},
		Vec{max(b.Max.X, o.Max.X), max(b.Max.Y, o.Max.Y), max(b.Max.Z, o.Max.Z)},
	}
}

// Grow is b with every side moved out by d.
func (b Box) Grow(d float64) Box {
	g := Vec{d, d, d}
	return Box{b.Min.Sub(g), b.Max.Add(g)}
}

// Empty reports whether b holds no point.
func (b Box) Empty() bool { return !(b.Min.X <= b.Max.X && b.Min.Y <= b.Max.Y && b.Min.Z <= b.Max.Z) }

// Overlaps reports whether the boxes share a point; touching counts.
func (b Box) Overlaps(o Box) bool {
	return b.Min.X <= o.Max.X && o.Min.X <= b.Max.X &&
		b.Min.Y <= o.Max.Y && o.Min.Y <= b.Max.Y &&
		b.Min.Z <= o.Max.Z && o.Min.Z <= b.Max.Z
}

// Has reports whether p lies in b or on its surface.
func (b Box) Has(p Vec) bool {
	return b.Min.X <= p.X && p.X <= b.Max.X && b.Min.Y <= p.Y && p.Y <= b.Max.Y && b.Min.Z <= p.Z && p.Z <= b.Max.Z
}

// Size is the extent along each axis; Center the middle.
func (b Box) Size() Vec   { return b.Max.Sub(b.Min) }
func (b Box) Center() Vec { return b.Min.Add(b.Max).Mul(0.5) }

// Corners are the eight corners.
func (b Box) Corners() [8]Vec {
	var c [8]Vec
	for i := range c {
		c[i] = b.Min
		if i&1 != 0 {
			c[i].X = b.Max.X
		}
		if i&2 != 0 {
			c[i].Y = b.Max.Y
		}
		if i&4 != 0 {
			c[i].Z = b.Max.Z
		}
	}
	return c
}

// Transform is the box around b's corners after m.
func (b Box) Transform(m Affine) Box {
	if b.Empty() {
		return b
	}
	r := EmptyBox
	for _, c := range b.Corners() {
		r = r.Add(m.Apply(c))
	}
	return r
}

// Inside is the part of the line o + t*d that lies in the box, nil when there is
// none. The hits are left empty.
func (b Box) Inside(o, d Vec) []Interval {
	from, to := math.Inf(-1), math.Inf(1)
	for _, c := range [3][4]float64{
		{o.X, d.X, b.Min.X, b.Max.X}, {o.Y, d.Y, b.Min.Y, b.Max.Y}, {o.Z, d.Z, b.Min.Z, b.Max.Z},
	} {
		if math.Abs(c[1]) < 1e-9 {
			if c[0] < c[2] || c[0] > c[3] {
				return nil
			}
			continue
		}
		t, u := (c[2]-c[0])/c[1], (c[3]-c[0])/c[1]
		from, to = max(from, min(t, u)), min(to, max(t, u))
	}
	if from >= to {
		return nil
	}
	return []Interval{{From: from, To: to}}
}
