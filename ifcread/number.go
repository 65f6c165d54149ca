package ifcread

import (
	"math"
	"strconv"
	"unsafe"
)

// pow10 are the powers of ten that a float64 holds exactly.
var pow10 = [...]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22}

// number reads the number that b begins with, as the standard writes it
// ("12.", "-1.5E-03") and as exporters do who leave out the point or the digits
// before it. n is how many bytes it has; 0 when there is none or when it is too
// large for a float64.
//
// A mantissa below 2^53 and a power of ten up to 22 are exact, so that one
// multiplication or division rounds correctly (W. Clinger, "How to read floating
// point numbers accurately", 1990); the rest goes to strconv, which takes several
// times as long.
func number(b []byte) (x float64, n int) {
	i, neg := 0, false
	if len(b) > 0 && (b[0] == '-' || b[0] == '+') {
		neg, i = b[0] == '-', 1
	}
	var m uint64
	from := i
	for i < len(b) && isDigit(b[i]) {
		m = m*10 + uint64(b[i]-'0')
		i++
	}
	digits, exp := i-from, 0
	if i < len(b) && b[i] == '.' {
		i++
		point := i
		for i < len(b) && isDigit(b[i]) {
			m = m*10 + uint64(b[i]-'0')
			i++
		}
		digits += i - point
		exp = point - i
	}
	if digits == 0 {
		return 0, 0
	}
	if i < len(b) && b[i]|0x20 == 'e' {
		e, k := exponent(b[i+1:])
		if k == 0 {
			return 0, 0
		}
		exp += e
		i += 1 + k
	}
	if digits > 19 || m >= 1<<53 || exp < -22 || exp > 22 {
		return slowNumber(b[:i])
	}
	x = float64(m)
	if exp < 0 {
		x /= pow10[-exp]
	} else {
		x *= pow10[exp]
	}
	if neg {
		x = -x
	}
	return x, i
}

// exponent reads what stands behind "E".
func exponent(b []byte) (e, n int) {
	i, neg := 0, false
	if len(b) > 0 && (b[0] == '-' || b[0] == '+') {
		neg, i = b[0] == '-', 1
	}
	from := i
	for i < len(b) && isDigit(b[i]) {
		e = min(e*10+int(b[i]-'0'), 1<<20)
		i++
	}
	if i == from {
		return 0, 0
	}
	if neg {
		e = -e
	}
	return e, i
}

func slowNumber(b []byte) (float64, int) {
	x, err := strconv.ParseFloat(unsafe.String(unsafe.SliceData(b), len(b)), 64) // not kept
	if err != nil || math.IsInf(x, 0) {
		return 0, 0
	}
	return x, len(b)
}

// integer reads the whole number that b begins with; n is 0 when there is none
// or when it is too large.
func integer(b []byte) (x int64, n int) {
	i, neg := 0, false
	if len(b) > 0 && (b[0] == '-' || b[0] == '+') {
		neg, i = b[0] == '-', 1
	}
	u, k := instanceNumber(b[i:])
	if k == 0 || u > math.MaxInt64 {
		return 0, 0
	}
	x = int64(u)
	if neg {
		x = -x
	}
	return x, i + k
}

// maxDigits is how many digits surely fit into 64 bits.
const maxDigits = 19

// instanceNumber reads the digits that b begins with; n is 0 when there are none
// or more than 19.
func instanceNumber(b []byte) (id ID, n int) {
	for n < len(b) && isDigit(b[n]) {
		id = id*10 + ID(b[n]-'0')
		n++
	}
	if n > maxDigits {
		return 0, 0
	}
	return id, n
}
