package rules

import (
	"slices"
	"strings"
	"testing"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// heap is n different ferrules in one place of a wall, and two that stand alone
// 30 mm apart.
func heap(n int) func(*scene) {
	return func(s *scene) {
		w := s.wall("W")
		for i := range n {
			c := socket("H", 1000, 1000)
			c.d, c.length = 16, 95+2*float64(i) // no two are one thing drawn twice
			c.open = c.open.Add(geom.V(6*float64(i%2), 0, 0))
			s.add(w, c)
		}
		s.add(w, socket("A", 2000, 1000))
		s.add(w, socket("B", 2030, 1000))
	}
}

// Items in a heap are told as not compared, and the others are compared as ever.
func TestHeapsAreNotCompared(t *testing.T) {
	for _, c := range []struct {
		n       int
		heaped  bool
		nearest float64
	}{{mostInOnePlace + 1, false, 0}, {mostInOnePlace + 2, true, 0}} {
		s := newScene(placements["askew"])
		heap(c.n)(s)
		found, err := Run(s.m, limitFor(ItemClearance, Term{MM, 20}), 2)
		if err != nil {
			t.Fatal(err)
		}
		unchecked, compared, alone := 0, 0, 0
		for _, f := range found {
			for _, in := range f.Instances {
				switch {
				case f.Rule == "not-checked" && strings.Contains(in.Text, "item-clearance: more than 100 other items stand in the same place"):
					unchecked++
				case f.Rule == "item-clearance" && in.Item.Name == "H":
					compared++
				case f.Rule == "item-clearance":
					alone++
				}
			}
		}
		if c.heaped && (unchecked != c.n || compared != 0) || !c.heaped && (unchecked != 0 || compared == 0) || alone != 1 {
			t.Errorf("%d in one place: %d not compared, %d pairs of them told, %d of the others", c.n, unchecked, compared, alone)
		}
	}
}

// Parts of one assembly or set are no heap, however many they are.
func TestPartsOfOneThingAreNoHeap(t *testing.T) {
	s := newScene(geom.Identity)
	heap(2 * mostInOnePlace)(s)
	p := &shared{m: s.m, workers: 1}
	if got := len(p.findHeaps()); got != 2*mostInOnePlace {
		t.Errorf("%d items in a heap, want %d", got, 2*mostInOnePlace)
	}
	set := &model.Set{}
	for i, it := range s.m.Items {
		if i%2 == 0 {
			it.Set = set
		} else {
			it.Assembly = "A"
		}
	}
	if got := p.findHeaps(); len(got) != 0 {
		t.Errorf("%d items in a heap, want none", len(got))
	}
	if got := (&Pass{shared: &shared{heaps: func() map[*model.Item]bool { return nil }}}).unheaped(s.m.Items); !slices.Equal(got, s.m.Items) {
		t.Error("without heaps all items are compared")
	}
}
