package rules

import (
	"fmt"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// HookDirection compares the concrete in front of a hook with a least cover.
var HookDirection = &Rule{
	ID:       "hook-direction",
	Title:    "Hook towards an edge",
	Measured: "concrete in front of the hook",
	Doc: Doc{
		Wrong:    "The hook points out of the concrete, or ends in the skin before an edge or an opening: it spalls off, rusts, or does not fit the form.",
		Measured: "From the point of the hook that is farthest from the axis, away from the axis, to the surface of the concrete; negative by what it sticks out.",
		Do:       "Turn the hook inwards, away from the edge.",
		Blind:    "Bars that the hook should be under or around.",
	},
	Unit:     "mm",
	Relation: finding.AtLeast,
	Kinds:    []model.Kind{model.Bolt, model.Stud, model.Socket, model.Lifter, model.Plate},
	Entries:  []Unit{MM, Inch, Diameters},
	Default: Params{
		Priority: finding.Review,
		Limit:    Limit{{MM, 20}},
		Cites:    []Citation{{MM, "least cover of precast concrete in plant forms; ACI 318 Table 20.5.1.3.3 has 16 and 19 mm for walls", Secondary}},
	},
	Run: hookDirection,
}

func hookDirection(p *Pass) error {
	for a := range p.Anchors() {
		if len(a.Hook) == 0 {
			continue
		}
		got, dir, ok := hookCover(a)
		if !ok {
			p.Unchecked(a.Item, a, p.Rule.ID+": no concrete was found around its hook")
			continue
		}
		r, ok := p.Required(a.Item, a, BasisOf(a))
		if !ok || !geom.Short(got, r.Value) {
			continue
		}
		g, w := figures(got, r.Value)
		side := sideWord(a.Entry.Normal, dir)
		if side != "" {
			side = " towards the " + side + " edge"
		}
		text := fmt.Sprintf("the hook of %s has %s mm of concrete in front of it%s", anchorName(a), g, side)
		if geom.Short(got, 0) {
			g, _ = figures(-got, 0)
			text = fmt.Sprintf("the hook of %s sticks out %s mm%s", anchorName(a), g, side)
		}
		p.Report(Hit{
			Item: a.Item, Anchor: a, Measured: got, Required: r, At: a.At(a.Bearing), Normal: a.Entry.Normal,
			Text: text + needed(w+" mm of concrete", r),
		})
	}
	return nil
}

// hookCover is the concrete in front of an anchor's hook, on the way from the
// axis through the hook's farthest point, and that direction. False where the
// axis is in no concrete at that depth.
func hookCover(a *model.Anchor) (cover float64, dir geom.Vec, ok bool) {
	far, at, tip := 0.0, geom.Vec{}, false
	for i, q := range a.Hook {
		d := q.Sub(a.Open)
		if side := d.Sub(a.Dir.Mul(d.Dot(a.Dir))); side.Norm() > far+placeNoise {
			far, at, dir, tip = side.Norm(), q, side.Unit(), i == len(a.Hook)-1
		}
	}
	if !tip {
		far += a.Diameter / 2 // the back of a bend is round, the end of the rod is flat
	}
	return coverFrom(a, a.At(at.Sub(a.Open).Dot(a.Dir)), dir, far)
}

// coverFrom is the concrete beyond a point that lies so far from the axis in a
// direction.
func coverFrom(a *model.Anchor, axis, dir geom.Vec, far float64) (cover float64, _ geom.Vec, ok bool) {
	begin := geom.Tol
	const play = 3 // mm, of a hole that is cut for the hook itself
	if a.Entry.Clear > 0 {
		begin = far + play
	}
	for _, in := range a.Entry.Solid.Inside(axis, dir) {
		if in.To.T > 0 && in.From.T <= begin && (!ok || in.To.T-far > cover) {
			cover, ok = in.To.T-far, true
		}
	}
	return cover, dir, ok
}
