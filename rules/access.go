package rules

import (
	"fmt"
	"slices"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/measure"
	"embedcheck/internal/model"
)

// Access finds sockets and bolts that nobody gets at, because something stands
// close before their open end.
//
// Joints between elements are where items connect them, so that an element that
// lies against the face of a socket is told once for the two elements, as a note.
var Access = &Rule{
	ID:       "access",
	Title:    "No room before the open end",
	Measured: "clear length before the open end",
	Doc: Doc{
		Wrong:    "Another element or item stands before the thread: the bolt cannot be screwed in, the plate cannot be set down over the bolts, no spanner fits.",
		Measured: "From the open end straight out, in a corridor as wide as two diameters, to the concrete or the item that it meets first; for a socket below the face, from the face. Sockets with an element against their face, across a joint of at most 30 mm, are told once for the two elements, as a note.",
		Do:       "Move the item or what stands before it. Where it connects the two across their joint, accept the note.",
		Blind:    "Steelwork, pipes and all else that is neither concrete nor cast in, the room to turn a spanner or to swing something into place, the order of erection, and an open end that stands in a hole of the other element.",
	},
	Unit:     "mm",
	Relation: finding.AtLeast,
	Kinds:    []model.Kind{model.Bolt, model.Socket},
	Entries:  []Unit{MM, Inch, Diameters},
	Default: Params{
		Priority: finding.Review,
		Limit:    Limit{{MM, 100}},
		Cites:    []Citation{{MM, "", Practice}},
	},
	Run: access,
}

// widestJoint is the distance in mm across which elements lie against each other.
const widestJoint = 30

// obstacle is what stands before an open end.
type obstacle struct {
	dist float64
	host *model.Host // nil when it is an item
	ref  model.Ref
	name string
}

func access(p *Pass) error {
	v := p.newView()
	items := p.unheaped(slices.DeleteFunc(slices.Collect(p.Items()), func(it *model.Item) bool { return it.Twin }))
	found := make([][]inTheWay, len(items)) // slot i belongs to item i: no lock
	p.each(len(items), func(i int) {
		it := items[i]
		for _, a := range it.Anchors {
			if !sound(a) {
				continue
			}
			if b, ok := p.blocked(v, a); ok {
				found[i] = append(found[i], b)
			}
		}
	})
	p.tell(found)
	return nil
}

// tell reports what stands in the way of each anchor, and each joint between two
// elements once.
func (p *Pass) tell(found [][]inTheWay) {
	joints := map[[2]*model.Host]*group{}
	var order []*group
	for _, list := range found {
		for _, b := range list {
			if b.joint == nil {
				p.Report(b.Hit)
				continue
			}
			key := [2]*model.Host{b.Item.Host, b.joint}
			g := joints[key]
			if g == nil {
				g = p.hostGroup(key[0], "joint|"+hostLabel(key[1]), "sockets against "+hostName(key[1]), nil)
				g.note = true
				joints[key], order = g, append(order, g)
			}
			g.items = append(g.items, b.Item)
			p.hits = append(p.hits, hit{b.Hit, g})
		}
	}
	for _, g := range order {
		g.text = jointText(g)
	}
	numberTwins(order, p.m)
}

func jointText(g *group) string {
	if len(g.items) == 1 {
		return "a socket of " + hostName(g.host) + " opens into an element that lies against it: what is screwed into it has to be in place before the two meet"
	}
	return fmt.Sprintf("%d sockets of %s open into an element that lies against them: what is screwed in has to be in place before the two meet", len(g.items), hostName(g.host))
}

// joined reports whether a socket opens into an element that lies against its
// face.
func joined(a *model.Anchor, o obstacle) bool {
	return a.Item.Kind == model.Socket && o.host != nil && o.host != a.Item.Host &&
		!geom.Over(o.dist+max(a.Entry.Dist, 0), widestJoint)
}

// inTheWay is the hit of an anchor before whose open end something stands.
type inTheWay struct {
	Hit
	joint *model.Host // the element on the other side of a joint; nil for other obstacles
}

func (p *Pass) blocked(v *view, a *model.Anchor) (inTheWay, bool) {
	r, ok := p.Required(a.Item, a, BasisOf(a))
	if !ok {
		return inTheWay{}, false
	}
	o, ok := v.ahead(a, r.Value)
	if !ok || !geom.Short(o.dist, r.Value) {
		return inTheWay{}, false
	}
	got, want := figures(o.dist, r.Value)
	b := inTheWay{Hit: Hit{
		Item: a.Item, Anchor: a, Measured: o.dist, Required: r, At: a.Open, Normal: a.Entry.Normal, Others: []model.Ref{o.ref},
		Text: fmt.Sprintf("%s mm clear before the open end of %s, to %s%s", got, anchorName(a), o.name, needed(want+" mm", r)),
	}}
	if joined(a, o) {
		b.joint = o.host
	}
	return b, true
}

// view finds what stands before an open end.
type view struct {
	*shared
	items *geom.BoxTree
}

func (s *shared) newView() *view {
	boxes := make([]geom.Box, len(s.m.Items))
	for i, it := range s.m.Items {
		if !yields(it) {
			boxes[i] = it.Box
		} else {
			boxes[i] = geom.EmptyBox
		}
	}
	s.hostTree() // before the workers ask for it
	return &view{s, geom.NewBoxTree(boxes)}
}

// yields reports whether an item is no obstacle: it is there for others, or gone
// when the concrete has set.
func yields(it *model.Item) bool {
	return it.Twin || it.Kind == model.Fitting || it.Kind == model.Template || it.Kind == model.Former
}

// ahead is what an anchor's way out meets first, within length mm.
func (v *view) ahead(a *model.Anchor, length float64) (obstacle, bool) {
	w := measure.WayOut(a, length)
	best := obstacle{dist: length}
	found := false
	take := func(d float64, ok bool, h *model.Host, ref model.Ref, name string) {
		if ok && (!found || d < best.dist-placeNoise || d < best.dist+placeNoise && compareOthers(ref, best.ref) < 0) {
			best, found = obstacle{d, h, ref, name}, true
		}
	}
	own, within := a.Item.Host, a.At(1) // 1 mm, for the surface is neither in nor out
	if d, ok := w.AxisToSolid(a.Entry.Solid); ok {
		take(d, true, own, own.Ref, "the concrete of "+hostName(own)+" itself")
	}
	v.hostTree().Query(w.Box(), func(i int) bool {
		h := v.m.Hosts[i]
		if h == own || h.Body != nil && h.Box.Has(within) && h.Body.Contains(within) {
			return true // a bolt that stands in another element is told by two-hosts
		}
		d, ok := toHost(w, h)
		take(d, ok, h, h.Ref, hostName(h))
		return true
	})
	v.items.Query(w.Box(), func(i int) bool {
		if it := v.m.Items[i]; !oneThing(a.Item, it) {
			d, ok := w.ToItem(it)
			take(d, ok, nil, it.Ref, itemName(it))
		}
		return true
	})
	return best, found
}

func toHost(w measure.Way, h *model.Host) (float64, bool) {
	if h.Solid != nil {
		return w.ToSolid(h.Solid)
	}
	return w.ToBox(h.Box)
}

// oneThing reports whether an item belongs to another one, so that it is not in
// its way.
func oneThing(a, b *model.Item) bool {
	return a == b || a.Set != nil && a.Set == b.Set || a.Assembly != "" && a.Assembly == b.Assembly || sameThing(a, b) || oneAxis(a, b)
}
