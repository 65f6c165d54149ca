package rod

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"embedcheck/internal/geom"
)

// want is a member that a body must give, in the body's own coordinates.
type want struct {
	a, b   geom.Vec
	r      float64
	inside float64   // of the hook; 0 for none
	deep   float64   // of the hook's surface
	heads  []float64 // From, To, From, To, ...
	inner  float64
	bore   float64
	either bool // nothing tells the ends apart
	closed bool // the bends at both ends lead into each other
	loose  bool // facets that hold the surface only to a few tenths
}

type bodyCase struct {
	name string
	mesh *geom.Mesh
	want []want
}

func z(v float64) geom.Vec { return geom.V(0, 0, v) }

func moved(m *geom.Mesh, x, y, zz float64) *geom.Mesh {
	return m.Transform(geom.Identity.Shift(geom.V(x, y, zz)))
}

// laid turns the z axis of a body into the given direction and moves it.
func laid(m *geom.Mesh, o, dir geom.Vec) *geom.Mesh {
	return m.Transform(geom.FrameZX(o, dir, geom.Vec{}))
}

func bodies() []bodyCase {
	var out []bodyCase
	add := func(name string, m *geom.Mesh, w ...want) { out = append(out, bodyCase{name, m, w}) }

	for _, n := range []int{5, 6, 7, 8, 12, 24, 36, 64} {
		for _, mitred := range []bool{false, true} {
			for _, chords := range []int{1, 2, 5, 8} {
				if chords == 1 && !mitred {
					continue // a ring square to one leg is no section of the other
				}
				if n == 5 && chords == 2 && !mitred {
					continue // steps of 45 degrees squeeze five sides by half a millimetre
				}
				add(fmt.Sprintf("L sides=%d chords=%d mitred=%v", n, chords, mitred),
					sweep(hooked(300, 40, math.Pi/2, 60, chords), 10, n, 0.3, mitred, fanCap),
					want{b: z(-300), r: 10, inside: 330, deep: 350, loose: n == 5 && !mitred})
			}
			add(fmt.Sprintf("J sides=%d mitred=%v", n, mitred),
				sweep(hooked(200, 30, math.Pi, 40, 9), 8, n, 0, mitred, centreCap),
				want{b: z(-200), r: 8, inside: 222, deep: 238})
		}
		add(fmt.Sprintf("J without leg sides=%d", n),
			sweep(hooked(200, 30, 2.4, 0, 7), 8, n, 0.1, false, fanCap),
			want{b: z(-200), r: 8, inside: 222, deep: 238, loose: n == 5})
		add(fmt.Sprintf("plain sides=%d", n),
			sweep([]geom.Vec{{}, z(400)}, 12, n, 0, false, fanCap),
			want{b: z(400), r: 12, either: true})
		add(fmt.Sprintf("plain in pieces sides=%d", n),
			sweep([]geom.Vec{{}, z(20), z(21), z(180), z(350), z(400)}, 12, n, 0, false, centreCap),
			want{b: z(400), r: 12, either: true})
		add(fmt.Sprintf("hook of 135 degrees sides=%d", n),
			sweep(hooked(200, 30, math.Pi*3/4, 40, 6), 8, n, 0, false, fanCap),
			want{b: z(-200), r: 8, inside: 222, deep: 238})
	}
	for _, n := range []int{8, 16, 32} {
		add(fmt.Sprintf("headed stud sides=%d", n),
			revolve(n, 0, part{0, 0}, part{0, 8}, part{120, 8}, part{120, 16}, part{130, 16}, part{130, 0}),
			want{b: z(130), r: 8, heads: []float64{120, 130}})
		add(fmt.Sprintf("headed stud upside down sides=%d", n),
			revolve(n, 0, part{0, 0}, part{0, 16}, part{10, 16}, part{10, 8}, part{120, 8}, part{120, 0}),
			want{a: z(120), b: z(0), r: 8, heads: []float64{110, 120}})
		add(fmt.Sprintf("foot with cone, chamfered end sides=%d", n),
			revolve(n, 0, part{0, 0}, part{0, 6}, part{2, 8}, part{100, 8}, part{108, 20}, part{116, 20}, part{116, 0}),
			want{b: z(116), r: 8, heads: []float64{100, 116}})
		add(fmt.Sprintf("socket sides=%d", n),
			revolve(n, 0, part{40, 0}, part{40, 8}, part{0, 8}, part{0, 12}, part{70, 12}, part{70, 0}),
			want{b: z(70), r: 12, inner: 8, bore: 40})
		add(fmt.Sprintf("socket mouth up sides=%d", n),
			revolve(n, 0, part{0, 0}, part{0, 12}, part{70, 12}, part{70, 8}, part{25, 8}, part{25, 0}),
			want{a: z(70), b: z(0), r: 12, inner: 8, bore: 45})
		add(fmt.Sprintf("tube sides=%d", n),
			revolve(n, 0, part{0, 10}, part{0, 12}, part{90, 12}, part{90, 10}, part{0, 10}),
			want{b: z(90), r: 12, inner: 10, bore: 90, either: true})
		add(fmt.Sprintf("socket with tail of one solid sides=%d", n),
			revolve(n, 0, part{40, 0}, part{40, 8}, part{0, 8}, part{0, 12}, part{70, 12}, part{70, 6}, part{270, 6}, part{270, 0}),
			want{b: z(70), r: 12, inner: 8, bore: 40},
			want{a: z(70), b: z(270), r: 6, either: true})
		add(fmt.Sprintf("socket with tail of its own sides=%d", n),
			merge(revolve(n, 0, part{40, 0}, part{40, 8}, part{0, 8}, part{0, 12}, part{70, 12}, part{70, 0}),
				sweep([]geom.Vec{z(55), z(270)}, 6, n, 0, false, fanCap)),
			want{b: z(70), r: 12, inner: 8, bore: 40},
			want{a: z(55), b: z(270), r: 6, either: true})
		add(fmt.Sprintf("collar in the middle of one solid sides=%d", n),
			revolve(n, 0, part{0, 0}, part{0, 8}, part{100, 8}, part{100, 14}, part{106, 14}, part{106, 8}, part{300, 8}, part{300, 0}),
			want{a: z(300), b: z(0), r: 8, heads: []float64{194, 200}})
		add(fmt.Sprintf("thread of a thinner cylinder sides=%d", n),
			revolve(n, 0, part{0, 0}, part{0, 10}, part{300, 10}, part{300, 8.5}, part{380, 8.5}, part{380, 0}),
			want{b: z(380), r: 10, either: true})
		add(fmt.Sprintf("rounded ends sides=%d", n),
			revolve(n, 0, part{-8, 0}, part{-6, 5}, part{0, 8}, part{200, 8}, part{206, 5}, part{208, 0}),
			want{a: z(-8), b: z(208), r: 8, either: true})
	}
	add("rod with two nuts",
		merge(sweep([]geom.Vec{{}, z(600)}, 12, 24, 0, false, fanCap), moved(nut(36, 24.5, 21, 24), 0, 0, 20), moved(nut(36, 24.5, 21, 24), 0, 0, 560)),
		want{b: z(600), r: 12, heads: []float64{20, 41, 560, 581}, either: true})
	add("rod with nut and washer plate",
		merge(sweep([]geom.Vec{{}, z(600)}, 12, 24, 0, false, fanCap),
			moved(nut(36, 24.5, 21, 24), 0, 0, 560),
			moved(extrude(rect(60, 60), clockwise(ngon(geom.Vec{}, 12.5, 24, 0)), 8), 0, 0, 552)),
		want{b: z(600), r: 12, heads: []float64{552, 560, 560, 581}})
	add("rod with welded end plate",
		merge(sweep([]geom.Vec{{}, z(300)}, 10, 16, 0, false, fanCap), moved(extrude(rect(70, 70), nil, 10), 0, 0, 300)),
		want{b: z(310), r: 10, heads: []float64{300, 310}})
	add("bolt with hexagon head",
		merge(sweep([]geom.Vec{z(0), z(150)}, 8, 20, 0, false, fanCap), moved(extrude(ngon(geom.Vec{}, 24/math.Sqrt(3), 6, 0), nil, 10), 0, 0, 150)),
		want{b: z(160), r: 8, heads: []float64{150, 160}})
	add("U-bar",
		sweep(uBar(300, 40, 200), 8, 16, 0.2, false, fanCap),
		want{b: z(-300), r: 8, inside: 332, deep: 348},
		want{a: geom.V(280, 0, 0), b: geom.V(280, 0, -300), r: 8, inside: 332, deep: 348})
	add("hairpin",
		sweep(hooked(300, 40, math.Pi, 300, 10), 8, 16, 0.2, false, fanCap),
		want{b: z(-300), r: 8, inside: 332, deep: 348},
		want{a: geom.V(80, 0, 0), b: geom.V(80, 0, -300), r: 8, inside: 332, deep: 348})
	add("L of two solids that meet at a corner",
		merge(sweep([]geom.Vec{{}, z(-300)}, 10, 16, 0, false, fanCap), sweep([]geom.Vec{z(-300), geom.V(80, 0, -300)}, 10, 16, 0, false, fanCap)),
		want{b: z(-300), r: 10, inside: 290, deep: 310})
	add("L of two solids, the leg from the face of the shank",
		merge(sweep([]geom.Vec{{}, z(-310)}, 10, 16, 0, false, fanCap), sweep([]geom.Vec{geom.V(10, 0, -300), geom.V(80, 0, -300)}, 10, 16, 0, false, fanCap)),
		want{b: z(-300), r: 10, inside: 290, deep: 310})
	add("J of three solids",
		merge(sweep([]geom.Vec{{}, z(-200)}, 8, 12, 0, false, fanCap),
			sweep(hooked(200, 30, math.Pi, 0, 8)[1:], 8, 12, 0, false, fanCap),
			sweep([]geom.Vec{geom.V(60, 0, -200), geom.V(60, 0, -160)}, 8, 12, 0, false, fanCap)),
		want{b: z(-200), r: 8, inside: 222, deep: 238})
	for _, n := range []int{8, 12, 24} {
		add(fmt.Sprintf("L of twisted facets sides=%d", n),
			twisted(hooked(300, 40, math.Pi/2, 60, 10), 10, n),
			want{b: z(-300), r: 10, inside: 330, deep: 350, loose: true})
		add(fmt.Sprintf("J of twisted facets sides=%d", n),
			twisted(hooked(200, 30, math.Pi, 0, 14), 8, n),
			want{b: z(-200), r: 8, inside: 222, deep: 238, loose: true})
		add(fmt.Sprintf("bar of twisted facets sides=%d", n),
			twisted([]geom.Vec{{}, z(300)}, 8, n),
			want{b: z(300), r: 8, either: true, loose: true})
	}
	for _, n := range []int{8, 20} {
		var ws []want
		for ix := range 3 {
			for iy := range 2 {
				x, y := 100*float64(ix), 100*float64(iy)
				ws = append(ws, want{a: geom.V(x, y, 0), b: geom.V(x, y, 162), r: 9.5, heads: []float64{0, 12, 152, 162}})
			}
		}
		add(fmt.Sprintf("plate with six studs of one solid sides=%d", n),
			studPlate(3, 2, 100, 12, 9.5, n, 150, 16, 10), ws...)
	}
	add("plate and two studs of their own",
		merge(extrude(rect(300, 120), nil, 10),
			moved(revolve(16, 0, part{0, 0}, part{0, 8}, part{92, 8}, part{92, 16}, part{100, 16}, part{100, 0}), -90, 0, 10),
			moved(revolve(16, 0, part{0, 0}, part{0, 8}, part{92, 8}, part{92, 16}, part{100, 16}, part{100, 0}), 90, 0, 10)),
		want{a: geom.V(-90, 0, 0), b: geom.V(-90, 0, 110), r: 8, heads: []float64{0, 10, 102, 110}},
		want{a: geom.V(90, 0, 0), b: geom.V(90, 0, 110), r: 8, heads: []float64{0, 10, 102, 110}})
	add("cranked bar",
		sweep([]geom.Vec{{}, z(300), geom.V(40, 0, 400), geom.V(40, 0, 550)}, 10, 16, 0, true, fanCap),
		want{b: z(300), r: 10, inside: 540, deep: 550})
	add("bolt through a template",
		merge(lBolt(), moved(extrude(rect(300, 200), clockwise(ngon(geom.Vec{}, 11, 24, 0)), 6), 80, 0, -40),
			moved(nut(30, 20.5, 16, 24), 0, 0, -34)),
		want{b: z(-300), r: 10, inside: 330, deep: 350, heads: []float64{18, 34, 34, 40}})
	add("socket with a cross bar through its end",
		merge(revolve(16, 0, part{40, 0}, part{40, 8}, part{0, 8}, part{0, 12}, part{70, 12}, part{70, 0}),
			laid(sweep([]geom.Vec{z(-75), z(75)}, 5, 12, 0, false, fanCap), z(60), geom.V(1, 0, 0))),
		want{b: z(70), r: 12, inner: 8, bore: 40},
		want{a: geom.V(-75, 0, 60), b: geom.V(75, 0, 60), r: 5, either: true})
	seam := ngon(geom.Vec{}, 9, 16, 0)
	seam[3] = seam[2].Lerp(seam[4], 0.5) // a corner left out, a point on the chord instead
	seam = append(seam, seam[15].Lerp(seam[0], 0.5).Mul(0.999))
	add("bar with a bad seam", extrude(seam, nil, 200), want{b: z(200), r: 9, either: true})
	halves := ngon(geom.Vec{}, 9, 16, 0)
	for i := 9; i < 16; i += 2 {
		halves[i] = halves[i].Mul(0.92)
	}
	add("bar of two halves that differ", extrude(halves, nil, 200), want{b: z(200), r: 9, either: true})
	add("spool",
		revolve(12, 0, part{0, 0}, part{0, 13}, part{5, 13}, part{8, 7}, part{165, 7}, part{168, 13}, part{170, 13}, part{170, 0}),
		want{b: z(170), r: 7, heads: []float64{0, 8, 165, 170}, either: true})
	add("head longer than wide",
		revolve(16, 0, part{0, 0}, part{0, 6}, part{200, 6}, part{200, 10}, part{225, 10}, part{225, 0}),
		want{b: z(225), r: 6, heads: []float64{200, 225}})
	add("link of two straights and two half rings",
		hoop(func() []geom.Vec {
			path := arc([]geom.Vec{{}, z(300)}, z(1), geom.V(1, 0, 0), 30, math.Pi, 8)
			path = append(path, geom.V(60, 0, 0))
			path = arc(path, z(-1), geom.V(-1, 0, 0), 30, math.Pi, 8)
			return path[:len(path)-1]
		}(), geom.V(0, 1, 0), 8, 12),
		want{b: z(300), r: 8, either: true, closed: true})
	add("four bolts in one mesh",
		merge(moved(lBolt(), 0, 0, 0), moved(lBolt(), 200, 0, 0), moved(lBolt(), 0, 150, 0), moved(lBolt(), 200, 150, 0)),
		want{b: z(-300), r: 10, inside: 330, deep: 350},
		want{a: geom.V(200, 0, 0), b: geom.V(200, 0, -300), r: 10, inside: 330, deep: 350},
		want{a: geom.V(0, 150, 0), b: geom.V(0, 150, -300), r: 10, inside: 330, deep: 350},
		want{a: geom.V(200, 150, 0), b: geom.V(200, 150, -300), r: 10, inside: 330, deep: 350})
	return out
}

