package geom

import (
	"math/rand"
	"reflect"
	"testing"
)

// TestDisjoint joins random pairs and compares the sets with a flood over the same pairs.
func TestDisjoint(t *testing.T) {
	rnd := rand.New(rand.NewSource(1))
	for n := 1; n < 40; n++ {
		d := NewDisjoint(n)
		next := make([][]int, n)
		for range n / 2 {
			a, b := rnd.Intn(n), rnd.Intn(n)
			d.Join(int32(a), int32(b))
			next[a], next[b] = append(next[a], b), append(next[b], a)
		}
		if got, want := d.Sets(), flood(next); !reflect.DeepEqual(got, want) {
			t.Fatalf("n=%d: sets %v, want %v", n, got, want)
		}
	}
}

// flood is the slow way: repeated passes until no number takes a smaller name.
func flood(next [][]int) [][]int {
	name := make([]int, len(next))
	for i := range name {
		name[i] = i
	}
	for changed := true; changed; {
		changed = false
		for i, js := range next {
			for _, j := range js {
				if name[j] < name[i] {
					name[i], changed = name[j], true
				}
			}
		}
	}
	var out [][]int
	for root := range name {
		var set []int
		for i, r := range name {
			if r == root {
				set = append(set, i)
			}
		}
		if set != nil {
			out = append(out, set)
		}
	}
	return out
}
