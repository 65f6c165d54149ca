package demo

import (
	"fmt"

	ib "embedcheck/internal/ifcbuild"
	"embedcheck/internal/ifcbuild/embed"
)

// mixed writes panel n of a mixed yard.
func (g *generator) mixed(n int) {
	if n%copiesOfDesign == 0 || g.design == nil {
		g.design = newDesign(n / copiesOfDesign)
	}
	d := g.design
	mark := fmt.Sprintf("YP-%05d", n+1)
	p := host{b: g.b, at: d.stand(n), w: d.mats.W, h: d.mats.H, t: d.mats.T}
	p.ref = g.b.Add(ib.Element{
		Class: "IfcWall", Name: mark, Tag: mark, At: p.at, Material: concrete, Seed: mark, Body: []ib.Solid{d.concrete()},
		Props: []ib.PSet{{Name: "Pset_ConcreteElementGeneral", Props: []ib.Prop{
			ib.Label("StrengthClass", "C32/40"), ib.Label("ExposureClass", "XC3"), ib.Length("ConcreteCover", d.mats.Cover),
		}}},
	})
	if d.host != hostCut {
		for i, o := range d.mats.Holes {
			id := fmt.Sprintf("%s-O%d", mark, i+1)
			p.ref.OpenWith(ib.Element{Name: id, Seed: id, Body: []ib.Solid{ib.Block(ib.V(o.X0, o.Y0, -10), ib.V(o.X1, o.Y1, p.t+10))}})
		}
	}
	g.mixedBars(d, p, mark)
	g.mixedSockets(d, p, mark, n%20)
	g.mixedLifters(d, p, mark, n%20)
	g.mixedPlates(d, p, mark)
}

// concrete is the body of the host.
func (d *design) concrete() ib.Solid {
	m := d.mats
	switch d.host {
	case hostBrep:
		return ib.BlockMesh(ib.V(0, 0, 0), ib.V(m.W, m.H, m.T)).Brep()
	case hostFacets:
		return ib.BlockMesh(ib.V(0, 0, 0), ib.V(m.W, m.H, m.T)).Triangles()
	case hostCut:
		outline := ib.Poly{Outer: []ib.XY{{X: 0, Y: 0}, {X: m.W, Y: 0}, {X: m.W, Y: m.H}, {X: 0, Y: m.H}}}
		for _, o := range m.Holes {
			outline.Holes = append(outline.Holes, []ib.XY{{X: o.X0, Y: o.Y0}, {X: o.X0, Y: o.Y1}, {X: o.X1, Y: o.Y1}, {X: o.X1, Y: o.Y0}})
		}
		return ib.PrismMesh(outline, ib.At(0, 0, 0), m.T, 16).Polygons()
	}
	return ib.Block(ib.V(0, 0, 0), ib.V(m.W, m.H, m.T))
}

// mixedBars writes the mats, and U-shaped bars along the upper edge.
func (g *generator) mixedBars(d *design, p host, mark string) {
	add := func(id string, body ...ib.Solid) {
		g.b.Add(ib.Element{
			Class: "IfcReinforcingBar", Name: fmt.Sprintf("N%g", d.mats.D), Diameter: d.mats.D, At: p.at, Grade: "500N",
			Tag: id, Seed: id, Body: body,
		})
		g.sum.Bars++
	}
	for i, l := range d.mats.Layers() {
		id := fmt.Sprintf("%s-B%d", mark, i+1)
		if d.bars == barsMapped || d.bars == barsOne {
			add(id, d.layer(l)...)
			g.sum.Bars += len(l.Bars) - 1
			continue
		}
		for k, c := range l.Bars {
			add(fmt.Sprintf("%s.%d", id, k+1), d.bar(c))
		}
	}
	if !d.pinned {
		return
	}
	pin := embed.Hairpin(d.mats.D, p.t-80, 300, 2*d.mats.D)
	for i := range d.nx {
		at := ib.Facing(ib.V((float64(i)+0.5)*d.step+20, p.h-45, p.t/2), ib.V(0, 1, 0), ib.V(1, 0, 0))
		add(fmt.Sprintf("%s-U%d", mark, i+1), ib.Disk{Path: pin.Path.Moved(at), Radius: pin.Radius})
	}
}

