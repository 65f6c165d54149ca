package asbuilt

import (
	"math"
	"slices"
	"strings"
	"testing"

	"embedcheck/internal/geom"
	"embedcheck/internal/report"
	"embedcheck/internal/survey"
)

var millimetres = survey.Units[0]

// instruments are where one may stand: as the form lies, moved, turned, on a
// national grid, with the unit as it stands in the building.
var instruments = map[string]geom.Affine{
	"as drawn":       geom.Identity,
	"moved":          geom.Identity.Shift(geom.V(-900, 4000, 1200)),
	"turned":         frame(geom.V(0, 0, 1), geom.V(100, 50, 0)),
	"standing":       {X: geom.V(1, 0, 0), Y: geom.V(0, 0, 1), Z: geom.V(0, -1, 0), T: geom.V(0, 0, 700)},
	"askew":          frame(geom.V(1, -2, 0.7), geom.V(1e4, 2e4, -3e3)),
	"national grid":  frame(geom.V(0.001, 0, 1), geom.V(5.1e8, 5.9e9, 1e5)),
	"axes in cycles": {X: geom.V(0, 1, 0), Y: geom.V(0, 0, 1), Z: geom.V(1, 0, 0)},
}

// A survey from anywhere and in any unit gives the deviations that are there, and
// none that are not.
func TestSurveyFromAnywhere(t *testing.T) {
	p := plan(t, "")
	moved := map[string]geom.Vec{
		"PB-01/HD-1/point 2": geom.V(8, 0, 0),    // to the right
		"PB-01/HD-1/point 3": geom.V(0, -6.5, 0), // down the sheet
		"PB-01/HD-1/point 4": geom.V(0, 0, -20),  // too deep
	}
	want := map[string]float64{
		"PB-01/HD-1/x 2": 8, "PB-01/HD-1/y 3": -6.5, "PB-01/HD-1/projection 4": -20,
		"PB-01/HD-1/centres 1-2": 8, "PB-01/HD-1/centres 1-3": -6.5,
		// 600 and 400 apart: 8 mm in the longer side, 6.5 in the shorter, seen
		// along the diagonal between them.
		"PB-01/HD-1/diagonal 2-3": math.Hypot(608, 393.5) - math.Hypot(600, 400),
	}
	for name, at := range instruments {
		for _, u := range survey.Units {
			r := compare(t, p, text(points(t, p, "PB-01", at, u, moved, nil), ";"))
			out := rowsOf(r, report.Outside)
			for key, off := range want {
				w := out[key]
				if w == nil || math.Abs(w.Deviation()-off) > 0.01 || !w.Surveyed {
					t.Errorf("%s in %s: %s is %+v, want off by %g", name, u.Name, key, w, off)
				}
			}
			if len(out) != len(want) || len(r.Hints) != 0 || len(r.Unread) != 0 {
				t.Errorf("%s in %s: %d outside, hints %q, unread %v", name, u.Name, len(out), r.Hints, r.Unread)
			}
			// Two directions and the end for each of four bolts, and the distances
			// between them.
			if got := len(out) + count(r, report.Within); got != 4*3+4+2 {
				t.Errorf("%s in %s: %d compared", name, u.Name, got)
			}
		}
	}
}

// Both sides of a tolerance by way of a survey.
func TestSurveyAtTheTolerance(t *testing.T) {
	p := plan(t, "")
	for _, c := range []struct {
		off  float64
		want report.MeasuredState
	}{{5.999, report.Within}, {6.002, report.Outside}, {-5.999, report.Within}, {-6.002, report.Outside}} {
		moved := map[string]geom.Vec{"PB-01/HD-1/point 2": geom.V(c.off, 0, 0)}
		r := compare(t, p, text(points(t, p, "PB-01", instruments["askew"], millimetres, moved, nil), ","))
		for _, w := range r.Rows {
			if w.Key == "PB-01/HD-1/x 2" && w.State != c.want {
				t.Errorf("off by %g: %s", c.off, w.State)
			}
		}
	}
}

// The mouth of a socket that lies in the face: how deep it is shows in the
// embedment. In a wall panel surveyed as it stands.
func TestSocketThatIsSunk(t *testing.T) {
	p := plan(t, "")
	moved := map[string]geom.Vec{"WP-03/F-3.1/point 1": geom.V(0, 0, -7)}
	r := compare(t, p, text(points(t, p, "WP-03", instruments["standing"], millimetres, moved, nil), ","))
	out := rowsOf(r, report.Outside)
	if w := out["WP-03/F-3.1/embedment 1"]; len(out) != 1 || w == nil || math.Abs(w.Deviation()-7) > 0.01 {
		t.Errorf("got %+v", out)
	}
	// A lifter in the edge that is sunk into a recess: along its own axis.
	moved = map[string]geom.Vec{"WP-03/LI-3.1/point 1": geom.V(0, -6, 0)}
	r = compare(t, p, text(points(t, p, "WP-03", instruments["standing"], millimetres, moved, nil), ","))
	out = rowsOf(r, report.Outside)
	if w := out["WP-03/LI-3.1/sunk 1"]; len(out) != 1 || w == nil || math.Abs(w.Deviation()-6) > 0.01 {
		t.Errorf("got %+v", out)
	}
}

