package ifcbuild

import "crypto/sha256"

// GUID is a GlobalId.
type GUID [22]byte

func (g GUID) String() string { return string(g[:]) }

const guidDigits = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz_$"

// GlobalID is the GlobalId that belongs to a text: the first 128 bits of its
// SHA-256 with the version and variant bits of a UUID of version 8 (RFC 9562),
// in the 22 digits of IfcGloballyUniqueId.
func GlobalID(text string) string { return guidOf([]byte(text)).String() }

func guidOf(text []byte) GUID {
	sum := sha256.Sum256(text)
	sum[6] = sum[6]&0x0f | 0x80
	sum[8] = sum[8]&0x3f | 0x80
	var g GUID
	g[0] = guidDigits[sum[0]>>6]
	g[1] = guidDigits[sum[0]&63]
	for i := range 5 {
		v := uint32(sum[1+3*i])<<16 | uint32(sum[2+3*i])<<8 | uint32(sum[3+3*i])
		for k := range 4 {
			g[2+4*i+k] = guidDigits[v>>(18-6*k)&63]
		}
	}
	return g
}
