package rod

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"embedcheck/internal/geom"
)

func deg(a float64) float64 { return a * math.Pi / 180 }

func TestFromRod(t *testing.T) {
	type c struct {
		name    string
		path    []geom.Vec
		members int
		a, b    geom.Vec
		inside  float64 // 0: no hook
		deep    float64
		turn    float64
		leg     float64
		others  int
	}
	bend := func(path []geom.Vec) []geom.Vec { return path }
	for _, c := range []c{
		{"straight", []geom.Vec{{}, z(500)}, 1, geom.Vec{}, z(500), 0, 0, 0, 0, 0},
		{"straight in pieces", []geom.Vec{{}, z(1), z(200), z(200), z(500)}, 1, geom.Vec{}, z(500), 0, 0, 0, 0, 0},
		{"L", hooked(300, 40, deg(90), 60, 9), 1, geom.Vec{}, z(-300), 330, 350, 90, 60, 0},
		{"L of a fine arc", hooked(300, 40, deg(90), 60, 400), 1, geom.Vec{}, z(-300), 330, 350, 90, 60, 0},
		{"L without arc", []geom.Vec{{}, z(-300), geom.V(60, 0, -300)}, 1, geom.Vec{}, z(-300), 290, 310, 90, 60, 0},
		{"L with a long leg", hooked(300, 40, deg(90), 200, 9), 1, geom.Vec{}, z(-300), 330, 350, 90, 200, 1},
		{"J", hooked(300, 40, deg(180), 60, 7), 1, geom.Vec{}, z(-300), 330, 350, 180, 60, 0},
		{"J of an odd number of chords", hooked(300, 40, deg(180), 0, 5), 1, geom.Vec{}, z(-300), 330, 350, 162, 0, 0},
		{"hook of 135", hooked(300, 40, deg(135), 60, 9), 1, geom.Vec{}, z(-300), 330, 350, 135, 60, 0},
		{"hook of 45", hooked(300, 40, deg(45), 100, 9), 1, geom.Vec{}, z(-300),
			300 + 140*math.Sqrt2/2 - 10, 300 + 140*math.Sqrt2/2 + 10*math.Sqrt2/2, 45, 100, 1},
		{"crank", []geom.Vec{{}, z(-300), geom.V(30, 0, -400), geom.V(30, 0, -500)}, 1, geom.Vec{}, z(-300), 490, 500, deg2(math.Atan(0.3)), 100, 2},
		{"hairpin", hooked(300, 40, deg(180), 300, 12), 2, geom.Vec{}, z(-300), 330, 350, 180, 300, 0},
		{"hairpin with a short leg at the limit", hooked(400, 40, deg(180), 300, 12), 2, geom.Vec{}, z(-400), 430, 450, 180, 300, 0},
		{"J with a leg just under it", hooked(400, 40, deg(180), 299, 12), 1, geom.Vec{}, z(-400), 430, 450, 180, 299, 1},
		{"U", uBar(300, 40, 200), 2, geom.Vec{}, z(-300), 330, 350, 180, 300, 1},
		{"a degree is straight", []geom.Vec{{}, z(-300), geom.V(200*math.Sin(deg(0.99)), 0, -300-200*math.Cos(deg(0.99)))}, 1,
			geom.Vec{}, geom.V(200*math.Sin(deg(0.99)), 0, -300-200*math.Cos(deg(0.99))), 0, 0, 0, 0, 0},
		{"more than a degree is a bend", []geom.Vec{{}, z(-300), geom.V(200*math.Sin(deg(1.01)), 0, -300-200*math.Cos(deg(1.01)))}, 1,
			geom.Vec{}, z(-300), 300 + 200*math.Cos(deg(1.01)) - 10, 300 + 200*math.Cos(deg(1.01)) + 10*math.Sin(deg(1.01)), 1.01, 200, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			ms := FromRod(geom.Rod{Path: bend(c.path), Radius: 10})
			if len(ms) != c.members {
				t.Fatalf("%d members, want %d", len(ms), c.members)
			}
			m := ms[0]
			if r := m.Reversed(); c.inside == 0 && r.A.Dist(c.a) < m.A.Dist(c.a) {
				m = r
			}
			// the first piece of a fine arc may count as straight
			if m.A.Dist(c.a) > 1e-6 || m.B.Dist(c.b) > 1 {
				t.Errorf("%v to %v, want %v to %v", m.A, m.B, c.a, c.b)
			}
			if !m.Exact || m.Sides != 0 || m.Residual != 0 || m.Radius != 10 {
				t.Errorf("exact %v, sides %d, residual %g, radius %g", m.Exact, m.Sides, m.Residual, m.Radius)
			}
			if len(m.Alternatives) != c.others {
				t.Errorf("%d alternatives, want %d", len(m.Alternatives), c.others)
			}
			if m.Back != nil {
				t.Error("a bend at the open end")
			}
			if m.Hook == nil {
				if c.inside != 0 {
					t.Fatal("no hook")
				}
				return
			}
			h := m.Hook
			got := []float64{h.Inside, h.Deepest, deg2(h.Turn), h.Leg}
			if !near(got, []float64{c.inside, c.deep, c.turn, c.leg}, 0.02) {
				t.Errorf("inside, deepest, turn, leg: %.3f, want %.3f", got, []float64{c.inside, c.deep, c.turn, c.leg})
			}
		})
	}
}

