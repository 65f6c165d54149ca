package rules

import (
	"fmt"
	"strings"
	"testing"

	"embedcheck/internal/finding"
	"embedcheck/internal/model"
)

// A tolerance of a kind of items holds for these, and not for what is no item.
func TestToleranceOfItemsAndOfNone(t *testing.T) {
	set := &Set{Name: "s", Tolerances: map[ToleranceKind]Tolerance{TolFit: {Minus: 1, Plus: 1}}, For: []For{
		{Items: named("^B"), Tolerances: map[ToleranceKind]Tolerance{TolFit: {Minus: 2, Plus: 2, Source: "x"}}},
	}}
	for _, c := range []struct {
		it   *model.Item
		want float64
	}{{nil, 1}, {&model.Item{Ref: model.Ref{Name: "A"}}, 1}, {&model.Item{Ref: model.Ref{Name: "B"}}, 2}} {
		if got, ok := set.Tolerance(c.it, TolFit); !ok || got.Plus != c.want {
			t.Errorf("%+v: %v, %v", c.it, got, ok)
		}
	}
}

// builtInLimits are the limits of a rule in words, for the kinds that it looks at.
func builtInLimits(r *Rule) []string {
	words := func(p *Params) string {
		var l []string
		for _, t := range p.Limit {
			l = append(l, fmt.Sprint(t.Value, " ", t.Unit))
		}
		return strings.Join(l, " and ") + ", " + p.Priority.String()
	}
	out := []string{r.ID + ": " + words(&r.Default)}
	for i := range r.ForKinds {
		out = append(out, fmt.Sprintf("%s of %v: %s", r.ID, r.ForKinds[i].Kinds, words(&r.ForKinds[i].Params)))
	}
	return out
}

// The built-in limits are what the rule pages, the sheets and the engineers go by:
// one that changes is a decision, with its source, and changes here as well.
func TestBuiltInLimitsAreThose(t *testing.T) {
	want := []string{
		"edge-distance: 50 mm and 6 diameters, hold", "edge-distance of [stud lifter]: 50 mm, hold", "edge-distance of [plate channel]: 25 mm, review",
		"plate-edge: , review", "spacing: 6 diameters, review", "spacing of [stud lifter plate]: 4 diameters, review",
		"concrete-cone: 0.5 ratio, review", "concrete-cone of [lifter]: 0.5 ratio, note", "supplementary-bars: 0.5 embedments, note",
		"side-face: 2.5 ratio, review", "side-face of [lifter]: 2.5 ratio, note",
		"embedment-depth: 50 mm and 4 diameters, review", "embedment-depth of [bolt]: 12 diameters, review", "back-cover: 20 mm, review",
		"through: , hold", "two-hosts: , review", "member-thickness: 80 mm, note", "hook-direction: 20 mm, review", "access: 100 mm, review",
		"reinforcement-clearance: 20 mm, hold", "reinforcement-clearance of [plate channel fitting]: 0 mm, hold", "reinforcement-clearance of [lifter sleeve former]: 0 mm, review",
		"item-clearance: 0 mm, review", "square-to-face: 3 degrees, review", "flush: 6 mm, review", "face-side: 6 mm, review", "own-recess: 0.3 ratio, review",
		"projection: 2 diameters, review", "thread-length: 1 pitches, review", "set-pattern: 3 mm, review", "template-standoff: 25 mm, review",
		"parts-complete: , review", "level: 5 mm, review", "lifter-balance: 150 mm, review", "lifter-count: 2 count, review",
		"standard-size: , note", "size-mismatch: , review", "size-stated: , note", "finish-stated: , note", "finish-exposure: , review",
		"grade-stated: , note", "torque-stated: , note", "mark-unique: , review", "duplicate: , review", "unhosted: , review",
		"position-measured: , hold", "depth-measured: , hold", "size-measured: , review", "not-checked: , review",
	}
	var got []string
	for _, r := range All {
		got = append(got, builtInLimits(r)...)
	}
	for i := range max(len(got), len(want)) {
		if i >= len(got) || i >= len(want) || got[i] != want[i] {
			t.Fatalf("limit %d of %d, want %d:\n%s\nwant\n%s", i, len(got), len(want), strings.Join(got, "\n"), strings.Join(want, "\n"))
		}
	}
}

func TestLengthsOfALimit(t *testing.T) {
	got := Limit{{Diameters, 6}, {MM, 50}, {Inch, 2}, {Ratio, 0.5}}.lengths()
	if len(got) != 2 || got[0].Unit != MM || got[1].Unit != Inch {
		t.Errorf("got %v", got)
	}
}

// Of the entries of a limit that are worked out the one that the finding names
// governs, and no other.
func TestEntryThatGoverns(t *testing.T) {
	set := limitFor(EdgeDistance, Term{MM, 50}, Term{Diameters, 6})
	it := &model.Item{Kind: model.Bolt}
	for _, c := range []struct{ governs, want string }{{"mm", "mm"}, {"diameters", "diameters"}, {"stated", "stated"}} {
		var got []string
		for _, w := range set.Work(EdgeDistance, it, Basis{Diameter: 20}, &finding.Instance{Governs: c.governs, Required: 120}) {
			if w.Governs && w.Value == 120 {
				got = append(got, w.Entry)
			}
		}
		if len(got) != 1 || !strings.Contains(got[0], c.want) {
			t.Errorf("%s: %v", c.governs, got)
		}
	}
	if got := set.Work(EdgeDistance, it, Basis{Diameter: 20}, &finding.Instance{}); len(got) != 2 || got[0].Governs || got[1].Governs {
		t.Errorf("of a finding that names none: %+v", got)
	}
}
