package ifcread

import (
	"bytes"
	"encoding/binary"
	"math/bits"
)

// keywords finds the entity of an upper-case keyword. Every instance of a file
// asks, and the built-in map takes four times as long. Three words of eight
// letters hold all of a keyword of up to 24, which most have.
type keywords struct {
	slots [1 << keywordBits]keyword
	long  []string // upper case, by Type; "" when three words hold it
}

const keywordBits = 12 // for 1300 keywords

// shortest and longest are the keywords that letters hold without a rest.
const shortest, longest = 8, 24

type keyword struct {
	letters
	t Type // 0: free
}

// letters are the first, the second and the last eight letters of a word.
type letters struct {
	first, second, last uint64
	n                   int
}

func lettersOf(w []byte) letters {
	n := len(w)
	l := letters{n: n}
	switch {
	case n >= 16:
		l.second = binary.LittleEndian.Uint64(w[8:])
		fallthrough
	case n >= 8:
		l.first, l.last = binary.LittleEndian.Uint64(w), binary.LittleEndian.Uint64(w[n-8:])
	default:
		for _, c := range w {
			l.first = l.first<<8 | uint64(c)
		}
	}
	return l
}

func (l letters) slot() uint {
	h := (l.first ^ bits.RotateLeft64(l.last, 29) ^ uint64(l.n)) * 0x9E3779B97F4A7C15
	return uint(h >> (64 - keywordBits))
}

func (k *keywords) add(upper string, t Type) {
	l := lettersOf([]byte(upper))
	i := l.slot()
	for k.slots[i].t != 0 {
		i = (i + 1) % uint(len(k.slots))
	}
	k.slots[i] = keyword{l, t}
	for len(k.long) <= int(t) {
		k.long = append(k.long, "")
	}
	if len(upper) > longest {
		k.long[t] = upper
	}
}

// find is the entity of an upper-case keyword; 0 when it is unknown.
func (k *keywords) find(w []byte) Type {
	l := lettersOf(w)
	for i := l.slot(); ; i = (i + 1) % uint(len(k.slots)) {
		s := &k.slots[i]
		if s.t == 0 || s.letters == l && (l.n <= longest || k.long[s.t] == string(w)) {
			return s.t
		}
	}
}

// guesses is how many of the latest keywords a scanner remembers.
const guesses = 256

// keyword is the entity of the keyword at i and its length, when it is a known
// one in upper case with a bracket behind it; else 0. Most often the keyword is
// the latest one with the same 13 letters at its start, which saves looking for
// its end.
func (s *scanner) keyword(i int) (Type, int) {
	if i+64 > len(s.b) {
		return 0, 0
	}
	w := s.b[i : i+64]
	first := binary.LittleEndian.Uint64(w)
	h := (first ^ bits.RotateLeft64(binary.LittleEndian.Uint64(w[5:]), 29)) * 0x9E3779B97F4A7C15
	g := &s.guesses[h>>56]
	if n := g.n; g.first == first && n >= shortest && n <= longest && w[n] == '(' && binary.LittleEndian.Uint64(w[n-8:]) == g.last &&
		(n < 16 || binary.LittleEndian.Uint64(w[8:]) == g.second) {
		return g.t, n
	}
	n := bytes.IndexByte(w, '(')
	if n < 0 {
		return 0, 0
	}
	t := s.e.find(w[:n])
	if t != 0 && n >= shortest && n <= longest {
		*g = keyword{lettersOf(w[:n]), t}
	}
	return t, n
}
