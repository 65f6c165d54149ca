package demo

import (
	"fmt"

	ib "embedcheck/internal/ifcbuild"
	"embedcheck/internal/ifcbuild/embed"
)

// The long walls are 6400 x 3200 x 180. Their bars are 200 apart from 100 on,
// so that items set out in whole 200s stand in the middle between bars.
const (
	wallLength = 6400
	wallHeight = 3200
	wallThick  = 180
)

var (
	// pipeOpening was drawn from 3760 to 4360 first, and moved by 160.
	pipeOpening   = embed.Opening{X0: 3600, Y0: 600, X1: 4200, Y1: 1200}
	louvre        = embed.Opening{X0: 2000, Y0: 2200, X1: 3200, Y1: 2800}
	outletOpening = embed.Opening{X0: 4000, Y0: 800, X1: 4400, Y1: 1200}
)

func southWall(b *ib.Builder) host {
	return cast(b, "IfcWall", "WP-01", "South wall panel", south(0, wallThick), wallLength, wallHeight, wallThick)
}

func northWall(b *ib.Builder) host {
	return cast(b, "IfcWall", "WP-02", "North wall panel", north(wallLength, 4000-wallThick), wallLength, wallHeight, wallThick)
}

// panels: the walls of the chamber and the retaining wall panel.
func panels(b *ib.Builder) {
	south := southWall(b)
	south.opening("Pipe opening PO-1", pipeOpening)
	south.opening("Louvre LO-1", louvre)
	southItems(south)

	north := northWall(b)
	north.opening("Outlet PO-2", outletOpening)
	northItems(north)

	westItems(cast(b, "IfcWall", "WP-03", "West wall panel", west(wallThick, 3800), 3600, wallHeight, wallThick))

	// The east wall moved out by 400 when the chamber grew to 6400.
	const moved = 400
	eastItems(cast(b, "IfcWall", "WP-04", "East wall panel", east(6400-wallThick, 200), 3600, wallHeight, wallThick), moved)

	retainingWall(b)
}

// edgeLifters sets lifting inserts into the upper edge, in the middle of the
// thickness.
func (p host) edgeLifters(mark string, xs ...float64) {
	for i, x := range xs {
		p.lifter(fmt.Sprintf("%s.%d", mark, i+1), p.top(x, p.t/2), edgeLifter, ib.Element{})
	}
}

func southItems(p host) {
	p.edgeLifters("LI-1", 800, 2400, 4000, 5600) // about 8.4 t
	p.former("RF-1", p.top(800, p.t/2), edgeLifter)
	castInPlate("CP-1", 200, 200).Assembly(p.b, ib.Element{At: p.back(1000, 1400)})

	// Pipe brackets. The opening moved towards the first one: 55 mm are left.
	p.ferrule("F-1.1", p.back(pipeOpening.X0-55, 1000), ferrule16, embed.Swept)
	p.ferrule("F-1.2", p.back(3200, 1000), ferrule16, embed.Swept)
	p.ferrule("F-1.3", p.back(4600, 1000), ferrule16, embed.Swept)

	// Props, on the outside.
	p.ferrule("F-1.4", p.front(1000, 2000), ferrule20, embed.Extruded)
	p.ferrule("F-1.5", p.front(5400, 2000), ferrule20, embed.Extruded)

	// Set back by 20 in a round pocket of its own.
	sunk := ferrule16
	sunk.Sunk = 20
	at := p.front(2800, 1400)
	p.ferrule("F-1.6", at, sunk, embed.Swept)
	p.recess("Pocket F-1.6", at, ib.Cylinder(ib.V(0, 0, -20), ib.V(0, 0, 10), 50))
}

// former adds the rubber former that fills the recess of a lifting insert while
// the panel is cast.
func (p host) former(mark string, at ib.Frame, l embed.Lifter) {
	p.b.Add(ib.Element{
		Class: "IfcDiscreteAccessory", Name: "Recess former", Tag: mark, At: at,
		Body: []ib.Solid{l.Former()}, Material: "Rubber",
	})
}