func deg2(a float64) float64 { return a * 180 / math.Pi }

func TestFromRodGivesNone(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		name string
		rod  geom.Rod
	}{
		{"no path", geom.Rod{Radius: 10}},
		{"one point", geom.Rod{Path: []geom.Vec{{}}, Radius: 10}},
		{"no length", geom.Rod{Path: []geom.Vec{z(1), z(1), z(1)}, Radius: 10}},
		{"no radius", geom.Rod{Path: []geom.Vec{{}, z(100)}}},
		{"radius not a number", geom.Rod{Path: []geom.Vec{{}, z(100)}, Radius: nan}},
		{"first point not a number", geom.Rod{Path: []geom.Vec{{X: nan}, z(100)}, Radius: 10}},
		{"nothing but an arc", geom.Rod{Path: arc([]geom.Vec{{}}, z(1), geom.V(1, 0, 0), 500, 2, 20), Radius: 10}},
	} {
		if got := FromRod(c.rod); len(got) != 0 {
			t.Errorf("%s: %+v", c.name, got)
		}
	}
}

func TestFromRodTube(t *testing.T) {
	m := FromRod(geom.Rod{Path: []geom.Vec{{}, z(80)}, Radius: 12, Inner: 9})[0]
	if m.Inner != 9 || m.Bore != 80 {
		t.Errorf("bore %g deep with radius %g, want 80 and 9", m.Bore, m.Inner)
	}
}

// A bar with a bend at each end keeps both; seen from the other end they change
// places and their figures stay.
func TestBendsAtBothEnds(t *testing.T) {
	path := []geom.Vec{geom.V(50, 0, 0), {}, z(-400), geom.V(0, 80, -400)}
	ms := FromRod(geom.Rod{Path: path, Radius: 10})
	if len(ms) != 1 || ms[0].Hook == nil || ms[0].Back == nil {
		t.Fatalf("%+v", ms)
	}
	m := ms[0]
	r := m.Reversed()
	if m.Hook.Inside != 390 || m.Back.Inside != 390 || m.Hook.Leg != 80 || m.Back.Leg != 50 {
		t.Errorf("hook %+v back %+v", m.Hook, m.Back)
	}
	if r.Hook != m.Back || r.Back != m.Hook || r.A != m.B || r.B != m.A {
		t.Error("reversed member does not swap its ends")
	}
	if r.At(100).Dist(m.At(m.Length()-100)) > 1e-9 {
		t.Errorf("100 from one end is at %v and at %v", r.At(100), m.At(m.Length()-100))
	}
	if h := r.Hook; r.Axis().Dot(h.Path[len(h.Path)-1].Sub(r.A))-r.Radius != h.Inside {
		t.Error("the bearing of the back hook does not run from B")
	}
}

// The caller knows which end stands out of the concrete: of an L whose leg is
// about as long as its shank, the other piece is offered too.
func TestAlternatives(t *testing.T) {
	ms := FromRod(geom.Rod{Path: hooked(200, 40, deg(90), 201, 8), Radius: 10})
	if len(ms) != 1 || len(ms[0].Alternatives) != 1 {
		t.Fatalf("%d members", len(ms))
	}
	long, other := ms[0], ms[0].Alternatives[0]
	if math.Abs(long.Length()-201) > 1e-9 || math.Abs(other.Length()-200) > 1e-9 {
		t.Errorf("lengths %g and %g", long.Length(), other.Length())
	}
	if other.A != (geom.Vec{}) || math.Abs(other.Hook.Inside-230) > 1e-9 || math.Abs(long.Hook.Inside-231) > 1e-9 {
		t.Errorf("shank from %v bears at %g, leg at %g", other.A, other.Hook.Inside, long.Hook.Inside)
	}
	if !other.Exact {
		t.Error("an alternative of an exact rod is exact")
	}
}

func TestBearing(t *testing.T) {
	m := Member{B: z(600), Radius: 12, Heads: []Head{{From: 0, To: 12, Outline: PlateHead}, {From: 20, To: 41}, {From: 552, To: 560}, {From: 560, To: 581}}}
	for _, c := range []struct {
		entry, want float64
		ok          bool
	}{{0, 20, true}, {20, 552, true}, {100, 552, true}, {551.9, 552, true}, {552, 560, true}, {570, 600, false}} {
		if got, ok := m.Bearing(c.entry); got != c.want || ok != c.ok {
			t.Errorf("entry at %g: %g %v, want %g %v", c.entry, got, ok, c.want, c.ok)
		}
	}
	hooked := FromRod(geom.Rod{Path: hooked(300, 40, deg(90), 60, 9), Radius: 10})[0]
	if got, ok := hooked.Bearing(100); math.Abs(got-330) > 1e-9 || !ok {
		t.Errorf("hook bears at %g %v, want 330", got, ok)
	}
	for turn, want := range map[float64]bool{29: false, 31: true} {
		if got := (&Hook{Turn: deg(turn)}).Bears(); got != want {
			t.Errorf("turn of %g degrees bears: %v", turn, got)
		}
	}
	if (*Hook)(nil).Bears() {
		t.Error("no hook bears")
	}
}