func lBolt() *geom.Mesh { return sweep(hooked(300, 40, math.Pi/2, 60, 6), 10, 12, 0, false, fanCap) }

// uBar is two legs down from z = 0, bends of the given radius, and a base.
func uBar(leg, radius, base float64) []geom.Vec {
	path := hooked(leg, radius, math.Pi/2, base, 6)
	x := path[len(path)-1].X
	for i := 7; i >= 0; i-- {
		p := path[i]
		path = append(path, geom.V(x+radius-p.X, 0, p.Z))
	}
	return path
}

func TestFromMesh(t *testing.T) {
	for _, c := range bodies() {
		t.Run(c.name, func(t *testing.T) {
			checkMembers(t, FromMesh(c.mesh), c.want, geom.Identity, 1e-3)
		})
	}
}

// Every body in other places and triangulations. Positions are rounded as files
// round them, so the tolerances are the ones that users rely on.
func TestFromMeshAnyhow(t *testing.T) {
	rnd := rand.New(rand.NewPCG(11, 3))
	for _, c := range bodies() {
		t.Run(c.name, func(t *testing.T) {
			for k := range 6 {
				f := anyhow(rnd, []float64{0, 100, 1e4, 1e6}[k%4])
				m := c.mesh.Transform(f)
				how := fmt.Sprint("turned ", k)
				if k&1 == 1 {
					m, how = tJunctions(m, rnd, 0.3), how+", T-junctions"
				}
				if k >= 2 {
					m, how = soup(m, rnd), how+", soup"
				}
				if k >= 4 {
					m, how = rounded(m, 0.001), how+", rounded"
				}
				if !checkMembers(t, FromMesh(m), c.want, f, 0.1) {
					t.Fatal(how)
				}
			}
		})
	}
}