func northItems(p host) {
	p.edgeLifters("LI-2", 800, 2400, 4000, 5600)
	castInPlate("CP-2", 200, 200).Nested(p.b, ib.Element{At: p.back(2000, 1800)})
	castInPlate("CP-3", 280, 200).Siblings(p.b, ib.Element{At: p.back(200, 1800)})
	for i, x := range []float64{1600, 2400, 3200} {
		p.ferrule(fmt.Sprintf("F-2.%d", i+1), p.back(x, 1400), ferrule16, embed.Facets)
	}
	p.ferrule("F-2.3", p.back(3200, 1400), ferrule16, embed.Facets) // pasted in a second time
}

func westItems(p host) {
	p.edgeLifters("LI-3", 400, 1200, 2400, 3200) // about 5 t
	for i, x := range []float64{600, 3000} {
		p.b.Add(ib.Element{
			Class: "IfcDiscreteAccessory", Name: "Grout tube 60x2x500", Tag: fmt.Sprintf("GT-3.%d", i+1),
			At: p.bottom(x, p.t/2), Body: []ib.Solid{embed.GroutTube(60, 2, 500, embed.Swept)}, Material: "Steel",
		})
		p.ferrule(fmt.Sprintf("F-3.%d", i+1), p.back(x+300, 1000), tailed16, embed.Swept)
	}
	channel := embed.Channel{Length: 300, W: 40, H: 22, T: 2.5, Slot: 18, Anchors: 2, End: 25, AnchorD: 8, AnchorL: 80}
	p.b.Add(ib.Element{
		Class: "IfcDiscreteAccessory", Name: "Cast-in channel 40x22x300", Tag: "CH-3.1", At: p.back(1800, 2000),
		Body: channel.Bodies(), Material: "Steel", Props: galvanised,
	})
}

func eastItems(p host, moved float64) {
	p.edgeLifters("LI-4", 400, 1200, 2400, 3200)
	p.ferrule("F-4.1", p.back(1000, 1500), ferrule16, embed.Swept)
	old := p
	old.at = p.at.Shift(0, 0, -moved)
	p.ferrule("F-4.2", old.back(1800, 1500), ferrule16, embed.Swept) // stayed behind
}

// retainingWall is 300 thick at its foot and 200 at its top: upright in front,
// sloping by 1 in 30 behind. The same bolt is set at three heights.
func retainingWall(b *ib.Builder) {
	p := host{b: b, at: south(8000, 6300), w: 4000, h: 3000, t: 300}
	p.ref = b.Add(ib.Element{
		Class: "IfcWall", Name: "RW-01", Tag: "RW-01", Description: "Retaining wall panel, 300 tapering to 200", At: p.at, Material: concrete,
		Body: []ib.Solid{ib.Clip{
			Of:     ib.Block(ib.V(0, 0, 0), ib.V(p.w, p.h, p.t)),
			Planes: []ib.Plane{{P: ib.V(0, 0, 0), N: ib.V(0, 1, -30)}},
		}},
	})
	bolt := embed.Bolt{D: 16, Depth: 200, Out: 60, End: embed.Headed, Form: embed.Facets}
	for _, c := range []struct {
		mark string
		x, y float64
	}{
		{"RB-1.1", 1000, 1650}, {"RB-1.2", 3000, 1650},
		{"RB-2.1", 1000, 2400}, {"RB-2.2", 3000, 2400},
		{"RB-3.1", 2000, 2880},
	} {
		bolt.Add(b, ib.Element{
			Class: "IfcMechanicalFastener", Predefined: "ANCHORBOLT", Name: "Headed anchor bolt M16x270 4.6 HDG", Tag: c.mark,
			At: p.front(c.x, c.y), Material: mildSteel,
		})
	}
	for i, x := range []float64{600, 1500, 2500, 3400} { // about 7.2 t
		p.lifter(fmt.Sprintf("LI-5.%d", i+1), p.top(x, 200), edgeLifter, ib.Element{})
	}
}
