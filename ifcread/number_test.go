package ifcread

import (
	"math"
	"math/rand/v2"
	"strconv"
	"testing"
)

// TestNumber compares with the standard library's parser, bit by bit.
func TestNumber(t *testing.T) {
	good := []string{"0.", "-0.", "1.", "1.E+02", "1.5e-3", "-12.25", "123456789012345678901234567890.", "1.7976931348623157E308",
		"4.9E-324", "0.1", "3.14159265358979", "6.7E9", "510000000.123456", "+1.", "1", "1E5", ".5", "-.5E1", "9007199254740993.",
		"9007199254740992.", "1.E22", "1.E23", "1E-22", "1E-23", "0.000000000000000000001", "00000000000000000000001.5", "1E-400",
		"99999999999999999999", "18446744073709551616.", "2.2250738585072011E-308"}
	r := rand.New(rand.NewPCG(5, 6))
	for range 20000 {
		if v := math.Float64frombits(r.Uint64()); !math.IsNaN(v) && !math.IsInf(v, 0) {
			good = append(good, strconv.FormatFloat(v, 'E', -1, 64))
		}
		good = append(good, strconv.FormatFloat(r.NormFloat64()*1e4, 'f', r.IntN(17), 64))
	}
	for _, s := range good {
		want, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		got, n := number([]byte(s + ",7"))
		if n != len(s) || math.Float64bits(got) != math.Float64bits(want) {
			t.Fatalf("%s: %v from %d bytes, want %v", s, got, n, want)
		}
	}
}

func TestNoNumber(t *testing.T) {
	for _, s := range []string{"", ".", "-", "+-1", "E5", "1.E", "1.E+", "NaN", "Inf", "-Inf", "1e400", "-1e400", "1E99999999999999999999"} {
		if v, n := number([]byte(s)); n != 0 {
			t.Errorf("%q is %v", s, v)
		}
	}
	for s, want := range map[string]int{"1.#IND": 2, "0x10": 1, "1_0": 1, "1.2.3": 3, "1-2": 1, "1,5": 1, "1 2": 1} {
		if _, n := number([]byte(s)); n != want {
			t.Errorf("%q: a number of %d bytes, want %d", s, n, want)
		}
	}
}
