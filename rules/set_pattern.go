package rules

import (
	"fmt"
	"math"
	"slices"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/measure"
	"embedcheck/internal/model"
)

// SetPattern compares bolts with the holes of the plates that they stand through.
//
// Holes of a template are as narrow as can be, since it holds the bolts while they
// are set: there the bolt has to go through and no more. Its limit cannot be
// changed.
var SetPattern = &Rule{
	ID:       "set-pattern",
	Title:    "Bolts do not fit their plate",
	Measured: "room between bolt and hole",
	Doc: Doc{
		Wrong:    "The base plate does not go over the bolts: holes are burnt wider on site, bolts are bent, or the column waits.",
		Measured: "The holes of a template, and of a base plate in any of the models, from the loops in both of its faces. Each bolt goes with the hole nearest to it, one bolt a hole. Room is half the hole less half the bolt less the distance of the bolt's axis from the hole's middle; half a millimetre of distance is let pass. For a base plate it is compared with how far off a bolt may be set; for a template with zero. Bolts without a hole, and holes of the same size without a bolt, are told too.",
		Do:       "Put the setting-out of the bolts and of the plate side by side, correct the wrong one, and agree on the size of the holes.",
		Blind:    "Plates whose holes are not modelled, plates that are one body with their column, bolts of the set beside the plate when each hole has its bolt. A hole that is wide for other reasons, such as one for grout, when it is about as wide as those for bolts.",
	},
	Unit:     "mm",
	Relation: finding.AtLeast,
	Kinds:    []model.Kind{model.Bolt},
	Entries:  []Unit{MM, Inch, Diameters},
	Default: Params{
		Priority: finding.Review,
		Limit:    Limit{{MM, 3}},
		Cites:    []Citation{{MM, "position of foundation bolts that cannot be adjusted, EN 1090-2 Annex B", Memory}},
	},
	Run: setPattern,
}

const (
	offNoise  = 0.5 // mm, distance of an axis from the middle of its hole that is let pass
	roomNoise = 0.1 // mm, that a hole may be modelled narrower
	alikeHole = 1   // mm, difference of holes of one size
)

func setPattern(p *Pass) error {
	for _, sheet := range p.m.Sheets {
		var bolts []*model.Anchor
		for _, a := range sheet.Anchors {
			if p.On(a.Item) && sound(a) && a.Diameter > 0 {
				bolts = append(bolts, a)
			}
		}
		if holes := boltHoles(sheet, bolts); len(holes) > 0 {
			p.fit(sheet, bolts, holes)
		}
	}
	return nil
}

// boltHoles are the holes of a plate that may be meant for bolts of those
// diameters.
func boltHoles(s *model.Sheet, bolts []*model.Anchor) []*model.Hole {
	least, most := math.Inf(1), 0.0
	for _, a := range bolts {
		least, most = min(least, a.Diameter), max(most, a.Diameter)
	}
	var out []*model.Hole
	for i := range s.Holes {
		if d := s.Holes[i].Diameter; d > 0.8*least && d < 2.5*most {
			out = append(out, &s.Holes[i])
		}
	}
	return out
}

// pair is a bolt and a hole.
type pair struct {
	bolt, hole int
	room, off  float64
}

// fit goes through the bolts and holes of one plate.
func (p *Pass) fit(s *model.Sheet, bolts []*model.Anchor, holes []*model.Hole) {
	pairs, all := matchHoles(s, bolts, holes)
	for _, m := range pairs {
		p.tellRoom(s, bolts[m.bolt], holes[m.hole], m)
	}
	for i, a := range bolts {
		if !slices.ContainsFunc(pairs, func(m pair) bool { return m.bolt == i }) {
			m := nearestPair(all, func(m pair) bool { return m.bolt == i })
			p.tellLoose(s, a, m, fmt.Sprintf("%s has no hole in %s, which has %s for %d bolts; the nearest is %s mm off",
				anchorName(a), sheetName(s), plural(len(holes), "hole"), len(bolts), figure(m.off)))
		}
	}
	for i, h := range holes {
		if slices.ContainsFunc(pairs, func(m pair) bool { return m.hole == i }) || !slices.ContainsFunc(pairs, func(m pair) bool {
			return math.Abs(holes[m.hole].Diameter-h.Diameter) <= alikeHole
		}) {
			continue
		}
		m := nearestPair(all, func(m pair) bool { return m.hole == i })
		p.tellLoose(s, bolts[m.bolt], m, fmt.Sprintf("a hole of %s mm in %s has no bolt; the nearest, %s, is %s mm off",
			figure(h.Diameter), sheetName(s), anchorName(bolts[m.bolt]), figure(m.off)))
	}
}

