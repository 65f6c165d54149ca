package rules

import "testing"

// raised is a template of 8 mm over four bolts, so many mm off the concrete.
func raised(gap float64) func(*scene) {
	return func(s *scene) {
		s.template(s.over("T", 850, 850, 1150, 1150, gap, 8, four(s)...))
	}
}

func TestTemplateStandoff(t *testing.T) {
	checkAll(t, TemplateStandoff, []sceneCase{
		{"25 mm", Builtin(), raised(25), nil},
		{"24 mm", Builtin(), raised(24), []float64{24}},
		{"on the concrete", Builtin(), raised(0), []float64{0}},
		{"half sunk", Builtin(), raised(-4), []float64{-4}},
		{"cast in, flush", Builtin(), raised(-8), nil},
		{"cast in, half a millimetre proud", Builtin(), raised(-7.5), nil},
		{"cast in deeper", Builtin(), raised(-60), nil},
		{"a base plate is none", Builtin(), func(s *scene) { s.over("P", 850, 850, 1150, 1150, 5, 20, four(s)...) }, nil},
		{"limit of the rule file", limitFor(TemplateStandoff, Term{Inch, 2}), raised(50), []float64{50}},
	})
	for _, c := range []struct {
		gap  float64
		want string
	}{
		{10, "the underside of T is 10 mm above the concrete; 25 mm of height needed to finish under it."},
		{0, "T lies on the concrete; 25 mm of height needed to finish under it."},
		{-4, "the underside of T is 4 mm below the face of the concrete; 25 mm of height needed to finish under it."},
	} {
		f := onlyScene(t, TemplateStandoff, Builtin(), raised(c.gap))
		if f.Message != c.want {
			t.Errorf("got %s", f.Message)
		}
		if f.Host.Name != "W" || f.Set != "HD-1" || f.Source != "common practice, no published source" {
			t.Errorf("host %q, set %q, source %q", f.Host.Name, f.Set, f.Source)
		}
	}
}
