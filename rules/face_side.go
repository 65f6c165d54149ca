package rules

import (
	"fmt"
	"slices"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/measure"
	"embedcheck/internal/model"
)

// FaceSide finds items that are in the wrong face of their host for the way that
// it is cast. Only a cast face that the model states counts.
var FaceSide = &Rule{
	ID:       "face-side",
	Title:    "Face in the form",
	Measured: "length out of the form face, or distance from the face where the item belongs",
	Doc: Doc{
		Wrong:    "A bolt that stands out of the form face needs a hole in the form, and the form cannot be struck over it; an item on the other face is out of reach when the element stands, and is found when the crane is there.",
		Measured: "Three things, each along the normal of a face. Bolts, studs and lifting inserts that stand out of the face that lies on the form, by the length outside. Items of one kind and size in one set that enter another face than the rest of it, by their distance from the rest's face. Items whose property " + castFaceProperty + " names another face than the one they enter, by the distance from the entry to that face's side of the host. Which face is cast against the form is taken only from the host's property " + measure.FaceUpProperty + " or " + measure.FormFaceProperty + "; where neither is stated and something stands out, that is told once for each model, as a note.",
		Do:       "Move the item to the right face, or turn the element over in the form, or agree on a form with holes. Where the note is told, state " + measure.FaceUpProperty + " or " + measure.FormFaceProperty + " of each host, in any property set: an axis of its own placement (+Y, -Z), top, underside, inside or outside. " + castFaceProperty + " of an item takes the same, and form, up or side of the form.",
		Blind:    "Forms that are made with holes, elements that are cast standing, plates and sockets out of the form face (rule flush tells them), items all of which are on the wrong face where none states its own, and sets that are spread over three and more faces without a majority, as around a column, or that are all items of one element.",
	},
	Unit:     "mm",
	Relation: finding.AtMost,
	Kinds:    []model.Kind{model.Bolt, model.Stud, model.Socket, model.Lifter, model.Plate, model.Channel},
	Entries:  []Unit{MM, Inch},
	Default: Params{
		Priority: finding.Review,
		Limit:    Limit{{MM, 6}},
		Cites:    []Citation{{MM, "", Practice}},
	},
	Run: faceSide,
}

// castFaceProperty is the property of an item, in any property set, that states
// the face it is cast in: "form", "up" or "side" of the form, or a side of the
// host as in measure.FaceUpProperty.
const castFaceProperty = "CastFace"

// sameFace is the least cosine between normals of one face. What stands at more
// than half a right angle is another side of the form.
const sameFace = 0.7

// inFace is an item with the place where it enters its host.
type inFace struct {
	it    *model.Item
	a     *model.Anchor // nil for a plate without anchors
	entry *model.Entry
	out   float64 // mm, the longest length outside
}

func faceSide(p *Pass) error {
	items := p.inFaces()
	casts := p.casts(items)
	told := map[*model.Item]bool{}
	for _, f := range items {
		if p.onOtherFace(f, casts[f.it.Host]) || p.onForm(f, casts[f.it.Host]) {
			told[f.it] = true
		}
	}
	p.tellSplitSets(items, told)
	p.tellUnknownCasts(items, casts)
	return nil
}

// inFaces are the items whose face is known.
func (p *Pass) inFaces() []inFace {
	var out []inFace
	for it := range p.Items() {
		if f, ok := faceOf(it); ok && !it.Twin {
			out = append(out, f)
		}
	}
	return out
}

func faceOf(it *model.Item) (f inFace, ok bool) {
	f.it = it
	if soundPlate(it) {
		f.entry = it.PlateIn
	}
	for _, a := range it.Anchors {
		if !sound(a) {
			continue
		}
		f.out = max(f.out, a.Entry.Dist)
		if f.entry == nil {
			f.a, f.entry = a, a.Entry
		}
	}
	return f, f.entry != nil
}

// onForm reports an item that stands out of the form face.
func (p *Pass) onForm(f inFace, c *cast) bool {
	if !c.known() || !standsOut(f.it) || f.entry.Normal.Dot(c.Up) > -sameFace {
		return false
	}
	return p.wrongFace(f, f.out, nil, func(got, want string) string {
		return fmt.Sprintf("%s stands %s mm out of the form face of %s; at most %s mm (%s)", itemName(f.it), got, hostName(f.it.Host), want, finding.Plain(c.Why))
	})
}

// standsOut reports whether the rule asks how far an item stands out: of other
// kinds the rule flush tells it.
func standsOut(it *model.Item) bool {
	return it.Kind == model.Bolt || it.Kind == model.Stud || it.Kind == model.Lifter
}

// onOtherFace reports an item that is not in the face that it states.
func (p *Pass) onOtherFace(f inFace, c *cast) bool {
	v, ok := f.it.Says(castFaceProperty)
	if !ok || c == nil {
		return false
	}
	faces, why := c.facesNamed(v)
	if why != "" {
		p.Unchecked(f.it, nil, fmt.Sprintf("%s: %s = %q: %s", p.Rule.ID, castFaceProperty, finding.Plain(v), why))
		return false
	}
	least, inIt := 0.0, false
	for i, d := range faces {
		_, far := measure.Reach(f.it.Host.Body, d)
		if off := far - f.entry.Point.Dot(d); i == 0 || off < least {
			least = off
		}
		inIt = inIt || f.entry.Normal.Dot(d) > sameFace
	}
	if inIt {
		return false
	}
	return p.wrongFace(f, least, nil, func(got, _ string) string {
		return fmt.Sprintf("%s is in the %s of %s; the model states %s = %s, %s mm away", itemName(f.it), faceWord(f.entry.Normal), hostName(f.it.Host), castFaceProperty, finding.Plain(v), got)
	})
}

