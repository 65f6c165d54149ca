package rules

import (
	"cmp"
	"fmt"
	"slices"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/measure"
	"embedcheck/internal/model"
)

// ReinforcementClearance finds bars that run through cast-in items, or too near
// for concrete to get in between.
//
// What stays outside the concrete (templates) is not asked. Bars are tied to
// ducts and grout tubes, pass behind plates and channels in the cover, and go
// through lifters and round recess formers on purpose: for those only an overlap
// counts. Bars of the item's own assembly belong to it, and so do bars that end
// on a plate square to it: ties that are welded to it.
var ReinforcementClearance = &Rule{
	ID:       "reinforcement-clearance",
	Title:    "Clear distance to bars",
	Measured: "clear distance",
	Doc: Doc{
		Wrong:    "The item and the bar cannot both be placed as drawn: somebody cuts the bar, bends it or moves the item by hand. Where they only nearly touch, aggregate does not get in between and the concrete there is hollow.",
		Measured: "Surface to surface, negative where they overlap, for every bar that is not of the item's own assembly and does not end on it as the tie of a plate does. Nominal diameters count as modelled; ribs add about a tenth.",
		Do:       "Move the bar within its tolerance, or the item, or have the detailer draw the bar around it. Do not leave it to the form.",
		Blind:    "Aggregate size, tolerances of bending and placing, bars that are not modelled, and whether contact is intended, unless an assembly says so.",
	},
	Unit:     "mm",
	Relation: finding.AtLeast,
	Kinds: []model.Kind{
		model.Other, model.Bolt, model.Stud, model.Socket, model.Lifter, model.Plate,
		model.Channel, model.Sleeve, model.Former, model.Fitting,
	},
	Entries: []Unit{MM, Inch, BarDiameters},
	Default: Params{
		Priority: finding.Hold,
		Limit:    Limit{{MM, 20}},
		Cites:    []Citation{{MM, "", Practice}},
	},
	ForKinds: []KindParams{
		{[]model.Kind{model.Plate, model.Channel, model.Fitting}, Params{
			Priority: finding.Hold, Limit: Limit{{MM, 0}}, Cites: []Citation{{MM, "two bodies cannot be in one place", Practice}},
		}},
		{[]model.Kind{model.Lifter, model.Sleeve, model.Former}, Params{
			Priority: finding.Review, Limit: Limit{{MM, 0}}, Cites: []Citation{{MM, "two bodies cannot be in one place", Practice}},
		}},
	},
	Run: reinforcementClearance,
}

// clash is an item and a piece of reinforcement that are too near.
type clash struct {
	item  *model.Item
	piece int
	gap   measure.Gap
	need  Required
}

func reinforcementClearance(p *Pass) error {
	bars := &p.m.Bars
	thickest := thickestBar(bars)
	items := p.unheaped(slices.Collect(p.Items()))
	reach := func(it *model.Item) float64 {
		r, _ := p.Params(it).Limit.Resolve(finding.AtLeast, Basis{BarDiameter: thickest})
		return r.Value
	}
	var found [][]clash // slot i belongs to block i: no lock
	p.eachNearBar(items, reach, func(n int) { found = make([][]clash, n) }, func(block int, it *model.Item, i int) {
		if c, ok := p.clash(it, i); ok {
			found[block] = append(found[block], c)
		}
	})
	p.reportClashes(slices.Concat(found...))
	return nil
}

// clash measures an item against piece i; false when they keep their distance.
// Nothing governs where the limit cannot be worked out.
func (p *Pass) clash(it *model.Item, i int) (clash, bool) {
	bars := &p.m.Bars
	if a := bars.Assembly(barMark(bars, i)); a != "" && a == it.Assembly || weldedTo(it, bars, i) {
		return clash{}, false
	}
	need, ok := p.Params(it).Limit.Resolve(finding.AtLeast, Basis{BarDiameter: barDiameter(bars, i)})
	if !ok {
		return clash{item: it, piece: i, need: need}, true
	}
	var gap measure.Gap
	if n := i - len(bars.Pieces); n >= 0 {
		gap, ok = measure.BarMeshGap(it, &bars.Meshes[n], need.Value)
	} else {
		gap, ok = measure.BarGap(it, bars, i, need.Value)
	}
	return clash{it, i, gap, need}, ok && geom.Short(gap.Dist, need.Value)
}

// weldedTo reports whether piece i is a tie of a plate: it ends on the plate,
// square to it.
func weldedTo(it *model.Item, bars *model.Bars, i int) bool {
	if len(it.Outline) < 3 || i >= len(bars.Pieces) {
		return false
	}
	path := bars.Path(i)
	if len(path) < 2 {
		return false
	}
	n := geom.NewellNormal(it.Outline).Unit()
	return endsOn(it, n, path[0], path[1]) || endsOn(it, n, path[len(path)-1], path[len(path)-2])
}

