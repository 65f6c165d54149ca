package embed

import (
	"fmt"
	"slices"

	ib "embedcheck/internal/ifcbuild"
)

// Mats are the bars of a panel: two layers on each face. The panel stands in a
// frame of its own, x along it, y up, z from its back to its front.
type Mats struct {
	W, H, T float64
	D       float64
	Spacing float64
	First   float64 // distance of the first bar's axis from the lower and the left edge
	Cover   float64 // to the outer layer, and over the ends of all bars
	Across  bool    // the outer layer runs along x, else along y
	Holes   []Opening
}

// Opening is a rectangular hole in a panel.
type Opening struct{ X0, Y0, X1, Y1 float64 }

// Layer is parallel bars of one depth.
type Layer struct {
	Name string
	Bars [][2]ib.Vec // ends of the centrelines
}

// Layers are the four layers: back outer, back inner, front inner, front outer.
func (m Mats) Layers() []Layer {
	r := m.D / 2
	z := []float64{m.Cover + r, m.Cover + 3*r, m.T - m.Cover - 3*r, m.T - m.Cover - r}
	name := []string{"back face, outer", "back face, inner", "front face, inner", "front face, outer"}
	var out []Layer
	for i := range z {
		along := m.Across == (i == 0 || i == 3)
		out = append(out, Layer{name[i], m.layer(along, z[i])})
	}
	return out
}

// layer cuts parallel lines at the holes.
func (m Mats) layer(alongX bool, z float64) [][2]ib.Vec {
	length, width := m.H, m.W
	if alongX {
		length, width = m.W, m.H
	}
	var out [][2]ib.Vec
	for a := m.First; a <= width-m.Cover-m.D/2+1e-9; a += m.Spacing {
		for _, run := range m.runs(a, length, alongX) {
			p, q := ib.V(a, run[0], z), ib.V(a, run[1], z)
			if alongX {
				p, q = ib.V(run[0], a, z), ib.V(run[1], a, z)
			}
			out = append(out, [2]ib.Vec{p, q})
		}
	}
	return out
}

// runs are the pieces of the line at a that keep the cover to the ends and to
// the holes; pieces shorter than 150 mm are left out.
func (m Mats) runs(a, length float64, alongX bool) [][2]float64 {
	runs := [][2]float64{{m.Cover, length - m.Cover}}
	for _, h := range m.Holes {
		side0, side1, from, to := h.X0, h.X1, h.Y0, h.Y1
		if alongX {
			side0, side1, from, to = h.Y0, h.Y1, h.X0, h.X1
		}
		keep := m.Cover + m.D/2
		if a < side0-keep+1e-9 || a > side1+keep-1e-9 {
			continue
		}
		var next [][2]float64
		for _, r := range runs {
			next = append(next, [2]float64{r[0], min(r[1], from-m.Cover)}, [2]float64{max(r[0], to+m.Cover), r[1]})
		}
		runs = next
	}
	return slices.DeleteFunc(runs, func(r [2]float64) bool { return r[1]-r[0] < 150 })
}

// Add adds one reinforcing bar element for each layer, its bars as mapped items
// of one map for each length. at places the panel's frame.
func (m Mats) Add(b *ib.Builder, e ib.Element, mark string) {
	at := e.At
	for i, l := range m.Layers() {
		e.Class, e.At = "IfcReinforcingBar", at
		e.Name, e.Tag = fmt.Sprintf("N%g at %g, %s", m.D, m.Spacing, l.Name), fmt.Sprintf("%s-%d", mark, i+1)
		e.Diameter, e.Grade = m.D, "500N"
		e.Body = Bars(l.Bars, m.D)
		b.Add(e)
	}
}

// Bars are straight bars as mapped items, one map for each length.
func Bars(bars [][2]ib.Vec, d float64) []ib.Solid {
	maps := map[float64]*ib.Map{}
	var out []ib.Solid
	for _, c := range bars {
		v := c[1].Sub(c[0])
		length := v.Len()
		if maps[length] == nil {
			maps[length] = ib.NewMap(ib.Rod(ib.Straight(ib.V(0, 0, 0), ib.V(length, 0, 0)), d))
		}
		side := ib.V(0, 0, 1)
		if v.Z*v.Z > 0.5*length*length {
			side = ib.V(0, 1, 0)
		}
		x := v.Unit()
		z := side.Sub(x.Mul(side.Dot(x))).Unit()
		out = append(out, maps[length].At(ib.Facing(c[0], z, x)))
	}
	return out
}

// Hairpin is a U-shaped bar: its back runs along y by the width, its legs along
// -z; the origin is the middle of the back's axis.
func Hairpin(d, width, leg, bend float64) ib.Disk {
	y := width/2 - d/2
	return ib.Rod(ib.Bent(bend+d/2, ib.V(0, -y, -leg), ib.V(0, -y, 0), ib.V(0, y, 0), ib.V(0, y, -leg)), d)
}
