package check_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"embedcheck/internal/check"
	"embedcheck/internal/geom"
	ifc "embedcheck/internal/ifcbuild"
	"embedcheck/internal/model"
	"embedcheck/rules"
)

// block is a wall of 10 x 3 x 8 cells of 100 mm with cells taken out: what is
// concrete in it is known cell by cell.
type block struct {
	gone     [10][3][8]bool
	openings [][2][3]int // from cell, to cell
}

const cell = 100.0

// newBlock takes random boxes out, which share faces and edges, overlap, touch,
// end flush with the wall's faces or stand out of them. The first two rows of
// cells stay, for a bolt.
func newBlock(r *rand.Rand) *block {
	b := &block{}
	for range 1 + r.IntN(6) {
		var lo, hi [3]int
		for k, n := range [3]int{10, 3, 8} {
			first := -1
			if k == 0 {
				first = 2
			}
			lo[k] = first + r.IntN(n-first)
			hi[k] = lo[k] + 1 + r.IntN(3)
		}
		b.openings = append(b.openings, [2][3]int{lo, hi})
		for x := max(lo[0], 0); x < min(hi[0], 10); x++ {
			for y := max(lo[1], 0); y < min(hi[1], 3); y++ {
				for z := max(lo[2], 0); z < min(hi[2], 8); z++ {
					b.gone[x][y][z] = true
				}
			}
		}
	}
	return b
}

func (b *block) concrete(p geom.Vec) bool {
	x, y, z := int(math.Floor(p.X/cell)), int(math.Floor(p.Y/cell)), int(math.Floor(p.Z/cell))
	return x >= 0 && x < 10 && y >= 0 && y < 3 && z >= 0 && z < 8 && !b.gone[x][y][z]
}

func (b *block) volume() float64 {
	n := 0
	for x := range 10 {
		for y := range 3 {
			for z := range 8 {
				if !b.gone[x][y][z] {
					n++
				}
			}
		}
	}
	return float64(n) * cell * cell * cell
}

// level is the area of concrete at a height.
func (b *block) level(z float64) float64 {
	n := 0
	for x := range 10 {
		for y := range 3 {
			if b.concrete(geom.V((float64(x)+0.5)*cell, (float64(y)+0.5)*cell, z)) {
				n++
			}
		}
	}
	return float64(n) * cell * cell
}

// along is the length of concrete on a line, cell by cell.
func (b *block) along(o, d geom.Vec) float64 {
	var ts []float64
	for k := range 3 {
		ok, dk := [3]float64{o.X, o.Y, o.Z}[k], [3]float64{d.X, d.Y, d.Z}[k]
		for i := range 11 {
			if math.Abs(dk) > 1e-12 {
				ts = append(ts, (float64(i)*cell-ok)/dk)
			}
		}
	}
	slices.Sort(ts)
	sum := 0.0
	for i := 1; i < len(ts); i++ {
		if b.concrete(o.Add(d.Mul((ts[i-1] + ts[i]) / 2))) {
			sum += ts[i] - ts[i-1]
		}
	}
	return sum
}

// nearest is the distance of a point from the surface, face by face.
func (b *block) nearest(p geom.Vec) float64 {
	best := math.Inf(1)
	steps := [3]geom.Vec{{X: 1}, {Y: 1}, {Z: 1}}
	for x := -1; x < 10; x++ {
		for y := -1; y < 3; y++ {
			for z := -1; z < 8; z++ {
				c := geom.V(float64(x)+0.5, float64(y)+0.5, float64(z)+0.5).Mul(cell)
				for _, s := range steps {
					if b.concrete(c) == b.concrete(c.Add(s.Mul(cell))) {
						continue
					}
					half := geom.V(1, 1, 1).Sub(s).Mul(cell / 2)
					m := c.Add(s.Mul(cell / 2)) // middle of the face between two cells
					lo, hi := m.Sub(half), m.Add(half)
					q := geom.V(min(max(p.X, lo.X), hi.X), min(max(p.Y, lo.Y), hi.Y), min(max(p.Z, lo.Z), hi.Z))
					best = min(best, q.Dist(p))
				}
			}
		}
	}
	return best
}