func TestSurveysThatDoNotServe(t *testing.T) {
	p := plan(t, "")
	only := func(names ...string) func(string) bool {
		return func(key string) bool {
			return strings.Contains(key, "point") || slices.ContainsFunc(names, func(n string) bool { return strings.HasSuffix(key, n) })
		}
	}
	for _, c := range []struct {
		name  string
		moved map[string]geom.Vec
		take  func(string) bool
		note  string

		within int // distances from end to end need no references
	}{
		{"no references", nil, only(), "there are 0", 6},
		{"two references", nil, only("corner 1", "corner 2"), "there are 2", 6},
		{"just beyond the limit", map[string]geom.Vec{"PB-01/form/corner 1": geom.V(23, 23, 0)}, only("corner 1", "corner 2", "corner 3"), "more than 10 mm (common practice, no published source)", 0},
	} {
		r := compare(t, p, text(points(t, p, "PB-01", instruments["turned"], millimetres, c.moved, c.take), ","))
		if count(r, report.Outside) != 0 || count(r, report.Within) != c.within || count(r, report.NotCompared) != 4 || len(r.Unread) != 1 {
			t.Errorf("%s: rows %+v", c.name, r.Rows)
			continue
		}
		if w := r.Rows[0]; !strings.Contains(w.Note, c.note) || !strings.Contains(r.Unread[0].Why, "4 surveyed points of sheet1.csv were not compared") {
			t.Errorf("%s: note %q, unread %q", c.name, w.Note, r.Unread[0].Why)
		}
	}
	// The same within the limit, and within that of the rule file.
	small := map[string]geom.Vec{"PB-01/form/corner 1": geom.V(9, 9, 0)}
	r := compare(t, p, text(points(t, p, "PB-01", instruments["turned"], millimetres, small, only("corner 1", "corner 2", "corner 3")), ","))
	if count(r, report.NotCompared) != 0 {
		t.Errorf("rows %+v", r.Rows[0])
	}
	wide := plan(t, `{"tolerances": {"fit": {"within": {"mm": 30}}}}`)
	r = compare(t, wide, text(points(t, wide, "PB-01", instruments["turned"], millimetres, map[string]geom.Vec{"PB-01/form/corner 1": geom.V(23, 23, 0)}, only("corner 1", "corner 2", "corner 3")), ","))
	if count(r, report.NotCompared) != 0 {
		t.Errorf("rows %+v", r.Rows[0])
	}
}

// Without references the distances between bolts are held to the model all the
// same, on both sides of their tolerance.
func TestEndToEnd(t *testing.T) {
	p := plan(t, "")
	for _, c := range []struct {
		off  float64
		want report.MeasuredState
	}{{2.99, report.Within}, {3.01, report.Outside}} {
		moved := map[string]geom.Vec{"PB-01/HD-1/point 2": geom.V(c.off, 0, 0)}
		rows := points(t, p, "PB-01", instruments["askew"], millimetres, moved, func(key string) bool { return strings.Contains(key, "point") })
		r := compare(t, p, text(rows, ","))
		w := rowsOf(r, c.want)["PB-01/HD-1/centres 1-2"]
		if w == nil || math.Abs(w.Deviation()-c.off) > 0.001 || !strings.Contains(w.Note, "from end to end") {
			t.Errorf("off by %g: %+v", c.off, w)
		}
	}
}

func TestOutlierIsNamed(t *testing.T) {
	p := plan(t, "")
	moved := map[string]geom.Vec{"PB-01/form/corner 6": geom.V(60, 0, 0)}
	r := compare(t, p, text(points(t, p, "PB-01", instruments["askew"], millimetres, moved, nil), ","))
	if len(r.Surveys) != 1 || len(r.Surveys[0].References) != 8 {
		t.Fatalf("surveys %+v", r.Surveys)
	}
	if notes := strings.Join(r.Surveys[0].Notes, "; "); !strings.Contains(notes, "outlier: corner 6 is 60 mm off") {
		t.Errorf("notes %q", notes)
	}
	if count(r, report.NotCompared) != 4 {
		t.Error("compared by a survey that does not fit")
	}
}

