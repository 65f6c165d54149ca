package setout_test

import (
	"math"
	"path/filepath"
	"testing"

	"embedcheck/internal/check"
	"embedcheck/internal/model"
	"embedcheck/internal/setout"
	"embedcheck/rules"
)

func read(t *testing.T, paths ...string) *model.Model {
	t.Helper()
	m, err := check.Read(paths, check.Options{Workers: 2, Rules: rules.Builtin()})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func demo(t *testing.T) map[string]*setout.Unit {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join("..", "..", "testdata", "demo", "*.ifc"))
	if err != nil || len(paths) == 0 {
		t.Fatalf("no demo models: %v", err)
	}
	out := map[string]*setout.Unit{}
	for _, u := range setout.Plan(read(t, paths...), setout.DefaultTolerances()) {
		out[u.Mark] = u
	}
	return out
}

// TestDemoDimensions holds dimensions to figures worked out by hand from what
// the demo's drawings ask for. WP-01 is 6400 x 3200 x 180 and lies with its
// outside on the form: what is x from the left outside is 6400 - x on the sheet.
func TestDemoDimensions(t *testing.T) {
	units := demo(t)
	for key, want := range map[string]float64{
		// Pump base 1500 x 1200 x 500, four M20 bolts at 600 x 400 about
		// (750, 330), hooks 260 down, bar 20, so 500 - 280 = 220 are left.
		"PB-01/form/length":                  1500,
		"PB-01/form/width":                   1200,
		"PB-01/form/thickness":               500,
		"PB-01/form/diagonal from the datum": math.Hypot(1500, 1200),
		"PB-01/HD-1/x 1":                     450,
		"PB-01/HD-1/y 1":                     130,
		"PB-01/HD-1/x 4":                     1050,
		"PB-01/HD-1/y 4":                     530,
		"PB-01/HD-1/centres 1-2":             600,
		"PB-01/HD-1/centres 1-3":             400,
		"PB-01/HD-1/diagonal 1-4":            math.Hypot(600, 400),
		"PB-01/HD-1/diagonal 2-3":            math.Hypot(600, 400),
		"PB-01/HD-1/projection 2":            110,
		"PB-01/HD-1/embedment 3":             260,
		"PB-01/HD-1/back cover 4":            220,
		"PB-01/HD-1/stand-off":               60,
		"PB-01/HD-1/template x":              720,
		"PB-01/HD-1/template z":              8,
		// The same set as one fastener, 60 nearer to the lower edge.
		"PB-02/HD-2/y 2": 70,
		// The wall: ferrule 55 from the opening at 3600, plate 200 about
		// (1000, 1400), lifting insert at 800 in the middle of 180, sunk 10.
		"WP-01/F-1.1/x 1":                             6400 - (3600 - 55),
		"WP-01/F-1.1/y 1":                             1000,
		"WP-01/F-1.1/embedment 1":                     95,
		"WP-01/CP-1/plate x":                          6400 - 1100,
		"WP-01/CP-1/plate y":                          1300,
		"WP-01/CP-1/plate thickness":                  12,
		"WP-01/CP-1/plate flush":                      0,
		"WP-01/F-1.6/sunk 1":                          20,
		"WP-01/LI-1.1/x 1":                            6400 - 800,
		"WP-01/LI-1.1/z 1":                            90,
		"WP-01/LI-1.1/sunk 1":                         10,
		"WP-01/form/opening Pipe opening PO-1 x":      6400 - 4200,
		"WP-01/form/opening Pipe opening PO-1 size y": 600,
		// The retaining wall slopes by 1 in 30 on the form: 300 less a thirtieth
		// of 2880 leaves 204 below RB-3.1, which is 206 deep.
		"RW-01/RB-3.1/embedment 1":  200,
		"RW-01/RB-3.1/back cover 1": -6,
		// The plate stands on a corbel within the length of the column.
		"CO-01/CP-7/plate x": 2780,
	} {
		got, ok := find(units, key)
		if !ok {
			t.Errorf("%s: no such dimension", key)
		} else if math.Abs(got-want) > 0.01 {
			t.Errorf("%s = %.3f, want %.3f", key, got, want)
		}
	}
}

func find(units map[string]*setout.Unit, key string) (float64, bool) {
	for _, u := range units {
		for _, d := range u.Dims() {
			if d.Key == key {
				return d.MM, true
			}
		}
	}
	return 0, false
}

func TestDemoFaces(t *testing.T) {
	units := demo(t)
	for mark, want := range map[string]struct {
		basis    setout.Basis
		up       string
		mirrored bool
	}{
		"PB-01": {setout.ByRule, "top", false},               // bolts stand out of it
		"RP-01": {setout.ByRule, "top", false},               // a plank lies
		"WP-01": {setout.ByRule, "inside", true},             // the chamber's walls: outside on the form
		"WP-02": {setout.ByRule, "inside", true},             //
		"WP-03": {setout.ByRule, "inside", true},             //
		"WP-04": {setout.ByRule, "inside", true},             //
		"RW-01": {setout.ByRule, "face to model -Y", false},  // its bolts stand out of the front
		"CO-01": {setout.Unknown, "face to model +Y", false}, // the corbel points sideways
		"SF-01": {setout.Unknown, "face to model -Y", false}, // a flight of stairs on its side
	} {
		u := units[mark]
		if u == nil {
			t.Errorf("%s is missing", mark)
			continue
		}
		if c := u.Cast; c.Basis != want.basis || c.UpName != want.up || c.Mirrored != want.mirrored {
			t.Errorf("%s: basis %d, up %q, mirrored %v (%s); want %+v", mark, c.Basis, c.UpName, c.Mirrored, c.Why, want)
		}
	}
}

// TestKeysDiffer holds that no two dimensions share a key, whatever the marks.
func TestKeysDiffer(t *testing.T) {
	seen := map[string]bool{}
	for _, u := range demo(t) {
		for _, d := range u.Dims() {
			if seen[d.Key] {
				t.Errorf("%s twice", d.Key)
			}
			seen[d.Key] = true
			if d.Key != d.Unit+"/"+d.Set+"/"+d.What {
				t.Errorf("%s is not made of %q, %q and %q", d.Key, d.Unit, d.Set, d.What)
			}
		}
	}
	if len(seen) < 500 {
		t.Errorf("only %d dimensions", len(seen))
	}
}
