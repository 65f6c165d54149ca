package mutate

import (
	"cmp"
	"slices"
	"strings"
)

// apply makes the changes in a source text. Changes that begin at the same place
// come out in their order; none may overlap.
func apply(src []byte, edits []edit) []byte {
	sorted := slices.Clone(edits)
	slices.SortStableFunc(sorted, func(a, b edit) int { return cmp.Compare(a.from, b.from) })
	var out strings.Builder
	at := 0
	for _, e := range sorted {
		out.Write(src[at:e.from])
		out.WriteString(e.text)
		at = e.to
	}
	out.Write(src[at:])
	return []byte(out.String())
}

// wrapping is the changes that put an expression between two texts, nested in
// those that were asked for before.
type wrapping struct {
	open   []edit
	closed []edit // the innermost last
}

func (w *wrapping) wrap(m *Mutant, from, to int, before, after string) {
	w.open = append(w.open, edit{from, from, before, m.ID})
	w.closed = append(w.closed, edit{to, to, after, m.ID})
}

func (w *wrapping) replace(m *Mutant, from, to int, text string) {
	w.open = append(w.open, edit{from, to, text, m.ID})
}

// edits are all changes, so ordered that what is around another opens before it
// and closes after it. A text is closed at a place before the next one opens there.
func (w *wrapping) edits() []edit {
	out := slices.Clone(w.closed)
	slices.Reverse(out)
	return append(out, w.open...)
}
