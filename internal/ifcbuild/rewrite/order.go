package rewrite

import (
	"fmt"
	"math/rand/v2"
)

// Shuffle puts the instances into another order.
func Shuffle(seed uint64) func(*Text) error {
	return func(t *Text) error {
		r := rand.New(rand.NewPCG(seed, 1))
		r.Shuffle(len(t.Insts), func(i, k int) { t.Insts[i], t.Insts[k] = t.Insts[k], t.Insts[i] })
		return nil
	}
}

// Renumber gives each instance another number, with gaps.
func Renumber(seed uint64) func(*Text) error {
	return func(t *Text) error {
		perm := rand.New(rand.NewPCG(seed, 2)).Perm(len(t.Insts))
		to, by := map[string]string{}, map[uint64]*Inst{}
		for i, in := range t.Insts {
			id := 7 + 3*uint64(perm[i])
			to[fmt.Sprintf("#%d", in.ID)] = fmt.Sprintf("#%d", id)
			in.ID, by[id] = id, in
		}
		t.by, t.next = by, 7+3*uint64(len(perm))
		for _, in := range t.Insts {
			walk(in.Args, func(v *Value) {
				if n, ok := to[v.Word]; ok && !v.IsList {
					v.Word = n
				}
			})
		}
		return nil
	}
}

// walk calls do for each value in a list, the lists in it included.
func walk(list []Value, do func(*Value)) {
	for i := range list {
		do(&list[i])
		walk(list[i].List, do)
	}
}