// matchHoles gives each bolt one hole, the nearest pairs first, and all pairs that
// there are.
func matchHoles(s *model.Sheet, bolts []*model.Anchor, holes []*model.Hole) (pairs, all []pair) {
	for i, a := range bolts {
		for k, h := range holes {
			room, off := measure.HoleRoom(a, s, h)
			if h.Round && !geom.Over(off, offNoise) {
				room += off
			}
			all = append(all, pair{i, k, room, off})
		}
	}
	slices.SortStableFunc(all, func(a, b pair) int {
		switch {
		case a.off < b.off-placeNoise:
			return -1
		case a.off > b.off+placeNoise:
			return 1
		}
		return 0
	})
	boltTaken, holeTaken := make([]bool, len(bolts)), make([]bool, len(holes))
	for _, m := range all {
		if !boltTaken[m.bolt] && !holeTaken[m.hole] {
			boltTaken[m.bolt], holeTaken[m.hole] = true, true
			pairs = append(pairs, m)
		}
	}
	return pairs, all
}

func nearestPair(all []pair, of func(pair) bool) pair {
	return all[slices.IndexFunc(all, of)]
}

// roomFor is the least room around a bolt in a plate.
func (p *Pass) roomFor(s *model.Sheet, a *model.Anchor) (Required, bool) {
	if s.Template() {
		return Required{Governs: MM, cite: Citation{Confidence: Practice}.String()}, true
	}
	return p.Required(a.Item, a, BasisOf(a))
}

// tellRoom tells a hole that leaves too little room.
func (p *Pass) tellRoom(s *model.Sheet, a *model.Anchor, h *model.Hole, m pair) {
	r, ok := p.roomFor(s, a)
	if !ok || !geom.Short(m.room+roomNoise, r.Value) {
		return
	}
	g, w := figures(m.room, r.Value)
	text := fmt.Sprintf("the hole of %s mm in %s leaves %s mm of room around %s (%s mm)%s",
		figure(h.Diameter), sheetName(s), g, anchorName(a), figure(a.Diameter), needed(w+" mm", r))
	if geom.Over(m.off, offNoise) {
		text = fmt.Sprintf("%s stands %s mm off the middle of its hole of %s mm in %s: %s mm of room%s",
			anchorName(a), figure(m.off), figure(h.Diameter), sheetName(s), g, needed(w+" mm", r))
	}
	p.Report(Hit{
		Item: a.Item, Anchor: a, Measured: m.room, Required: r, At: h.At, Normal: a.Entry.Normal, Others: []model.Ref{s.Ref}, Text: text,
	})
}

// tellLoose tells a bolt without a hole or a hole without a bolt.
func (p *Pass) tellLoose(s *model.Sheet, a *model.Anchor, m pair, text string) {
	r, ok := p.roomFor(s, a)
	if !ok {
		return
	}
	upper, _ := s.Along(a)
	p.Report(Hit{
		Item: a.Item, Anchor: a, Measured: m.room, Required: r, At: a.At(upper), Normal: a.Entry.Normal, Others: []model.Ref{s.Ref}, Text: text,
	})
}

// sheetName is what a person calls a plate.
func sheetName(s *model.Sheet) string {
	if n := refName(&s.Ref); n != "" {
		return n
	}
	if s.Template() {
		return "the template"
	}
	return "the base plate"
}
