package sheet

import (
	"fmt"
	"strings"

	"embedcheck/internal/setout"
)

// kin is sets that one detail shows: all their dimensions but their place are
// the same as a person tapes them.
type kin struct {
	first *setout.Set
	marks []string
}

// kins are the sets of a unit, those alike together, in their order.
func (b *book) kins() []*kin {
	by := map[string]*kin{}
	var out []*kin
	for _, s := range b.u.Sets {
		k := signature(s)
		if by[k] == nil {
			by[k] = &kin{first: s}
			out = append(out, by[k])
		}
		by[k].marks = append(by[k].marks, s.Mark)
	}
	return out
}

// signature is what a set measures, its place in the form left out. On a side
// of the form the height above it counts: details show it.
func signature(s *setout.Set) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%v|%s", s.Face, what(s))
	for i := range s.Dims {
		d := &s.Dims[i]
		if d.Quantity == setout.Place && (d.Axis != setout.Z || !s.Face.Side()) {
			continue
		}
		fmt.Fprintf(&b, "|%s %s", d.What, mm(d.MM))
	}
	return b.String()
}

// title names the sets of a detail, as many as there is room for.
func (k *kin) title() string {
	t := strings.Join(k.marks, ", ")
	const longest = 60
	if r := []rune(t); len(r) > longest {
		t = strings.TrimSpace(string(r[:longest])) + " .."
	}
	if n := len(k.marks); n > 1 {
		t += fmt.Sprintf(" (%d alike)", n)
	}
	return t
}
