package demo

import (
	"fmt"

	ib "embedcheck/internal/ifcbuild"
	"embedcheck/internal/ifcbuild/embed"
)

// columnAndStair: IFC2X3, in which accessories have no predefined type: their
// object type says what they are. Beams stand for whatever has a profile.
func columnAndStair(b *ib.Builder) {
	column(b)
	parapet(b)
	landing(b)
	flight(b)
}

// column: 400 x 400, with a corbel that is an element of its own, both in one
// assembly with what is cast into them.
func column(b *ib.Builder) {
	whole := b.Add(ib.Element{Class: "IfcElementAssembly", Name: "CO-01", Tag: "CO-01", At: ib.At(5000, 1800, 20)})
	part := func(class, name string, body ib.Solid) {
		b.Add(ib.Element{Class: class, Name: name, Tag: name, Of: whole, Material: concrete, Body: []ib.Solid{body}})
	}
	part("IfcColumn", "CO-01", ib.Extrude{Profile: ib.Rect{W: 400, H: 400, Name: "400*400"}, At: ib.At(200, 200, 0), Depth: 3600})
	part("IfcBeam", "CO-01-K", ib.Extrude{Profile: ib.Rect{W: 300, H: 400, Name: "CORBEL300*400"}, At: ib.At(-150, 200, 2380), Depth: 400})

	// The plate is centred on the load and reaches 15 mm beyond the corbel; its
	// studs are set back.
	embed.Plate{
		W: 250, H: 250, T: 16, Stud: stud12, Pattern: []ib.XY{{X: -20, Y: -60}, {X: 60, Y: -60}, {X: -20, Y: 60}, {X: 60, Y: 60}},
		Name: "Cast-in plate 250x250x16", Tag: "CP-7", Material: plates, Finish: galvanised2X3,
	}.Siblings(b, ib.Element{Of: whole, At: ib.At(-190, 200, 2780)})

	for i, c := range embed.Grid(2, 2, 200, 200) {
		b.Add(ib.Element{
			Class: "IfcDiscreteAccessory", Name: "Grout tube 50x2x600", Tag: fmt.Sprintf("GT-7.%d", i+1), ObjectType: "Sleeve", Of: whole,
			At:   ib.Facing(ib.V(200+c.X, 200+c.Y, 0), ib.V(0, 0, -1), ib.V(1, 0, 0)),
			Body: []ib.Solid{embed.GroutTube(50, 2, 600, embed.Extruded)}, Material: "Steel",
		})
	}
	socket(b, "FS-7.1", whole, ib.Facing(ib.V(400, 200, 1600), ib.V(1, 0, 0), ib.V(0, 1, 0)), ferrule16)
}

var galvanised2X3 = []ib.PSet{{Name: "Finish", Props: []ib.Prop{ib.Label("Finish", "Galvanised")}}}

// socket adds a ferrule as IFC2X3 has it.
func socket(b *ib.Builder, mark string, of ib.Ref, at ib.Frame, f embed.Ferrule) {
	f.Form = embed.Brep
	b.Add(ib.Element{
		Class: "IfcDiscreteAccessory", Name: fmt.Sprintf("Ferrule M%gx%g", f.Thread, f.Length), ObjectType: "Fixing socket", Tag: mark,
		Of: of, At: at, Body: f.Bodies(), Material: "Steel",
		Props: append([]ib.PSet{{Name: "Pset_DiscreteAccessoryFixingSocket", Props: []ib.Prop{
			ib.Length("FixingSocketHeight", f.Length), ib.Length("FixingSocketThreadDiameter", f.Thread),
		}}}, galvanised2X3...),
	})
}

