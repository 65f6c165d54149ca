package demo

import (
	"fmt"

	ib "embedcheck/internal/ifcbuild"
	"embedcheck/internal/ifcbuild/embed"
)

// base: the slab and everything that stands on it or beside it in the ground.
func base(b *ib.Builder) {
	slab := cast(b, "IfcSlab", "BS-01", "Base slab 400", lying(-500, -500, -400), 7500, 5000, 400)
	ladderFeet(slab)
	unnamedBolts(slab)

	// Both pump bases were 1500 x 1200; the second lost 60 mm at its lower side
	// to a pipe run, and its bolts stayed where they were.
	pumpBolts(cast(b, "IfcFooting", "PB-01", "Pump base 1500x1200x500", lying(800, 1000, 0), 1500, 1200, 500))
	pumpBoltsInOne(cast(b, "IfcFooting", "PB-02", "Pump base 1500x1140x500", lying(800, 2660, 0), 1500, 1140, 500))

	supportBolts(cast(b, "IfcBuildingElementProxy", "PS-01", "Pipe support 1200x800x600", lying(3200, 800, 0), 1200, 800, 600))
	clampBolts(cast(b, "IfcBuildingElementProxy", "PS-02", "Pipe support 1400x900x600", lying(3000, 2600, 0), 1400, 900, 600))
	columnBolts(cast(b, "IfcFooting", "CF-01", "Footing of the monorail post 1600x1600x600", lying(8000, 1200, -600), 1600, 1600, 600))
	stairBolts(cast(b, "IfcFooting", "CF-02", "Footing of the stair 1000x1000x500", lying(8000, 4000, -500), 1000, 1000, 500))
}

// pumpSet is what the pump's drawing asks for: four bolts at 600 x 400.
func pumpSet(name string) embed.Set {
	return embed.Set{
		Name: name, BoltName: "L-bolt M20x390 4.6 HDG", Material: mildSteel, Finish: galvanised, Thread: 100, Nuts: true,
		Pattern: embed.Grid(2, 2, 600, 400), Turns: []float64{0, 180, 0, 180}, // hooks inwards
		Bolt:     embed.Bolt{D: 20, Depth: 260, Out: 110, End: embed.L, Leg: 110},
		Template: &embed.Template{W: 720, H: 520, T: 8, Hole: 22, Under: 60},
	}
}

// pumpBolts: one assembly of template, bolts and nuts, 130 mm from the lower edge.
func pumpBolts(p host) {
	pumpSet("HD-1").Assembly(p.b, ib.Element{Tag: "HD-1", At: p.front(750, 330)})
}

// pumpBoltsInOne: the whole set as one fastener, its lower bolts 70 mm from the
// edge that moved.
func pumpBoltsInOne(p host) {
	pumpSet("HD-2").One(p.b, ib.Element{At: p.front(750, 270)})
}

// supportBolts: two L-bolts 106 mm from the lower edge; the hook of the second
// one is turned to it.
func supportBolts(p host) {
	embed.Set{
		Name: "SB-1", BoltName: "L-bolt M16x295 4.6 HDG", Material: mildSteel, Finish: galvanised,
		Pattern: embed.Grid(2, 1, 300, 0), Turns: []float64{90, 270},
		Bolt: embed.Bolt{D: 16, Depth: 200, Out: 80, End: embed.L, Leg: 100},
	}.Loose(p.b, ib.Element{At: p.front(600, 106)})
}

// clampBolts: two pipe supports of two bolts each, 260 apart, set out from the
// wrong centre: the inner two are 70 apart.
func clampBolts(p host) {
	bolt := embed.Bolt{D: 20, Depth: 250, Out: 90, End: embed.Headed, Form: embed.Extruded}
	t := p.b.Type(ib.Type{
		Class: "IfcMechanicalFastenerType", Name: "Hold-down bolt M20x350 4.6 HDG", Predefined: "ANCHORBOLT", Diameter: 20, Length: 350,
	})
	for i, x := range []float64{400, 660, 730, 990} {
		bolt.Add(p.b, ib.Element{
			Class: "IfcMechanicalFastener", Name: "Hold-down bolt", Tag: fmt.Sprintf("SB-2.%d", i+1), At: p.front(x, 450),
			Type: t, Material: mildSteel,
		})
	}
}

// columnBolts: J-bolts and template side by side, hooks inwards.
func columnBolts(p host) {
	embed.Set{
		Name: "HD-3", BoltName: "J-bolt M24x495 4.6 HDG", Material: mildSteel, Finish: galvanised, Thread: 120,
		Pattern: embed.Grid(2, 2, 300, 300), Turns: []float64{0, 180, 0, 180},
		Bolt:     embed.Bolt{D: 24, Depth: 340, Out: 130, End: embed.J, Leg: 120},
		Template: &embed.Template{W: 420, H: 420, T: 10, Hole: 26, Under: 70},
		Type: p.b.Type(ib.Type{
			Class: "IfcMechanicalFastenerType", Name: "J-bolt M24x495", Predefined: "ANCHORBOLT", Diameter: 24, Length: 494,
		}),
	}.Loose(p.b, ib.Element{At: p.front(800, 800)})
}

// ladderFeet: the bolts are to be embedded 120 and to stand out 45; the template
// was left on packers of 75.
func ladderFeet(p host) {
	const packers = 75
	embed.Set{
		Name: "LB-1", BoltName: "Cast-in bolt M20x180 4.6 HDG", Material: mildSteel,
		Pattern: embed.Grid(2, 1, 200, 0), Drawn: 45,
		Bolt:     embed.Bolt{D: 20, Depth: 120 - packers, Out: 45 + packers, End: embed.Headed},
		Template: &embed.Template{W: 300, H: 100, T: 8, Hole: 22, Under: packers},
		Finish:   append([]ib.PSet{{Name: "Setting out", Props: []ib.Prop{ib.Length("Embedment", 120)}}}, galvanised...),
	}.Loose(p.b, ib.Element{At: p.front(6400, 1500)})
}

// stairBolts: drawn to stand out 65, modelled 40 deeper.
func stairBolts(p host) {
	const sunk = 40
	embed.Set{
		Name: "HD-6", BoltName: "L-bolt M16x280 4.6 HDG", Material: mildSteel, Finish: galvanised,
		Pattern: embed.Grid(2, 1, 300, 0), Turns: []float64{90, 90}, Drawn: 65,
		Bolt: embed.Bolt{D: 16, Depth: 200 + sunk, Out: 65 - sunk, End: embed.L, Leg: 100},
	}.Loose(p.b, ib.Element{At: p.front(500, 500)})
}

// unnamedBolts: two L-bolts of which the model says nothing but their shape.
func unnamedBolts(p host) {
	bolt := embed.Bolt{D: 20, Depth: 260, Out: 90, End: embed.L, Leg: 110, Form: embed.Brep}
	for i, y := range []float64{3500, 3800} {
		bolt.Add(p.b, ib.Element{Class: "IfcBuildingElementProxy", Tag: fmt.Sprintf("HD-5.%d", i+1), At: p.front(6300, y)})
	}
}
