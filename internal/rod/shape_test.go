package rod

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"embedcheck/internal/geom"
)

// gridPlate is a plate of cells side by side, each with a hole in the middle
// that goes through.
func gridPlate(nx, ny int, cell, thick, r float64, n int) *geom.Mesh {
	s := newSolid()
	up := z(thick)
	for ix := range nx {
		for iy := range ny {
			c := geom.V(cell*float64(ix), cell*float64(iy), 0)
			square := make([]geom.Vec, 4)
			for i, p := range rect(cell, cell) {
				square[i] = p.Add(c)
			}
			hole := clockwise(ngon(c, r, n, 0.1))
			for _, t := range strip(square, hole) {
				s.tri(t[0].Add(up), t[1].Add(up), t[2].Add(up))
				s.tri(t[0], t[2], t[1])
			}
			for i := range hole {
				a, b := hole[i], hole[(i+1)%n]
				s.quad(a, b, b.Add(up), a.Add(up))
			}
			for i, at := range [4]bool{iy == 0, ix == nx-1, iy == ny-1, ix == 0} {
				if a, b := square[i], square[(i+1)%4]; at {
					s.quad(a, b, b.Add(up), a.Add(up))
				}
			}
		}
	}
	return s.mesh()
}

func TestClassify(t *testing.T) {
	stud := revolve(16, 0, part{0, 0}, part{0, 8}, part{92, 8}, part{92, 16}, part{100, 16}, part{100, 0})
	none := others()
	cases := []struct {
		name string
		mesh *geom.Mesh
		form Form
	}{
		{"plate", none["plate"], Flat},
		{"plate with a hole", none["plate with a hole"], Flat},
		{"washer", none["washer"], Flat},
		{"flat bar", extrude(rect(400, 40), nil, 8), Flat},
		{"plate with six holes", gridPlate(3, 2, 100, 12, 11, 20), Flat},
		{"plate with six studs of one solid", studPlate(3, 2, 100, 12, 9.5, 16, 150, 16, 10), Flat},
		{"plate with two studs of their own", merge(extrude(rect(300, 120), nil, 10), moved(stud, -90, 0, 10), moved(stud, 90, 0, 10)), Flat},
		{"plate with one stud", merge(extrude(rect(100, 100), nil, 10), moved(stud, 0, 0, 10)), Flat},
		{"rod with end plate", merge(sweep([]geom.Vec{{}, z(600)}, 10, 16, 0, false, fanCap), moved(extrude(rect(70, 70), nil, 10), 0, 0, 600)), Round},
		{"headed stud", stud, Round},
		{"L bolt", lBolt(), Round},
		{"tube", revolve(24, 0, part{0, 10}, part{0, 12}, part{90, 12}, part{90, 10}, part{0, 10}), Round},
		{"nut", none["nut"], Hexagonal},
		{"hexagon", none["nut without its hole"], Hexagonal},
		{"channel", none["channel"], Bar},
		{"angle", none["angle"], Bar},
		{"rounded angle", none["rounded angle"], Bar},
		{"hollow section", none["hollow section"], Bar},
		{"square bar", none["square bar"], Bar},
		{"block", none["block"], Block},
		{"cube", extrude(rect(80, 80), nil, 80), Block},
		{"sphere", none["sphere"], Irregular},
		{"half sphere", none["half sphere"], Irregular},
		{"cone", none["cone"], Irregular},
		{"bent plate", none["bent plate"], Bar},
		{"short angle", sheet([]geom.Vec{{}, {X: 60}, {X: 60, Z: 60}}, 6, 30), Bar},
		{"square bar more than twice as long as wide", extrude(rect(20, 20), nil, 40.1), Bar},
		{"block almost twice as long as wide", extrude(rect(20, 20), nil, 39.9), Block},
		{"one triangle", none["one triangle"], Thin},
		{"nothing", none["nothing"], Irregular},
		{"foil", extrude(rect(200, 150), nil, 0.2), Thin},
	}
	rnd := rand.New(rand.NewPCG(2, 8))
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			for k := range 8 {
				m := c.mesh
				if k > 0 {
					m = m.Transform(anyhow(rnd, 1e3))
				}
				if k&1 == 1 {
					m = tJunctions(m, rnd, 0.3)
				}
				if k&2 == 2 {
					m = soup(m, rnd)
				}
				if k&4 == 4 {
					m = rounded(m, 0.001)
				}
				if got := Classify(m).Form; got != c.form {
					t.Errorf("variant %d: %v, want %v", k, got, c.form)
				}
			}
		})
	}
}

func TestClassifyPlate(t *testing.T) {
	rnd := rand.New(rand.NewPCG(4, 4))
	for k := range 20 {
		f := anyhow(rnd, 1e4)
		m := gridPlate(3, 2, 100, 12, 11, 20).Transform(f)
		if k&1 == 1 {
			m = rounded(soup(tJunctions(m, rnd, 0.2), rnd), 0.001)
		}
		p := Classify(m).Plate
		if p == nil {
			t.Fatal("no plate")
		}
		if !near([]float64{p.Length, p.Width, p.Thickness}, []float64{300, 200, 12}, 0.01) {
			t.Errorf("%.3f x %.3f x %.3f, want 300 x 200 x 12", p.Length, p.Width, p.Thickness)
		}
		if !p.Bare {
			t.Error("nothing stands on this plate")
		}
		checkOutline(t, p, f, -50, 250, -50, 150)
		if len(p.Holes) != 6 {
			t.Fatalf("%d holes, want 6", len(p.Holes))
		}
		seen := map[string]bool{}
		for _, h := range p.Holes {
			c := f.Local(h.Center)
			seen[fmt.Sprintf("%.0f %.0f", c.X/100, c.Y/100)] = true
			if math.Abs(h.Diameter-22) > 0.05 || c.Sub(geom.V(math.Round(c.X/100)*100, math.Round(c.Y/100)*100, c.Z)).Norm() > 0.05 {
				t.Errorf("hole of %.3f at %.3f", h.Diameter, c)
			}
			if math.Abs(h.Center.Sub(p.Outline[0]).Dot(p.Normal)) > 0.01 || h.Axis.Dot(p.Normal) > -0.999 {
				t.Error("hole does not start in the outer face")
			}
		}
		if len(seen) != 6 {
			t.Errorf("holes at %v", seen)
		}
	}
}