// read writes the wall with a bolt in it and reads it as a host.
func (b *block) read(t *testing.T, s ifc.Schema, u ifc.Unit, place ifc.Option) *model.Host {
	t.Helper()
	out := ifc.New(s, u, place, ifc.Degrees())
	at := ifc.At(400, -300, 250).TurnZ(20)
	w := out.Wall("W", at, ifc.Block(ifc.V(0, 0, 0), ifc.V(1000, 300, 800))).Made("Concrete C32/40")
	corner := func(c [3]int) ifc.Vec { return ifc.V(float64(c[0]), float64(c[1]), float64(c[2])).Mul(cell) }
	for i, o := range b.openings {
		w.Open(fmt.Sprint("O", i), here, ifc.Block(corner(o[0]), corner(o[1])))
	}
	out.Add(ifc.Element{Class: "IfcMechanicalFastener", Predefined: "ANCHORBOLT", Name: "Bolt M16", At: at, Material: "Steel",
		Body: []ifc.Solid{ifc.Cylinder(ifc.V(100, 150, 600), ifc.V(100, 150, 860), 8)}})
	path := filepath.Join(t.TempDir(), "wall.ifc")
	if err := os.WriteFile(path, out.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	m, err := check.Read([]string{path}, check.Options{Workers: 1, Rules: rules.Builtin()})
	if err != nil {
		t.Fatal(err)
	}
	if len(m.Unread) > 0 || len(m.Hosts) != 1 || m.Hosts[0].Solid == nil {
		t.Fatalf("unread %v, %d hosts", m.Unread, len(m.Hosts))
	}
	return m.Hosts[0]
}

// A host less its openings gives the same answers wherever it stands, however it
// is turned, in whatever unit it is written: those of the cells it is made of.
func TestHostsAreTheSameEverywhere(t *testing.T) {
	turned := ifc.Facing(ifc.V(0, 0, 0), ifc.V(0.36, 0.48, 0.8), ifc.V(0.8, -0.6, 0))
	places := []struct {
		name string
		opt  ifc.Option
	}{
		{"here", ifc.Placed(ifc.At(0, 0, 0))},
		{"turned", ifc.Placed(turned)},
		{"on the map", ifc.Placed(ifc.At(4.5678e8, 5.8111e9, 31_000).TurnZ(-61))},
		{"far on the map", ifc.Placed(ifc.At(6.7e9, -6.7e9, 1e6).TurnZ(33).TurnX(7))},
		{"far on the map baked", ifc.Baked(ifc.At(6.7e9, 6.7e9, 1e6).TurnZ(33))},
	}
	for seed := range uint64(8) {
		b := newBlock(rand.New(rand.NewPCG(71, seed)))
		for i, p := range places {
			n := i + int(seed)
			s, u := []ifc.Schema{ifc.IFC2X3, ifc.IFC4, ifc.IFC4X3}[n%3], []ifc.Unit{ifc.MM, ifc.Metre, ifc.Inch, ifc.Foot}[n%4]
			t.Run(fmt.Sprintf("%d %s %v unit of %v mm", seed, p.name, s, u.MM()), func(t *testing.T) {
				b.holds(t, b.read(t, s, u, p.opt), rand.New(rand.NewPCG(72, seed)))
			})
		}
	}
}

func (b *block) holds(t *testing.T, h *model.Host, r *rand.Rand) {
	t.Helper()
	const tol = 0.01 // mm: map coordinates of 6.7e9 mm keep a thousandth at best
	near := func(what string, got, want, tol float64) {
		t.Helper()
		if !(math.Abs(got-want) <= tol) {
			t.Errorf("%s: %.9g, want %.9g", what, got, want)
		}
	}
	m := h.Solid.Mesh()
	if c := m.Closed(); !c.OK {
		t.Errorf("open: %s", c.Why)
	}
	near("volume", m.Volume(), b.volume(), b.volume()*1e-5)
	for i := range 8 {
		z := (float64(i) + 0.5) * cell
		area := 0.0
		for _, p := range m.Section(geom.PlaneAt(h.Frame.Apply(geom.V(0, 0, z)), h.Frame.Z)) {
			area += p.Area()
		}
		near(fmt.Sprintf("section at %g", z), area, b.level(z), 20)
	}
	for range 60 {
		p := geom.V(r.Float64()*1200-100, r.Float64()*500-100, r.Float64()*1000-100)
		d := geom.V(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()).Unit()
		q := h.Frame.Apply(p)
		if want := b.nearest(p); want > 2*tol {
			if got := h.Solid.Contains(q); got != b.concrete(p) {
				t.Errorf("contains %v: %v", p, got)
			}
			_, dist, _ := m.Nearest(q)
			near(fmt.Sprintf("surface from %v", p), dist, want, tol)
		}
		sum := 0.0
		for _, s := range h.Solid.Inside(q, h.Frame.Turn(d)) {
			sum += s.To.T - s.From.T
		}
		near(fmt.Sprintf("line through %v along %v", p, d), sum, b.along(p, d), 0.1)
	}
}