// parapet: a panel of 4000 x 1500 x 180 as a beam in an assembly, as drawing
// programs for frames model walls; its lifting inserts are beams too.
func parapet(b *ib.Builder) {
	p := host{b: b, at: south(0, 14180), w: 4000, h: 1500, t: 180}
	whole := b.Add(ib.Element{Class: "IfcElementAssembly", Name: "WP-05", Tag: "WP-05", At: p.at})
	p.at = ib.At(0, 0, 0) // parts are placed in the assembly
	p.ref = b.Add(ib.Element{
		Class: "IfcBeam", Name: "WP-05", Tag: "WP-05", ObjectType: "PNL180*1500", Of: whole, Material: concrete,
		// Drawn along its length, as a beam: the profile stands across it.
		Body: []ib.Solid{ib.Extrude{
			Profile: ib.Rect{W: p.h, H: p.t, Name: "PNL180*1500"}, Depth: p.w,
			At: ib.Frame{O: ib.V(0, p.h/2, p.t/2), X: ib.V(0, 1, 0), Y: ib.V(0, 0, 1), Z: ib.V(1, 0, 0)},
		}},
	})
	flush := edgeLifter
	flush.Sunk, flush.Form = 0, embed.Extruded
	for i, x := range []float64{800, 3200} {
		at := p.top(x, p.t/2)
		b.Add(ib.Element{
			Class: "IfcBeam", Name: "Lifting anchor 2.5 t", Tag: fmt.Sprintf("LI-8.%d", i+1), ObjectType: "D14", Of: whole, At: at,
			Body: flush.Bodies(), Material: "Steel", Props: galvanised2X3,
		})
		b.Add(ib.Element{
			Class: "IfcDiscreteAccessory", Name: "Recess former", Tag: fmt.Sprintf("RF-8.%d", i+1), Of: whole, At: at,
			Body: []ib.Solid{flush.Former()}, Material: "Rubber",
		})
	}
	socket(b, "FS-8.1", whole, p.front(1000, 700), ferrule12)
	socket(b, "FS-8.2", whole, p.front(2000, 1456), ferrule12) // set out from the wrong edge
	socket(b, "FS-8.3", whole, p.front(3000, 700), ferrule12)
}

// landing: 1200 x 1000 x 300 with two foundation bolts. The second one's text
// says M20, its shape is that of the M16 it was copied from.
func landing(b *ib.Builder) {
	p := cast(b, "IfcSlab", "LA-01", "Landing", lying(13000, 2000, 0), 1200, 1000, 300)
	bolt := embed.Bolt{D: 16, Depth: 250, Out: 70, End: embed.L, Leg: 100, Curve: ib.Polyline}
	for i, d := range []float64{16, 20} {
		b.Add(ib.Element{
			Class: "IfcDiscreteAccessory", Name: fmt.Sprintf("Foundation bolt M%gx335 4.6", d), ObjectType: "Foundation bolt",
			Tag: fmt.Sprintf("FB-9.%d", i+1), At: p.front(300+600*float64(i), 500).TurnZ(90),
			Body: bolt.Bodies(), Material: mildSteel,
			Props: append([]ib.PSet{{Name: "Pset_DiscreteAccessoryAnchorBolt", Props: []ib.Prop{
				ib.Length("AnchorBoltLength", 336), ib.Length("AnchorBoltDiameter", d), ib.Length("AnchorBoltProtrusionLength", 70),
			}}}, galvanised2X3...),
		})
	}
}

// flight: eight risers of 175, going 280, 1000 wide, with a lifting socket in the
// second and the sixth tread. The soffit runs at the slope of the steps; it
// starts 350 behind the first riser, which makes the waist 218.75 x 280 / 330.2
// = 185 thick.
func flight(b *ib.Builder) {
	const rise, going, steps, width, foot = 175, 280, 8, 1000, 350
	outline := []ib.XY{{X: 0, Y: 0}}
	for i := range steps {
		x, y := float64(i*going), float64((i+1)*rise)
		outline = append(outline, ib.XY{X: x, Y: y}, ib.XY{X: x + going, Y: y})
	}
	outline = append(outline, ib.XY{X: steps * going, Y: (steps*going - foot) * rise / float64(going)}, ib.XY{X: foot, Y: 0})
	// x of the outline runs along the flight, y up; the width along world -y.
	at := ib.Facing(ib.V(14300, 3000, 0), ib.V(0, -1, 0), ib.V(1, 0, 0))
	b.Add(ib.Element{
		Class: "IfcStairFlight", Name: "SF-01", Tag: "SF-01", Description: "Stair flight", At: at, Material: concrete,
		Body: []ib.Solid{ib.Extrude{Profile: ib.Poly{Outer: ccw(outline)}, Depth: width}},
	})
	for i, n := range []int{1, 5} {
		place := at.Mul(ib.Facing(ib.V(float64(n*going)+140, float64((n+1)*rise), width/2), ib.V(0, 1, 0), ib.V(0, 0, 1)))
		f := embed.Ferrule{Thread: 16, OD: 22, Length: 130, Cross: 120, CrossD: 12, CrossZ: 15, Form: embed.Extruded}
		b.Add(ib.Element{
			Class: "IfcDiscreteAccessory", Name: "Lifting socket M16x130", ObjectType: "Fixing socket", Tag: fmt.Sprintf("LS-10.%d", i+1),
			At: place, Body: f.Bodies(), Material: "Steel", Props: galvanised2X3,
		})
	}
}

// ccw is the outline the other way round: steps were counted upwards.
func ccw(outline []ib.XY) []ib.XY {
	out := make([]ib.XY, len(outline))
	for i, p := range outline {
		out[len(outline)-1-i] = p
	}
	return out
}