// wrongFace reports an item when it is off by more than the limit.
func (p *Pass) wrongFace(f inFace, off float64, others []model.Ref, text func(got, want string) string) bool {
	r, ok := p.Required(f.it, f.a, Basis{})
	if !ok || !geom.Over(off, r.Value) {
		return false
	}
	p.Report(Hit{
		Item: f.it, Anchor: f.a, Measured: off, Required: r, At: f.entry.Point, Normal: f.entry.Normal, Others: others,
		Text: text(figures(off, r.Value)),
	})
	return true
}

// alikeInSet is what items of one set have in common that belong in one face.
type alikeInSet struct {
	set  *model.Set
	host *model.Host
	kind model.Kind
	size string
}

// tellSplitSets reports the items of sets that are not in the face that the
// rest of their set is in.
func (p *Pass) tellSplitSets(items []inFace, told map[*model.Item]bool) {
	sets := map[alikeInSet][]inFace{}
	var order []alikeInSet
	for _, f := range items {
		it := f.it
		if it.Set == nil || it.Assembly != "" && it.Assembly == it.Host.Assembly {
			continue // no set, or one of all that an element has
		}
		k := alikeInSet{it.Set, it.Host, it.Kind, it.Size}
		if sets[k] == nil {
			order = append(order, k)
		}
		sets[k] = append(sets[k], f)
	}
	for _, k := range order {
		p.tellSplitSet(sets[k], told)
	}
}

func (p *Pass) tellSplitSet(set []inFace, told map[*model.Item]bool) {
	slices.SortStableFunc(set, func(a, b inFace) int {
		switch {
		case a.it == b.it:
			return 0
		case p.later(a.it, b.it):
			return 1
		}
		return -1
	})
	var faces [][]inFace
	for _, f := range set {
		k := slices.IndexFunc(faces, func(o []inFace) bool { return o[0].entry.Normal.Dot(f.entry.Normal) > sameFace })
		if k < 0 {
			k, faces = len(faces), append(faces, nil)
		}
		faces[k] = append(faces[k], f)
	}
	main := faces[0]
	for _, o := range faces[1:] {
		if len(o) > len(main) {
			main = o
		}
	}
	if len(faces) > 2 && 2*len(main) <= len(set) {
		return // around a column, as it seems
	}
	in := main[0].entry
	for _, f := range set {
		if told[f.it] || in.Normal.Dot(f.entry.Normal) > sameFace {
			continue
		}
		off := in.Point.Sub(f.entry.Point).Dot(in.Normal)
		p.wrongFace(f, max(off, -off), []model.Ref{main[0].it.Ref}, func(got, _ string) string {
			return fmt.Sprintf("%s is in the %s of %s; %d of the %d of its set are in the %s, %s mm away",
				itemName(f.it), faceWord(f.entry.Normal), hostName(f.it.Host), len(main), len(set), faceWord(in.Normal), got)
		})
	}
}

// tellUnknownCasts tells, once for each model, that items stand out of hosts of
// which no cast face is known.
func (p *Pass) tellUnknownCasts(items []inFace, casts map[*model.Host]*cast) {
	of := make([]*group, len(p.m.Sources)+1) // the last for a source that is not in the list
	var order []*group
	for _, f := range items {
		r, ok := p.Params(f.it).Limit.Resolve(p.Rule.Relation, Basis{})
		if casts[f.it.Host].known() || !standsOut(f.it) || !ok || !geom.Over(f.out, r.Value) {
			continue
		}
		i := min(uint(f.it.Host.Source), uint(len(p.m.Sources)))
		if of[i] == nil {
			of[i] = &group{key: "all|cast", note: true, bare: true}
			order = append(order, of[i])
		}
		of[i].items = append(of[i].items, f.it)
		got, _ := figures(f.out, r.Value)
		p.hits = append(p.hits, hit{Hit{
			Item: f.it, Anchor: f.a, At: f.entry.Point, Normal: f.entry.Normal,
			Text: fmt.Sprintf("%s stands %s mm out of the %s of %s; whether that face is on the form is not stated", itemName(f.it), got, faceWord(f.entry.Normal), hostName(f.it.Host)),
		}, of[i]})
	}
	for _, g := range order {
		g.label, g.text = unknownCasts(p.m, g.items)
	}
	numberTwins(order, p.m)
}

func unknownCasts(m *model.Model, items []*model.Item) (label, text string) {
	hosts := map[*model.Host]bool{}
	for _, it := range items {
		hosts[it.Host] = true
	}
	n := oneOr(len(hosts), "host")
	return n + " of unknown cast face", fmt.Sprintf("%s states neither %s nor %s for %s with items standing out (%s): whether they are in the form face is not known",
		finding.Plain(sourceName(m, items[0].Host.Source)), measure.FaceUpProperty, measure.FormFaceProperty, n, oneOr(len(items), "item"))
}

func oneOr(n int, word string) string {
	if n == 1 {
		return "one " + word
	}
	return plural(n, word)
}
