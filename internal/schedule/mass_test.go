package schedule

import (
	"math"
	"testing"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

func rod(from, to geom.Vec, d float64) model.Body {
	return model.Body{Rod: &geom.Rod{Path: []geom.Vec{from, to}, Radius: d / 2}}
}

func block(lo, hi geom.Vec) model.Body { return model.Body{Mesh: geom.BoxMesh(lo, hi)} }

// TestBarsWeighWhatTheTablesSay: the tables have three digits and are worked out
// as pi/4 d^2 x 7850 kg/m3.
func TestBarsWeighWhatTheTablesSay(t *testing.T) {
	for d, table := range barMass {
		it := &model.Item{Kind: model.Bolt, Bodies: []model.Body{rod(geom.V(5, 5, 0), geom.V(5, 5, -1000), d)}}
		it.Anchors = []*model.Anchor{{Item: it, Open: geom.V(5, 5, 0), Dir: geom.V(0, 0, -1), Length: 1000, Bearing: 1000, Deepest: 1000, Diameter: d}}
		m := massOf([]*model.Item{it})
		if math.Abs(m.kg-table) > 0.005*table || m.open != "" {
			t.Errorf("%g mm: %.4f kg/m, table %.3f", d, m.kg, table)
		}
		if kg, ok := barsByTable([]*model.Item{it}); !ok || math.Abs(kg-table) > 1e-9 {
			t.Errorf("%g mm by table: %.4f %v", d, kg, ok)
		}
		it.Anchors[0].Diameter += 0.2
		if _, ok := barsByTable([]*model.Item{it}); ok {
			t.Errorf("%g mm is in no table", it.Anchors[0].Diameter)
		}
	}
}

// TestPlatesWeighWhatTheTablesSay: 7.85 kg/m2 for each mm, as plate tables have it.
func TestPlatesWeighWhatTheTablesSay(t *testing.T) {
	it := &model.Item{Kind: model.Plate, Bodies: []model.Body{block(geom.V(0, 0, 0), geom.V(1000, 1000, 12))}}
	if m := massOf([]*model.Item{it}); math.Abs(m.kg-12*7.85) > 1e-6 {
		t.Errorf("%.4f kg", m.kg)
	}
}

// TestWhatIsInBothCountsOnce: the head of a stud is 32 x 8, its shank of 16 runs
// 100 through it; a nut 30 x 30 x 16 with and without its hole of 20.
func TestWhatIsInBothCountsOnce(t *testing.T) {
	stud := &model.Item{Kind: model.Stud, Bodies: []model.Body{rod(geom.V(0, 0, 0), geom.V(0, 0, 100), 16), rod(geom.V(0, 0, 100), geom.V(0, 0, 92), 32)}}
	want := math.Pi / 4 * (16*16*92 + 32*32*8)
	if v, _ := volumeOf(stud, []*model.Item{stud}); math.Abs(v-want) > 1e-6 {
		t.Errorf("a stud has %.1f mm3, want %.1f", v, want)
	}
	beside := &model.Item{Bodies: []model.Body{rod(geom.V(0, 0, 0), geom.V(0, 0, 100), 16), rod(geom.V(40, 0, 0), geom.V(40, 0, 100), 16)}}
	if v, _ := volumeOf(beside, nil); math.Abs(v-2*math.Pi*64*100) > 1e-6 {
		t.Errorf("two rods side by side have %.1f mm3", v)
	}

	bolt := &model.Item{Kind: model.Bolt, Bodies: []model.Body{rod(geom.V(0, 0, 0), geom.V(0, 0, -300), 20)}}
	bolt.Anchors = []*model.Anchor{{Item: bolt, Dir: geom.V(0, 0, -1), Length: 300, Bearing: 300, Deepest: 300, Diameter: 20}}
	shank := math.Pi * 100 * 300
	for _, c := range []struct {
		name string
		nut  *geom.Mesh
		add  float64
	}{
		{"without a hole", geom.BoxMesh(geom.V(-15, -15, -66), geom.V(15, 15, -50)), 900*16 - math.Pi*100*16},
		{"with a hole", geom.Subtract(geom.BoxMesh(geom.V(-15, -15, -66), geom.V(15, 15, -50)), geom.BoxMesh(geom.V(-10, -10, -70), geom.V(10, 10, -40))), (900 - 400) * 16},
		{"half on the end", geom.BoxMesh(geom.V(-15, -15, -308), geom.V(15, 15, -292)), 900*16 - math.Pi*100*8},
	} {
		nut := &model.Item{Kind: model.Fitting, Twin: true, Bodies: []model.Body{{Mesh: c.nut}}}
		all := []*model.Item{bolt, nut}
		if m := massOf(all); math.Abs(m.kg-(shank+c.add)*SteelDensity) > 1e-6 {
			t.Errorf("%s: %.5f kg, want %.5f", c.name, m.kg, (shank+c.add)*SteelDensity)
		}
	}
}

// TestAShankOfOneBodyKeepsItsVolume: without a rod of its own nothing is taken off.
func TestAShankOfOneBodyKeepsItsVolume(t *testing.T) {
	it := &model.Item{Kind: model.Lifter, Bodies: []model.Body{block(geom.V(-7, -7, -120), geom.V(7, 7, 0))}}
	it.Anchors = []*model.Anchor{{Item: it, Dir: geom.V(0, 0, -1), Length: 120, Deepest: 120, Diameter: 14}}
	if v, _ := volumeOf(it, []*model.Item{it}); math.Abs(v-14*14*120) > 1e-6 {
		t.Errorf("%.1f mm3", v)
	}
}

func TestMassesNobodyKnows(t *testing.T) {
	tube := model.Body{Rod: &geom.Rod{Path: []geom.Vec{{}, geom.V(0, 0, 600)}, Radius: 25, Inner: 23}}
	open := geom.BoxMesh(geom.V(0, 0, 0), geom.V(10, 10, 10))
	open = &geom.Mesh{Verts: open.Verts, Tris: open.Tris[1:]}
	for _, c := range []struct {
		name  string
		it    model.Item
		steel bool
		open  bool
	}{
		{"steel tube", model.Item{Kind: model.Sleeve, Ref: model.Ref{Material: "STEEL/S235"}, Bodies: []model.Body{tube}}, true, false},
		{"plastic tube", model.Item{Kind: model.Sleeve, Ref: model.Ref{Material: "PE 100"}, Bodies: []model.Body{tube}}, false, false},
		{"tube of nobody knows what", model.Item{Kind: model.Sleeve, Bodies: []model.Body{tube}}, false, true},
		{"rubber former", model.Item{Kind: model.Former, Bodies: []model.Body{tube}}, false, false},
		{"plate that is not closed", model.Item{Kind: model.Plate, Bodies: []model.Body{{Mesh: open}}}, false, true},
	} {
		m := massOf([]*model.Item{&c.it})
		if m.steel != c.steel || (m.open != "") != c.open || m.steel != (m.kg > 0) {
			t.Errorf("%s: %+v", c.name, m)
		}
	}
	if m := massOf([]*model.Item{{Kind: model.Sleeve, Ref: model.Ref{Material: "Steel"}, Bodies: []model.Body{tube}}}); math.Abs(m.kg-math.Pi*(625-529)*600*SteelDensity) > 1e-9 {
		t.Errorf("a tube weighs %.4f kg", m.kg)
	}
}
