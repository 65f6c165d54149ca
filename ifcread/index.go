package ifcread

import (
	"cmp"
	"fmt"
	"slices"
)

// index finds the row of an instance number. Files mostly number their
// instances without large gaps, so that a plain table is smallest and fastest;
// others get a sorted list.
type index struct {
	dense []uint32 // row+1 by number; 0: none
	ids   []ID     // sorted, when dense is nil
	rows  []uint32
}

func (f *File) makeIndex(maxID ID) index {
	n := len(f.offs)
	if maxID < ID(4*n+1024) {
		x := index{dense: make([]uint32, maxID+1)}
		for row := range n {
			id := f.idAt(int(f.offs[row]))
			if x.dense[id] != 0 {
				f.duplicate(row, id)
				continue
			}
			x.dense[id] = uint32(row) + 1
		}
		return x
	}
	x := index{ids: make([]ID, n), rows: make([]uint32, n)}
	order := make([]uint32, n)
	ids := make([]ID, n)
	for row := range n {
		order[row], ids[row] = uint32(row), f.idAt(int(f.offs[row]))
	}
	slices.SortFunc(order, func(a, b uint32) int { return cmp.Or(cmp.Compare(ids[a], ids[b]), cmp.Compare(a, b)) })
	k := 0
	for _, row := range order {
		if k > 0 && x.ids[k-1] == ids[row] {
			f.duplicate(int(row), ids[row])
			continue
		}
		x.ids[k], x.rows[k] = ids[row], row
		k++
	}
	x.ids, x.rows = x.ids[:k], x.rows[:k]
	return x
}

// duplicate reports a number that is used again: the first use counts.
func (f *File) duplicate(row int, id ID) {
	f.problems.add(found{int(f.offs[row]), id, fmt.Errorf("%w; the first one counts", ErrDuplicate), ErrDuplicate})
}

// Get is the instance of a number.
func (f *File) Get(id ID) (Inst, bool) {
	if d := f.index.dense; d != nil {
		if id >= ID(len(d)) || d[id] == 0 {
			return Inst{}, false
		}
		return Inst{f, d[id] - 1}, true
	}
	i, ok := slices.BinarySearch(f.index.ids, id)
	if !ok {
		return Inst{}, false
	}
	return Inst{f, f.index.rows[i]}, true
}

// Of is all instances of an entity or one below it, in file order. The slice is
// shared: do not change it.
func (f *File) Of(t Type) []Inst {
	if g, ok := f.groups.Load(t); ok {
		return g.([]Inst)
	}
	g, _ := f.groups.LoadOrStore(t, f.collect(t))
	return g.([]Inst)
}

func (f *File) collect(super Type) []Inst {
	if super == 0 || int(super) >= len(f.ents.names) {
		return nil
	}
	below := make([]bool, len(f.ents.names))
	listed := f.listed()
	all := true
	var rows []uint32
	kinds := 0
	for t := 1; t < len(below); t++ {
		if below[t] = f.table.isA(Type(t), super); !below[t] {
			continue
		}
		all = all && listed[t]
		if r := f.rows[Type(t)]; len(r) > 0 {
			rows = append(rows, r...)
			kinds++
		}
	}
	if !all {
		rows = rows[:0]
		for row, t := range f.types {
			if below[t] {
				rows = append(rows, uint32(row))
			}
		}
	} else if kinds > 1 {
		slices.Sort(rows)
	}
	out := make([]Inst, len(rows))
	for i, r := range rows {
		out[i] = Inst{f, r}
	}
	return out
}