func checkMembers(t *testing.T, got []Member, wants []want, f geom.Affine, tol float64) bool {
	t.Helper()
	ok := true
	bad := func(format string, args ...any) { t.Helper(); t.Errorf(format, args...); ok = false }
	if len(got) != len(wants) {
		for i := range got {
			t.Logf("got %v %v radius %.3f", f.Local(got[i].A), f.Local(got[i].B), got[i].Radius)
		}
		bad("got %d members, want %d", len(got), len(wants))
		return false
	}
	exact := tol
	for _, w := range wants {
		place := exact
		if tol = exact; w.loose {
			tol, place = 0.1, 0.25
		}
		a, b := f.Apply(w.a), f.Apply(w.b)
		from := got
		if w.closed { // either straight may be the shank
			from = append(from, from[0].Alternatives...)
		}
		m, off := nearest(from, a, b, w.either)
		if !(off < place) {
			bad("no member from %v to %v; nearest runs %v to %v", w.a, w.b, f.Local(m.A), f.Local(m.B))
			continue
		}
		if math.Abs(m.Radius-w.r) > tol {
			bad("radius %.3f, want %.3f", m.Radius, w.r)
		}
		switch {
		case w.closed:
			deep := math.Inf(-1)
			for _, h := range []*Hook{m.Hook, m.Back} {
				if h != nil {
					deep = math.Max(deep, h.Inside)
				}
			}
			if math.Abs(deep-(m.Length()+30-w.r)) > 5*tol {
				bad("bearing of the bends at %.3f", deep)
			}
		case w.inside == 0 && m.Hook != nil:
			bad("a hook, want none")
		case w.inside != 0 && m.Hook == nil:
			bad("no hook")
		case w.inside != 0:
			if math.Abs(m.Hook.Inside-w.inside) > 5*tol {
				bad("bearing at %.3f, want %.3f", m.Hook.Inside, w.inside)
			}
			if math.Abs(m.Hook.Deepest-w.deep) > 5*tol {
				bad("deepest at %.3f, want %.3f", m.Hook.Deepest, w.deep)
			}
		}
		if m.Back != nil && !w.closed {
			bad("a bend at the open end")
		}
		if math.Abs(m.Inner-w.inner) > tol || math.Abs(m.Bore-w.bore) > tol {
			bad("bore radius %.3f depth %.3f, want %.3f and %.3f", m.Inner, m.Bore, w.inner, w.bore)
		}
		var heads []float64
		for _, h := range m.Heads {
			heads = append(heads, h.From, h.To)
		}
		if !near(heads, w.heads, tol) {
			bad("heads %.3f, want %.3f", heads, w.heads)
		}
	}
	return ok
}

func near(a, b []float64, tol float64) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if math.Abs(a[i]-b[i]) > tol {
			return false
		}
	}
	return true
}

func nearest(ms []Member, a, b geom.Vec, either bool) (Member, float64) {
	var best Member
	least := math.Inf(1)
	for _, m := range ms {
		d := math.Max(m.A.Dist(a), m.B.Dist(b))
		if r := math.Max(m.B.Dist(a), m.A.Dist(b)); either && r < d {
			d, m = r, m.Reversed()
		}
		if d < least {
			best, least = m, d
		}
	}
	return best, least
}

func BenchmarkFromMesh(b *testing.B) {
	for _, n := range []int{12, 24, 64} {
		m := sweep(hooked(300, 40, math.Pi/2, 60, 6), 10, n, 0, false, fanCap)
		b.Run(fmt.Sprintf("L-bolt/triangles=%d", len(m.Tris)), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				FromMesh(m)
			}
		})
	}
}