func endsOn(it *model.Item, n, end, before geom.Vec) bool {
	const weld = 5        // mm, gap or penetration in the model
	const square = 0.9659 // cosine of 15 degrees
	below := it.Outline[0].Sub(end).Dot(n)
	if below < -weld || below > it.Thick+weld || before.Sub(end).Unit().Dot(n) > -square {
		return false
	}
	f := geom.FrameZX(it.Outline[0], n, it.Outline[1].Sub(it.Outline[0]))
	loop := make([]geom.Vec2, len(it.Outline))
	for k, v := range it.Outline {
		q := f.Local(v)
		loop[k] = geom.Vec2{X: q.X, Y: q.Y}
	}
	q := f.Local(end)
	return evenOdd(geom.Vec2{X: q.X, Y: q.Y}, loop)
}

// reportClashes reports, for each item and bar mark, the piece that is nearest.
func (p *Pass) reportClashes(all []clash) {
	bars := &p.m.Bars
	mark := func(c clash) int32 { return barMark(bars, c.piece) }
	slices.SortStableFunc(all, func(a, b clash) int {
		return cmp.Or(
			cmp.Compare(p.index[a.item], p.index[b.item]),
			cmp.Compare(mark(a), mark(b)),
			cmp.Compare(a.gap.Dist, b.gap.Dist),
			compareVec(a.gap.At, b.gap.At),
			cmp.Compare(a.piece, b.piece),
		)
	})
	for from := 0; from < len(all); {
		to := from + 1
		for to < len(all) && all[to].item == all[from].item && mark(all[to]) == mark(all[from]) {
			to++
		}
		if c := all[from]; c.need.Governs == "" {
			ref := bars.Ref(mark(c))
			p.Unchecked(c.item, nil, p.Rule.ID+": no diameter is known of "+barWords(&ref, 0))
		} else {
			p.reportClash(c, to-from)
		}
		from = to
	}
}

func (p *Pass) reportClash(c clash, pieces int) {
	ref := p.m.Bars.Ref(barMark(&p.m.Bars, c.piece))
	h := Hit{
		Item: c.item, Anchor: anchorAt(c.item, c.gap.At), Measured: c.gap.Dist, Required: c.need,
		At: c.gap.At, Others: []model.Ref{ref},
	}
	bar := barWords(&ref, barDiameter(&p.m.Bars, c.piece))
	name := itemName(c.item)
	if h.Anchor != nil {
		h.Normal = normal(h.Anchor)
		name = anchorName(h.Anchor)
	}
	got, want := figures(c.gap.Dist, c.need.Value)
	if geom.Short(c.gap.Dist, 0) {
		got, _ = figures(-c.gap.Dist, 0)
		h.Text = fmt.Sprintf("%s runs into %s by %s mm", bar, name, got)
		if c.need.Value > 0 {
			h.Text += needed(want+" mm clear", c.need)
		}
	} else {
		h.Text = fmt.Sprintf("%s mm clear between %s and %s%s", got, name, bar, needed(want+" mm", c.need))
	}
	if pieces > 1 {
		h.Text += fmt.Sprintf("; %d bars of this mark are too near", pieces)
	}
	p.Report(h)
}

// barWords names a bar: "bar N16-2 (16 mm)".
func barWords(r *model.Ref, diameter float64) string {
	s := "a bar"
	if n := refName(r); n != "" {
		s = "bar " + n
	}
	if diameter > 0 {
		s += " (" + figure(diameter) + " mm)"
	}
	return s
}

// anchorAt is the anchor of an item that a place on its surface belongs to; nil
// for a place on a plate or a channel between its anchors.
func anchorAt(it *model.Item, at geom.Vec) *model.Anchor {
	var best *model.Anchor
	near := 0.0
	for _, a := range it.Anchors {
		t := min(max(at.Sub(a.Open).Dot(a.Dir), 0), a.Deepest)
		d := at.Dist(a.At(t)) - max(a.Diameter, a.HeadSize)/2
		if len(a.Hook) > 0 {
			d -= a.Hook[len(a.Hook)-1].Dist(a.Hook[0])
		}
		if best == nil || d < near {
			best, near = a, d
		}
	}
	const surface = 2 // mm, what facets of a round surface are off it
	if best != nil && geom.Over(near, surface) && it.Kind != model.Bolt {
		return nil
	}
	return best
}

// normal points out of the concrete on the open side of an anchor.
func normal(a *model.Anchor) geom.Vec {
	if a.Entry != nil {
		return a.Entry.Normal
	}
	return a.Dir.Neg()
}
