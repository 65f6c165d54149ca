package rules

import (
	"fmt"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/measure"
	"embedcheck/internal/model"
)

// EdgeDistance compares the distance from each anchor's axis, and from each
// plate's outline, to the nearest edge of the concrete.
//
// Welded studs are not torqued, so that the multiple of the diameter, which is
// there against splitting, is not asked of them. For lifters nothing but the
// maker's figures counts; the built-in value only finds what is plainly too near.
// Plates and channels are set much nearer to edges than anchors, and the strip of
// concrete beside them has little to bear: 25 mm of it do not break off when the
// form is struck or the plate is welded to. An engineer decides.
var EdgeDistance = &Rule{
	ID:       "edge-distance",
	Title:    "Edge distance",
	Measured: "edge distance",
	Doc: Doc{
		Wrong:    "The concrete beside the anchor splits when the nut is tightened, or breaks out under load, because too little of it is left towards an edge, an opening or a recess.",
		Measured: "From the anchor's axis, in the entry face, to the nearest edge of the concrete; where the concrete narrows below the face, the least value over the embedded depth. Plates: from the outline of the plate, against the entries in mm or inches only. The item's own recess is no edge.",
		Do:       "Move the anchor or the opening, choose a thinner or a longer anchor, or have the engineer detail reinforcement for the edge.",
		Blind:    "Loads, concrete strength, reinforcement that holds the edge, chamfers that are not modelled, and joints to a neighbouring element.",
	},
	Unit:     "mm",
	Relation: finding.AtLeast,
	Kinds:    []model.Kind{model.Bolt, model.Stud, model.Socket, model.Lifter, model.Plate, model.Channel},
	Entries:  []Unit{MM, Inch, Diameters, Embedments, Thicknesses},
	Default: Params{
		Priority: finding.Hold,
		Limit:    Limit{{MM, 50}, {Diameters, 6}},
		Cites: []Citation{
			{MM, "", Practice},
			{Diameters, "ACI 318-19 Table 17.9.2(a), cast-in anchors that are torqued", Memory},
		},
	},
	ForKinds: []KindParams{
		{[]model.Kind{model.Stud, model.Lifter}, Params{
			Priority: finding.Hold, Limit: Limit{{MM, 50}}, Cites: []Citation{{MM, "", Practice}},
		}},
		{[]model.Kind{model.Plate, model.Channel}, Params{
			Priority: finding.Review, Limit: Limit{{MM, 25}}, Cites: []Citation{{MM, "", Practice}},
		}},
	},
	Run: edgeDistance,
}

func edgeDistance(p *Pass) error {
	for a := range p.Anchors() {
		e, ok := p.edge(a)
		if !ok {
			continue // the concrete has no edge anywhere near
		}
		if r, ok := p.Required(a.Item, a, BasisOf(a)); ok && geom.Short(e.Dist, r.Value) {
			got, want := figures(e.Dist, r.Value)
			to, others := edgeWords(a.Item.Host, a.Entry, e)
			p.Report(Hit{
				Item: a.Item, Anchor: a, Measured: e.Dist, Required: r,
				At: a.Entry.Point, Normal: a.Entry.Normal, Others: others,
				Text: fmt.Sprintf("%s mm from the axis of %s to %s%s", got, anchorName(a), to, needed(want+" mm", r)),
			})
		}
	}
	for it := range p.Items() {
		plateOutline(p, it)
	}
	return nil
}

// plateOutline checks the outline of a plate. A plate that reaches beyond the
// concrete is left to the rule plate-edge.
func plateOutline(p *Pass, it *model.Item) {
	if !soundPlate(it) {
		return
	}
	e, ok := measure.PlateEdge(it)
	if !ok || geom.Short(e.Dist, 0) {
		return
	}
	r, ok := p.Params(it).Limit.lengths().Resolve(finding.AtLeast, Basis{})
	if ok && geom.Short(e.Dist, r.Value) {
		got, want := figures(e.Dist, r.Value)
		to, others := edgeWords(it.Host, it.PlateIn, e)
		p.Report(Hit{
			Item: it, Measured: e.Dist, Required: r,
			At: it.PlateIn.Point, Normal: it.PlateIn.Normal, Others: others,
			Text: fmt.Sprintf("%s mm from the outline of %s to %s%s", got, itemName(it), to, needed(want+" mm", r)),
		})
	}
}

// beside says where an opening lies, by the side word of the way to it.
var beside = map[string]string{
	"left-hand": "to its left", "right-hand": "to its right", "upper": "above it", "lower": "below it", "": "beside it",
}

// edgeWords names the edge that is nearest, and the opening or recess that it
// belongs to.
func edgeWords(h *model.Host, in *model.Entry, e measure.Edge) (string, []model.Ref) {
	side := sideWord(in.Normal, e.Dir)
	var text string
	var others []model.Ref
	if v := voidAt(h, e.At); v != nil {
		what := "recess"
		if depth(v.Mesh, in.Normal) > in.Thickness-1 {
			what = "opening"
		}
		if n := refName(&v.Ref); n != "" {
			what += " " + n
		}
		text, others = "the edge of "+what+" "+beside[side], []model.Ref{v.Ref}
	} else if side != "" {
		text = "the " + side + " edge"
	} else {
		text = "the nearest edge"
	}
	if e.Depth > 5 && narrows(in, e) {
		text += fmt.Sprintf(", %s mm below the face", figure(e.Depth))
	}
	return text, others
}

// narrows reports whether there is still concrete at the face beyond the nearest
// edge that was found below it.
func narrows(in *model.Entry, e measure.Edge) bool {
	const off = 0.5 // mm, below the face and beyond the edge
	up := in.Point.Sub(e.At).Dot(in.Normal) - off
	return in.Solid.Contains(e.At.Add(in.Normal.Mul(up)).Add(e.Dir.Mul(off)))
}

// voidAt is the opening or recess whose side a place on the concrete's surface
// belongs to; nil for an outer edge.
func voidAt(h *model.Host, at geom.Vec) *model.Void {
	for _, v := range h.Voids {
		if v.Mesh != nil && v.Box.Grow(1).Has(at) {
			return v
		}
	}
	return nil
}

// depth is the extent of a mesh along a direction.
func depth(m *geom.Mesh, n geom.Vec) float64 {
	if len(m.Verts) == 0 {
		return 0
	}
	lo, hi := m.Verts[0].Dot(n), m.Verts[0].Dot(n)
	for _, v := range m.Verts {
		lo, hi = min(lo, v.Dot(n)), max(hi, v.Dot(n))
	}
	return hi - lo
}
