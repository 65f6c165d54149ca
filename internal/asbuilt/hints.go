package asbuilt

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"embedcheck/internal/finding"
	"embedcheck/internal/setout"
	"embedcheck/internal/survey"
)

// near is what counts as one and the same length, in mm, where a row may have
// been filled in for another.
const near = 5.0

// tapeHints say what looks wrong in a sheet of taped values: another unit, taped
// from the other side, x and y exchanged, two anchors exchanged.
func tapeHints(s *Sheet, values []tapedValue) []string {
	if h := unitHint(s, values); h != "" {
		return []string{h}
	}
	if hints := otherSide(values); len(hints) > 0 {
		return hints // of a set in the middle of the form, rows would look exchanged, too
	}
	return append(exchangedAxes(values), exchangedAnchors(values)...)
}

// unitHint looks for the unit in which most values are right, when hardly one is
// in the stated one.
func unitHint(s *Sheet, values []tapedValue) string {
	count := map[survey.Unit]int{}
	all := 0
	for _, v := range values {
		const least = 20 // mm; of less, a ratio says nothing
		if v.MM < least || v.mm <= 0 {
			continue
		}
		all++
		if u, ok := survey.Misstated(v.MM/v.mm, s.Unit); ok {
			count[u]++
		}
	}
	for _, u := range survey.Units {
		if count[u] >= 2 && 3*count[u] >= 2*all {
			return fmt.Sprintf("LIKELY in another unit: the heading says %s, %d of %d values are right in %s", s.Unit.Word, count[u], all, u.Word)
		}
	}
	return ""
}

// off reports whether a value is not that of its dimension: outside its
// tolerance, and by more than what counts as one length.
func (v *tapedValue) off() bool {
	return math.Abs(v.mm-v.MM) > near && (v.Tol == nil || !v.Tol.Holds(v.mm-v.MM))
}

// otherSide finds places that are right from the opposite side of the form.
func otherSide(values []tapedValue) []string {
	type line struct {
		unit *setout.Unit
		axis setout.Axis
	}
	var order []line
	mirrored, places := map[line]int{}, map[line]int{}
	for i := range values {
		v := &values[i]
		if v.Quantity != setout.Place || v.Axis == setout.Z || v.set == nil {
			continue
		}
		l := line{v.unit, v.Axis}
		if places[l]++; places[l] == 1 {
			order = append(order, l)
		}
		if v.off() && math.Abs(v.mm-(v.Axis.Of(v.unit.Size)-v.MM)) <= near {
			mirrored[l]++
		}
	}
	var out []string
	for _, l := range order {
		if mirrored[l] >= 2 && 2*mirrored[l] > places[l] {
			out = append(out, fmt.Sprintf("LIKELY taped from the other side: %d of %d values %s of %s are right from the opposite side", mirrored[l], places[l], l.axis, finding.Plain(l.unit.Mark)))
		}
	}
	return out
}

// offBySet are the values that are not those of their dimensions, set by set, in
// the order of the sheet. A set with more of them than a person mixes up is left
// out: all pairs are looked at.
func offBySet(values []tapedValue) [][]*tapedValue {
	const most = 500
	of := map[*setout.Set]int{}
	var list [][]*tapedValue
	for i := range values {
		v := &values[i]
		if v.set == nil || !v.off() {
			continue
		}
		k, ok := of[v.set]
		if !ok {
			k = len(list)
			of[v.set] = k
			list = append(list, nil)
		}
		list[k] = append(list[k], v)
	}
	return slices.DeleteFunc(list, func(l []*tapedValue) bool { return len(l) > most })
}

// exchanged finds pairs of values of one set that are alike as the condition
// says and hold each the value of the other.
func exchanged(values []tapedValue, alike func(v, w *tapedValue) bool) []string {
	var names []string
	for _, list := range offBySet(values) {
		for i, v := range list {
			for _, w := range list[:i] {
				if alike(v, w) && math.Abs(v.mm-w.MM) <= near && math.Abs(w.mm-v.MM) <= near {
					names = append(names, w.Key+" and "+v.Key)
				}
			}
		}
	}
	return exchangedRows(names)
}

// exchangedAxes finds anchors whose x is their y and the other way round.
func exchangedAxes(values []tapedValue) []string {
	return exchanged(values, func(v, w *tapedValue) bool {
		return v.Quantity == setout.Place && w.Quantity == setout.Place && v.Axis != w.Axis &&
			slices.Equal(v.Anchors, w.Anchors) && slices.Equal(v.Items, w.Items)
	})
}

// exchangedAnchors finds two anchors of a set each of which has the values of
// the other.
func exchangedAnchors(values []tapedValue) []string {
	return exchanged(values, func(v, w *tapedValue) bool {
		return len(v.Anchors) == 1 && len(w.Anchors) == 1 && v.Anchors[0] != w.Anchors[0] && v.Quantity == w.Quantity && v.Axis == w.Axis
	})
}

func exchangedRows(names []string) []string {
	if len(names) == 0 {
		return nil
	}
	more := ""
	const shown = 4
	if n := len(names) - shown; n > 0 {
		names, more = names[:shown], fmt.Sprintf(", and %d more", n)
	}
	return []string{"LIKELY exchanged rows: each holds the value of the other: " + finding.Plain(strings.Join(names, ", ")) + more}
}
