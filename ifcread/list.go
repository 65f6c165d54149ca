package ifcread

import (
	"iter"
	"math"
)

// List calls yield for the members of a list, also of a typed one, until it says
// false; so that one can range over v.List. For other values there are none.
func (v Value) List(yield func(Value) bool) {
	v = v.inner()
	if v.n == 0 || v.f.data[v.off] != '(' {
		return
	}
	for p := v.f.list(int(v.off)); p.next(); {
		if !yield(p.value) {
			return
		}
	}
}

// All is List as an iterator to hand on.
func (v Value) All() iter.Seq[Value] {
	// A literal does not allocate where All is inlined; v.List would.
	return func(yield func(Value) bool) { v.List(yield) }
}

// Len is the number of members of a list, 0 for other values.
func (v Value) Len() int {
	n := 0
	for range v.List {
		n++
	}
	return n
}

// Refs appends the instances that a list refers to; those that are not in the
// file are left out and become Problems.
func (v Value) Refs(dst []Inst) []Inst {
	for e := range v.List {
		if i, ok := e.Inst(); ok {
			dst = append(dst, i)
		}
	}
	return dst
}

// Floats appends the numbers of a list to dst, those of nested lists one behind
// the other: ((1.,2.),(3.,4.)) gives 1 2 3 4. Each member counts: for one that is
// no number there is a NaN, so that the others keep their places. A single number
// counts as a list of one, any other value as an empty one.
func (v Value) Floats(dst []float64) []float64 {
	v = v.inner()
	b := v.Raw()
	if len(b) == 0 || b[0] != '(' {
		if x, n := number(b); n == len(b) && n > 0 {
			dst = append(dst, x)
		}
		return dst
	}
	for m := (members{b: b}); m.next(); {
		x, n := number(b[m.i:])
		if !m.take(n) {
			x = math.NaN()
		}
		dst = append(dst, x)
	}
	return dst
}

// NoInt stands in for a member of a list that is no whole number.
const NoInt = math.MinInt64

// Ints is Floats for whole numbers, with NoInt for members that are none.
func (v Value) Ints(dst []int64) []int64 {
	v = v.inner()
	b := v.Raw()
	if len(b) == 0 || b[0] != '(' {
		if x, n := integer(b); n == len(b) && n > 0 {
			dst = append(dst, x)
		}
		return dst
	}
	for m := (members{b: b}); m.next(); {
		x, n := integer(b[m.i:])
		if !m.take(n) {
			x = NoInt
		}
		dst = append(dst, x)
	}
	return dst
}

// members walks over the innermost members of nested lists.
type members struct {
	b []byte
	i int // of the member
}

// next finds the next member: at its first character.
func (m *members) next() bool {
	b, i := m.b, m.i
	for i < len(b) {
		switch class[b[i]] {
		case open, shut, comma, blank:
			i++
			continue
		case slash:
			if isComment(b, i) {
				i = skipComment(b, i)
				continue
			}
		case other:
			if isLetter(b[i]) {
				if k := skipBlank(b, skipWord(b, i)); k < len(b) && b[k] == '(' {
					i = k // what a type is wrapped around
					continue
				}
			}
		}
		m.i = i
		return true
	}
	m.i = i
	return false
}

// take passes the member, of which n characters were read, and reports whether
// that was all of it.
func (m *members) take(n int) bool {
	b, i := m.b, m.i+n
	if i < len(b) {
		switch class[b[i]] {
		case comma, shut:
			m.i = i
			return true
		}
	}
	k := skipBlank(b, i)
	whole := k == len(b) || b[k] == ',' || b[k] == ')'
	for ; k < len(b) && b[k] != ',' && b[k] != ')'; k++ {
		switch class[b[k]] {
		case quote:
			k = skipString(b, k+1) - 1
		case slash:
			if isComment(b, k) {
				k = skipComment(b, k) - 1
			}
		}
	}
	m.i = min(k, len(b))
	return whole
}
