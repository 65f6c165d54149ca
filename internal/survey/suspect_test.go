package survey

import (
	"strings"
	"testing"

	"embedcheck/internal/geom"
)

var mm = Units[0]

// as is a survey with every measured point changed by f.
func as(pairs []Pair, f func(geom.Vec) geom.Vec) []Pair {
	out := make([]Pair, len(pairs))
	for i, p := range pairs {
		p.Measured = f(p.Measured)
		out[i] = p
	}
	return out
}

func scaled(by float64) func(geom.Vec) geom.Vec {
	return func(p geom.Vec) geom.Vec { return p.Mul(by) }
}

func TestSuspect(t *testing.T) {
	bolts := surveyed([]geom.Vec{geom.V(500, -40, 900), geom.V(700, -40, 900)}, geom.Identity)
	face := []geom.Vec{box[0], box[1], box[4], box[5]} // y = 0
	grid := turned(geom.V(0, 0, 1), 0.4, geom.V(5e8, 5e9, 1e5))
	onGrid := func(points []geom.Vec) []Pair { return surveyed(points, grid) }
	swap := func(p geom.Vec) geom.Vec { return geom.V(p.Y, p.X, p.Z) }
	for _, c := range []struct {
		name    string
		refs    []Pair
		others  []Pair
		stated  string
		want    Suspicion
		mention string
	}{
		{"right", surveyed(box, geom.Identity), bolts, "mm", "", ""},
		{"right, on a grid", onGrid(box), nil, "mm", "", ""},
		{"1.9 % too long", as(surveyed(box, geom.Identity), scaled(1.019)), nil, "mm", "", ""},
		{"2.1 % too long", as(surveyed(box, geom.Identity), scaled(1.021)), nil, "mm", WrongScale, "2 % larger"},
		{"3 % too short", as(surveyed(box, geom.Identity), scaled(0.97)), nil, "mm", WrongScale, "3 % smaller"},
		{"metres", as(onGrid(box), scaled(1e-3)), nil, "mm", WrongUnit, "right in metres"},
		{"centimetres", as(surveyed(box, geom.Identity), scaled(0.1)), nil, "mm", WrongUnit, "right in centimetres"},
		{"inches", as(surveyed(box, geom.Identity), scaled(1/25.4)), nil, "mm", WrongUnit, "right in inches"},
		{"feet", as(surveyed(box, geom.Identity), scaled(1/304.8)), nil, "mm", WrongUnit, "right in feet"},
		{"mm under a header of metres", as(surveyed(box, geom.Identity), scaled(1000)), nil, "m", WrongUnit, "right in millimetres"},
		{"feet under a header of inches", as(surveyed(box, geom.Identity), scaled(1/12.0)), nil, "in", WrongUnit, "right in feet"},
		{"northing and easting exchanged", as(onGrid(box), swap), nil, "mm", Mirrored, "such as northing and easting"},
		{"x and y exchanged", as(surveyed(box, geom.Identity), swap), nil, "mm", Mirrored, "x and y are exchanged"},
		{"x from the right", as(surveyed(box, geom.Identity), func(p geom.Vec) geom.Vec { return geom.V(-p.X, p.Y, p.Z) }), nil, "mm", Mirrored, "x has the opposite sign"},
		{"depth downwards", as(surveyed(box, geom.Identity), func(p geom.Vec) geom.Vec { return geom.V(p.X, p.Y, -p.Z) }), nil, "mm", Mirrored, "z has the opposite sign"},
		{"a cycle of axes is a turn", as(surveyed(box, geom.Identity), func(p geom.Vec) geom.Vec { return geom.V(p.Y, p.Z, p.X) }), nil, "mm", "", ""},
		{"two signs are a turn", as(surveyed(box, geom.Identity), func(p geom.Vec) geom.Vec { return geom.V(-p.X, -p.Y, p.Z) }), nil, "mm", "", ""},
		{"a face cannot tell", as(surveyed(face, geom.Identity), func(p geom.Vec) geom.Vec { return geom.V(-p.X, p.Y, p.Z) }), nil, "mm", "", ""},
		{"a face and bolts can", as(surveyed(face, geom.Identity), func(p geom.Vec) geom.Vec { return geom.V(-p.X, p.Y, p.Z) }),
			as(bolts, func(p geom.Vec) geom.Vec { return geom.V(-p.X, p.Y, p.Z) }), "mm", Mirrored, "x has the opposite sign"},
		{"metres and mirrored", as(surveyed(box, geom.Identity), func(p geom.Vec) geom.Vec { return geom.V(p.Y, p.X, p.Z).Mul(1e-3) }), nil, "mm", Mirrored, "x and y"},
		{"one wrong point is no wrong shape", as(surveyed(box, geom.Identity), func(p geom.Vec) geom.Vec {
			if p == box[3] {
				p.X += 400
			}
			return p
		}), nil, "mm", "", ""},
		{"another host", pairsOf(box, []geom.Vec{
			geom.V(0, 0, 0), geom.V(3100, 0, 0), geom.V(0, 150, 0), geom.V(3100, 150, 0),
			geom.V(0, 0, 2400), geom.V(3100, 0, 2400), geom.V(0, 150, 2400), geom.V(3100, 150, 2400),
		}), nil, "mm", WrongShape, "another host"},
	} {
		stated, _ := ParseUnit(c.stated)
		hints := Suspect(c.refs, c.others, stated)
		var got Suspicion
		text := ""
		if len(hints) > 0 {
			got, text = hints[len(hints)-1].Kind, hints[len(hints)-1].Text
		}
		if got != c.want || !strings.Contains(text, c.mention) {
			t.Errorf("%s: %v, want %s with %q", c.name, hints, c.want, c.mention)
		}
		for _, h := range hints {
			if !strings.HasPrefix(h.Text, "LIKELY ") {
				t.Errorf("%s: %q is not said to be likely only", c.name, h.Text)
			}
		}
	}
}

func pairsOf(model, measured []geom.Vec) []Pair {
	var out []Pair
	for i := range model {
		out = append(out, Pair{Name: "R" + string(rune('1'+i)), Model: model[i], Measured: measured[i]})
	}
	return out
}

func TestExchanged(t *testing.T) {
	a, b, c := geom.V(0, 0, 0), geom.V(150, 0, 0), geom.V(300, 0, 0)
	for _, k := range []struct {
		name     string
		measured []geom.Vec
		want     int
	}{
		{"right", []geom.Vec{a, b, c}, 0},
		{"two exchanged", []geom.Vec{a, c, b}, 1},
		{"a cycle is no exchange", []geom.Vec{b, c, a}, 0},
		{"one is off", []geom.Vec{b, b, c}, 0},
	} {
		hints := FindExchanged(pairsOf([]geom.Vec{a, b, c}, k.measured), 5)
		if len(hints) != k.want {
			t.Errorf("%s: %v", k.name, hints)
		}
	}
}

func TestParseUnit(t *testing.T) {
	for text, want := range map[string]string{
		"mm": "mm", "MM": "mm", " Millimetres ": "mm", "millimeter": "mm", "cm": "cm", "m": "m", "Meters": "m",
		"in": "in", "in.": "in", "inch": "in", "Inches": "in", `"`: "in", "ft": "ft", "feet": "ft", "foot": "ft", "'": "ft",
		"": "", "yd": "", "mil": "", "mms": "",
	} {
		if u, _ := ParseUnit(text); u.Name != want {
			t.Errorf("%q is read as %q, want %q", text, u.Name, want)
		}
	}
	if _, ok := Misstated(1, mm); ok {
		t.Error("the stated unit is said to be wrong")
	}
}
