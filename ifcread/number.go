package ifcread

import (
	"math"
	"strconv"
	"unsafe"
)

// pow10 are the powers of ten that a float64 holds exactly.
var pow10 = [...]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22}

// parseFloat reads a number as the standard writes it, and as exporters do who
// leave out the point or the digits behind it. Up to 15 digits and small powers
// of ten are exact with one division or multiplication; the rest goes to
// strconv, which takes about four times as long.
func parseFloat(b []byte) (float64, bool) {
	i, neg := 0, false
	if len(b) > 0 && (b[0] == '-' || b[0] == '+') {
		neg, i = b[0] == '-', 1
	}
	var m uint64
	digits, point, fraction := 0, false, 0
	for ; i < len(b); i++ {
		c := b[i]
		if c == '.' && !point {
			point = true
			continue
		}
		if c < '0' || c > '9' {
			break
		}
		if digits++; digits > 18 {
			return slowFloat(b)
		}
		m = m*10 + uint64(c-'0')
		if point {
			fraction++
		}
	}
	if digits == 0 {
		return 0, false
	}
	exp := 0
	if i < len(b) {
		var ok bool
		if exp, ok = exponent(b[i:]); !ok {
			return 0, false
		}
	}
	exp -= fraction
	if m >= 1<<53 || exp < -22 || exp > 22 {
		return slowFloat(b)
	}
	f := float64(m)
	if exp < 0 {
		f /= pow10[-exp]
	} else {
		f *= pow10[exp]
	}
	if neg {
		f = -f
	}
	return f, true
}

// exponent reads "E-05" to the end.
func exponent(b []byte) (int, bool) {
	if b[0] != 'E' && b[0] != 'e' {
		return 0, false
	}
	i, neg, e := 1, false, 0
	if i < len(b) && (b[i] == '-' || b[i] == '+') {
		neg, i = b[i] == '-', i+1
	}
	if i == len(b) {
		return 0, false
	}
	for ; i < len(b); i++ {
		if b[i] < '0' || b[i] > '9' || e > 9999 {
			return 0, false
		}
		e = e*10 + int(b[i]-'0')
	}
	if neg {
		e = -e
	}
	return e, true
}

func slowFloat(b []byte) (float64, bool) {
	for _, c := range b { // no hexadecimal, no underscores, no words
		if (c < '0' || c > '9') && c != '.' && c != '-' && c != '+' && c != 'E' && c != 'e' {
			return 0, false
		}
	}
	f, err := strconv.ParseFloat(str(b), 64)
	return f, err == nil && !math.IsInf(f, 0)
}

// str is b as a string without a copy, for calls that do not keep it.
func str(b []byte) string { return unsafe.String(unsafe.SliceData(b), len(b)) }
