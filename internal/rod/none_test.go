package rod

import (
	"math"
	"math/rand/v2"
	"testing"

	"embedcheck/internal/geom"
)

// others are bodies that are no round shanks.
func others() map[string]*geom.Mesh {
	rounding := func(w, h, r float64, k int) []geom.Vec {
		var out []geom.Vec
		for i, c := range rect(w-2*r, h-2*r) {
			for j := range k + 1 {
				sin, cos := math.Sincos(math.Pi * (1 + float64(i)/2 + float64(j)/2/float64(k)))
				out = append(out, c.Add(geom.V(r*cos, r*sin, 0)))
			}
		}
		return out
	}
	// the smallest distortion that is none of a round bar any more
	dented := ngon(geom.Vec{}, 9, 16, 0)
	for i := 9; i < 16; i += 2 {
		dented[i] = dented[i].Mul(0.89)
	}
	ellipse := ngon(geom.Vec{}, 10, 24, 0)
	for i := range ellipse {
		ellipse[i].Y *= 0.8
	}
	rounded := func(leg, r float64) []geom.Vec { // an angle's centreline with a rounded corner
		path := arc([]geom.Vec{{}, {X: leg}}, geom.V(1, 0, 0), geom.V(0, 0, 1), r, math.Pi/2, 6)
		return append(path, path[len(path)-1].Add(z(leg)))
	}
	var ring []geom.Vec
	for i := range 25 {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / 24)
		ring = append(ring, geom.V(60*cos, 0, 60*sin))
	}
	return map[string]*geom.Mesh{
		"nothing":                {},
		"one triangle":           {Verts: []geom.Vec{{}, {X: 1}, {Y: 1}}, Tris: [][3]int32{{0, 1, 2}}},
		"plate":                  extrude(rect(200, 150), nil, 10),
		"plate with a hole":      extrude(rect(200, 150), clockwise(ngon(geom.Vec{}, 11, 32, 0)), 10),
		"block":                  extrude(rect(100, 90), nil, 80),
		"block with a hole":      extrude(rect(60, 60), clockwise(ngon(geom.Vec{}, 11, 32, 0)), 200),
		"square bar":             extrude(rect(20, 20), nil, 400),
		"chamfered square bar":   extrude(rounding(20, 20, 3, 1), nil, 400),
		"rounded square bar":     extrude(rounding(20, 20, 5, 6), nil, 400),
		"stadium bar":            extrude(rounding(30, 20, 10, 8), nil, 400),
		"dented bar":             extrude(dented, nil, 200),
		"elliptic bar":           extrude(ellipse, nil, 400),
		"square bar round":       extrude(ngon(geom.Vec{}, 10, 4, 0), nil, 400),
		"short pentagonal bar":   extrude(ngon(geom.Vec{}, 10, 5, 0), nil, 51.9),
		"crooked pentagon":       extrude(crooked(), nil, 400),
		"half-round bar":         extrude(ngon(geom.Vec{}, 10, 24, 0)[:13], nil, 400),
		"three-quarter bar":      extrude(ngon(geom.Vec{}, 10, 24, 0)[:19], nil, 400),
		"hollow section":         extrude(rounding(60, 40, 8, 6), clockwise(rounding(52, 32, 4, 6)), 400),
		"angle":                  sheet([]geom.Vec{{}, {X: 60}, {X: 60, Z: 60}}, 6, 300),
		"rounded angle":          sheet(rounded(60, 12), 6, 300),
		"bent plate":             sheet(rounded(150, 30), 10, 60),
		"channel":                sheet([]geom.Vec{{Z: 30}, {}, {X: 50}, {X: 50, Z: 30}}, 3, 300),
		"nut":                    nut(36, 24, 21, 24),
		"nut without its hole":   extrude(ngon(geom.Vec{}, 20, 6, 0), nil, 20),
		"washer":                 extrude(ngon(geom.Vec{}, 22, 24, 0), clockwise(ngon(geom.Vec{}, 12.5, 24, 0)), 4),
		"disc":                   extrude(ngon(geom.Vec{}, 50, 32, 0), nil, 99),
		"short hexagonal bar":    extrude(ngon(geom.Vec{}, 10, 6, 0), nil, 51.9),
		"sphere":                 ball(20, 24, -20, 20),
		"half sphere":            ball(50, 32, 0, 50),
		"cone":                   revolve(24, 0, part{0, 0}, part{0, 20}, part{200, 10}, part{200, 0}),
		"slightly conical pin":   revolve(24, 0, part{0, 0}, part{0, 10}, part{200, 14}, part{200, 0}),
		"pyramid of eight":       revolve(8, 0, part{0, 0}, part{0, 20}, part{200, 0}),
		"two cones tip to tip":   revolve(16, 0, part{0, 0}, part{0, 20}, part{100, 0}, part{200, 20}, part{200, 0}),
		"hoop":                   hoop(ring[:24], geom.V(0, 1, 0), 6, 12),
		"ring cut open":          sweep(ring, 6, 12, 0, false, noCap),
		"arc without a straight": sweep(arc([]geom.Vec{{}}, z(1), geom.V(1, 0, 0), 200, 2, 12), 6, 12, 0, false, fanCap),
		"open half of a tube":    openHalf(),
		"hole in a wall inside out": func() *geom.Mesh { // only the sides of a bore
			m := sweep([]geom.Vec{{}, z(100)}, 10, 16, 0, false, noCap)
			b := extrude(rect(300, 300), nil, 100)
			for i, t := range m.Tris {
				m.Tris[i] = [3]int32{t[0], t[2], t[1]}
			}
			return merge(b, m)
		}(),
	}
}

