package setout

import (
	"math"
	"strings"
	"testing"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

func TestGridAndRing(t *testing.T) {
	circle := func(n int, turn float64) []geom.Vec2 {
		var out []geom.Vec2
		for i := range n {
			s, c := math.Sincos(turn + 2*math.Pi*float64(i)/float64(n))
			out = append(out, geom.Vec2{X: 200 * c, Y: 200 * s})
		}
		return out
	}
	for _, c := range []struct {
		name          string
		at            []geom.Vec2
		pairs, across int
		shortest      float64
	}{
		{"two in a row", []geom.Vec2{{}, {X: 100}}, 1, 0, 100},
		{"four in a row", []geom.Vec2{{}, {X: 100}, {X: 200}, {X: 300}}, 3, 0, 100},
		{"two by two", []geom.Vec2{{}, {X: 100}, {Y: 80}, {X: 100, Y: 80}}, 4, 2, 80},
		{"three by two", []geom.Vec2{{}, {X: 100}, {X: 200}, {Y: 80}, {X: 100, Y: 80}, {X: 200, Y: 80}}, 7, 2, 80},
		{"an L of three", []geom.Vec2{{}, {X: 100}, {Y: 80}}, 2, 1, 80},
		{"two by two, 1 mm out", []geom.Vec2{{}, {X: 100, Y: 1}, {X: 1, Y: 80}, {X: 100, Y: 81}}, 4, 2, 80},
		{"a ring of six", circle(6, 0.2), 6, 3, 200},
		{"a turned square", circle(4, 0.3), 4, 2, 200 * math.Sqrt2},
		{"a slanted pair", []geom.Vec2{{}, {X: 30, Y: 40}}, 1, 0, 50},
		{"one place twice", []geom.Vec2{{}, {}}, 1, 0, 0},
	} {
		pairs, across := grid(c.at)
		if pairs == nil {
			pairs, across = ring(c.at)
		}
		if len(pairs) != c.pairs || len(across) != c.across {
			t.Errorf("%s: %d pairs, %d across; want %d and %d", c.name, len(pairs), len(across), c.pairs, c.across)
		}
		least := math.Inf(1)
		for _, p := range pairs {
			least = min(least, c.at[p[0]].Dist(c.at[p[1]]))
		}
		if math.Abs(least-c.shortest) > 1 {
			t.Errorf("%s: shortest pair %.1f, want %.1f", c.name, least, c.shortest)
		}
	}
}

func TestCommonMark(t *testing.T) {
	for _, c := range []struct {
		want  string
		marks []string
	}{
		{"HD-5", []string{"HD-5.1", "HD-5.2"}},
		{"SB-2", []string{"SB-2.1", "SB-2.2", "SB-2.3"}},
		{"F", []string{"F-9", "F-10"}},
		{"F", []string{"F-11", "F-12"}},
		{"", []string{"A1", "B1"}},
		{"AB", []string{"AB", "AB"}},
	} {
		if got := common(c.marks); got != c.want {
			t.Errorf("common(%q) = %q, want %q", c.marks, got, c.want)
		}
	}
}

func TestMachineMadeMarks(t *testing.T) {
	for s, want := range map[string]bool{
		"ID4b8cba7f-0000-3bef-3132-363735323239": true,
		"4b8cba7f-0000-3bef-3132-363735323239":   true,
		"HD-1.1":                                 false,
		"Cast-in plate 200x200x12":               false,
		"PUMPBASE-NORTH-CHAMBER-0001":            false,
	} {
		if got := machineMade(s); got != want {
			t.Errorf("machineMade(%q) = %v", s, got)
		}
	}
}

func FuzzKeyPart(f *testing.F) {
	for _, s := range []string{"HD-1", "a/b", "\x1b[31mred", "\u202egnp.exe", "=cmd|'", "\xff\xfe", strings.Repeat("ä", 300), "\u2028"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		got := keyPart(s)
		if strings.ContainsAny(got, "/\x00\n\r\t\x1b\u202e\u2028") || len([]rune(got)) > 60 {
			t.Errorf("keyPart(%q) = %q", s, got)
		}
		if keyPart(got) != got {
			t.Errorf("keyPart(%q) is not stable", got)
		}
	})
}

func TestNamesDiffer(t *testing.T) {
	n := namer{}
	seen := map[string]bool{}
	for _, s := range []string{"a", "A", "a (2)", "a", ""} {
		got := strings.ToLower(n.unique(s))
		if seen[got] {
			t.Errorf("%q twice", got)
		}
		seen[got] = true
	}
}

// TestTolerances holds that every value has a source that says how well it is
// known, and tries both sides of a limit.
func TestTolerances(t *testing.T) {
	all := DefaultTolerances()
	check := func(tol Tolerance) {
		if tol.Minus <= 0 || tol.Plus <= 0 {
			t.Errorf("%+v allows nothing", tol)
		}
		if !strings.HasSuffix(tol.Source, secondary) && !strings.HasSuffix(tol.Source, memory) && tol.Source != practice {
			t.Errorf("%q does not say how well it is known", tol.Source)
		}
	}
	for _, tol := range all.Any {
		check(tol)
	}
	for _, tol := range all.Item {
		check(tol)
	}
	bolt := all.of(Centres, model.Bolt)
	for dev, want := range map[float64]bool{0: true, 3: true, -3: true, 3.001: false, -3.001: false} {
		if bolt.Holds(dev) != want {
			t.Errorf("%g within %+v: %v", dev, bolt, !want)
		}
	}
	if all.of("colour", model.Bolt) != nil {
		t.Error("a tolerance of nothing")
	}
}