// layer is the bars of a layer as the bodies of one element.
func (d *design) layer(l embed.Layer) []ib.Solid {
	if d.bars == barsMapped {
		return embed.Bars(l.Bars, d.mats.D)
	}
	var out []ib.Solid
	for _, c := range l.Bars {
		out = append(out, d.bar(c))
	}
	return out
}

// bar is one bar; the breps have eight sides, as exporters draw them.
func (d *design) bar(c [2]ib.Vec) ib.Solid {
	if d.bars == barsBrep {
		return ib.RodMesh(c[:], d.mats.D/2, 0, 8).Brep()
	}
	return ib.Rod(ib.Straight(c[0], c[1]), d.mats.D)
}

// finish is how an item says that it is galvanised.
func (d *design) finish(e *ib.Element) {
	if d.said {
		e.Props = galvanised
	} else {
		e.Name += " HDG"
	}
}

// body is the bodies as the design writes them: all panels of it share a map.
func (d *design) body(m **ib.Map, bodies []ib.Solid) []ib.Solid {
	if !d.shared {
		return bodies
	}
	if *m == nil {
		*m = ib.NewMap(bodies...)
	}
	return []ib.Solid{(*m).At(ib.At(0, 0, 0))}
}

// mixedSockets: in the back; the faults are those of the other yard.
func (g *generator) mixedSockets(d *design, p host, mark string, turn int) {
	one := func(id string, x, y float64) {
		e := ib.Element{
			Class: "IfcDiscreteAccessory", Name: fmt.Sprintf("Ferrule M%gx%g", d.ferrule.Thread, d.ferrule.Length), Tag: id, Seed: id + fmt.Sprint(g.sum.Items),
			At: p.back(x, y).TurnZ(90), Body: d.body(&d.ferruleMap, d.ferrule.Bodies()), Material: "Steel",
		}
		d.finish(&e)
		g.b.Add(e)
		g.item(1)
	}
	for i, c := range d.sockets {
		id, x := fmt.Sprintf("%s-F%d", mark, i+1), c[0]
		if i == 1 && turn == turnEdge {
			x = 60 // from the left-hand edge
			g.sum.Findings["edge-distance"]++
		}
		one(id, x, c[1])
		if i == 0 && turn == turnTwice {
			one(id, x, c[1])
			g.sum.Findings["duplicate"]++
		}
	}
	if turn == turnBar {
		c := d.sockets[0]
		x := c[0] + d.ferrule.OD/2 + 8 + 6
		g.extraBar(p, mark, ib.V(x, c[1]-200, 30), ib.V(x, c[1]+200, 30))
	}
}

// mixedLifters: four in the front, their heads in round recesses.
func (g *generator) mixedLifters(d *design, p host, mark string, turn int) {
	l := faceLifter
	l.Form = d.form
	for i, c := range d.lifters {
		id := fmt.Sprintf("%s-L%d", mark, i+1)
		at := p.front(c[0], c[1])
		p.ref.OpenWith(ib.Element{
			Name: "Recess " + id, Seed: "R" + id, At: inverse(p.at).Mul(at),
			Body: d.body(&d.recessMap, []ib.Solid{l.Former()}),
		})
		if i == 3 && turn == turnLost {
			at = at.Shift(0, 0, 1500)
			g.leftBehind()
		}
		e := ib.Element{
			Class: "IfcDiscreteAccessory", Name: "Lifting insert 2.5 t x 100", Tag: id, Seed: id, At: at,
			Body: d.body(&d.lifterMap, l.Bodies()), Material: "Steel",
		}
		d.finish(&e)
		g.b.Add(e)
		g.item(1)
	}
}

func (g *generator) mixedPlates(d *design, p host, mark string) {
	for i, c := range d.plates {
		plate := castInPlate(fmt.Sprintf("%s-P%d", mark, i+1), 200, 200)
		plate.Stud, plate.Form = stud12, d.form
		if e := (ib.Element{At: p.back(c[0], c[1]), Seed: plate.Tag}); d.nested {
			plate.Assembly(g.b, e)
		} else {
			plate.One(g.b, e)
		}
		g.item(4)
	}
}
