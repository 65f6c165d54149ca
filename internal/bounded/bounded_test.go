package bounded

import (
	"strings"
	"testing"
)

var kept []byte

func TestBothSidesOfTheLimit(t *testing.T) {
	take := func() { kept = make([]byte, 8<<20) }
	for _, c := range []struct {
		name string
		size int
		l    Limit
		over bool
	}{
		{"base is enough", 0, Limit{Base: 9 << 20}, false},
		{"base is too little", 0, Limit{Base: 7 << 20}, true},
		{"input is enough", 9 << 10, Limit{PerByte: 1 << 10}, false},
		{"input is too small", 7 << 10, Limit{PerByte: 1 << 10}, true},
	} {
		if got := taken(c.size, c.l, take); (got != "") != c.over || c.over && !strings.Contains(got, "were allocated") {
			t.Errorf("%s: %q", c.name, got)
		}
	}
	Work(t, 0, Limit{Base: 9 << 20}, take)
}
