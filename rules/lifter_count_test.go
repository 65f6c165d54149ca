package rules

import "testing"

// A project asks for four, or for as many as stand on both sides of the limit.
func TestLifterCount(t *testing.T) {
	asked := func(n float64) *Set {
		off := false
		s := Builtin()
		s.Rules = map[string]Change{"lifter-count": {Off: &off, Limit: Limit{{Number, n}}}}
		return s
	}
	four := inTop([2]float64{500, 400}, [2]float64{2500, 400}, [2]float64{500, 1600}, [2]float64{2500, 1600})
	three := inTop([2]float64{500, 400}, [2]float64{2500, 400}, [2]float64{500, 1600})
	twice := inTop([2]float64{500, 400}, [2]float64{2500, 400}, [2]float64{500, 1600}, [2]float64{500, 1600})
	for _, c := range []struct {
		name  string
		set   *Set
		build func(*scene)
		want  []float64
	}{
		{"off as long as nobody asks", Builtin(), three, nil},
		{"four of four", asked(4), four, nil},
		{"three of four", asked(4), three, []float64{3}},
		{"three of three", asked(3), three, nil},
		{"one modelled twice is one", asked(4), twice, []float64{3}},
		{"none at all", asked(4), func(s *scene) { s.slab("S") }, nil},
	} {
		check(t, LifterCount, c.set, c.name, c.want, c.build)
	}
}
