package rules

import (
	"cmp"
	"fmt"
	"slices"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// NotChecked tells what could not be read or compared, so that nobody takes
// silence for a result.
var NotChecked = &Rule{
	ID:    finding.NotChecked,
	Title: "Not checked",
	Doc: Doc{
		Wrong:    "Part of the model could not be read, or a distance could not be measured. Other rules are silent about it; that says nothing about the concrete.",
		Measured: "Elements without a readable shape, anchors without an axis or an entry face, limits that count in a size nobody knows.",
		Do:       "Check these places by hand, or have the model exported so that they can be read.",
		Blind:    "What is not in the models at all.",
	},
	Default: Params{Priority: finding.Review},
	Always:  true,
	Run:     notChecked,
}

func notChecked(p *Pass) error {
	p.tellUnread()
	told := map[place]bool{}
	for i := range p.m.Unread {
		told[placeOf(&p.m.Unread[i].Ref)] = true
	}
	for _, it := range p.m.Items {
		if it.Host != nil && slices.Contains(EdgeDistance.Kinds, it.Kind) && !told[placeOf(&it.Ref)] {
			p.tellUnmeasured(it)
		}
	}
	return nil
}

// place is where an element stands in the files.
type place struct {
	source   int
	instance uint64
}

func placeOf(r *model.Ref) place { return place{r.Source, r.Instance} }

// tellUnmeasured tells what keeps an item from being measured.
func (p *Pass) tellUnmeasured(it *model.Item) {
	for _, a := range it.Anchors {
		if !sound(a) {
			p.Report(Hit{
				Item: it, Anchor: a, At: a.Open,
				Text: "the axis of " + anchorName(a) + " enters no face of the concrete near its open end: edge distance, spacing, depth and cover are not measured",
			})
		}
	}
	if len(it.Anchors) == 0 && len(it.Outline) == 0 && !it.Tube {
		p.Report(Hit{
			Item: it, At: it.Middle(),
			Text: "no axis was found in the shape of " + itemName(it) + ": its distances are not measured",
		})
	}
	if len(it.Outline) > 0 && !soundPlate(it) {
		p.Report(Hit{
			Item: it, At: it.Middle(),
			Text: itemName(it) + " has no outline in a face of the concrete: its distance to edges is not measured",
		})
	}
}

// tellGaps tells what the rules could not compare, each thing once.
func (p *Pass) tellGaps(passes []*Pass) {
	told := map[gap]bool{}
	for _, o := range passes {
		for _, g := range o.gaps {
			if told[g] {
				continue
			}
			told[g] = true
			h := Hit{Item: g.item, Anchor: g.anchor, At: g.item.Middle(), Text: itemName(g.item) + ": " + g.why}
			if g.anchor != nil {
				h.At, h.Text = entryPoint(g.anchor), anchorName(g.anchor)+": "+g.why
			}
			p.Report(h)
		}
	}
}

// tellUnread makes findings of what recognition could not read: one for each
// host and item, one for all bars and other elements of a class.
func (p *Pass) tellUnread() {
	list := slices.Clone(p.m.Unread)
	slices.SortStableFunc(list, p.compareUnread)
	groups := map[string]*group{}
	twins := map[string]int{}
	for i := range list {
		u := &list[i]
		g := p.unreadGroup(u, groups, twins)
		it := &model.Item{Ref: u.Ref, Box: geom.BoxOf(u.At)}
		g.items = append(g.items, it)
		h := hit{Hit{Item: it, At: u.At, Text: unreadText(u)}, g}
		p.hits = append(p.hits, h)
	}
}

// compareUnread orders by what elements are, then by where.
func (p *Pass) compareUnread(a, b model.Unread) int {
	return cmp.Or(
		cmp.Compare(a.Role, b.Role),
		cmp.Compare(a.Class, b.Class),
		finding.Natural(a.Name, b.Name),
		cmp.Compare(a.Mark, b.Mark),
		compareVec(a.At, b.At),
		cmp.Compare(sourceName(p.m, a.Source), sourceName(p.m, b.Source)),
		cmp.Compare(a.GlobalID, b.GlobalID),
		cmp.Compare(a.Instance, b.Instance),
		cmp.Compare(a.Why, b.Why),
	)
}

// unreadGroup is the group that an element belongs to. Hosts and items have one
// of their own; the same element named twice keeps it.
func (p *Pass) unreadGroup(u *model.Unread, groups map[string]*group, twins map[string]int) *group {
	own := u.Role == "host" || u.Role == "item"
	name := "unread|" + u.Role + "|" + u.Class
	id := name
	if own {
		name += "|" + u.Mark + "|" + u.Name
		id = fmt.Sprint(name, "|", u.Source, "|", u.Instance)
	}
	g := groups[id]
	if g != nil {
		return g
	}
	g = &group{unread: true, key: name, twin: twins[name]}
	twins[name]++
	if u.Role == "host" {
		g.host = &model.Host{Ref: u.Ref}
	}
	if !own {
		g.label = u.Role
		if u.Class != "" {
			g.label = u.Class
		}
	}
	groups[id] = g
	return g
}

func unreadText(u *model.Unread) string {
	name := u.Class
	if n := refName(&u.Ref); n != "" {
		name = n
		if u.Class != "" {
			name += " (" + u.Class + ")"
		}
	}
	if name == "" {
		name = u.Role
	}
	return name + " was not checked: " + finding.Plain(u.Why)
}
