package ifcread

import "strings"

// keywords finds the entity of an upper-case keyword without hashing all of it:
// a multiplicative hash of its length and a few letters, and one comparison.
// The built-in map takes about five times as long, and every instance asks.
type keywords struct {
	slots [4096]Type
	upper []string // by Type
}

func (k *keywords) build(names []string) {
	k.upper = make([]string, len(names))
	for t := 1; t < len(names); t++ {
		k.upper[t] = strings.ToUpper(names[t])
		i := slot([]byte(k.upper[t]))
		for k.slots[i] != 0 {
			i = (i + 1) & (len(k.slots) - 1)
		}
		k.slots[i] = Type(t)
	}
}

func slot(b []byte) int {
	n := len(b)
	h := uint32(n)
	for _, i := range [...]int{3, 4, 6, n / 2, n - 5, n - 3, n - 2, n - 1} {
		if i >= 0 && i < n {
			h = h*0x01000193 ^ uint32(b[i])
		}
	}
	return int((h ^ h>>15) & 4095)
}

// find is the entity of a keyword in any case, 0 when it is unknown.
func (k *keywords) find(b []byte) Type {
	for i := slot(b); k.slots[i] != 0; i = (i + 1) & (len(k.slots) - 1) {
		if t := k.slots[i]; k.upper[t] == string(b) {
			return t
		}
	}
	for _, c := range b {
		if c >= 'a' && c <= 'z' {
			return TypeOf(string(b))
		}
	}
	return 0
}