// crooked are five corners on a circle, not evenly spaced.
func crooked() []geom.Vec {
	var out []geom.Vec
	for _, a := range []float64{0, 70, 144, 216, 288} {
		s, c := math.Sincos(a * math.Pi / 180)
		out = append(out, geom.V(10*c, 10*s, 0))
	}
	return out
}

func openHalf() *geom.Mesh {
	m := sweep([]geom.Vec{{}, z(300)}, 10, 16, 0, false, noCap)
	return &geom.Mesh{Verts: m.Verts, Tris: m.Tris[:len(m.Tris)/2]}
}

func TestFromMeshFindsNone(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 9))
	for name, m := range others() {
		t.Run(name, func(t *testing.T) {
			for k := range 20 {
				got := m
				if k > 0 {
					got = m.Transform(anyhow(rnd, 1e3))
				}
				if k&1 == 1 {
					got = tJunctions(got, rnd, 0.3)
				}
				if k&2 == 2 {
					got = soup(got, rnd)
				}
				if k&4 == 4 {
					got = rounded(got, 0.001)
				}
				for _, f := range FromMesh(got) {
					t.Errorf("variant %d: %.2f long with radius %.2f, %d sides", k, f.Length(), f.Radius, f.Sides)
				}
			}
		})
	}
}

// The other side of the limits that the bodies above fall short of.
func TestFromMeshAtTheLimits(t *testing.T) {
	for name, m := range map[string]*geom.Mesh{
		"pentagonal bar":           extrude(ngon(geom.Vec{}, 10, 5, 0), nil, 52),
		"hexagonal bar":            extrude(ngon(geom.Vec{}, 10, 6, 0), nil, 52),
		"disc as long as thick":    extrude(ngon(geom.Vec{}, 50, 32, 0), nil, 101),
		"heptagonal bar":           extrude(ngon(geom.Vec{}, 10, 7, 0), nil, 21),
		"hardly conical pin":       revolve(24, 0, part{0, 0}, part{0, 10}, part{200, 10.1}, part{200, 0}),
		"bar turned inside out":    inverted(extrude(ngon(geom.Vec{}, 10, 16, 0), nil, 100)),
		"bar without its ends":     sweep([]geom.Vec{{}, z(300)}, 10, 16, 0, false, noCap),
		"bar with 128 sides":       extrude(ngon(geom.Vec{}, 10, 128, 0), nil, 100),
		"bar with 360 sides":       extrude(ngon(geom.Vec{}, 10, 360, 0), nil, 100),
		"wire of 1 mm":             extrude(ngon(geom.Vec{}, 0.5, 8, 0), nil, 100),
		"pile of 600 mm":           extrude(ngon(geom.Vec{}, 300, 48, 0), nil, 12000),
		"nut as long as a coupler": extrude(ngon(geom.Vec{}, 10, 6, 0), clockwise(ngon(geom.Vec{}, 6, 12, 0)), 53),
	} {
		if got := FromMesh(m); len(got) != 1 {
			t.Errorf("%s: %d members, want 1", name, len(got))
		}
	}
}

func inverted(m *geom.Mesh) *geom.Mesh {
	out := &geom.Mesh{Verts: m.Verts}
	for _, t := range m.Tris {
		out.Tris = append(out.Tris, [3]int32{t[0], t[2], t[1]})
	}
	return out
}
