package rules

import (
	"reflect"
	"slices"
	"testing"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// taken is a set of two bolts in a wall, with a value taken of the first.
func taken(s *scene, v Measured) Measured {
	w := s.wall("W")
	a, b := s.bolt(w, "A", 1000, 1000), s.bolt(w, "B", 1200, 1000)
	s.set("S", a, b)
	v.Host, v.Item, v.Anchor = w, a, a.Anchors[0]
	v.What, v.Source, v.At = "A from the left side", "a drawing", a.Anchors[0].Entry.Point
	return v
}

func runMeasured(t *testing.T, s *scene, set *Set, values ...Measured) []finding.Finding {
	t.Helper()
	found, err := RunMeasured(s.m, set, 2, values, nil)
	if err != nil {
		t.Fatal(err)
	}
	return found
}

func TestMeasured(t *testing.T) {
	for _, c := range []struct {
		name string
		v    Measured
		want string // rule; "" for none
		off  float64
		is   string // what governs
	}{
		{"as in the model", Measured{Kind: TolPosition, Model: 500, Value: 500, Minus: 6, Plus: 6}, "", 0, ""},
		{"at the tolerance", Measured{Kind: TolPosition, Model: 500, Value: 506, Minus: 6, Plus: 6}, "", 0, ""},
		{"just beyond", Measured{Kind: TolPosition, Model: 500, Value: 506.1, Minus: 6, Plus: 6}, "position-measured", 6.1, "mm"},
		{"at it below", Measured{Kind: TolCentres, Model: 500, Value: 497, Minus: 3, Plus: 6}, "", 0, ""},
		{"just beyond below", Measured{Kind: TolCentres, Model: 500, Value: 496.9, Minus: 3, Plus: 6}, "position-measured", 3.1, "minus"},
		{"between the sides", Measured{Kind: TolLevel, Model: 60, Value: 80, Minus: 5, Plus: 25}, "", 0, ""},
		{"above the larger side", Measured{Kind: TolLevel, Model: 60, Value: 86, Minus: 5, Plus: 25}, "depth-measured", 26, "plus"},
		{"depth", Measured{Kind: TolDepth, Model: 200, Value: 180, Minus: 13, Plus: 13}, "depth-measured", 20, "mm"},
		{"cover", Measured{Kind: TolCover, Model: 30, Value: 15, Minus: 10, Plus: 10}, "depth-measured", 15, "mm"},
		{"size", Measured{Kind: TolSize, Model: 200, Value: 210, Minus: 5, Plus: 5}, "size-measured", 10, "mm"},
		{"float noise", Measured{Kind: TolPosition, Model: 0.1 + 0.2, Value: 6.3, Minus: 6, Plus: 6}, "", 0, ""},
	} {
		for where, at := range placements {
			s := newScene(at)
			found := runMeasured(t, s, Builtin(), taken(s, c.v))
			if c.want == "" {
				if len(found) != 0 {
					t.Errorf("%s, %s: found %+v", c.name, where, found)
				}
				continue
			}
			if len(found) != 1 || found[0].Rule != c.want || found[0].Source != "a drawing" || found[0].Set != "S" || found[0].Host.Name != "W" {
				t.Errorf("%s, %s: found %+v", c.name, where, found)
				continue
			}
			in := found[0].Instances[0]
			if got, _ := in.Rounded(); got != c.off || in.Governs != c.is || in.Relation != finding.AtMost || in.Normal == (geom.Vec{}) {
				t.Errorf("%s, %s: got %+v", c.name, where, in)
			}
		}
	}
}

func TestMeasuredText(t *testing.T) {
	s := newScene(geom.Identity)
	found := runMeasured(t, s, Builtin(), taken(s, Measured{Kind: TolPosition, Model: 1000, Value: 988, Minus: 6, Plus: 6}))
	f := found[0]
	if want := "Measured out of position: S in W"; f.Title != want {
		t.Errorf("title is %q", f.Title)
	}
	if want := "A from the left side: 988 mm measured, 1000 mm in the model; 12 mm less, and at most 6 mm less is within the tolerance."; f.Message != want {
		t.Errorf("message is %q", f.Message)
	}
}

// The issue stays the same one whatever the figures, the order of the values and
// the GlobalIds are.
func TestMeasuredIDs(t *testing.T) {
	build := func(value float64, turnRound bool) []finding.Finding {
		s := newScene(geom.Identity)
		a := taken(s, Measured{Kind: TolPosition, Model: 1000, Value: value, Minus: 6, Plus: 6})
		b := a
		b.What, b.Value = "A from the lower side", value+3
		form := Measured{Kind: TolPosition, Host: a.Host, What: "opening", Model: 300, Value: 200, Minus: 25, Plus: 25, Source: "a drawing"}
		values := []Measured{a, b, form}
		if turnRound {
			slices.Reverse(values)
		}
		return runMeasured(t, s, Builtin(), values...)
	}
	one, two := build(900, false), build(930, true)
	if len(one) != 2 || len(two) != 2 {
		t.Fatalf("found %+v and %+v", one, two)
	}
	for i := range one {
		if one[i].ID != two[i].ID {
			t.Errorf("ids %s and %s", one[i].ID, two[i].ID)
		}
	}
	if again := build(900, true); !reflect.DeepEqual(one, again) {
		t.Errorf("another order gives %+v, not %+v", again, one)
	}
	if form := one[1]; form.Set != "form of W" || form.Host.Name != "W" || form.Instances[0].Kind != "" {
		t.Errorf("the form: %+v", form)
	}
}

// Forms that are alike keep their own issues.
func TestFormsThatAreAlike(t *testing.T) {
	s := newScene(geom.Identity)
	a := s.wall("W")
	s.at = s.at.Shift(geom.V(0, 9000, 0))
	b := s.wall("W")
	var values []Measured
	for _, h := range []*model.Host{b, a} {
		values = append(values, Measured{Kind: TolSize, Host: h, What: "length", Model: 3000, Value: 3100, Minus: 5, Plus: 5, Source: "a drawing"})
	}
	found := runMeasured(t, s, Builtin(), values...)
	if len(found) != 2 || found[0].ID == found[1].ID {
		t.Errorf("found %+v", found)
	}
}

func TestMeasuredOff(t *testing.T) {
	off := true
	for name, set := range map[string]*Set{
		"off":             {Rules: map[string]Change{"position-measured": {Off: &off}}},
		"other tolerance": Builtin(),
	} {
		s := newScene(geom.Identity)
		v := taken(s, Measured{Kind: TolPosition, Model: 1000, Value: 1020, Minus: 6, Plus: 6})
		if name == "other tolerance" {
			v.Plus = 20
		}
		if found := runMeasured(t, s, set, v); len(found) != 0 {
			t.Errorf("%s: found %+v", name, found)
		}
	}
}

func TestNotComparedIsTold(t *testing.T) {
	s := newScene(geom.Identity)
	w := s.wall("W")
	found, err := RunMeasured(s.m, Builtin(), 1, nil, []model.Unread{
		{Ref: w.Ref, Role: "host", Why: "the survey has two references"},
		{Ref: model.Ref{Name: "form.csv"}, Role: "sheet", Why: "row 7 holds no number"},
	})
	if err != nil || len(found) != 2 {
		t.Fatalf("found %+v, %v", found, err)
	}
	for _, f := range found {
		if f.Rule != finding.NotChecked {
			t.Errorf("found %+v", f)
		}
	}
	// Nothing else that the model lacks is told again.
	s = newScene(geom.Identity)
	c := bolt("A", 1000, 1000)
	c.noEntry = true
	s.add(s.wall("W"), c)
	if found := runMeasured(t, s, Builtin()); len(found) != 0 {
		t.Errorf("found %+v", found)
	}
}
