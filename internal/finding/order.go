package finding

import (
	"cmp"
	"strings"
)

// Natural compares as people list names: digits by their value, so that WP-2
// comes before WP-10. Names that differ only in leading zeros are told apart by
// their bytes, so that the order is total.
func Natural(a, b string) int {
	x, y := a, b
	for x != "" && y != "" {
		if isDigit(x[0]) && isDigit(y[0]) {
			dx, rx := digits(x)
			dy, ry := digits(y)
			if c := cmp.Or(cmp.Compare(len(dx), len(dy)), strings.Compare(dx, dy)); c != 0 {
				return c
			}
			x, y = rx, ry
			continue
		}
		if x[0] != y[0] {
			return cmp.Compare(x[0], y[0])
		}
		x, y = x[1:], y[1:]
	}
	return cmp.Or(cmp.Compare(len(x), len(y)), strings.Compare(a, b))
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }

// digits splits off the leading number, without its leading zeros.
func digits(s string) (number, rest string) {
	n := 0
	for n < len(s) && isDigit(s[n]) {
		n++
	}
	return strings.TrimLeft(s[:n], "0"), s[n:]
}
