package schedule

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"embedcheck/internal/finding"
	"embedcheck/internal/model"
)

// Schedule is what the models ask for.
type Schedule struct {
	Lines []*Line
	Gaps  []Gap
	model *model.Model
}

// Line is one thing to be ordered, with all places where it goes.
type Line struct {
	Number   int
	Units    []*Unit
	MirrorOf int // number of the line whose mirror image this is; 0 for none

	first *unit
}

// Unit is one place.
type Unit struct {
	Mark string
	Host *model.Host
	of   *unit
}

// Gap is something that the model does not say, or that could not be read.
type Gap struct {
	Line   int // 0 when the item is on no line
	Host   *model.Host
	Item   model.Ref
	Kind   string
	Lacks  string // size, finish, grade, mass, place of its own, shape
	Rule   string // the rule that finds it; "" when none does
	Detail string
}

// Of is the schedule of a model.
func Of(m *model.Model) *Schedule {
	s := &Schedule{model: m}
	bucket := map[string][]*Line{}
	for _, u := range units(m) {
		s.place(u, bucket)
	}
	slices.SortStableFunc(s.Lines, func(a, b *Line) int {
		return cmp.Or(cmp.Compare(rank(a), rank(b)), cmp.Compare(a.first.items[0].Kind, b.first.items[0].Kind))
	})
	numbers := map[int]int{}
	for i, l := range s.Lines {
		numbers[l.Number] = i + 1
	}
	for _, l := range s.Lines {
		l.Number, l.MirrorOf = numbers[l.Number], numbers[l.MirrorOf]
	}
	s.gaps()
	return s
}

// rank puts what is put together from parts first.
func rank(l *Line) int {
	if len(l.first.items) > 1 {
		return 0
	}
	return 1
}

// place puts a unit on the line of what is the same, or begins a line.
func (s *Schedule) place(u *unit, bucket map[string][]*Line) {
	key := fmt.Sprint(len(u.shape.points), "|", u.made)
	mirror := 0
	for _, l := range bucket[key] {
		switch compare(&l.first.shape, &u.shape) {
		case same:
			l.Units = append(l.Units, u.unit())
			u.shape.apart = nil // only the first of a line is asked again
			return
		case mirrored:
			if mirror == 0 {
				mirror = l.Number
			}
		}
	}
	l := &Line{Number: len(s.Lines) + 1, MirrorOf: mirror, Units: []*Unit{u.unit()}, first: u}
	s.Lines = append(s.Lines, l)
	bucket[key] = append(bucket[key], l)
}

func (u *unit) unit() *Unit { return &Unit{Mark: u.label(), Host: u.host, of: u} }

// gaps lists what is not said of each item, and what could not be read.
func (s *Schedule) gaps() {
	for _, l := range s.Lines {
		for _, u := range l.Units {
			for _, it := range u.of.items {
				s.itemGaps(l, it)
			}
			if why := massOf(u.of.items).open; why != "" {
				it := u.of.items[0]
				s.Gaps = append(s.Gaps, Gap{Line: l.Number, Host: u.Host, Item: it.Ref, Kind: it.Kind.String(), Lacks: "mass", Detail: why})
			}
		}
	}
	for _, l := range s.Lines {
		s.Gaps = append(s.Gaps, l.twice()...)
	}
	for i := range s.model.Unread {
		u := &s.model.Unread[i]
		if u.Role == "item" || u.Role == "file" {
			s.Gaps = append(s.Gaps, Gap{Item: u.Ref, Kind: u.Role, Lacks: "shape", Rule: finding.NotChecked, Detail: finding.Plain(u.Why)})
		}
	}
}

// twice finds units of a line that stand in the same place: they are counted,
// and one of them is too many.
func (l *Line) twice() []Gap {
	list := slices.Clone(l.Units)
	slices.SortStableFunc(list, func(a, b *Unit) int { return cmp.Compare(a.of.shape.centre.X, b.of.shape.centre.X) })
	var out []Gap
	for i, u := range list {
		c := u.of.shape.centre
		for k := i - 1; k >= 0 && c.X-list[k].of.shape.centre.X <= sameWithin; k-- {
			if list[k].of.shape.centre.Dist(c) <= sameWithin {
				it := u.of.items[0]
				out = append(out, Gap{
					Line: l.Number, Host: u.Host, Item: it.Ref, Kind: it.Kind.String(), Lacks: "place of its own", Rule: "duplicate",
					Detail: "it stands where " + list[k].Mark + " stands, and both are counted",
				})
				break
			}
		}
	}
	return out
}

func (s *Schedule) itemGaps(l *Line, it *model.Item) {
	for _, d := range model.Data {
		if it.Lacks(d) {
			s.Gaps = append(s.Gaps, Gap{
				Line: l.Number, Host: it.Host, Item: it.Ref, Kind: it.Kind.String(), Lacks: string(d), Rule: string(d) + "-stated",
				Detail: "the model does not state it",
			})
		}
	}
}

// Count is how many are to be ordered.
func (l *Line) Count() int { return len(l.Units) }

// What says what a line is: "4 bolts with template" or "socket".
func (l *Line) What() string {
	kinds := map[model.Kind]int{}
	for _, it := range l.first.items {
		n := 1
		if len(it.Anchors) > 1 && it.Kind == model.Bolt {
			n = len(it.Anchors)
		}
		kinds[it.Kind] += n
	}
	var parts []string
	for k := range model.Kinds() {
		if n := kinds[model.Kind(k)]; n > 0 && model.Kind(k) != model.Fitting {
			parts = append(parts, some(n, model.Kind(k)))
		}
	}
	if len(parts) == 0 {
		return some(kinds[model.Fitting], model.Fitting)
	}
	text := strings.Join(parts, ", ")
	if n := kinds[model.Template]; n == 1 && len(parts) == 2 {
		text = strings.Join(parts, " with ")
	}
	if it := l.first.items[0]; len(l.first.items) == 1 && it.Kind == model.Plate && len(it.Anchors) > 0 {
		text += fmt.Sprintf(" with %d studs or ties", len(it.Anchors))
	}
	return text
}

func some(n int, k model.Kind) string {
	name := k.String()
	if k == model.Other {
		name = "other item"
	}
	if n == 1 {
		return name
	}
	return fmt.Sprintf("%d %ss", n, name)
}
