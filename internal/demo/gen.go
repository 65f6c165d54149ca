package demo

import (
	"fmt"
	"io"

	ib "embedcheck/internal/ifcbuild"
	"embedcheck/internal/ifcbuild/embed"
)

// Yard is a model of any size for benchmarks: panels of 6000 x 3000 x 180 that
// stand in rows. Each holds two openings, two mats of N12 at 200 on both faces,
// eight ferrules, two cast-in plates with four studs and four lifting inserts in
// recesses. One panel in twenty has an item too near an edge, one a bar too near
// an item, one an item twice, one an item beside it; nothing else is amiss.
//
// A mixed yard is as jobs are: three panels of one design, then three of the
// next. Designs differ in sizes, openings, bars, items and in the way that each
// is written: extrusions, breps, face sets, mapped items, assemblies, openings
// cut into the body. Panels are turned in plan and stand, lean or lie. The same
// faults are planted in the same panels.
type Yard struct {
	Panels int   // number of panels; 0 to go by Size
	Size   int64 // bytes to reach, when Panels is 0
	Each   bool  // every bar an element of its own, instead of one element a layer
	Mixed  bool  // designs of many kinds, three panels of each, instead of one for all
	Schema ib.Schema
	Unit   ib.Unit
}

// Tally is what a reader should find in a yard.
type Tally struct {
	Panels, Items, Anchors, Bars int
	Bytes                        int64
	Findings                     map[string]int // by rule, with the built-in limits
}

// Write writes the model; it keeps no more than a panel in memory.
func (y Yard) Write(w io.Writer) (Tally, error) {
	b := ib.NewTo(w, y.Schema, y.Unit, ib.Seed("yard"), ib.File("yard.ifc", "2026-03-02T08:00:00"),
		ib.Names("Storage yard", "Yard", "Panels", "Ground"))
	g := &generator{b: b, each: y.Each, mix: y.Mixed, sum: Tally{Findings: map[string]int{}}}
	for y.more(g.sum.Panels, b.Size()) {
		g.next(g.sum.Panels)
		g.sum.Panels++
		if !y.Mixed || g.sum.Panels%copiesOfDesign == 0 {
			b.Forget()
		}
	}
	err := b.Close()
	g.sum.Bytes = b.Size()
	return g.sum, err
}

// Panel is panel n of the yard, counted from 0, as a model of its own, and what
// a reader should find in it.
func (y Yard) Panel(n int) (name string, model []byte, sum Tally) {
	name = fmt.Sprintf("YP-%05d.ifc", n+1)
	b := ib.New(y.Schema, y.Unit, ib.Seed(name), ib.File(name, "2026-03-02T08:00:00"), ib.Names("Storage yard", "Yard", "Panels", "Ground"))
	g := &generator{b: b, each: y.Each, mix: y.Mixed, sum: Tally{Panels: 1, Findings: map[string]int{}}}
	g.next(n)
	model = b.Bytes()
	g.sum.Bytes = int64(len(model))
	return name, model, g.sum
}

func (y Yard) more(panels int, size int64) bool {
	if y.Panels > 0 {
		return panels < y.Panels
	}
	return size < y.Size
}

type generator struct {
	b    *ib.Builder
	each bool
	mix  bool
	sum  Tally

	design *design // of the panel before, in a mixed yard
}

// The panels that have a fault, of twenty.
const (
	turnEdge  = 4  // an item too near an edge
	turnBar   = 9  // a bar too near an item
	turnTwice = 14 // an item twice
	turnLost  = 17 // an item beside the panel
)

func (g *generator) next(n int) {
	if g.mix {
		g.mixed(n)
	} else {
		g.panel(n)
	}
}

// yardMats have their lines at 100 + n x 200: items on whole 200s are clear of
// them. The openings leave no bar closer to their edge than its cover.
var yardMats = embed.Mats{
	W: 6000, H: 3000, T: 180, D: 12, Spacing: 200, First: 100, Cover: 40, Across: true,
	Holes: []embed.Opening{{X0: 1500, Y0: 1300, X1: 2300, Y1: 2100}, {X0: 3700, Y0: 1300, X1: 4500, Y1: 2100}},
}

const rowOfPanels = 100

