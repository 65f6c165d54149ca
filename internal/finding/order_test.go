package finding

import (
	"math/rand/v2"
	"slices"
	"testing"
)

func TestNaturalListsNumbersByValue(t *testing.T) {
	want := []string{"", "A", "HB-01", "HB-1", "HB-2", "HB-2a", "HB-10", "HB-99999999999999999999998", "HB-99999999999999999999999", "WP", "WP-3"}
	got := slices.Clone(want)
	r := rand.New(rand.NewPCG(1, 2))
	for range 50 {
		r.Shuffle(len(got), func(i, j int) { got[i], got[j] = got[j], got[i] })
		slices.SortFunc(got, Natural)
		if !slices.Equal(got, want) {
			t.Fatalf("got %q, want %q", got, want)
		}
	}
}

func TestNaturalIsATotalOrder(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	word := func() string {
		b := make([]byte, r.IntN(5))
		for i := range b {
			b[i] = "0019aZ-"[r.IntN(7)]
		}
		return string(b)
	}
	for range 20000 {
		a, b, c := word(), word(), word()
		if Natural(a, b) != -Natural(b, a) {
			t.Fatalf("%q and %q: not the opposite the other way round", a, b)
		}
		if (Natural(a, b) == 0) != (a == b) {
			t.Fatalf("%q and %q: equal only when the same", a, b)
		}
		if Natural(a, b) < 0 && Natural(b, c) < 0 && Natural(a, c) >= 0 {
			t.Fatalf("%q < %q < %q, but not the first before the last", a, b, c)
		}
	}
}
