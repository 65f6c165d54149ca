package ifcread

import (
	"maps"
	"slices"
	"sync"
)

// late collects the problems that show only when values are looked at, by many
// goroutines at a time. What it keeps does not depend on their order.
type late struct {
	mu      sync.Mutex
	missing smallest[ID]     // -> first place that refers to it
	torn    smallest[uint32] // place of an instance -> the same
}

// missing notes that the value at an offset refers to an instance that is not in
// the file.
func (f *File) missing(at uint32, id ID) {
	f.late.mu.Lock()
	defer f.late.mu.Unlock()
	f.late.missing.note(id, at)
}

// torn notes that a list that begins at an offset has no closing bracket.
func (f *File) torn(at uint32) {
	f.late.mu.Lock()
	defer f.late.mu.Unlock()
	at = f.statement(at)
	f.late.torn.note(at, at)
}

// statement is where the instance begins that an offset is in.
func (f *File) statement(at uint32) uint32 {
	row, ok := slices.BinarySearch(f.offs, at)
	switch {
	case ok:
		return at
	case row == 0:
		return 0
	}
	return f.offs[row-1]
}

// join gives these problems and those that were found before, in the order of
// the file, and how many there are of each sort.
func (l *late) join(f *File) ([]fault, [whys]int) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.missing.trim()
	l.torn.trim()
	list, count := slices.Clone(f.faults.list), f.faults.count
	var missing, torn []fault
	for id, at := range l.missing.kept {
		at = f.statement(at)
		missing = append(missing, fault{at: int(at), id: f.idAt(int(at)), why: whyMissing, to: id})
	}
	for at := range l.torn.kept {
		torn = append(torn, fault{at: int(at), id: f.idAt(int(at)), why: whyTorn})
	}
	for _, late := range [...][]fault{missing, torn} {
		slices.SortFunc(late, fault.compare)
		if len(late) > 0 {
			count[late[0].why] = len(late)
		}
		list = append(list, late[:min(len(late), maxFaults)]...)
	}
	slices.SortStableFunc(list, fault.compare)
	return list, count
}

// maxLate is how many late problems of a sort are told apart: hostile files have
// millions.
const maxLate = 10000

// smallest keeps the smallest keys it was given, up to about maxLate of them, each
// with its smallest value.
type smallest[K ID | uint32] struct {
	kept map[K]uint32
	cap  K // keys from here on are not kept, unless it is 0
}

func (s *smallest[K]) note(key K, value uint32) {
	if s.cap != 0 && key >= s.cap {
		return
	}
	if s.kept == nil {
		s.kept = map[K]uint32{}
	}
	if old, ok := s.kept[key]; ok {
		value = min(old, value)
	}
	s.kept[key] = value
	if len(s.kept) > 2*maxLate {
		s.trim()
	}
}

// trim drops the largest keys.
func (s *smallest[K]) trim() {
	if len(s.kept) <= maxLate {
		return
	}
	s.cap = slices.Sorted(maps.Keys(s.kept))[maxLate]
	maps.DeleteFunc(s.kept, func(k K, _ uint32) bool { return k >= s.cap })
}
