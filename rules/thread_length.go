package rules

import (
	"cmp"
	"fmt"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// ThreadLength compares how far down the thread of a bolt reaches with where its
// lowest nut sits.
var ThreadLength = &Rule{
	ID:       "thread-length",
	Title:    "Thread too short",
	Measured: "length of thread below the seat of the lowest nut",
	Doc: Doc{
		Wrong:    "The nut runs onto the bare shank before the plate is tight, or the levelling nut cannot be turned down far enough.",
		Measured: "The thread as the model states it, or as it is modelled thinner or thicker than the shank, from the open end; less the distance from there to the seat of the lowest nut: a nut that is modelled, or the one on a base plate over the bolts, or on the stack that the rule file states for projection, with its levelling nuts.",
		Do:       "Order a longer thread, or set the bolt so that the plate comes to lie within it; elevations are off on site by some millimetres either way.",
		Blind:    "Bolts of which the model tells no thread, and bolts without a nut, a base plate or a stated stack. The run-out of the thread.",
	},
	Unit:     "mm",
	Relation: finding.AtLeast,
	Kinds:    []model.Kind{model.Bolt},
	Entries:  []Unit{MM, Inch, Diameters, Pitches},
	Default: Params{
		Priority: finding.Review,
		Limit:    Limit{{Pitches, 1}},
		Cites:    []Citation{{Pitches, "one full thread between nut and shank, EN 1090-2 8.2.2", Memory}},
	},
	Run: threadLength,
}

func threadLength(p *Pass) error {
	for a := range p.Anchors() {
		thread := cmp.Or(a.Item.Stated.Thread, a.Thread)
		if !finite(thread) || thread <= 0 {
			continue
		}
		seat, what, ok := p.lowestSeat(a)
		if !ok {
			continue
		}
		got := thread - seat
		r, ok := p.Required(a.Item, a, BasisOf(a))
		if !ok || !geom.Short(got, r.Value) {
			continue
		}
		g, w := figures(got, r.Value)
		reach := g + " mm below"
		if got < 0 {
			g, _ = figures(-got, 0)
			reach = g + " mm above"
		}
		says := "as modelled"
		if a.Item.Stated.Thread > 0 {
			says = "stated in " + statedFrom(a.Item, "thread")
		}
		p.Report(Hit{
			Item: a.Item, Anchor: a, Measured: got, Required: r, At: a.At(thread), Normal: a.Entry.Normal,
			Text: fmt.Sprintf("the thread of %s, %s mm long (%s), ends %s the seat of %s%s",
				anchorName(a), figure(thread), says, reach, what, needed(w+" mm below it", r)),
		})
	}
	return nil
}

// lowestSeat is the distance from the open end of an anchor to the side, towards
// the concrete, of the nut that sits lowest on its thread.
func (p *Pass) lowestSeat(a *model.Anchor) (seat float64, what string, ok bool) {
	for _, n := range a.Parts {
		if n.Kind == model.Nut && !bears(a, n) && n.To > seat {
			seat, what, ok = n.To, "its lowest nut", true
		}
	}
	params := p.set.ParamsFor(Projection, a.Item)
	st := p.stackOf(a, &params)
	if st == nil || !st.placed(&params) {
		return seat, what, ok
	}
	height, on, plate := st.gap+st.plate+st.washers, "the nut on ", "the plate"
	if st.levelling > 0 {
		height, on = st.gap-st.levelling, "the levelling nut under "
	}
	if st.base != nil {
		plate = st.plateSays
	}
	if at := a.Entry.Dist - height; !ok || at > seat {
		seat, what = at, on+plate
	}
	return seat, what, true
}

// bears reports whether a part of an anchor belongs to its embedded end.
func bears(a *model.Anchor, part model.Part) bool {
	return part.From > a.Bearing-1 || part.From > a.Entry.Dist+max(2*a.Diameter, (a.Bearing-a.Entry.Dist)/2)
}
