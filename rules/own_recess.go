package rules

import (
	"fmt"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/measure"
	"embedcheck/internal/model"
)

// OwnRecess finds recess formers, recesses and sunk items that lack their
// counterpart.
//
// Programs differ in whether formers are cut out of the concrete and whether they
// are drawn at all. What nearly all of the models do or leave undone is their way
// of drawing; only what differs from it is taken for a mistake.
var OwnRecess = &Rule{
	ID:       "own-recess",
	Title:    "Recess and former do not go together",
	Measured: "share of the recess that is missing",
	Doc: Doc{
		Wrong:    "The recess is not formed, so that the item is lost under the concrete or the lifting gear does not fit on; or the recess is on the drawing and nobody orders the former for it.",
		Measured: "Recess formers: the share of their volume that lies in concrete that is not cut out for them. Sockets and lifting inserts: whether the open end lies in the concrete without a recess to it; whether a recess is missing, or a former in the recess is missing, that most of the same items in the same model have. Formers of which more than half are not cut out are told once, as a note.",
		Do:       "Cut the recess, add the former, or move the item to the face.",
		Blind:    "Whether the recess has the right shape for the item, recesses whose item is not modelled, and items of which each is drawn another way.",
	},
	Unit:     "ratio",
	Relation: finding.AtMost,
	Kinds:    []model.Kind{model.Socket, model.Lifter, model.Former},
	Entries:  []Unit{Ratio},
	Default: Params{
		Priority: finding.Review,
		Limit:    Limit{{Ratio, 0.3}},
		Cites:    []Citation{{Ratio, "", Practice}},
	},
	Run: ownRecess,
}

// deepestBuried is the depth in mm from which on an open end in the concrete is a
// sign of an axis that was misread.
const deepestBuried = 200

func ownRecess(p *Pass) error {
	share := make([]float64, len(p.m.Items)) // of formers in the concrete
	states := make([]recess, len(p.m.Items))
	p.each(len(p.m.Items), func(i int) {
		it := p.m.Items[i]
		if !p.On(it) || it.Twin || it.Host == nil || it.Host.Solid == nil {
			return
		}
		if it.Kind == model.Former {
			share[i], _ = measure.ShareIn(it, it.Host.Solid)
		} else {
			states[i] = recessOf(it)
		}
	})
	p.tellFormers(share)
	p.tellRecesses(states)
	return nil
}

// formers are those of one model.
type formers struct {
	total int
	uncut []Hit
}

// tellFormers tells the formers that are not cut out of the concrete.
func (p *Pass) tellFormers(share []float64) {
	of := make([]formers, len(p.m.Sources)+1) // the last for a source that is not in the list
	for i, it := range p.m.Items {
		r, ok := p.Required(it, nil, Basis{})
		if it.Kind != model.Former || !p.On(it) || it.Twin || it.Host == nil || !ok {
			continue
		}
		f := &of[min(uint(it.Source), uint(len(p.m.Sources)))]
		f.total++
		if geom.Over(share[i], r.Value) {
			g, w := figures(100*share[i], 100*r.Value)
			f.uncut = append(f.uncut, Hit{
				Item: it, Measured: share[i], Required: r, At: it.Middle(),
				Text: fmt.Sprintf("%s %% of %s lies in the concrete of %s, with no recess cut for it; at most %s %%", g, itemName(it), hostName(it.Host), w),
			})
		}
	}
	var habits []*group
	for i := range of {
		if g := p.tellFormersOf(&of[i]); g != nil {
			habits = append(habits, g)
		}
	}
	numberTwins(habits, p.m)
}

// tellFormersOf tells the uncut formers of one model, and gives the group when
// most are so.
func (p *Pass) tellFormersOf(f *formers) *group {
	n := len(f.uncut)
	if n < 2 || 2*n <= f.total {
		for _, h := range f.uncut {
			p.Report(h)
		}
		return nil
	}
	g := &group{key: "all|former", note: true, label: fmt.Sprintf("%d of %d recess formers", n, f.total)}
	g.text = fmt.Sprintf("no recess is cut out of the concrete for %d of the %d recess formers of %s", n, f.total, finding.Plain(sourceName(p.m, f.uncut[0].Item.Source)))
	for _, h := range f.uncut {
		g.items = append(g.items, h.Item)
		p.hits = append(p.hits, hit{h, g})
	}
	return g
}

// recess says how the open end of an item lies in the concrete.
type recess struct {
	known  bool
	anchor *model.Anchor // that the rest is about
	buried float64       // mm below the surface, with no recess to it
	cut    bool          // a recess is cut around it
	former bool          // a former stands in the place of the recess
}

func recessOf(it *model.Item) recess {
	for _, a := range it.Anchors {
		if a.Entry == nil {
			if d, ok := measure.Buried(a, it.Host.Solid); ok && finite(d) && d <= deepestBuried {
				return recess{anchor: a, buried: d}
			}
			continue
		}
		if sound(a) {
			return recess{known: true, anchor: a, cut: measure.Recessed(a, it.Host.Solid), former: hasFormer(a)}
		}
	}
	return recess{}
}

// hasFormer reports whether a recess former stands at an anchor's open end.
func hasFormer(a *model.Anchor) bool {
	near := geom.BoxOf(a.Open, a.Entry.Point).Grow(max(a.Diameter, a.HeadSize) / 2)
	for _, o := range a.Item.Host.Items {
		if o.Kind == model.Former && o.Box.Overlaps(near) {
			return true
		}
	}
	return false
}

// drawnAs is what items have in common that are drawn the same way.
type drawnAs struct {
	source           int
	kind             model.Kind
	name, typ, sized string
}

// habit counts how such items are drawn.
type habit struct{ all, cut, cutAndFormer int }

func (p *Pass) tellRecesses(states []recess) {
	habits := map[drawnAs]*habit{}
	of := func(it *model.Item) *habit {
		k := drawnAs{it.Source, it.Kind, it.Name, it.Type, it.Size}
		if habits[k] == nil {
			habits[k] = &habit{}
		}
		return habits[k]
	}
	for i, s := range states {
		if !s.known {
			continue
		}
		h := of(p.m.Items[i])
		h.all++
		if s.cut {
			h.cut++
		}
		if s.cut && s.former {
			h.cutAndFormer++
		}
	}
	for i, s := range states {
		it := p.m.Items[i]
		h := of(it)
		switch {
		case s.buried > 0:
			p.lacks(s.anchor, fmt.Sprintf("the open end of %s lies %s mm inside the concrete, and no recess leads to it", itemName(it), figure(s.buried)))
		case s.known && !s.cut && 2*h.cut > h.all:
			p.lacks(s.anchor, fmt.Sprintf("no recess is cut around the open end of %s, as it is for %d of the %d like it", itemName(it), h.cut, h.all))
		case s.known && s.cut && !s.former && 2*h.cutAndFormer > h.cut:
			p.lacks(s.anchor, fmt.Sprintf("no former stands in the recess of %s, as it does for %d of the %d like it", itemName(it), h.cutAndFormer, h.cut))
		}
	}
}

// lacks reports an anchor whose recess, or the former for it, is missing as a
// whole.
func (p *Pass) lacks(a *model.Anchor, text string) {
	r, ok := p.Required(a.Item, a, Basis{})
	if ok && geom.Over(1, r.Value) {
		p.Report(Hit{Item: a.Item, Anchor: a, Measured: 1, Required: r, At: entryPoint(a), Normal: normal(a), Text: text})
	}
}
