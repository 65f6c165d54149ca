package rules

import (
	"fmt"
	"math"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// SquareToFace finds anchors that do not enter their face at a right angle.
//
// Lifters are often set at an angle, and are not asked. On a curved face, which
// models have as facets, the turn from one facet to the next is allowed on top.
var SquareToFace = &Rule{
	ID:       "square-to-face",
	Title:    "Not square to the face",
	Measured: "angle between the axis and the face's normal",
	Doc: Doc{
		Wrong:    "The nut or plate bears on one side only, the bolt bends when it is tightened, and the template does not lie on the form.",
		Measured: "The angle between the anchor's axis and the normal of its entry face.",
		Do:       "Turn the anchor square to the face, or model the wedge that makes the slant.",
		Blind:    "Anchors that are meant to be inclined: switch the rule off for their kind or mark.",
	},
	Unit:     "degrees",
	Relation: finding.AtMost,
	Kinds:    []model.Kind{model.Bolt, model.Stud, model.Socket, model.Plate},
	Entries:  []Unit{Degrees},
	Default: Params{
		Priority: finding.Review,
		Limit:    Limit{{Degrees, 3}},
		Cites:    []Citation{{Degrees, "near the 1/2 in per 12 in of ACI 117-10 for embedded items", Memory}},
	},
	Run: squareToFace,
}

func squareToFace(p *Pass) error {
	for a := range p.Anchors() {
		got := angle(a.Dir, a.Entry.Normal.Neg())
		r, ok := p.Required(a.Item, a, BasisOf(a))
		if !ok || !geom.Over(got, r.Value) || !geom.Over(got, r.Value+facetTurn(a.Entry)) {
			continue
		}
		g, w := figures(got, r.Value)
		p.Report(Hit{
			Item: a.Item, Anchor: a, Measured: got, Required: r, At: a.Entry.Point, Normal: a.Entry.Normal,
			Text: fmt.Sprintf("%s stands %s° off a right angle to the face; at most %s°%s", anchorName(a), g, w, r.why()),
		})
	}
	return nil
}

// angle is the angle between two directions in degrees.
func angle(a, b geom.Vec) float64 {
	return math.Atan2(a.Cross(b).Norm(), a.Dot(b)) * 180 / math.Pi
}

// facetTurn is the largest angle, in degrees, at which the entry face turns into
// the next facet of a curved surface; 0 on a plane. Turns of 20 degrees and more
// are edges.
func facetTurn(e *model.Entry) float64 {
	if e.Solid == nil {
		return 0
	}
	m := e.Solid.Part(e.Part)
	if e.Tri < 0 || e.Tri >= len(m.Tris) {
		return 0
	}
	own, turn := m.Tris[e.Tri], 0.0
	n := triNormal(m, e.Tri)
	for t, v := range m.Tris {
		if t != e.Tri && touch(own, v) {
			if d := angle(n, triNormal(m, t)); d < 20 {
				turn = max(turn, d)
			}
		}
	}
	return turn
}

func triNormal(m *geom.Mesh, t int) geom.Vec {
	a, b, c := m.Tri(t)
	return b.Sub(a).Cross(c.Sub(a)).Unit()
}

// touch reports whether two triangles have a corner in common.
func touch(a, b [3]int32) bool {
	for _, i := range a {
		if i == b[0] || i == b[1] || i == b[2] {
			return true
		}
	}
	return false
}
