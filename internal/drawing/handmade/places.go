package handmade

import (
	"fmt"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

var into = geom.V(0, 1, 0) // the front faces of walls look along -y

// Panel is a wall panel 3000 x 180 x 2500 with two layers of bars and an M20
// bolt 65 mm from its right edge, 600 mm above its foot.
func Panel(at geom.Affine) *Scene {
	s := New(at)
	h := s.Host("IfcWall", "WP-03", geom.BoxMesh(geom.V(0, 0, 0), geom.V(3000, 180, 2500)))
	s.Add(h, Rod{Kind: model.Bolt, Name: "HB-1", Size: "M20 x 260", Open: geom.V(2935, -100, 600), Dir: into, D: 20, Length: 260, Head: 13, HeadSize: 30})
	cage(s, 3000, 180, 2500)
	return s
}

// cage is two layers of bars every 200 mm, 30 mm inside the faces.
func cage(s *Scene, w, thick, ht float64) {
	for _, y := range [2]float64{36, thick - 36} {
		for x := 100.0; x < w; x += 200 {
			s.Bar(fmt.Sprintf("N12-V%.0f", x), 12, geom.V(x, y, 30), geom.V(x, y, ht-30))
		}
		for z := 100.0; z < ht; z += 200 {
			s.Bar(fmt.Sprintf("N10-H%.0f", z), 10, geom.V(30, y+11, z), geom.V(w-30, y+11, z))
		}
	}
}

// Lifter is a panel with a lifting anchor in its top edge and a bar through it.
func Lifter(at geom.Affine) *Scene {
	s := New(at)
	h := s.Host("IfcWall", "WP-07", geom.BoxMesh(geom.V(0, 0, 0), geom.V(4000, 160, 2600)))
	s.Add(h, Rod{Kind: model.Lifter, Name: "LA-2", Size: "dia 20 x 240", Open: geom.V(1000, 80, 2600), Dir: geom.V(0, 0, -1), D: 20, Length: 240, Head: 12, HeadSize: 50})
	s.Bar("N16-T1", 16, geom.V(30, 88, 2500), geom.V(3970, 88, 2500))
	s.Bar("N12-T2", 12, geom.V(30, 30, 2540), geom.V(3970, 30, 2540))
	return s
}

// PlateAtOpening is a wall with an opening and a plate 200 x 200 with four studs,
// 15 mm beside it.
func PlateAtOpening(at geom.Affine) *Scene {
	s := New(at)
	h := s.Host("IfcWall", "WP-11", geom.BoxMesh(geom.V(0, 0, 0), geom.V(5000, 200, 3000)),
		geom.BoxMesh(geom.V(1000, -10, 800), geom.V(1900, 210, 2000)))
	s.Plate(h, "CP-4", geom.V(885, 0, 1400), into, geom.V(1, 0, 0), 200, 200, 12, 70, 70)
	cage(s, 950, 200, 3000)
	return s
}

// Footing is a pad 800 x 800 x 400 with four J bolts that are too short, and
// their template.
func Footing(at geom.Affine) *Scene {
	s := New(at)
	h := s.Host("IfcFooting", "PF-2", geom.BoxMesh(geom.V(0, 0, 0), geom.V(800, 800, 400)))
	down := geom.V(0, 0, -1)
	var items []*model.Item
	for i, c := range [4]geom.Vec{{X: 280, Y: 280}, {X: 520, Y: 280}, {X: 520, Y: 520}, {X: 280, Y: 520}} {
		in := geom.V(1, 0, 0)
		if c.X > 400 {
			in = geom.V(-1, 0, 0)
		}
		items = append(items, s.Add(h, Rod{
			Kind: model.Bolt, Name: fmt.Sprintf("HD-%d", i+1), Size: "M24 x 330",
			Open: geom.V(c.X, c.Y, 520), Dir: down, D: 24, Length: 318, Hook: in,
		}))
	}
	items = append(items, s.Template(h, "T-1", geom.V(230, 230, 440), geom.V(570, 570, 446)))
	s.Set("HD", items...)
	for k := range 5 {
		t := 60 + 170*float64(k)
		s.Bar(fmt.Sprintf("N16-X%d", k+1), 16, geom.V(40, t, 60), geom.V(760, t, 60))
		s.Bar(fmt.Sprintf("N16-Y%d", k+1), 16, geom.V(t, 40, 76), geom.V(t, 760, 76))
	}
	return s
}