func TestSurveyHints(t *testing.T) {
	p := plan(t, "")
	sheet := func(f func(x, y, z string) (string, string, string), u survey.Unit) []byte {
		rows := points(t, p, "PB-01", geom.Identity, u, nil, nil)
		x, y, z := column(t, rows, "x ("+u.Name+")"), column(t, rows, "y ("+u.Name+")"), column(t, rows, "z ("+u.Name+")")
		for _, r := range rows[1:] {
			r[x], r[y], r[z] = f(r[x], r[y], r[z])
		}
		return text(rows, ";")
	}
	minus := func(s string) string {
		if rest, ok := strings.CutPrefix(s, "-"); ok {
			return rest
		}
		return "-" + s
	}
	for _, c := range []struct {
		name, want string
		data       []byte
	}{
		{"exchanged", "PB-01: LIKELY mirrored: x and y are exchanged", sheet(func(x, y, z string) (string, string, string) { return y, x, z }, millimetres)},
		{"depth as positive", "PB-01: LIKELY mirrored: z has the opposite sign", sheet(func(x, y, z string) (string, string, string) { return x, y, minus(z) }, millimetres)},
		{"metres under mm", "PB-01: LIKELY in another unit: the header says millimetres, the distances between the references are right in metres",
			[]byte(strings.ReplaceAll(string(sheet(func(x, y, z string) (string, string, string) { return x, y, z }, survey.Units[2])), "(m)", "(mm)"))},
	} {
		r := compare(t, p, c.data)
		if !slices.ContainsFunc(r.Hints, func(h string) bool { return strings.Contains(h, c.want) }) {
			t.Errorf("%s: hints %q", c.name, r.Hints)
		}
		if count(r, report.Within) != 0 {
			t.Errorf("%s: corrected without a word", c.name)
		}
	}
	// Two bolts in each other's row.
	rows := points(t, p, "PB-01", instruments["turned"], millimetres, map[string]geom.Vec{
		"PB-01/HD-1/point 1": geom.V(600, 0, 0), "PB-01/HD-1/point 2": geom.V(-600, 0, 0),
	}, nil)
	r := compare(t, p, text(rows, ","))
	if !slices.ContainsFunc(r.Hints, func(h string) bool {
		return strings.Contains(h, "LIKELY exchanged: HD-1.1 and HD-1.2 each lie where the model has the other")
	}) {
		t.Errorf("hints %q", r.Hints)
	}
}

// The survey of another host does not pass for this one.
func TestSurveyOfAnotherHost(t *testing.T) {
	p := plan(t, "")
	rows := points(t, p, "CF-01", instruments["askew"], millimetres, nil, nil)
	data := strings.ReplaceAll(strings.ReplaceAll(string(text(rows, ",")), "CF-01", "PB-01"), "HD-3", "HD-1")
	r := compare(t, p, []byte(data))
	if count(r, report.Within)+count(r, report.Outside) != 0 || !slices.ContainsFunc(r.Hints, func(h string) bool {
		return strings.HasSuffix(h, "LIKELY another host: the corners are not those of PB-01 but those of CF-01")
	}) {
		t.Errorf("hints %q, rows %+v", r.Hints, r.Rows[0])
	}
}

// Corners are those of the concrete that is there: sharp, and in no opening.
func TestCorners(t *testing.T) {
	p := plan(t, "")
	for _, u := range p.Units {
		seen := map[geom.Vec]bool{}
		n := 0
		for _, pt := range p.points {
			if pt.unit != u || !pt.reference() {
				continue
			}
			n++
			if seen[pt.at] {
				t.Errorf("%s: two corners in one place", u.Mark)
			}
			seen[pt.at] = true
			nearest := math.Inf(1)
			for _, v := range u.Host.Body.Verts {
				nearest = min(nearest, u.Frame.Local(v).Dist(pt.at))
			}
			if nearest > 0.1 {
				t.Errorf("%s %s is no corner of the body", u.Mark, pt.what)
			}
		}
		if n < 4 {
			t.Errorf("%s has %d corners", u.Mark, n)
		}
	}
}

func TestSharpCorners(t *testing.T) {
	disc := &geom.Mesh{}
	const n = 24
	for i := range n {
		a := 2 * math.Pi * float64(i) / n
		for _, z := range []float64{0, 500} {
			disc.Verts = append(disc.Verts, geom.V(600*math.Cos(a), 600*math.Sin(a), z))
		}
	}
	for i := range int32(n) {
		a, b := 2*i, 2*((i+1)%n)
		disc.Tris = append(disc.Tris, [3]int32{a, b, b + 1}, [3]int32{a, b + 1, a + 1})
		if i > 1 {
			disc.Tris = append(disc.Tris, [3]int32{0, a, a - 2}, [3]int32{1, a - 1, a + 1})
		}
	}
	if got := sharpCorners(disc); len(got) != 0 {
		t.Errorf("a round pile has %d corners", len(got))
	}
}
