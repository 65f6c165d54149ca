package schedule

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// side is where a nut or washer sits on its anchor.
type side int

const (
	above    side = iota // on the open side of the plate; without one, out of the concrete
	below                // between the plate and the concrete
	embedded             // in the concrete, under the pull of the anchor
)

// fittings counts the nuts and washers of a unit by side.
type fittings struct{ nuts, washers [embedded + 1]int }

// fittingsOf looks at the bodies that sit around the axes of a unit's anchors.
// The head that an anchor bears with is part of it and no nut, unless the shank
// runs through.
func fittingsOf(items []*model.Item) fittings {
	var f fittings
	low, high, plate := plateAlong(items)
	for _, it := range items {
		for i := range it.Bodies {
			m := it.Bodies[i].Mesh
			if m == nil {
				continue
			}
			a, on := axisUnder(m, items)
			if !on || a.Item.Kind != model.Bolt {
				continue
			}
			at, to := along(a, m)
			if end := shankEnd(a); at > end-1 {
				continue // a head: the shank ends before it
			}
			s := above
			switch middle := (at + to) / 2; {
			case a.Entry != nil && middle > a.Entry.Dist+geom.Tol && at > a.Entry.Dist-1:
				s = embedded
			case plate && middle > (low+high)/2:
				s = below
			}
			if isWasher(it, a, to-at) {
				f.washers[s]++
			} else {
				f.nuts[s]++
			}
		}
	}
	return f
}

// isWasher: a nut of ISO 4032 is 0.8 to 0.9 diameters high, a washer of ISO 7089
// 0.1 to 0.3 and a plate washer about a third.
func isWasher(it *model.Item, a *model.Anchor, height float64) bool {
	const between = 0.5 // diameters
	return height < between*a.Diameter
}

func shankEnd(a *model.Anchor) float64 {
	if end := straightRod(a); end > 0 {
		return end
	}
	return a.Bearing
}

// plateAlong is where the template lies along the anchors, from their open ends.
func plateAlong(items []*model.Item) (low, high float64, ok bool) {
	var plate *model.Item
	var a *model.Anchor
	for _, it := range items {
		if it.Kind == model.Template {
			plate = it
		}
		if a == nil && len(it.Anchors) > 0 {
			a = it.Anchors[0]
		}
	}
	if plate == nil || a == nil {
		return 0, 0, false
	}
	low, high = math.Inf(1), math.Inf(-1)
	for i := range plate.Bodies {
		if m := plate.Bodies[i].Mesh; m != nil {
			l, h := along(a, m)
			low, high = min(low, l), max(high, h)
		}
	}
	return low, high, low < high
}

// anchorData are what people order an anchor by.
type anchorData struct {
	size      string
	length    float64 // over all, along the axis
	developed float64 // of the centreline of a bent one; 0 for a straight one
	end       string
	thread    float64 // stated length of the thread; 0 when it is not
}

func anchorOf(a *model.Anchor) anchorData {
	d := anchorData{size: diameterOf(a), length: a.Deepest, thread: a.Item.Stated.Thread}
	switch a.End {
	case model.Headed:
		d.end = "headed"
		if a.HeadSize > 0 {
			d.end += ", " + mm(a.HeadSize) + " across the head"
		}
	case model.Hooked:
		d.end = hookOf(a)
		d.developed = a.Length + (&geom.Rod{Path: a.Hook}).Length()
	default:
		d.end = "plain"
	}
	return d
}

// diameterOf is the size as people say it: M20 where the model says 20 and the
// item has a thread, else the diameter that was measured.
func diameterOf(a *model.Anchor) string {
	if s, _, ok := strings.Cut(a.Item.Size, " x "); ok && len(a.Item.Outline) == 0 {
		return s
	}
	return "dia " + mm(a.Diameter)
}

// hookOf says how an anchor is bent: L by about 90 degrees, J by about 180, and
// how far it reaches from the back of the shank.
func hookOf(a *model.Anchor) string {
	n := len(a.Hook)
	if n < 2 {
		return "hooked"
	}
	turn := math.Acos(min(max(a.Hook[n-1].Sub(a.Hook[n-2]).Unit().Dot(a.Dir), -1), 1)) * 180 / math.Pi
	reach := 0.0
	for _, p := range a.Hook {
		reach = max(reach, offAxis(a, p))
	}
	switch {
	case math.Abs(turn-90) < 10:
		return "L, leg " + mm(reach+a.Diameter/2)
	case turn > 150:
		return "J, width " + mm(reach+a.Diameter)
	}
	return "bent by " + mm(turn) + " degrees, reach " + mm(reach+a.Diameter/2)
}

// counted are equal anchors of a unit.
type counted struct {
	anchorData
	n int
}

// anchorsOf are the anchors of a unit, equal ones counted together.
func anchorsOf(items []*model.Item) []counted {
	var out []counted
	for _, it := range items {
		for _, a := range it.Anchors {
			d := anchorOf(a)
			k := slices.IndexFunc(out, func(c counted) bool { return c.equals(d) })
			if k < 0 {
				out = append(out, counted{anchorData: d})
				k = len(out) - 1
			}
			out[k].n++
		}
	}
	slices.SortStableFunc(out, func(a, b counted) int {
		return cmp.Or(finding.Natural(a.size, b.size), cmp.Compare(a.length, b.length))
	})
	return out
}

func (d anchorData) equals(o anchorData) bool {
	return d.size == o.size && d.end == o.end && math.Abs(d.length-o.length) <= sameWithin && math.Abs(d.thread-o.thread) <= sameWithin
}

// mm is a length without digits that say nothing.
func mm(v float64) string { return column("", "mm", 1).Show(number(v)) }
