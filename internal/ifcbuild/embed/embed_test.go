package embed_test

import (
	"math"
	"strings"
	"testing"

	ib "embedcheck/internal/ifcbuild"
	"embedcheck/internal/ifcbuild/embed"
	"embedcheck/internal/ifcbuild/spfcheck"
)

var forms = []struct {
	name string
	f    embed.Form
}{{"swept", embed.Swept}, {"extruded", embed.Extruded}, {"brep", embed.Brep}, {"facets", embed.Facets}}

// Boxes worked out by hand: an M20 bolt, embedded 300, standing out 100.
func TestBoxes(t *testing.T) {
	for _, c := range []struct {
		name   string
		body   func(embed.Form) []ib.Solid
		lo, hi ib.Vec
	}{
		{"L: leg of 110 outside from the back of the shank, hook below the embedment",
			func(f embed.Form) []ib.Solid {
				return embed.Bolt{D: 20, Depth: 300, Out: 100, End: embed.L, Leg: 110, Form: f}.Bodies()
			}, ib.V(-10, -10, -320), ib.V(100, 10, 100)},
		{"J: bend of 30 inside, the short leg 80 away",
			func(f embed.Form) []ib.Solid {
				return embed.Bolt{D: 20, Depth: 300, Out: 100, End: embed.J, Leg: 80, Form: f}.Bodies()
			}, ib.V(-10, -10, -320), ib.V(90, 10, 100)},
		{"headed: head of 12.5, 30 across the flats, 34.6 across the corners",
			func(f embed.Form) []ib.Solid {
				return embed.Bolt{D: 20, Depth: 300, Out: 100, End: embed.Headed, Form: f}.Bodies()
			}, ib.V(-17.32, -15, -312.5), ib.V(17.32, 15, 100)},
		{"nut and washer plate: 12 + 18 + 5 below the embedment",
			func(f embed.Form) []ib.Solid {
				return embed.Bolt{D: 20, Depth: 300, Out: 100, End: embed.Nutted, Washer: 80, Thick: 12, Form: f}.Bodies()
			}, ib.V(-40, -40, -335), ib.V(40, 40, 100)},
		{"plain rod",
			func(f embed.Form) []ib.Solid { return embed.Bolt{D: 20, Depth: 300, Out: 100, Form: f}.Bodies() },
			ib.V(-10, -10, -300), ib.V(10, 10, 100)},
		{"ferrule sunk 20 with a cross bar",
			func(f embed.Form) []ib.Solid {
				return embed.Ferrule{Thread: 16, OD: 22, Length: 95, Cross: 100, CrossD: 12, CrossZ: 15, Sunk: 20, Form: f}.Bodies()
			}, ib.V(-50, -11, -115), ib.V(50, 11, -20)},
		{"ferrule with a tail bar of 200",
			func(f embed.Form) []ib.Solid {
				return embed.Ferrule{Thread: 16, OD: 22, Length: 95, Tail: 200, TailD: 12, Form: f}.Bodies()
			}, ib.V(-11, -11, -295), ib.V(11, 11, 0)},
		{"lifter of 170 with its head 10 below the face",
			func(f embed.Form) []ib.Solid {
				return embed.Lifter{Shank: 14, Length: 170, Head: 26, HeadT: 8, Foot: 35, FootT: 8, Sunk: 10, Form: f}.Bodies()
			}, ib.V(-17.5, -17.5, -180), ib.V(17.5, 17.5, -10)},
		{"channel 300 long with two anchors of 80",
			func(f embed.Form) []ib.Solid {
				return embed.Channel{Length: 300, W: 40, H: 22, T: 2.5, Slot: 18, Anchors: 2, End: 25, AnchorD: 8, AnchorL: 80, Form: f}.Bodies()
			}, ib.V(-150, -20, -102), ib.V(150, 20, 0)},
		{"grout tube", func(f embed.Form) []ib.Solid { return []ib.Solid{embed.GroutTube(60, 2, 500, f)} },
			ib.V(-30, -30, -500), ib.V(30, 30, 0)},
		{"hairpin", func(embed.Form) []ib.Solid { return []ib.Solid{embed.Hairpin(12, 100, 400, 24)} },
			ib.V(-6, -50, -400), ib.V(6, 50, 6)},
	} {
		for _, f := range forms {
			t.Run(c.name+", "+f.name, func(t *testing.T) {
				b := ib.New(ib.IFC4, ib.MM)
				r := b.Proxy("item", ib.At(0, 0, 0), c.body(f.f)...)
				got := box(t, b, r)
				for k, want := range [6]float64{c.lo.X, c.lo.Y, c.lo.Z, c.hi.X, c.hi.Y, c.hi.Z} {
					have := [6]float64{got.Min[0], got.Min[1], got.Min[2], got.Max[0], got.Max[1], got.Max[2]}[k]
					slack := 0.01 // samples of a circle
					if f.f != embed.Swept {
						slack = 0.9 // 16 sides, and arcs as chords of 10 degrees
					}
					if math.Abs(have-want) > slack {
						t.Errorf("box %v to %v, want %v to %v", got.Min, got.Max, c.lo, c.hi)
						break
					}
				}
			})
		}
	}
}

