package setout

import (
	"math"

	"embedcheck/internal/geom"
)

// outline is the form as seen from above: the largest of the sections through
// the body near the face that is up, half way and near the form.
func (u *Unit) outline() {
	most := 0.0
	for _, z := range [3]float64{-1, -u.Size.Z / 2, 1 - u.Size.Z} {
		loops := u.section(z)
		if a := loopArea(loops); a > most*1.0001 {
			u.Outline, most = loops, a
		}
	}
	u.Rect = len(u.Outline) == 1 && most > 0.9999*u.Size.X*u.Size.Y
	for _, l := range u.Outline {
		for _, p := range l {
			u.Corner = u.Corner || p.Norm() < 1
		}
	}
}

// section is the body cut at a level of the cast frame.
func (u *Unit) section(z float64) [][]geom.Vec2 {
	cut := geom.PlaneAt(u.Frame.Apply(geom.V(0, 0, z)), u.Frame.Z)
	g := cut.Frame()
	var out [][]geom.Vec2
	for _, poly := range u.Host.Body.Section(cut) {
		for _, loop := range append([][]geom.Vec2{poly.Outer}, poly.Holes...) {
			flat := make([]geom.Vec2, len(loop))
			for i, p := range loop {
				q := u.Frame.Local(g.Apply(geom.V(p.X, p.Y, 0)))
				flat[i] = geom.Vec2{X: q.X, Y: q.Y}
			}
			out = append(out, flat)
		}
	}
	return out
}

// loopArea is the area within loops, of which holes run the other way.
func loopArea(loops [][]geom.Vec2) float64 {
	sum := 0.0
	for _, l := range loops {
		for i, p := range l {
			sum += p.Cross(l[(i+1)%len(l)]) / 2
		}
	}
	return math.Abs(sum)
}

// voids are the host's openings and recesses.
func (u *Unit) voids() {
	taken := namer{}
	for _, v := range u.Host.Voids {
		if v.Mesh == nil {
			continue
		}
		b := geom.EmptyBox
		for _, p := range v.Mesh.Verts {
			b = b.Add(u.Frame.Local(p))
		}
		form := geom.Box{Min: geom.V(0, 0, -u.Size.Z), Max: geom.V(u.Size.X, u.Size.Y, 0)}
		if b.Empty() || !b.Overlaps(form) {
			continue
		}
		const play = 1
		w := Void{Void: v, Mark: taken.unique(labelOf(&v.Ref)), Through: b.Min.Z < play-u.Size.Z && b.Max.Z > -play, Face: u.recessFace(b)}
		w.Min = geom.V(max(b.Min.X, form.Min.X), max(b.Min.Y, form.Min.Y), max(b.Min.Z, form.Min.Z))
		w.Max = geom.V(min(b.Max.X, form.Max.X), min(b.Max.Y, form.Max.Y), min(b.Max.Z, form.Max.Z))
		u.Voids = append(u.Voids, w)
	}
}

// recessFace is the side that a recess stands out of farthest.
func (u *Unit) recessFace(b geom.Box) Face {
	out := [6]float64{
		Up: b.Max.Z, Down: -u.Size.Z - b.Min.Z, Left: -b.Min.X, Right: b.Max.X - u.Size.X, Lower: -b.Min.Y, Upper: b.Max.Y - u.Size.Y,
	}
	best := Up
	for f := Up; f <= Upper; f++ {
		if out[f] > out[best]+1e-6 {
			best = f
		}
	}
	return best
}

// formAt is the level of the form below a place, in the cast frame. The place
// may lie on a side of the form: the line is taken 2 mm within.
func (u *Unit) formAt(p geom.Vec, f Face) float64 {
	level, _ := u.concreteAt(p, f)
	return level
}

// concreteAt is the level of the form below a place, and that of the face that is
// up. Where a hole lies between, the form is below it.
func (u *Unit) concreteAt(p geom.Vec, f Face) (form, top float64) {
	in := p
	if f.Side() {
		in = p.Sub(f.Normal().Mul(2))
	}
	form, top = -u.Size.Z, 0
	best, lowest := math.Inf(1), math.Inf(1)
	in.Z = 1
	for _, s := range u.Host.Body.Inside(u.Frame.Apply(in), u.Frame.Z.Neg()) {
		hi, lo := in.Z-s.From, in.Z-s.To
		lowest = min(lowest, lo)
		if d := max(lo-p.Z, p.Z-hi, 0); d < best-1e-6 {
			best, top = d, hi
		}
	}
	if lowest <= 0 {
		form = lowest
	}
	return form, top
}
