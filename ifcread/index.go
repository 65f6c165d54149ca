package ifcread

import (
	"cmp"
	"math/bits"
	"slices"
)

// index finds the row of an instance number. Most writers number instances in
// ascending order with few gaps: then a bit for each number, and a count of the
// bits before every 64, tell the row in a fortieth of the memory of a plain
// table. Numbers in any other order need the row of each in addition; numbers far
// apart are sorted.
type index struct {
	base  ID // a multiple of 64
	words []indexWord
	perm  []uint32 // rows in the order of their numbers; nil: that of the file

	ids  []ID // sorted, when words is nil
	rows []uint32
}

type indexWord struct {
	bits uint64
	rank uint32 // bits set before this word
}

func (x *index) find(id ID) (row uint32, ok bool) {
	if x.words == nil {
		i, ok := slices.BinarySearch(x.ids, id)
		if !ok {
			return 0, false
		}
		return x.rows[i], true
	}
	at := id - x.base // wraps around for numbers below
	if at/64 >= ID(len(x.words)) {
		return 0, false
	}
	w := &x.words[at/64]
	bit := uint64(1) << (at % 64)
	if w.bits&bit == 0 {
		return 0, false
	}
	row = w.rank + uint32(bits.OnesCount64(w.bits&(bit-1)))
	if x.perm != nil {
		row = x.perm[row]
	}
	return row, true
}

// Get is the instance with a number.
func (f *File) Get(id ID) (Inst, bool) {
	row, ok := f.index.find(id)
	if !ok {
		return Inst{}, false
	}
	return Inst{f, row}, true
}

// indexer makes the index while the ranges of a file come in.
type indexer struct {
	f    *File
	n    int // rows so far
	last ID
	x    index
	any  bool     // numbers do not ascend, or have large gaps
	low  []uint32 // the numbers, when any
	wide bool     // some need more than 32 bits
}

// add takes the numbers of the next rows.
func (x *indexer) add(ids []ID) {
	if !x.any {
		ids = x.ascend(ids)
	}
	x.n += len(ids)
	if !x.any || x.wide {
		return
	}
	for _, id := range ids {
		x.wide = x.wide || id>>32 != 0
		x.low = append(x.low, uint32(id))
	}
}

// ascend takes numbers as long as they ascend without large gaps; it gives those
// that are left and then notes the numbers of all earlier rows.
func (x *indexer) ascend(ids []ID) []ID {
	if x.n == 0 && len(ids) > 0 {
		x.x.base = ids[0] &^ 63
	}
	words := x.x.words
	for k, id := range ids {
		at := (id - x.x.base) / 64
		if id <= x.last && x.n > 0 || at > ID(x.n/4+1024) {
			x.x.words = words
			x.giveUp()
			return ids[k:]
		}
		for at >= ID(len(words)) {
			words = append(words, indexWord{rank: uint32(x.n)})
		}
		words[at].bits |= 1 << (id % 64)
		x.last = id
		x.n++
	}
	x.x.words = words
	return nil
}

func (x *indexer) giveUp() {
	x.any, x.x = true, index{}
	x.low = make([]uint32, 0, cap(x.f.offs))
	for row := range x.n {
		id := x.f.idAt(int(x.f.offs[row]))
		x.wide = x.wide || id>>32 != 0
		x.low = append(x.low, uint32(id))
	}
}

// id is the number of a row.
func (x *indexer) id(row int) ID {
	if x.wide {
		return x.f.idAt(int(x.f.offs[row]))
	}
	return ID(x.low[row])
}

// finish gives the index and reports numbers that are used again.
func (x *indexer) finish() index {
	if !x.any {
		return x.x
	}
	least, most := ^ID(0), ID(0)
	for row := range x.n {
		id := x.id(row)
		least, most = min(least, id), max(most, id)
	}
	least &^= 63
	if (most-least)/64 > ID(x.n/4+1024) {
		return x.sorted()
	}
	y := index{base: least, words: make([]indexWord, (most-least)/64+1)}
	for row := range x.n {
		at := x.id(row) - least
		w, bit := &y.words[at/64], uint64(1)<<(at%64)
		if w.bits&bit != 0 {
			x.duplicate(row)
		}
		w.bits |= bit
	}
	rank := 0
	for i := range y.words {
		y.words[i].rank = uint32(rank)
		rank += bits.OnesCount64(y.words[i].bits)
	}
	perm := make([]uint32, rank)
	for row := x.n - 1; row >= 0; row-- { // the first of several rows is written last
		r, _ := y.find(x.id(row))
		perm[r] = uint32(row)
	}
	y.perm = perm
	return y
}

func (x *indexer) sorted() index {
	order := make([]uint32, x.n)
	for row := range order {
		order[row] = uint32(row)
	}
	slices.SortFunc(order, func(a, b uint32) int {
		return cmp.Or(cmp.Compare(x.id(int(a)), x.id(int(b))), cmp.Compare(a, b))
	})
	y := index{ids: make([]ID, 0, x.n), rows: make([]uint32, 0, x.n)}
	var again []int
	for _, row := range order {
		id := x.id(int(row))
		if k := len(y.ids); k > 0 && y.ids[k-1] == id {
			again = append(again, int(row))
			continue
		}
		y.ids, y.rows = append(y.ids, id), append(y.rows, row)
	}
	slices.Sort(again)
	for _, row := range again {
		x.duplicate(row)
	}
	return y
}

func (x *indexer) duplicate(row int) {
	at := int(x.f.offs[row])
	x.f.faults.add(fault{at: at, id: x.f.idAt(at), why: whyDuplicate})
}
