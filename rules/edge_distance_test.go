package rules

import (
	"testing"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

func TestEdgeDistance(t *testing.T) {
	at := func(kind model.Kind, x, d float64) func(*scene) {
		return func(s *scene) {
			c := bolt("A", x, 1800)
			c.kind, c.d = kind, d
			s.add(s.wallWithOpening("W"), c)
		}
	}
	for _, c := range []struct {
		name  string
		build func(*scene)
		want  []float64
	}{
		{"6 diameters", at(model.Bolt, 120, 20), nil},
		{"float noise below 6 diameters", at(model.Bolt, 120-1e-6, 20), nil},
		{"1 mm below 6 diameters", at(model.Bolt, 119, 20), []float64{119}},
		{"50 mm for a thin bolt", at(model.Bolt, 50, 8), nil},
		{"less for a thin bolt", at(model.Bolt, 49.9, 8), []float64{49.9}},
		{"socket", at(model.Socket, 119, 20), []float64{119}},
		{"stud, no multiple of its diameter", at(model.Stud, 50, 20), nil},
		{"stud", at(model.Stud, 49, 20), []float64{49}},
		{"lifter", at(model.Lifter, 50, 20), nil},
		{"lifter near", at(model.Lifter, 49, 20), []float64{49}},
		{"a sleeve is not asked", at(model.Sleeve, 10, 20), nil},
		{"upper edge", func(s *scene) { s.bolt(s.wall("W"), "A", 1500, 2381) }, []float64{119}},
		{"opening far", func(s *scene) { s.bolt(s.wallWithOpening("W"), "A", 880, 1000) }, nil},
		{"opening near", func(s *scene) { s.bolt(s.wallWithOpening("W"), "A", 881, 1000) }, []float64{119}},
		{"corner of the opening", func(s *scene) { s.bolt(s.wallWithOpening("W"), "A", 970, 760) }, []float64{50}},
		{"no host", func(s *scene) { s.add(nil, bolt("A", 10, 10)) }, nil},
		{"no entry face", func(s *scene) {
			c := bolt("A", 10, 10)
			c.noEntry = true
			s.add(s.wall("W"), c)
		}, nil},
		{"taper", func(s *scene) { s.bolt(s.host("IfcWall", "W", taper(40)), "A", 150, 1000) }, nil},
		{"steep taper", func(s *scene) { s.bolt(s.host("IfcWall", "W", taper(60)), "A", 150, 1000) }, []float64{150 - 60*146.98/200}},
		{"plate", func(s *scene) { s.plate(s.wall("W"), "P", 25, 1000, 250, 1200, 10) }, nil},
		{"plate near", func(s *scene) { s.plate(s.wall("W"), "P", 24, 1000, 250, 1200, 10) }, []float64{24}},
		{"plate near the opening", func(s *scene) { s.plate(s.wallWithOpening("W"), "P", 1100, 1420, 1300, 1600, 10) }, []float64{20}},
		{"plate beyond the edge is for plate-edge", func(s *scene) { s.plate(s.wall("W"), "P", -10, 1000, 250, 1200, 10) }, nil},
	} {
		check(t, EdgeDistance, Builtin(), c.name, c.want, c.build)
	}
}

// taper is a wall whose left-hand side leans inwards by d mm from face to face.
func taper(d float64) *geom.Mesh {
	m := boxMesh(geom.V(0, 0, 0), geom.V(3000, 200, 2500))
	for i, v := range m.Verts {
		if v.X == 0 && v.Y == 200 {
			m.Verts[i].X = d
		}
	}
	return m
}

func TestEdgeDistanceEntries(t *testing.T) {
	near := func(s *scene) { s.bolt(s.wall("W"), "A", 150, 1000) }
	for _, c := range []struct {
		limit Limit
		want  []float64
	}{
		{Limit{{Inch, 5.9}}, nil},
		{Limit{{Inch, 6}}, []float64{150}},
		{Limit{{Embedments, 1.02}}, nil}, // 147 mm deep
		{Limit{{Embedments, 1.03}}, []float64{150}},
		{Limit{{Thicknesses, 0.75}}, nil}, // 200 mm thick
		{Limit{{Thicknesses, 0.76}}, []float64{150}},
		{Limit{{MM, 10}, {Thicknesses, 0.76}, {Diameters, 1}}, []float64{150}},
	} {
		check(t, EdgeDistance, limitFor(EdgeDistance, c.limit...), c.limit.String(), c.want, near)
	}
}

func TestEdgeDistanceText(t *testing.T) {
	for _, c := range []struct {
		name  string
		build func(*scene)
		want  string
	}{
		{"left", func(s *scene) { s.bolt(s.wall("W"), "HB1", 65, 1000) },
			"65 mm from the axis of HB1 to the left-hand edge; 120 mm needed (6 diameters of 20 mm govern over 50 mm)."},
		{"right", func(s *scene) { s.bolt(s.wall("W"), "HB1", 2935, 1000) },
			"65 mm from the axis of HB1 to the right-hand edge; 120 mm needed (6 diameters of 20 mm govern over 50 mm)."},
		{"up", func(s *scene) { s.bolt(s.wall("W"), "HB1", 1500, 2435) },
			"65 mm from the axis of HB1 to the upper edge; 120 mm needed (6 diameters of 20 mm govern over 50 mm)."},
		{"opening", func(s *scene) { s.bolt(s.wallWithOpening("W"), "HB1", 935, 1000) },
			"65 mm from the axis of HB1 to the edge of opening OP-1 to its right; 120 mm needed (6 diameters of 20 mm govern over 50 mm)."},
		{"opening above", func(s *scene) { s.bolt(s.wallWithOpening("W"), "HB1", 1200, 735) },
			"65 mm from the axis of HB1 to the edge of opening OP-1 above it; 120 mm needed (6 diameters of 20 mm govern over 50 mm)."},
		{"top face", func(s *scene) {
			s.add(s.wall("W"), spec{kind: model.Bolt, name: "HB1", open: geom.V(1500, 100, 2600), dir: geom.V(0, 0, -1), d: 20, length: 400, head: 13})
		}, "100 mm from the axis of HB1 to the nearest edge; 120 mm needed (6 diameters of 20 mm govern over 50 mm)."},
		{"below the face", func(s *scene) { s.bolt(s.host("IfcWall", "W", taper(60)), "HB1", 150, 1000) },
			"105.9 mm from the axis of HB1 to the left-hand edge, 147 mm below the face; 120 mm needed (6 diameters of 20 mm govern over 50 mm)."},
		{"hardly", func(s *scene) { s.bolt(s.wall("W"), "HB1", 119.99, 1000) },
			"119.99 mm from the axis of HB1 to the left-hand edge; 120 mm needed (6 diameters of 20 mm govern over 50 mm)."},
		{"one of four", func(s *scene) {
			w := s.wall("W")
			s.set("HB-1", s.bolt(w, "b", 65, 1000), s.bolt(w, "b", 265, 1000), s.bolt(w, "b", 65, 1200), s.bolt(w, "b", 265, 1200))
		}, "65 mm from the axis of HB-1 bolt 1 to the left-hand edge; 120 mm needed (6 diameters of 20 mm govern over 50 mm). One more place."},
		{"plate", func(s *scene) { s.plate(s.wall("W"), "CP1", 15, 1000, 250, 1200, 10) },
			"15 mm from the outline of CP1 to the left-hand edge; 25 mm needed."},
	} {
		if got := text(t, EdgeDistance, Builtin(), c.build); got != c.want {
			t.Errorf("%s:\n got %s\nwant %s", c.name, got, c.want)
		}
	}
}
