package lifecycle

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"embedcheck/internal/finding"
)

// reach is how far apart, in metres, findings may be that have only names in
// common.
const reach = 0.1

// candidate is a pair that may go together.
type candidate struct {
	was, is int
	common  int
	apart   float64 // in the host, metres
	world   float64 // metres
}

// match gives for each finding of is the index of its earlier one, or -1.
func match(was, is []finding.Finding) []int {
	m := &matching{was: was, is: is, of: make([]int, len(is)), taken: make([]bool, len(was))}
	for i := range m.of {
		m.of[i] = -1
	}
	id := func(f *finding.Finding) string { return f.ID }
	shared := func(c *candidate) bool { return c.common > 0 }
	m.pass(id, shared)
	m.pass(func(f *finding.Finding) string {
		if f.Host.GlobalID == "" {
			return ""
		}
		return f.Rule + "\x00" + f.Host.GlobalID
	}, shared)
	m.pass(id, nil)
	m.pass(nameKey, func(c *candidate) bool { return c.apart <= reach })
	return m.of
}

type matching struct {
	was, is []finding.Finding
	of      []int
	taken   []bool
}

// pass pairs what has the same key and is fit. An empty key goes with nothing.
func (m *matching) pass(key func(*finding.Finding) string, fit func(*candidate) bool) {
	byKey := map[string][]int{}
	for i := range m.was {
		if k := key(&m.was[i]); k != "" && !m.taken[i] {
			byKey[k] = append(byKey[k], i)
		}
	}
	var list []candidate
	for i := range m.is {
		if m.of[i] >= 0 {
			continue
		}
		for _, w := range byKey[key(&m.is[i])] {
			c := m.candidate(w, i)
			if fit == nil || fit(&c) {
				list = append(list, c)
			}
		}
	}
	slices.SortStableFunc(list, func(a, b candidate) int {
		return cmp.Or(
			cmp.Compare(b.common, a.common),
			cmp.Compare(a.apart, b.apart),
			cmp.Compare(a.world, b.world),
			strings.Compare(m.was[a.was].ID, m.was[b.was].ID),
			strings.Compare(m.is[a.is].ID, m.is[b.is].ID),
		)
	})
	for _, c := range list {
		if m.of[c.is] < 0 && !m.taken[c.was] {
			m.of[c.is], m.taken[c.was] = c.was, true
		}
	}
}

func (m *matching) candidate(was, is int) candidate {
	a, b := &m.was[was], &m.is[is]
	c := candidate{was: was, is: is, common: common(itemIDs(a), itemIDs(b)), world: math.Inf(1)}
	if x, y := a.Worst(), b.Worst(); x != nil && y != nil {
		c.world = x.At.Sub(y.At).Norm()
	}
	c.apart = c.world
	if a.Life.Place != nil && b.Life.Place != nil {
		c.apart = a.Life.Place.At.Sub(b.Life.Place.At).Norm()
	}
	return c
}

// itemIDs are the GlobalIds of the offending items, sorted, each once.
func itemIDs(f *finding.Finding) []string {
	return collect(f, func(in *finding.Instance) string { return in.Item.GlobalID })
}

func collect(f *finding.Finding, text func(*finding.Instance) string) []string {
	var list []string
	for i := range f.Instances {
		if s := text(&f.Instances[i]); s != "" {
			list = append(list, s)
		}
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// common counts what two sorted lists have in common.
func common(a, b []string) (n int) {
	for len(a) > 0 && len(b) > 0 {
		switch c := strings.Compare(a[0], b[0]); {
		case c < 0:
			a = a[1:]
		case c > 0:
			b = b[1:]
		default:
			n++
			a, b = a[1:], b[1:]
		}
	}
	return n
}

func nameKey(f *finding.Finding) string {
	names := collect(f, func(in *finding.Instance) string { return in.Item.Label() })
	kinds := collect(f, func(in *finding.Instance) string { return in.Kind })
	return strings.Join([]string{
		f.Rule, f.Host.Name, f.Host.Mark, strings.Join(names, "\x01"), strings.Join(kinds, "\x01"),
	}, "\x00")
}
