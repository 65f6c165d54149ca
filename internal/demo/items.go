package demo

import (
	"fmt"

	ib "embedcheck/internal/ifcbuild"
	"embedcheck/internal/ifcbuild/embed"
)

// The sizes of what is cast in more than once. Threads, tubes and lengths are
// of the usual order; no maker's list stands behind them.
var (
	ferrule12 = embed.Ferrule{Thread: 12, OD: 18, Length: 80, Cross: 80, CrossD: 10, CrossZ: 12}
	ferrule16 = embed.Ferrule{Thread: 16, OD: 24, Length: 95, Cross: 100, CrossD: 12, CrossZ: 15}
	ferrule20 = embed.Ferrule{Thread: 20, OD: 28, Length: 120, Cross: 120, CrossD: 12, CrossZ: 15}
	tailed16  = embed.Ferrule{Thread: 16, OD: 24, Length: 70, Tail: 70, TailD: 12}

	edgeLifter = embed.Lifter{Shank: 14, Length: 200, Head: 26, HeadT: 8, Foot: 35, FootT: 8, Sunk: 10, Recess: 45}
	faceLifter = embed.Lifter{Shank: 14, Length: 100, Head: 26, HeadT: 8, Foot: 35, FootT: 8, Sunk: 10, Recess: 45}

	stud16 = embed.Stud{D: 16, Length: 100, Head: 32, HeadT: 8}
	stud12 = embed.Stud{D: 12, Length: 100, Head: 24, HeadT: 8}
)

// ferrule adds a socket, its cross bar turned upright.
func (p host) ferrule(mark string, at ib.Frame, f embed.Ferrule, form embed.Form) ib.Ref {
	f.Form = form
	return p.b.Add(ib.Element{
		Class: "IfcDiscreteAccessory", Name: fmt.Sprintf("Ferrule M%gx%g", f.Thread, f.Length), Tag: mark,
		At: at.TurnZ(90), Body: f.Bodies(), Material: "Steel", Props: galvanised,
	})
}

// lifter adds a lifting insert and the recess round its head.
func (p host) lifter(mark string, at ib.Frame, l embed.Lifter, e ib.Element) ib.Ref {
	e.Class, e.Name, e.Tag = "IfcDiscreteAccessory", fmt.Sprintf("Lifting insert 2.5 t x %g", l.Length), mark
	if e.Of.ID == 0 {
		e.At = at
	}
	e.Body, e.Material, e.Props = l.Bodies(), "Steel", galvanised
	r := p.b.Add(e)
	p.recess("Recess "+mark, at, l.Former())
	return r
}

// castInPlate is a plate with four studs at 100.
func castInPlate(mark string, w, h float64) embed.Plate {
	return embed.Plate{
		W: w, H: h, T: 12, Stud: stud16, Pattern: embed.Grid(2, 2, 100, 100), Tag: mark,
		Name: fmt.Sprintf("Cast-in plate %gx%gx12", w, h), Material: plates, Finish: galvanised,
	}
}
