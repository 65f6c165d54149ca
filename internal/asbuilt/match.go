package asbuilt

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"embedcheck/internal/finding"
	"embedcheck/internal/nearest"
	"embedcheck/internal/setout"
)

// find looks a key up among the dimensions and the points; both are nil when it
// is that of neither.
func (p *Plan) find(key string) (*dim, *point) {
	k := normal(key)
	if p.dims[k] == nil && p.points[k] == nil {
		k = p.alias[k]
	}
	return p.dims[k], p.points[k]
}

// unknown says why a key is none; where it may guess, with the nearest one that
// is.
func (p *Plan) unknown(e *Entry, guess bool) string {
	host, _, _ := strings.Cut(normal(e.Key), "/")
	u := p.hosts[host]
	if u == nil {
		why := "the models have no host " + finding.Short(finding.Plain(cmp.Or(e.Host, host)), 60) + " with items"
		if !guess {
			return why
		}
		marks := make([]string, len(p.Units))
		for i, u := range p.Units {
			marks[i] = u.Mark
		}
		return why + meant(host, marks)
	}
	if p.alias[normal(e.Key)] == shared {
		return "several items of " + finding.Plain(u.Mark) + " have this mark; take the key from a form"
	}
	why := "no dimension of " + finding.Plain(u.Mark) + " has this key"
	if !guess {
		return why
	}
	return why + meant(normal(e.Key), p.keysOf(u))
}

func meant(word string, known []string) string {
	const longestKey = 200
	if len(word) > longestKey {
		return ""
	}
	lower := map[string]string{}
	var list []string
	for _, k := range known {
		lower[normal(k)] = k
		list = append(list, normal(k))
	}
	at, ok := nearest.Word(word, list)
	if !ok {
		return ""
	}
	return fmt.Sprintf("; the nearest is %s", finding.Plain(lower[at]))
}

// keysOf are all keys of a unit, and their other names.
func (p *Plan) keysOf(u *setout.Unit) []string {
	keys := slices.Clone(p.spoken[u.Mark])
	for _, d := range u.Dims() {
		keys = append(keys, d.Key)
	}
	for _, pt := range p.points {
		if pt.unit == u {
			keys = append(keys, pt.key)
		}
	}
	slices.Sort(keys)
	return keys
}
