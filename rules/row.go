package rules

import (
	"cmp"
	"slices"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// row is the anchors that enter one host, by their place along the axis on which
// they are spread most.
type row struct {
	anchors []*model.Anchor
	along   func(geom.Vec) float64
}

// anchorsByHost are the anchors of the rule's kinds, host by host: the rule being
// off for an anchor does not make it less of a neighbour.
func (p *Pass) anchorsByHost() []row {
	lists := map[*model.Host][]*model.Anchor{}
	var order []*model.Host
	for _, it := range p.m.Items {
		if !slices.Contains(p.Rule.Kinds, it.Kind) {
			continue
		}
		for _, a := range it.Anchors {
			if !sound(a) {
				continue
			}
			if lists[it.Host] == nil {
				order = append(order, it.Host)
			}
			lists[it.Host] = append(lists[it.Host], a)
		}
	}
	out := make([]row, len(order))
	for i, h := range order {
		out[i] = sortRow(lists[h])
	}
	return out
}

func sortRow(anchors []*model.Anchor) row {
	box := geom.EmptyBox
	for _, a := range anchors {
		box = box.Add(a.Entry.Point)
	}
	r := row{anchors, func(v geom.Vec) float64 { return v.X }}
	switch s := box.Size(); {
	case s.Y > s.X && s.Y >= s.Z:
		r.along = func(v geom.Vec) float64 { return v.Y }
	case s.Z > s.X:
		r.along = func(v geom.Vec) float64 { return v.Z }
	}
	slices.SortStableFunc(anchors, func(a, b *model.Anchor) int {
		p, q := a.Entry.Point, b.Entry.Point
		return cmp.Or(cmp.Compare(r.along(p), r.along(q)), cmp.Compare(p.X, q.X), cmp.Compare(p.Y, q.Y), cmp.Compare(p.Z, q.Z))
	})
	return r
}

// within are the anchors that can be nearer to anchor i than reach mm in its
// entry face. The face may step by 5 mm, and a curved one may turn by 20 degrees.
func (r row) within(i int, reach float64) []*model.Anchor {
	reach = 1.1*reach + 5
	at := r.along(r.anchors[i].Entry.Point)
	from, _ := slices.BinarySearchFunc(r.anchors, at-reach, func(a *model.Anchor, x float64) int {
		return cmp.Compare(r.along(a.Entry.Point), x)
	})
	to := i
	for to < len(r.anchors) && r.along(r.anchors[to].Entry.Point) <= at+reach {
		to++
	}
	return r.anchors[from:to]
}
