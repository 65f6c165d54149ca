package ifcread

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
)

// TestIndex numbers instances in many ways and looks up those that are there and
// their neighbours.
func TestIndex(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	shuffled := func(n int, id func(i int) ID) []ID {
		ids := make([]ID, n)
		for i, k := range r.Perm(n) {
			ids[i] = id(k)
		}
		return ids
	}
	count := func(n int, id func(i int) ID) []ID {
		ids := make([]ID, n)
		for i := range ids {
			ids[i] = id(i)
		}
		return ids
	}
	for name, ids := range map[string][]ID{
		"one":                      {1},
		"zero":                     {0, 1, 2},
		"ascending":                count(1000, func(i int) ID { return ID(i + 1) }),
		"ascending by two":         count(1000, func(i int) ID { return ID(2*i + 63) }),
		"descending":               count(1000, func(i int) ID { return ID(1000 - i) }),
		"in no order":              shuffled(1000, func(i int) ID { return ID(i) }),
		"a wide gap":               {1, 2, 3, 1e6, 1e6 + 1},
		"a wider gap":              {1, 2, 3, 1 << 31, 1 << 40},
		"far apart":                shuffled(500, func(i int) ID { return ID(i) * 1e9 }),
		"far apart, ascending":     count(500, func(i int) ID { return ID(i) * 1e12 }),
		"a block over 2^31":        count(500, func(i int) ID { return 1<<31 + ID(i) }),
		"a block over 2^32":        shuffled(500, func(i int) ID { return 1<<33 + ID(i) }),
		"the largest":              {9999999999999999998, 9999999999999999999},
		"used twice":               {5, 6, 5, 7, 6, 5},
		"used twice, far apart":    {5, 1 << 50, 5, 1 << 50, 1 << 20},
		"order lost after a while": append(count(3000, func(i int) ID { return ID(i + 100) }), 50, 51, 3000, 4000),
	} {
		t.Run(name, func(t *testing.T) {
			var text strings.Builder
			first := map[ID]int{}
			again := 0
			for i, id := range ids {
				fmt.Fprintf(&text, "#%d=IFCCARTESIANPOINT((%d.,0.));\n", id, i)
				if _, ok := first[id]; ok {
					again++
				} else {
					first[id] = i
				}
			}
			for _, chunk := range []int{1 << 20, 100} {
				f := parse(t, head+text.String()+tail, Options{Workers: 2, chunk: chunk})
				for id := range first {
					for _, id := range []ID{id - 1, id, id + 1, id + 64, id << 1} {
						want, there := first[id]
						i, ok := f.Get(id)
						if ok != there {
							t.Fatalf("#%d: found %v, want %v", id, ok, there)
						}
						if ok && (int(i.row) != want || i.ID() != id) {
							t.Fatalf("#%d: row %d with #%d, want %d", id, i.row, i.ID(), want)
						}
					}
				}
				if p := f.Problems(); len(p) != again || again > 0 && !errors.Is(p[0], ErrDuplicate) {
					t.Errorf("problems %v, want %d duplicates", p, again)
				}
			}
		})
	}
}

// TestIndexIsSmall holds the index to a size for each instance: an offset, a
// type and the number's bit.
func TestIndexIsSmall(t *testing.T) {
	const n = 100000
	for name, id := range map[string]func(i int) int{
		"ascending":    func(i int) int { return i + 1 },
		"gaps of five": func(i int) int { return 5*i + 1 },
	} {
		var text strings.Builder
		text.WriteString(head)
		for i := range n {
			fmt.Fprintf(&text, "#%d=IFCCARTESIANPOINT((0.,0.,0.));\n", id(i))
		}
		f := parse(t, text.String()+tail, Options{})
		bytes := 4*cap(f.offs) + 2*cap(f.types) + 16*cap(f.index.words) + 4*cap(f.index.perm) + 12*cap(f.index.ids)
		if each := float64(bytes) / n; each > 9 {
			t.Errorf("%s: %.1f bytes for each instance", name, each)
		}
	}
}
