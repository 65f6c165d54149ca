package ifcread

import (
	"encoding/hex"
	"math/big"
	"math/rand/v2"
	"testing"
)

// bigGlobalID is the slow twin: the UUID as one number in base 64.
func bigGlobalID(uuid [16]byte) string {
	n := new(big.Int).SetBytes(uuid[:])
	out := make([]byte, 22)
	for i := range out {
		digit := new(big.Int)
		n.DivMod(n, big.NewInt(64), digit)
		out[21-i] = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz_$"[digit.Int64()]
	}
	return string(out)
}

// The digits are those of the definition of IfcGloballyUniqueId; the examples
// were worked out with two other programs.
func TestGlobalID(t *testing.T) {
	for uuid, want := range map[string]string{
		"00000000000000000000000000000000": "0000000000000000000000",
		"ffffffffffffffffffffffffffffffff": "3$$$$$$$$$$$$$$$$$$$$$",
		"0123456789abcdef0123456789abcdef": "018qLdYQlDxm4ZHMU9gytl",
		"61954ad034904de6b6338a396bf50752": "1XbKhGD91DvhOpYZbhzGTI",
	} {
		b, _ := hex.DecodeString(uuid)
		if got := GlobalIDOf([16]byte(b)); got != want {
			t.Errorf("%s: %s, want %s", uuid, got, want)
		}
	}
	r := rand.New(rand.NewPCG(7, 8))
	for range 1000 {
		var uuid [16]byte
		for i := range uuid {
			uuid[i] = byte(r.Uint32())
		}
		id := GlobalIDOf(uuid)
		if want := bigGlobalID(uuid); id != want || !ValidGlobalID(id) {
			t.Fatalf("%x: %s, want %s", uuid, id, want)
		}
		if back, ok := GlobalIDBytes(id); !ok || back != uuid {
			t.Fatalf("%s: %x, want %x", id, back, uuid)
		}
	}
}

func TestNoGlobalID(t *testing.T) {
	for _, s := range []string{"", "4000000000000000000000", "$000000000000000000000", "A000000000000000000000", "000000000000000000000",
		"00000000000000000000000", "00000000000000000000-0", "000000000000000000000é", "61954ad0-3490-4de6-b633-8a396bf50752"} {
		if _, ok := GlobalIDBytes(s); ok || ValidGlobalID(s) {
			t.Errorf("%q is valid", s)
		}
	}
	if !ValidGlobalID("3zzzzzzzzzzzzzzzzzzzzz") {
		t.Error("the first digit may be 3")
	}
}