func box(t *testing.T, b *ib.Builder, r ib.Ref) spfcheck.Box {
	t.Helper()
	f, err := spfcheck.Parse(b.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	got, err := f.Box(r.ID, 1)
	if err != nil {
		t.Fatal(err)
	}
	return got
}

func TestDeepestIsThatOfTheBodies(t *testing.T) {
	for _, e := range []embed.End{embed.Plain, embed.L, embed.J, embed.Headed, embed.Nutted} {
		bolt := embed.Bolt{D: 24, Depth: 340, Out: 120, End: e, Leg: 130, Washer: 90, Thick: 15}
		b := ib.New(ib.IFC4, ib.MM)
		got := box(t, b, bolt.Add(b, ib.Element{Name: "bolt"}))
		if d := -got.Min[2] - bolt.Deepest(); math.Abs(d) > 0.01 {
			t.Errorf("end %d: Deepest() = %v, the body reaches %v", e, bolt.Deepest(), -got.Min[2])
		}
		if d := got.Max[2] - got.Min[2] - bolt.Length(); math.Abs(d) > 0.01 {
			t.Errorf("end %d: Length() = %v, the body is %v long", e, bolt.Length(), got.Max[2]-got.Min[2])
		}
	}
}

// A panel of 2000 x 1000 with bars at 200 from 100 on, cover 40, and a hole of
// 600 x 400: 10 and 5 lines; of the 10 upright lines 3 (x = 700, 900, 1100) are
// cut in two; of the 5 lines along, those at 300 and 500 are.
func TestMatsAreTrimmed(t *testing.T) {
	m := embed.Mats{W: 2000, H: 1000, T: 180, D: 12, Spacing: 200, First: 100, Cover: 40, Across: true,
		Holes: []embed.Opening{{X0: 600, Y0: 200, X1: 1200, Y1: 600}}}
	want := []int{5 + 2, 10, 10, 5 + 2} // above the hole the upright bars go on, below it 120 mm are too short
	for i, l := range m.Layers() {
		if len(l.Bars) != want[i] {
			t.Errorf("%s: %d bars, want %d", l.Name, len(l.Bars), want[i])
		}
		depth := []float64{46, 58, 122, 134}[i]
		for _, c := range l.Bars {
			if c[0].Z != depth || c[1].Z != depth {
				t.Errorf("%s: bar at depth %v, want %v", l.Name, c[0].Z, depth)
			}
			for _, p := range c {
				if p.X > 600-40 && p.X < 1200+40 && p.Y > 200-40 && p.Y < 600+40 {
					t.Errorf("%s: bar ends at %v, in the hole or its cover", l.Name, p)
				}
			}
		}
	}
}

func TestPlatesComeInEveryForm(t *testing.T) {
	p := embed.Plate{W: 200, H: 200, T: 12, Stud: embed.Stud{D: 16, Length: 100, Head: 32, HeadT: 8}, Pattern: embed.Grid(2, 2, 100, 100), Name: "Cast-in plate", Tag: "CP-1"}
	if p.Embedment() != 104 || p.Deepest() != 112 {
		t.Errorf("embedment %v, deepest %v, want 104 and 112", p.Embedment(), p.Deepest())
	}
	for _, c := range []struct {
		name             string
		add              func(*ib.Builder)
		elements, wholes int
	}{
		{"one element", func(b *ib.Builder) { p.One(b, ib.Element{}) }, 1, 0},
		{"assembly", func(b *ib.Builder) { p.Assembly(b, ib.Element{}) }, 5, 1},
		{"nested", func(b *ib.Builder) { p.Nested(b, ib.Element{}) }, 5, 5},
		{"siblings", func(b *ib.Builder) { p.Siblings(b, ib.Element{}) }, 5, 0},
	} {
		b := ib.New(ib.IFC4, ib.MM)
		c.add(b)
		text := string(b.Bytes())
		elements := strings.Count(text, "=IFCDISCRETEACCESSORY(") + strings.Count(text, "=IFCMECHANICALFASTENER(")
		wholes := strings.Count(text, "=IFCELEMENTASSEMBLY(")
		if elements != c.elements || wholes != c.wholes {
			t.Errorf("%s: %d elements in %d assemblies, want %d in %d", c.name, elements, wholes, c.elements, c.wholes)
		}
	}
}

func TestSetsComeInEveryForm(t *testing.T) {
	s := embed.Set{
		Name: "HD-1", BoltName: "L-bolt M20x420", Pattern: embed.Grid(2, 2, 500, 350), Turns: []float64{180, 0, 180, 0}, Nuts: true,
		Bolt:     embed.Bolt{D: 20, Depth: 300, Out: 100, End: embed.L, Leg: 110},
		Template: &embed.Template{W: 600, H: 450, T: 8, Hole: 22, Under: 40},
	}
	b := ib.New(ib.IFC4, ib.MM)
	_, bolts := s.Assembly(b, ib.Element{})
	if len(bolts) != 4 {
		t.Fatalf("%d bolts, want 4", len(bolts))
	}
	one := s.One(b, ib.Element{})
	f, err := spfcheck.Parse(b.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	// Bolt 2 stands at (250, -175), its hook to +x: 250 + 100 is the tip.
	got, err := f.Box(bolts[1].ID, 1)
	if err != nil || math.Abs(got.Max[0]-350) > 0.01 || math.Abs(got.Min[2]+320) > 0.01 {
		t.Errorf("bolt 2: box %v, %v; want its hook to reach 350, 320 below", got, err)
	}
	// All hooks point outwards along x, the nuts lie within the bolts' box.
	got, err = f.Box(one.ID, 1)
	if err != nil || math.Abs(got.Max[0]-350) > 0.01 || math.Abs(got.Min[0]+350) > 0.01 || math.Abs(got.Max[2]-100) > 0.01 {
		t.Errorf("one fastener: box %v, %v", got, err)
	}
	if n := strings.Count(string(b.Bytes()), "Hexagon nut M20"); n != 8 {
		t.Errorf("%d nuts, want two for each of four bolts", n)
	}
}
