package setout

import (
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// formDims dimensions the form and its openings.
func (u *Unit) formDims(tol Tolerances) {
	add := func(d Dim) {
		d.Unit, d.Set = u.Mark, "form"
		d.Key = u.Mark + "/form/" + d.What
		d.Taped = true
		if d.Dir == (geom.Vec{}) {
			d.Dir = d.To.Sub(d.From).Unit()
		}
		u.Form = append(u.Form, d)
	}
	s := u.Size
	o := geom.Vec{}
	add(Dim{What: "length", Text: "form, left to right", Quantity: Extent, MM: s.X, To: geom.V(s.X, 0, 0)})
	add(Dim{What: "width", Text: "form, lower to upper side", Quantity: Extent, MM: s.Y, To: geom.V(0, s.Y, 0)})
	add(Dim{What: "thickness", Text: "form, depth", Quantity: Extent, MM: s.Z, From: geom.V(0, 0, -s.Z)})
	if u.Rect {
		far := geom.V(s.X, s.Y, 0)
		add(Dim{What: "diagonal from the datum", Text: "form, diagonal from the datum corner", Quantity: Diagonal, MM: far.Norm(), From: o, To: far})
		add(Dim{What: "other diagonal", Text: "form, the other diagonal", Quantity: Diagonal, MM: far.Norm(), From: geom.V(s.X, 0, 0), To: geom.V(0, s.Y, 0)})
	}
	for i := range u.Voids {
		u.voidDims(&u.Voids[i], tol, add)
	}
}

// voidDims dimensions an opening or a recess by the box around it.
func (u *Unit) voidDims(v *Void, tol Tolerances, add func(Dim)) {
	what, axes := "opening "+v.Mark+" ", [2]Axis{X, Y}
	if !v.Through {
		what, axes = "recess "+v.Mark+" ", v.Face.Axes()
	}
	for _, ax := range axes {
		from := v.Min
		switch ax {
		case X:
			from.X = 0
		case Y:
			from.Y = 0
		case Z:
			from.Z = u.formAt(v.Min, v.Face)
		}
		add(Dim{
			What: what + ax.String(), Text: what + "near side " + ax.From(), Quantity: Place, Axis: ax, MM: ax.Of(v.Min) - ax.Of(from),
			Tol: tol.of(Position, model.Other), From: from, To: v.Min, Dir: ax.Dir(),
		})
	}
	for ax := X; ax <= Z; ax++ {
		if v.Through && ax == Z {
			continue
		}
		to := v.Min.Add(ax.Dir().Mul(ax.Of(v.Max) - ax.Of(v.Min)))
		add(Dim{What: what + "size " + ax.String(), Text: what + "size along " + ax.String(), Quantity: Clear, MM: ax.Of(to) - ax.Of(v.Min), From: v.Min, To: to, Dir: ax.Dir()})
	}
}