func (g *generator) panel(n int) {
	m := yardMats
	at := south(float64(n%rowOfPanels)*8000, float64(n/rowOfPanels)*4000)
	mark := fmt.Sprintf("YP-%05d", n+1)
	p := host{b: g.b, at: at, w: m.W, h: m.H, t: m.T}
	p.ref = g.b.Add(ib.Element{
		Class: "IfcWall", Name: mark, Tag: mark, At: at, Material: concrete, Seed: mark,
		Body: []ib.Solid{ib.Block(ib.V(0, 0, 0), ib.V(m.W, m.H, m.T))},
	})
	for i, o := range m.Holes {
		p.ref.OpenWith(ib.Element{
			Name: fmt.Sprintf("%s-O%d", mark, i+1), Seed: fmt.Sprintf("%s-O%d", mark, i+1),
			Body: []ib.Solid{ib.Block(ib.V(o.X0, o.Y0, -10), ib.V(o.X1, o.Y1, m.T+10))},
		})
	}
	g.bars(p, mark)
	g.ferrules(p, mark, n%20)
	g.lifters(p, mark, n%20)
	for i, x := range []float64{1000, 5000} {
		plate := castInPlate(fmt.Sprintf("%s-P%d", mark, i+1), 200, 200)
		plate.One(g.b, ib.Element{At: p.back(x, 2400), Seed: plate.Tag})
		g.item(4)
	}
}

func (g *generator) item(anchors int) {
	g.sum.Items++
	g.sum.Anchors += anchors
}

func (g *generator) bars(p host, mark string) {
	for i, l := range yardMats.Layers() {
		g.sum.Bars += len(l.Bars)
		e := ib.Element{Class: "IfcReinforcingBar", Name: "N12", Diameter: 12, At: p.at, Grade: "500N"}
		if !g.each {
			e.Tag = fmt.Sprintf("%s-B%d", mark, i+1)
			e.Seed, e.Body = e.Tag, embed.Bars(l.Bars, 12)
			g.b.Add(e)
			continue
		}
		for k, c := range l.Bars {
			e.Tag = fmt.Sprintf("%s-B%d.%d", mark, i+1, k+1)
			e.Seed, e.Body = e.Tag, []ib.Solid{ib.Rod(ib.Straight(c[0], c[1]), 12)}
			g.b.Add(e)
		}
	}
}

// ferrules: eight on the back; which one in twenty panels is wrong, and how.
func (g *generator) ferrules(p host, mark string, turn int) {
	one := func(id string, x, y float64) {
		f := ferrule16
		g.b.Add(ib.Element{
			Class: "IfcDiscreteAccessory", Name: "Ferrule M16x95 HDG", Tag: id, Seed: id + fmt.Sprint(g.sum.Items),
			At: p.back(x, y).TurnZ(90), Body: f.Bodies(), Material: "Steel",
		})
		g.item(1)
	}
	for i, x := range []float64{400, 1200, 2600, 3400, 4800, 5400, 400, 5400} {
		y := 800.0
		if i > 5 {
			y = 1600
		}
		id := fmt.Sprintf("%s-F%d", mark, i+1)
		if i == 1 && turn == turnEdge {
			x, y = 1500-55, 1600 // 55 mm from the opening
			g.sum.Findings["edge-distance"]++
		}
		one(id, x, y)
		if i == 2 && turn == turnTwice {
			one(id, x, y)
			g.sum.Findings["duplicate"]++
		}
	}
	if turn == turnBar { // 8 mm beside the first ferrule: 400 + 12 + 8 + 6
		g.extraBar(p, mark, ib.V(426, 600, 30), ib.V(426, 1000, 30))
	}
}

// extraBar is a bar that is too near an item.
func (g *generator) extraBar(p host, mark string, from, to ib.Vec) {
	id := mark + "-X"
	g.b.Add(ib.Element{
		Class: "IfcReinforcingBar", Name: "N12 extra", Tag: id, Seed: id, Diameter: 12, At: p.at, Grade: "500N",
		Body: []ib.Solid{ib.Rod(ib.Straight(from, to), 12)},
	})
	g.sum.Bars++
	g.sum.Findings["reinforcement-clearance"]++
}

// leftBehind counts what a lifter beside its panel gives: it has no concrete, and
// the three that are left are not balanced.
func (g *generator) leftBehind() {
	g.sum.Findings["unhosted"]++
	g.sum.Findings["lifter-balance"]++
}

// lifters: four in the front, their heads in round recesses.
func (g *generator) lifters(p host, mark string, turn int) {
	l := faceLifter
	for i, c := range [][2]float64{{1200, 600}, {4800, 600}, {1200, 2400}, {4800, 2400}} {
		id := fmt.Sprintf("%s-L%d", mark, i+1)
		at := p.front(c[0], c[1])
		p.ref.OpenWith(ib.Element{
			Name: "Recess " + id, Seed: "R" + id, At: inverse(p.at).Mul(at),
			Body: []ib.Solid{ib.Cylinder(ib.V(0, 0, -l.RecessDepth()), ib.V(0, 0, 10), l.Recess)},
		})
		if i == 3 && turn == turnLost {
			at = at.Shift(0, 0, 1500) // left behind
			g.leftBehind()
		}
		g.b.Add(ib.Element{
			Class: "IfcDiscreteAccessory", Name: "Lifting insert 2.5 t x 100 HDG", Tag: id, Seed: id, At: at,
			Body: l.Bodies(), Material: "Steel",
		})
		g.item(1)
	}
}