// Bearing and depth of random hooks against a walk over the true arc in small
// steps that shares nothing with the package.
func TestHookAgainstSampling(t *testing.T) {
	rnd := rand.New(rand.NewPCG(8, 1))
	for i := range 3000 {
		r := 4 + 16*rnd.Float64()
		straight := 150 + 400*rnd.Float64()
		bend := r * (1.5 + 4*rnd.Float64())
		turn := deg(35 + 145*rnd.Float64())
		leg := 0.0
		if i%3 > 0 {
			leg = 20 + 0.3*straight*rnd.Float64()
		}
		chords := 4 + rnd.IntN(12)
		f := anyhow(rnd, []float64{0, 1e3, 1e6}[i%3])
		var path []geom.Vec
		for _, p := range hooked(straight, bend, turn, leg, chords) {
			path = append(path, f.Apply(p))
		}
		deepAxis, deepSkin := sampleHook(straight, bend, turn, leg, r)
		ms := FromRod(geom.Rod{Path: path, Radius: r})
		if len(ms) != 1 || ms[0].Hook == nil {
			t.Fatalf("#%d: %d members", i, len(ms))
		}
		h := ms[0].Hook
		if math.Abs(h.Inside-(deepAxis-r)) > 0.05 || math.Abs(h.Deepest-deepSkin) > 0.05 {
			t.Fatalf("#%d: radius %.1f bend %.1f turn %.0f leg %.0f chords %d: bears at %.3f, deepest %.3f; sampling gives %.3f and %.3f",
				i, r, bend, deg2(turn), leg, chords, h.Inside, h.Deepest, deepAxis-r, deepSkin)
		}
	}
}

// sampleHook walks along the axis of a hook with a true arc and around its skin.
func sampleHook(straight, bend, turn, leg, r float64) (axis, skin float64) {
	const n = 4000
	at := func(x, y, dx, dy float64) {
		axis = math.Max(axis, y)
		skin = math.Max(skin, math.Max(y+r*dx, y-r*dx))
		_, _ = x, dy
	}
	for i := range n + 1 {
		sin, cos := math.Sincos(turn * float64(i) / n)
		at(bend-bend*cos, straight+bend*sin, sin, cos)
	}
	sin, cos := math.Sincos(turn)
	for i := range n + 1 {
		l := leg * float64(i) / n
		at(bend-bend*cos+l*sin, straight+bend*sin+l*cos, sin, cos)
	}
	return axis, skin
}

// Meshes of random hooks against the same walk.
func TestMeshHookAgainstSampling(t *testing.T) {
	rnd := rand.New(rand.NewPCG(8, 2))
	for i := range 500 {
		r := 4 + 16*rnd.Float64()
		straight := 10*r + 400*rnd.Float64()
		bend := r * (1.5 + 4*rnd.Float64())
		turn := deg(35 + 145*rnd.Float64())
		leg := 0.0
		if i%3 > 0 {
			leg = 20 + 0.3*straight*rnd.Float64()
		}
		chords := 4 + rnd.IntN(12)
		n := 6 + rnd.IntN(59)
		f := anyhow(rnd, []float64{0, 1e3, 1e6}[i%3])
		path := hooked(straight, bend, turn, leg, chords)
		m := sweep(path, r, n, rnd.Float64(), i&1 == 0, capStyle(i%2)).Transform(f)
		deepAxis, deepSkin := sampleHook(straight, bend, turn, leg, r)
		what := fmt.Sprintf("#%d: radius %.1f straight %.1f bend %.1f turn %.0f leg %.0f chords %d sides %d", i, r, straight, bend, deg2(turn), leg, chords, n)
		endTol := 0.1
		if leg == 0 {
			endTol = 1.5 // the last ring is square to its chord here
		}
		ms := FromMesh(m)
		if len(ms) != 1 || ms[0].Hook == nil {
			t.Fatalf("%s: %d members", what, len(ms))
		}
		h := ms[0].Hook
		if math.Abs(h.Inside-(deepAxis-r)) > 0.1 || math.Abs(h.Deepest-deepSkin) > endTol || math.Abs(ms[0].Radius-r) > 0.05 {
			t.Fatalf("%s: radius %.3f, bears at %.3f, deepest %.3f; sampling gives %.3f and %.3f",
				what, ms[0].Radius, h.Inside, h.Deepest, deepAxis-r, deepSkin)
		}
		// no vertex lies deeper than the deepest point found; mitred joints stand out
		x := axis{ms[0].A, ms[0].Axis()}
		for _, v := range m.Verts {
			if d := x.depth(v); d > h.Deepest+0.05+r*(1/math.Cos(turn/2/float64(chords))-1) {
				t.Fatalf("%s: a vertex at %.3f, deepest %.3f", what, d, h.Deepest)
			}
		}
	}
}
