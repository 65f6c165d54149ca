package rules

import (
	"strings"
	"testing"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// over is a steel plate in front of the face of a wall, between two corners, so
// many mm off the concrete, with round holes; the given anchors stand through it.
func (s *scene) over(name string, x0, z0, x1, z1, gap, thick float64, items ...*model.Item) *model.Sheet {
	p := &model.Sheet{
		Ref:   model.Ref{GlobalID: s.id("sheet"), Class: "IfcPlate", Name: name},
		Under: geom.PlaneAt(s.at.Apply(geom.V(0, -gap, 0)), s.at.Turn(geom.V(0, 1, 0))),
		Upper: geom.PlaneAt(s.at.Apply(geom.V(0, -gap-thick, 0)), s.at.Turn(geom.V(0, -1, 0))),
		Thick: thick,
	}
	for _, c := range [4]geom.Vec{{X: x0, Z: z0}, {X: x1, Z: z0}, {X: x1, Z: z1}, {X: x0, Z: z1}} {
		c.Y = -gap - thick
		p.Outline = append(p.Outline, s.at.Apply(c))
	}
	for _, it := range items {
		p.Anchors = append(p.Anchors, it.Anchors...)
	}
	s.m.Sheets = append(s.m.Sheets, p)
	return p
}

// template makes a plate the template of its bolts.
func (s *scene) template(p *model.Sheet) *model.Sheet {
	p.Item = &model.Item{Ref: p.Ref, Kind: model.Template, Box: geom.BoxOf(p.Outline...)}
	s.m.Items = append(s.m.Items, p.Item)
	return p
}

// standing is an M20 bolt at (x, z) in a wall that stands out so many mm.
func standing(name string, x, z, out float64) spec {
	c := bolt(name, x, z)
	c.open.Y, c.length = -out, 160+out
	return c
}

// underPlate is a bolt under a base plate of 20 mm, 30 mm off the concrete.
func underPlate(d, out float64) func(*scene) {
	return func(s *scene) {
		c := standing("A", 1000, 1000, out)
		c.d = d
		s.over("Base plate", 900, 900, 1100, 1100, 30, 20, s.add(s.wall("W"), c))
	}
}

// stating is a rule file that states the stack of all bolts.
func stating(g Given) *Set {
	return &Set{Name: "test", Rules: map[string]Change{Projection.ID: {Details: g}}}
}

func mm(v float64) Limit    { return Limit{{MM, v}} }
func count(n float64) Limit { return Limit{{Count, n}} }

func TestProjectionUnderABasePlate(t *testing.T) {
	checkAll(t, Projection, []sceneCase{
		// 30 + 20 + washer 3 + nut 18 + pitch 2.5 = 73.5
		{"long enough", Builtin(), underPlate(20, 73.5), nil},
		{"half a millimetre short", Builtin(), underPlate(20, 73), []float64{73}},
		// 1 in: 30 + 20 + 3/8 in + 63/64 in + 1/8 in = 87.7
		{"inch, long enough", Builtin(), underPlate(25.4, 87.8), nil},
		{"inch, short", Builtin(), underPlate(25.4, 87.6), []float64{87.6}},
		{"no plate: 2 diameters", Builtin(), func(s *scene) { s.add(s.wall("W"), standing("A", 1000, 1000, 40)) }, nil},
		{"a template counts for nothing", Builtin(), func(s *scene) {
			it := s.add(s.wall("W"), standing("A", 1000, 1000, 60))
			s.template(s.over("T", 900, 900, 1100, 1100, 50, 8, it))
		}, nil},
		{"a plate set into the concrete counts for nothing", Builtin(), func(s *scene) {
			s.over("P", 900, 900, 1100, 1100, -20, 20, s.add(s.wall("W"), standing("A", 1000, 1000, 42)))
		}, nil},
		{"two plates: the lower one", Builtin(), func(s *scene) {
			it := s.add(s.wall("W"), standing("A", 1000, 1000, 75))
			s.over("Cap", 900, 900, 1100, 1100, 60, 20, it)
			s.over("Base plate", 900, 900, 1100, 1100, 30, 20, it)
		}, nil},
		// 20 + 10 + 20 + 3 + 18 + 2.5 = 73.5
		{"a shim under the plate", Builtin(), func(s *scene) {
			it := s.add(s.wall("W"), standing("A", 1000, 1000, 73))
			s.over("Base plate", 900, 900, 1100, 1100, 30, 20, it)
			s.over("Shim", 900, 900, 1100, 1100, 20, 10, it)
		}, []float64{73}},
		{"the plate goes before the rule file", stating(Given{"grout": mm(60), "plate": mm(50)}), underPlate(20, 73.5), nil},
		{"spare thread of the rule file", stating(Given{"spare": mm(10)}), underPlate(20, 80.9), []float64{80.9}},
		{"modelled plate washer", Builtin(), func(s *scene) {
			underPlate(20, 80)(s)
			// 30 + 20 + 10 + 18 + 2.5 = 80.5
			s.m.Items[0].Anchors[0].Parts = []model.Part{{Kind: model.Nut, From: 2, To: 20, Size: 34.6}, {Kind: model.Washer, From: 20, To: 30, Size: 60}}
		}, []float64{80}},
		{"modelled lock nut", Builtin(), func(s *scene) {
			underPlate(20, 91)(s)
			// 30 + 20 + 3 + 36 + 2.5 = 91.5
			s.m.Items[0].Anchors[0].Parts = []model.Part{{Kind: model.Nut, From: 2, To: 20, Size: 34.6}, {Kind: model.Nut, From: 20, To: 38, Size: 34.6}, {Kind: model.Nut, From: 61, To: 79, Size: 34.6}}
		}, []float64{91}},
	})
}

func TestProjectionByTheStackOfTheRuleFile(t *testing.T) {
	out := func(mm float64) func(*scene) {
		return func(s *scene) { s.add(s.wall("W"), standing("A", 1000, 1000, mm)) }
	}
	full := Given{"grout": mm(25), "plate": Limit{{Inch, 1}}, "washers": count(2), "washer": mm(4), "nuts": count(2), "nut": mm(10), "spare": Limit{{Pitches, 2}}}
	for _, c := range []struct {
		name  string
		given Given
		out   float64
		want  []float64
	}{
		{"all stated", full, 83.4, nil}, // 25 + 25.4 + 8 + 20 + 5
		{"all stated, short", full, 83.3, []float64{83.3}},
		{"grout and plate", Given{"grout": mm(25), "plate": mm(20)}, 68.5, nil}, // + 3 + 18 + 2.5
		{"grout and plate, short", Given{"grout": mm(25), "plate": mm(20)}, 68.4, []float64{68.4}},
		{"less than 2 diameters", Given{"plate": mm(5)}, 40, nil},
	} {
		check(t, Projection, stating(c.given), c.name, c.want, out(c.out))
	}
	set := stating(full)
	set.For = []For{{Items: named("^A$"), Rules: map[string]Change{Projection.ID: {Details: Given{"nuts": count(1)}}}}}
	check(t, Projection, set, "one figure is changed, the others stay", []float64{73.3}, out(73.3)) // 73.4
	f := onlyScene(t, Projection, stating(full), out(60))
	if want := "A stands 60 mm out of the concrete; 83.4 mm out of it needed (25 mm of grout + 25.4 mm of plate + 8 mm of 2 washers + 20 mm of 2 nuts + 5 mm of spare thread)."; f.Message != want {
		t.Errorf("got %s", f.Message)
	}
	if want := "rule file test"; f.Source != want {
		t.Errorf("source %q, want %q", f.Source, want)
	}
	f = onlyScene(t, Projection, Builtin(), underPlate(20, 60))
	if want := "A stands 60 mm out of the concrete; 73.5 mm out of it needed (30 mm of gap + 20 mm of Base plate + 3 mm of washer + 18 mm of nut + 2.5 mm of spare thread)."; f.Message != want {
		t.Errorf("got %s", f.Message)
	}
	if !strings.HasPrefix(f.Source, "gap and plate as modelled; nut ISO 4032") || f.Instances[0].Governs != "stack" {
		t.Errorf("source %q, governs %q", f.Source, f.Instances[0].Governs)
	}
}

// An odd diameter has no nut in the tables: that is told, and a stated nut helps.
func TestStackOfAnOddDiameter(t *testing.T) {
	s := newScene(geom.Identity)
	underPlate(21, 70)(s)
	found, err := run([]*Rule{Projection, NotChecked}, s.m, Builtin(), 1)
	if err != nil {
		t.Fatal(err)
	}
	if len(found) != 1 || found[0].Message != "A: projection: no table has hardware for 21 mm; state nut, spare, washer in the stack of the rule file." {
		t.Errorf("got %+v", found)
	}
	given := Given{"nut": mm(20), "washer": mm(3), "spare": mm(3)} // 76
	check(t, Projection, stating(given), "stated nut", []float64{70}, underPlate(21, 70))
}
