package demo

import (
	ib "embedcheck/internal/ifcbuild"
	"embedcheck/internal/ifcbuild/embed"
)

// wallMats are the bars of a long wall: N12 at 200 on both faces, cover 40.
func wallMats(holes ...embed.Opening) embed.Mats {
	return embed.Mats{W: wallLength, H: wallHeight, T: wallThick, D: 12, Spacing: 200, First: 100, Cover: 40, Across: true, Holes: holes}
}

// bars: the reinforcement model. It holds no concrete.
func bars(b *ib.Builder) {
	wallMats(pipeOpening, louvre).Add(b, ib.Element{At: south(0, wallThick)}, "WP-01-B")
	trimmers(b)
	wallMats(outletOpening).Add(b, ib.Element{At: north(wallLength, 4000-wallThick)}, "WP-02-B")
	footingBars(b)
	pumpBaseBars(b)
}

// trimmers are the extra bars of the pipe opening, inside the mats: one beside it
// on each face, one above it in the middle.
func trimmers(b *ib.Builder) {
	o := pipeOpening
	var all [][2]ib.Vec
	for _, z := range []float64{72, wallThick - 72} {
		all = append(all, [2]ib.Vec{ib.V(o.X1+60, 40, z), ib.V(o.X1+60, o.Y1+700, z)})
	}
	all = append(all, [2]ib.Vec{ib.V(o.X0-700, o.Y1+60, wallThick/2), ib.V(o.X1+700, o.Y1+60, wallThick/2)})
	b.Add(ib.Element{
		Class: "IfcReinforcingBar", Name: "N16 trimmers", Tag: "WP-01-T", Diameter: 16, Grade: "500N",
		At: south(0, wallThick), Body: embed.Bars(all, 16),
	})
}

// footingBars: N16 mats of the monorail post's footing, cover 50. The column
// line was kept free of bars; one of those along y ended up beside two bolts:
// its axis is 28 mm from theirs.
func footingBars(b *ib.Builder) {
	xs := []float64{100, 300, 500, 800, 978, 1150, 1300, 1500}
	ys := []float64{100, 300, 500, 800, 1100, 1300, 1500}
	for _, m := range []struct {
		mark, name   string
		outer, inner float64
	}{
		{"CF-01-T", "N16 top", 600 - 50 - 8, 600 - 50 - 24},
		{"CF-01-B", "N16 bottom", 50 + 8, 50 + 24},
	} {
		var along, across [][2]ib.Vec
		for _, y := range ys {
			along = append(along, [2]ib.Vec{ib.V(50, y, m.outer), ib.V(1550, y, m.outer)})
		}
		for _, x := range xs {
			across = append(across, [2]ib.Vec{ib.V(x, 50, m.inner), ib.V(x, 1550, m.inner)})
		}
		for i, bars := range [][][2]ib.Vec{along, across} {
			b.Add(ib.Element{
				Class: "IfcReinforcingBar", Name: m.name + []string{", along x", ", along y"}[i], Tag: m.mark + []string{"X", "Y"}[i],
				Diameter: 16, Grade: "500N", At: lying(8000, 1200, -600), Body: embed.Bars(bars, 16),
			})
		}
	}
}

// pumpBaseBars: hairpins lie round the two bolts near the edge of pump base
// PB-01, 100 mm below the face: 48 mm are clear beside each bolt.
func pumpBaseBars(b *ib.Builder) {
	pin := ib.NewMap(embed.Hairpin(12, 140, 400, 24))
	var body []ib.Solid
	for _, x := range []float64{450, 1050} {
		// The back runs along x, 46 mm from the edge; the legs run inwards.
		body = append(body, pin.At(ib.Frame{O: ib.V(x, 46, 400), X: ib.V(0, 0, -1), Y: ib.V(1, 0, 0), Z: ib.V(0, -1, 0)}))
	}
	b.Add(ib.Element{
		Class: "IfcReinforcingBar", Name: "N12 hairpins", Tag: "PB-01-H", Diameter: 12, Grade: "500N",
		At: lying(800, 1000, 0), Body: body,
	})
}
