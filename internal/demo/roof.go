package demo

import (
	"fmt"

	ib "embedcheck/internal/ifcbuild"
	"embedcheck/internal/ifcbuild/embed"
)

var hatch = embed.Opening{X0: 1500, Y0: 700, X1: 2500, Y1: 1700}

// roof: one panel of 4000 x 2400 x 200 as it lies in its form, front side up.
func roof(b *ib.Builder) {
	p := cast(b, "IfcSlab", "RP-01", "Roof panel with hatch, on the casting bed", lying(0, 8000, 0), 4000, 2400, 200)
	p.opening("Hatch", hatch)
	roofLifters(p)
	for i, c := range [][2]float64{{hatch.X0 - 100, 1000}, {hatch.X0 - 100, 1400}, {hatch.X1 + 100, 1000}, {hatch.X1 + 100, 1400}} {
		p.ferrule(fmt.Sprintf("F-6.%d", i+1), p.front(c[0], c[1]), ferrule12, embed.Swept)
	}
	castInPlate("CP-6", 200, 200).One(b, ib.Element{At: p.front(3200, 1200)})
	roofBars(p)
}

// roofLifters: two with a tension bar through the eye, as one assembly each; of
// the other two the third was moved by 100 mm, away from the hatch and onto a
// line of bars.
func roofLifters(p host) {
	for i, c := range [][2]float64{{800, 600}, {3200, 600}} {
		mark := fmt.Sprintf("LI-6.%d", i+1)
		at := p.front(c[0], c[1])
		whole := p.b.Add(ib.Element{Class: "IfcElementAssembly", Name: "Lifting insert with tension bar", Tag: mark + "-A", At: at})
		p.lifter(mark, at, faceLifter, ib.Element{Of: whole})
		bar := [2]ib.Vec{ib.V(-300, 0, -80), ib.V(300, 0, -80)}
		p.b.Add(ib.Element{
			Class: "IfcReinforcingBar", Name: "Tension bar N12", Tag: mark + "-B", Diameter: 12, Of: whole, Grade: "500N",
			Body: []ib.Solid{ib.Rod(ib.Straight(bar[0], bar[1]), 12)},
		})
	}
	p.lifter("LI-6.3", p.front(900, 1800), faceLifter, ib.Element{})
	p.lifter("LI-6.4", p.front(3200, 1800), faceLifter, ib.Element{})
}

// roofBars: N12 at 200 top and bottom, each bar an element of its own.
func roofBars(p host) {
	m := embed.Mats{W: p.w, H: p.h, T: p.t, D: 12, Spacing: 200, First: 100, Cover: 40, Across: true, Holes: []embed.Opening{hatch}}
	for i, l := range m.Layers() {
		for k, c := range l.Bars {
			p.b.Add(ib.Element{
				Class: "IfcReinforcingBar", Name: "N12", Tag: fmt.Sprintf("RP-01-%d.%d", i+1, k+1), Diameter: 12, At: p.at, Grade: "500N",
				Body: []ib.Solid{ib.Rod(ib.Straight(c[0], c[1]), 12)},
			})
		}
	}
}
