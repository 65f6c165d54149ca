package rules

import (
	"math"

	"embedcheck/internal/model"
)

// bill is the hardware on all bolts of a model.
type bill struct {
	p      *Pass
	counts map[*model.Anchor]hardware
	plates map[*model.Set]*model.Sheet // that parts count as over or under
	likes  map[*model.Set][]like
	some   bool // any bolt carries anything
}

// like is what at least half of the like anchors of a set have.
type like struct {
	of   *model.Anchor // one of them
	have hardware
}

func (p *Pass) newBill() *bill {
	b := &bill{p: p, counts: map[*model.Anchor]hardware{}, plates: map[*model.Set]*model.Sheet{}, likes: map[*model.Set][]like{}}
	for a := range p.Anchors() {
		c := b.count(a)
		b.counts[a] = c
		b.some = b.some || c != hardware{}
	}
	return b
}

// count counts what an anchor carries outside the concrete.
func (b *bill) count(a *model.Anchor) hardware {
	var c hardware
	plate := b.plate(a)
	for _, part := range a.Parts {
		if bears(a, part) || part.Kind == model.OtherPart {
			continue
		}
		at := 0
		if part.Kind == model.Washer {
			at = 1
		}
		if plate != nil {
			if upper, under := plate.Along(a); (part.From+part.To)/2 > (upper+under)/2 {
				at += 2
			}
		}
		c[at]++
	}
	c[4] = len(b.p.sheetsOn()[a])
	return c
}

// plate is the plate that parts of an anchor count as over or under: one that it
// stands through itself, else one of its set; nil without any.
func (b *bill) plate(a *model.Anchor) *model.Sheet {
	if own := b.first(a); own != nil || a.Item.Set == nil {
		return own
	}
	s, known := b.plates[a.Item.Set]
	if !known {
		for _, o := range a.Item.Set.Anchors {
			if s = b.first(o); s != nil {
				break
			}
		}
		b.plates[a.Item.Set] = s
	}
	return s
}

// first is the plate that an anchor stands through, a template before a base
// plate.
func (b *bill) first(a *model.Anchor) *model.Sheet {
	var best *model.Sheet
	for _, s := range b.p.sheetsOn()[a] {
		if best == nil || s.Template() && !best.Template() {
			best = s
		}
	}
	return best
}

// typical are the counts that at least half of the like anchors of a set reach.
func (b *bill) typical(a *model.Anchor) hardware {
	set := a.Item.Set
	if set == nil {
		return hardware{}
	}
	for _, l := range b.likes[set] {
		if alikeBolts(l.of, a) {
			return l.have
		}
	}
	n, reach := 0, [len(hardware{})][MostCount + 1]int{}
	for _, o := range set.Anchors {
		c, ok := b.counts[o]
		if !ok || !alikeBolts(o, a) {
			continue
		}
		n++
		for i, have := range c {
			for k := 1; k <= min(have, MostCount); k++ {
				reach[i][k]++
			}
		}
	}
	l := like{of: a}
	for i := range l.have {
		for k := 1; k <= MostCount; k++ {
			if 2*reach[i][k] >= n {
				l.have[i] = k
			}
		}
	}
	b.likes[set] = append(b.likes[set], l)
	return l.have
}

// alikeBolts reports whether two anchors of a set are to carry the same.
func alikeBolts(a, b *model.Anchor) bool {
	return math.Abs(a.Diameter-b.Diameter) <= samePlace && a.Dir.Dot(b.Dir) > 0.999
}

// lackWords are n parts that an anchor lacks, in a sentence.
func (b *bill) lackWords(a *model.Anchor, i, n int) string {
	what := "a " + hardwareWords[i]
	if n > 1 {
		what = plural(n, hardwareWords[i])
	}
	if i == 4 {
		return what + " to stand through"
	}
	if t, ok := threadOf(a.Diameter); ok && hardwareWords[i] == "nut" {
		what += " (" + figure(t.flats) + " mm across flats)"
	}
	if plate := b.plate(a); plate != nil {
		side := " over "
		if i > 1 {
			side = " under "
		}
		what += side + sheetName(plate)
	}
	return what
}
