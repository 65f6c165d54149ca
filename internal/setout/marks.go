package setout

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode"

	"embedcheck/internal/model"
)

// hostMarks are marks that are unique: the host's own, its name, its class; of
// equal ones all but the first, by GlobalId, carry a number.
func hostMarks(hosts []*model.Host) []string {
	order := make([]int, len(hosts))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Compare(hosts[a].GlobalID, hosts[b].GlobalID)
	})
	taken := namer{}
	out := make([]string, len(hosts))
	for _, i := range order {
		out[i] = taken.unique(labelOf(&hosts[i].Ref))
	}
	return out
}

// labelOf is what a person finds an element by: its mark, its name, its class.
// What a program numbered its elements by is no mark.
func labelOf(r *model.Ref) string {
	for _, s := range [3]string{r.Mark, r.Name, r.Class} {
		if m := keyPart(s); m != "" && !machineMade(m) {
			return m
		}
	}
	return "unnamed"
}

// machineMade tells identifiers that programs put where a mark should be: long,
// without a blank, mostly digits.
func machineMade(s string) bool {
	const long = 20
	digits, others := 0, 0
	for _, r := range s {
		switch {
		case r == ' ':
			return false
		case unicode.Is(unicode.ASCII_Hex_Digit, r):
			digits++
		case r != '-' && r != '_':
			others++
		}
	}
	return len(s) >= long && digits > 4*others
}

// keyPart makes a text fit for a part of a key: one line, and no slash, which
// parts the keys.
func keyPart(s string) string {
	s = strings.Map(func(r rune) rune {
		switch {
		case r == '/':
			return '-'
		case unicode.IsControl(r), unicode.Is(unicode.Cf, r), r == unicode.ReplacementChar:
			return ' '
		}
		return r
	}, s)
	s = strings.Join(strings.Fields(s), " ")
	const longest = 60
	if r := []rune(s); len(r) > longest {
		s = strings.TrimSpace(string(r[:longest]))
	}
	return s
}

// namer hands out names that differ, also where only case tells them apart.
type namer map[string]bool

func (n namer) unique(s string) string {
	out := s
	for i := 2; n[strings.ToLower(out)]; i++ {
		out = fmt.Sprintf("%s (%d)", s, i)
	}
	n[strings.ToLower(out)] = true
	return out
}

// setMark is what a set is called: its name where that is no item's; else what
// the marks of its items begin with; else the mark of its only item.
func setMark(s *model.Set, items []*model.Item) string {
	var marks []string
	for _, it := range items {
		if m := keyPart(it.Mark); m != "" && !machineMade(m) && carries(it) {
			marks = append(marks, m)
		}
	}
	if s != nil && !namesItem(s, items) {
		if m := keyPart(s.Name); m != "" {
			return m
		}
	}
	switch {
	case len(marks) == 1:
		return marks[0]
	case len(marks) > 1:
		if m := common(marks); m != "" {
			return m
		}
	}
	if s != nil && keyPart(s.Name) != "" {
		return keyPart(s.Name)
	}
	return labelOf(&items[0].Ref)
}

// carries reports whether an item is more than what completes others.
func carries(it *model.Item) bool {
	return it.Kind != model.Template && it.Kind != model.Fitting && it.Kind != model.Former
}

// namesItem reports whether a set is only called after an item.
func namesItem(s *model.Set, items []*model.Item) bool {
	for _, it := range items {
		for _, n := range [3]string{it.Name, it.Mark, it.GlobalID} {
			if n != "" && (s.Name == n || strings.HasPrefix(s.Name, n+" and ")) {
				return true
			}
		}
	}
	return false
}

// common is what marks begin with, less the number and the signs at its end:
// "HD-5" of "HD-5.1" and "HD-5.2".
func common(marks []string) string {
	p := []rune(marks[0])
	for _, m := range marks[1:] {
		r := []rune(m)
		n := 0
		for n < len(p) && n < len(r) && p[n] == r[n] {
			n++
		}
		p = p[:n]
	}
	if slices.ContainsFunc(marks, func(m string) bool { return len([]rune(m)) > len(p) && unicode.IsDigit([]rune(m)[len(p)]) }) {
		for len(p) > 0 && unicode.IsDigit(p[len(p)-1]) { // cut inside a number
			p = p[:len(p)-1]
		}
	}
	return strings.TrimRightFunc(string(p), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
}