// The outer face of a plate with studs is the one without them, whichever way
// round the plate was modelled.
func TestClassifyPlateWithStuds(t *testing.T) {
	rnd := rand.New(rand.NewPCG(4, 5))
	for range 10 {
		f := anyhow(rnd, 1e4)
		ms, s := Analyse(studPlate(3, 2, 100, 12, 9.5, 16, 150, 16, 10).Transform(f))
		p := s.Plate
		if p == nil || len(ms) != 6 {
			t.Fatal("no plate or not six studs")
		}
		if n := p.Normal.Dot(f.Z); n > -0.9999 {
			t.Errorf("outer face looks along the studs: %.3f", n)
		}
		if p.Bare || math.Abs(p.Thickness-12) > 1e-3 || len(p.Holes) != 0 {
			t.Errorf("bare %v, thickness %.3f, %d holes", p.Bare, p.Thickness, len(p.Holes))
		}
		checkOutline(t, p, f, -50, 250, -50, 150)
	}
}

func checkOutline(t *testing.T, p *Plate, f geom.Affine, x0, x1, y0, y1 float64) {
	t.Helper()
	if len(p.Outline) != 4 {
		t.Fatalf("outline of %d corners: %.2f", len(p.Outline), p.Outline)
	}
	if n := geom.NewellNormal(p.Outline); n.Dot(p.Normal) <= 0 {
		t.Error("outline runs clockwise seen from outside")
	}
	for _, c := range p.Outline {
		q := f.Local(c)
		if math.Min(math.Abs(q.X-x0), math.Abs(q.X-x1)) > 0.01 || math.Min(math.Abs(q.Y-y0), math.Abs(q.Y-y1)) > 0.01 {
			t.Errorf("corner at %.3f", q)
		}
	}
}

func TestClassifyNut(t *testing.T) {
	rnd := rand.New(rand.NewPCG(4, 6))
	for range 10 {
		f := anyhow(rnd, 1e3)
		s := Classify(nut(36, 25, 21.5, 24).Transform(f))
		if s.Hex == nil {
			t.Fatal("no hexagon")
		}
		h := s.Hex
		if !near([]float64{h.Flats, h.Hole, h.Height}, []float64{36, 25, 21.5}, 1e-3) {
			t.Errorf("flats %.3f hole %.3f height %.3f, want 36, 25, 21.5", h.Flats, h.Hole, h.Height)
		}
		if f.Local(h.Center).Dist(z(10.75)) > 1e-3 || math.Abs(h.Axis.Dot(f.Z)) < 0.99999 {
			t.Errorf("centre %.3f axis %.3f", f.Local(h.Center), h.Axis)
		}
	}
}

// The box against a search over many directions that shares nothing with it.
func TestOrientedBoxIsSmall(t *testing.T) {
	rnd := rand.New(rand.NewPCG(6, 6))
	for _, c := range []struct {
		name string
		mesh *geom.Mesh
	}{
		{"plate", extrude(rect(200, 150), nil, 10)},
		{"angle", others()["angle"]},
		{"L bolt", lBolt()},
		{"nut", nut(36, 25, 21.5, 24)},
	} {
		m := c.mesh.Transform(anyhow(rnd, 100))
		b := Classify(m).Box
		for _, p := range m.Verts {
			for k := range 3 {
				if d := math.Abs(p.Sub(b.Center).Dot(b.Axes[k])); d > b.Dims[k]/2+1e-6 {
					t.Fatalf("%s: vertex %.3f outside the box along side %d", c.name, d-b.Dims[k]/2, k)
				}
			}
		}
		if v := b.Axes[0].Cross(b.Axes[1]).Dot(b.Axes[2]); math.Abs(v-1) > 1e-9 || b.Dims[0] < b.Dims[1] || b.Dims[1] < b.Dims[2] {
			t.Errorf("%s: frame %v dims %v", c.name, b.Axes, b.Dims)
		}
		volume := b.Dims[0] * b.Dims[1] * b.Dims[2]
		for range 3000 {
			f := anyhow(rnd, 0)
			box := geom.EmptyBox
			for _, p := range m.Verts {
				box = box.Add(f.Local(p))
			}
			if s := box.Size(); s.X*s.Y*s.Z < volume-1e-6 {
				t.Fatalf("%s: a box of %.0f mm3 beats %.0f", c.name, s.X*s.Y*s.Z, volume)
			}
		}
	}
}

func BenchmarkAnalyse(b *testing.B) {
	m := studPlate(3, 2, 100, 12, 9.5, 16, 150, 16, 10)
	b.Run(fmt.Sprintf("plate with studs/triangles=%d", len(m.Tris)), func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			Analyse(m)
		}
	})
}
