package subject

import (
	"slices"
	"sync"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// Index looks things up in one model. It may be shared by goroutines.
type Index struct {
	m     *model.Model
	seen  []*model.Item // all items, then the base plates over bolts as items
	items map[key][]*model.Item
	hosts map[key][]*model.Host

	bars     func() *geom.BoxTree // of pieces, then of meshes
	itemTree func() *geom.BoxTree
}

// key is what an element is known by outside its model.
type key struct{ id, model string }

// NewIndex indexes a model. Bars are indexed when they are first asked for.
func NewIndex(m *model.Model) *Index {
	x := &Index{m: m, items: map[key][]*model.Item{}, hosts: map[key][]*model.Host{}}
	for _, it := range m.Items {
		k := x.key(&it.Ref)
		x.items[k] = append(x.items[k], it)
	}
	x.seen = slices.Clip(m.Items)
	for _, s := range m.Sheets {
		if s.Item == nil && s.Body != nil {
			x.seen = append(x.seen, plateOf(s))
		}
	}
	for _, h := range m.Hosts {
		k := x.key(&h.Ref)
		x.hosts[k] = append(x.hosts[k], h)
	}
	x.bars = sync.OnceValue(x.indexBars)
	x.itemTree = sync.OnceValue(x.indexItems)
	return x
}

// plateOf is a base plate as an item beside those of the host that its bolts are
// cast into. It is no part of the model, and no finding is about it.
func plateOf(s *model.Sheet) *model.Item {
	box := s.Body.Box()
	it := &model.Item{Ref: s.Ref, Kind: model.Plate, Bodies: []model.Body{{Mesh: s.Body, Box: box}}, Box: box, Thick: s.Thick}
	if len(s.Anchors) > 0 {
		it.Host = s.Anchors[0].Item.Host
	}
	return it
}

// Model is the model that was indexed.
func (x *Index) Model() *model.Model { return x.m }

func (x *Index) key(r *model.Ref) key { return key{r.GlobalID, x.source(r.Source)} }

func (x *Index) source(i int) string {
	if i < 0 || i >= len(x.m.Sources) {
		return ""
	}
	return x.m.Sources[i].Name
}

func (x *Index) indexBars() *geom.BoxTree {
	b := &x.m.Bars
	boxes := make([]geom.Box, 0, b.Count())
	for i := range b.Pieces {
		boxes = append(boxes, b.Rod(i).Box())
	}
	for i := range b.Meshes {
		boxes = append(boxes, b.Meshes[i].Box)
	}
	return geom.NewBoxTree(boxes)
}

func (x *Index) indexItems() *geom.BoxTree {
	boxes := make([]geom.Box, len(x.seen))
	for i, it := range x.seen {
		boxes[i] = it.Box
	}
	return geom.NewBoxTree(boxes)
}

// same reports whether a reference of a finding may be to an element: the names
// tell elements apart that share an identifier, or have none.
func (x *Index) same(r *model.Ref, f *finding.Ref) bool {
	return r.GlobalID == f.GlobalID && x.source(r.Source) == f.Model && r.Class == f.Class && r.Name == f.Name && r.Mark == f.Mark
}

// Host is the host that a finding names, nil when there is none.
func (x *Index) Host(f *finding.Ref) *model.Host {
	var first *model.Host
	for _, h := range x.hosts[key{f.GlobalID, f.Model}] {
		if x.same(&h.Ref, f) {
			return h
		}
		if first == nil {
			first = h
		}
	}
	return first
}

// itemAt is the item that an instance names; of several with one reference, the
// one in the host that is nearest to the place.
func (x *Index) itemAt(f *finding.Ref, h *model.Host, at geom.Vec) *model.Item {
	var best *model.Item
	var rank float64
	for _, it := range x.items[key{f.GlobalID, f.Model}] {
		r := boxDist(it.Box, at)
		if !x.same(&it.Ref, f) {
			r += 1e9
		}
		if it.Host != h {
			r += 1e6
		}
		if best == nil || r < rank {
			best, rank = it, r
		}
	}
	return best
}

// boxDist is the distance from a point to a box, 0 inside.
func boxDist(b geom.Box, p geom.Vec) float64 {
	return geom.V(
		max(b.Min.X-p.X, 0, p.X-b.Max.X),
		max(b.Min.Y-p.Y, 0, p.Y-b.Max.Y),
		max(b.Min.Z-p.Z, 0, p.Z-b.Max.Z),
	).Norm()
}
