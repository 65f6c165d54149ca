package ifcread

import "strings"

// guidDigits are the digits of a GlobalId in the order of their values
// (IfcGloballyUniqueId).
const guidDigits = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz_$"

// ValidGlobalID reports whether s is a GlobalId: 22 digits of base 64 that hold
// 128 bits, so that the first is 0 to 3.
func ValidGlobalID(s string) bool {
	if len(s) != 22 || s[0] < '0' || s[0] > '3' {
		return false
	}
	for i := range len(s) {
		if strings.IndexByte(guidDigits, s[i]) < 0 {
			return false
		}
	}
	return true
}

// GlobalIDBytes is the UUID that a GlobalId stands for.
func GlobalIDBytes(s string) (uuid [16]byte, ok bool) {
	if !ValidGlobalID(s) {
		return uuid, false
	}
	bits, n, k := uint32(0), 0, 0
	for i := range len(s) {
		v := uint32(strings.IndexByte(guidDigits, s[i]))
		w := 6
		if i == 0 {
			w = 2
		}
		bits, n = bits<<w|v, n+w
		if n >= 8 {
			n -= 8
			uuid[k] = byte(bits >> n)
			k++
		}
	}
	return uuid, true
}

// GlobalIDOf is the GlobalId of a UUID.
func GlobalIDOf(uuid [16]byte) string {
	out := make([]byte, 0, 22)
	bits, n := uint32(0), 4 // 128 bits are 22 digits with 4 bits to spare
	for _, b := range uuid {
		bits, n = bits<<8|uint32(b), n+8
		for n >= 6 {
			n -= 6
			out = append(out, guidDigits[bits>>n&63])
		}
	}
	return string(out)
}
