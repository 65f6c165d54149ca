package rules

import (
	"cmp"
	"slices"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// group is what one finding is about: the items of one set, or one single item,
// in one host.
type group struct {
	host  *model.Host // nil without one
	set   *model.Set  // nil for a single item
	items []*model.Item
	key   string // of the place, see fingerprint.go
	twin  int    // number among the groups with the same key

	unread bool   // the items stand for elements that are none
	label  string // name of a group that is no set and no single item
	text   string // the message, when it is not that of the worst place
	note   bool   // a finding about it is a note, whatever the rule's priority
	bare   bool   // its places compare nothing: what they would be held against is not known
}

// name is what the group is called in a list.
func (g *group) name() string {
	if g.label != "" {
		return g.label
	}
	if g.set != nil && g.set.Name != "" {
		return g.set.Name
	}
	return itemName(g.items[0])
}

type groupID struct {
	host *model.Host
	set  *model.Set
	item *model.Item
}

// groupItems sorts all items of a model into groups; of[i] is the group of item
// i. Groups that nothing but their place in the world tells apart are numbered
// by it, all of them, so that a number does not depend on what is found.
func groupItems(m *model.Model, ids map[*model.Host]hostID) (groups []*group, of []*group) {
	of = make([]*group, len(m.Items))
	seen := make(map[groupID]*group, len(m.Items))
	for i, it := range m.Items {
		id := groupID{host: it.Host, set: it.Set}
		if it.Set == nil {
			id.item = it
		}
		g := seen[id]
		if g == nil {
			g = &group{host: it.Host, set: it.Set}
			seen[id] = g
			groups = append(groups, g)
		}
		g.items = append(g.items, it)
		of[i] = g
	}
	for _, g := range groups {
		g.key = ids[g.host].text + g.place(ids[g.host])
	}
	numberTwins(groups, m)
	return groups, of
}

// hostGroup is a group for what items of one host have in common beyond their
// sets; what tells it from others of the host. Groups of all hosts are numbered
// by numberTwins before they are used.
func (s *shared) hostGroup(h *model.Host, what, label string, items []*model.Item) *group {
	return &group{host: h, label: label, items: items, key: s.ids[h].text + "|" + what}
}

// numberTwins numbers the groups of one key by the place of their items in the
// world.
func numberTwins(groups []*group, m *model.Model) {
	same := make(map[string][]*group, len(groups))
	for _, g := range groups {
		same[g.key] = append(same[g.key], g)
	}
	for _, gs := range same {
		if len(gs) == 1 {
			continue
		}
		slices.SortStableFunc(gs, func(a, b *group) int {
			return cmp.Or(compareVec(a.box().Min, b.box().Min), compareRef(m, a.items[0], b.items[0]))
		})
		for i, g := range gs {
			g.twin = i
		}
	}
}

func (g *group) box() geom.Box {
	b := geom.EmptyBox
	for _, it := range g.items {
		b = b.Union(it.Box)
	}
	return b
}

// compareVec orders places; what float noise makes of one place stays one.
func compareVec(a, b geom.Vec) int {
	for _, d := range [3]float64{a.X - b.X, a.Y - b.Y, a.Z - b.Z} {
		if d < -placeNoise || d > placeNoise {
			return cmp.Compare(d, 0)
		}
	}
	return 0
}

// placeNoise is by how much, in mm, coordinates of one place may differ.
const placeNoise = 0.01

// compareRef orders items in one place in a way that the order of reading has
// no part in.
func compareRef(m *model.Model, a, b *model.Item) int {
	return cmp.Or(
		cmp.Compare(a.Name, b.Name),
		cmp.Compare(a.Mark, b.Mark),
		cmp.Compare(sourceName(m, a.Source), sourceName(m, b.Source)),
		cmp.Compare(a.GlobalID, b.GlobalID),
		cmp.Compare(a.Instance, b.Instance),
	)
}

func sourceName(m *model.Model, i int) string {
	if i < 0 || i >= len(m.Sources) {
		return ""
	}
	return m.Sources[i].Name
}
