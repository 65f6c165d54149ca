package rules

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/measure"
	"embedcheck/internal/model"
)

// LifterBalance compares where the centre of gravity of an element lies with
// where its lifting inserts are.
//
// No standard has a figure for it. Built models have the middle of their inserts
// up to about 110 mm from the centre of gravity on purpose; the built-in value
// finds what is plainly off.
var LifterBalance = &Rule{
	ID:       "lifter-balance",
	Title:    "Lifting points off balance",
	Measured: "distance of the centre of gravity in plan from the lifting points",
	Doc: Doc{
		Wrong:    "The element hangs askew, one lifting insert takes far more than its share, or the element tips when it leaves the ground.",
		Measured: "The centre of gravity of the concrete, openings taken out, and the lifting inserts that point the same way, seen along their axes, as the element hangs from them. From the centre of gravity to the middle of the inserts; where it lies outside of three or more of them, how far outside. For inserts in a face that stands, a centre of gravity below them is not counted: panels are tilted up that way. Holes for a lifting pin are taken as they stand in the model.",
		Do:       "Move the lifting inserts until their middle is in line with the centre of gravity, or have the lift designed for what each of them takes.",
		Blind:    "Loads and what an insert can take, slings of different lengths and lifting beams, reinforcement and other steel, finishes and infills that are modelled apart, and how many inserts the element needs.",
	},
	Unit:     "mm",
	Relation: finding.AtMost,
	Kinds:    []model.Kind{model.Lifter},
	Entries:  []Unit{MM, Inch},
	Default: Params{
		Priority: finding.Review,
		Limit:    Limit{{MM, 150}},
		Cites: []Citation{
			{MM, "", Practice},
			{"", "statics: a body hangs level from three or more points only when its centre of gravity lies between them", Practice},
		},
	},
	Run: lifterBalance,
}

// lift is the lifting points of one host that point the same way.
type lift struct {
	host   *model.Host
	items  []*model.Item
	points []geom.Vec
	up     geom.Vec // out of the concrete; where it hangs, up
	tube   bool     // holes for pins
}

func lifterBalance(p *Pass) error {
	var lifts []*lift
	for _, h := range p.m.Hosts {
		lifts = append(lifts, p.liftsOf(h)...)
	}
	type result struct {
		centre geom.Vec
		ok     bool
		level  bool // whatever the openings do
	}
	results := make([]result, len(lifts))
	p.each(len(lifts), func(i int) {
		r, s := &results[i], lifts[i].host.Solid
		if near, slack, ok := measure.GravityBounds(s); ok && p.level(lifts[i], near, slack) {
			r.level = true
			return
		}
		r.centre, r.ok = measure.CentreOfGravity(s)
	})
	groups := make([]*group, len(lifts))
	for i, l := range lifts {
		groups[i] = p.liftGroup(l)
	}
	numberTwins(slices.Clone(groups), p.m)
	for i, l := range lifts {
		if results[i].level {
			continue
		}
		if !results[i].ok {
			p.Unchecked(l.items[0], nil, p.Rule.ID+": the centre of gravity of "+hostName(l.host)+" cannot be worked out from its shape")
			continue
		}
		if h, ok := p.unbalanced(l, results[i].centre); ok {
			p.hits = append(p.hits, hit{h, groups[i]})
		}
	}
	return nil
}

func (p *Pass) liftGroup(l *lift) *group {
	label := "the lifting point"
	if n := len(l.points); n > 1 {
		label = fmt.Sprintf("%d lifting points", n)
	}
	f := p.ids[l.host].frame
	d := geom.V(l.up.Dot(f.X), l.up.Dot(f.Y), l.up.Dot(f.Z))
	return p.hostGroup(l.host, "lift|"+heading(d), label, l.items)
}

// liftsOf are the lifting points of a host, by the way that they point. Nothing
// when a project has switched the rule off for one of them, or when one has no
// axis: the others alone would tell a wrong story.
func (p *Pass) liftsOf(h *model.Host) []*lift {
	if h.Solid == nil {
		return nil
	}
	items := slices.DeleteFunc(slices.Clone(h.Items), func(it *model.Item) bool { return it.Kind != model.Lifter || it.Twin })
	slices.SortStableFunc(items, func(a, b *model.Item) int {
		return cmp.Or(finding.Natural(a.Name, b.Name), finding.Natural(a.Mark, b.Mark), compareVec(a.Box.Min, b.Box.Min), compareRef(p.m, a, b))
	})
	var lifts []*lift
	for _, it := range items {
		at, up, ok := liftingPoint(it)
		if !p.On(it) {
			return nil
		}
		if !ok {
			p.Unchecked(it, nil, p.Rule.ID+": no axis of it is known, so that the lifting points are not compared with the centre of gravity")
			return nil
		}
		lifts = joinLift(lifts, h, it, at, up)
	}
	return lifts
}

// joinLift adds a lifting point to those that point the same way. One that is
// modelled twice is one.
func joinLift(lifts []*lift, h *model.Host, it *model.Item, at, up geom.Vec) []*lift {
	const sameWay = 0.94 // cosine of 20 degrees
	for _, l := range lifts {
		if l.tube != it.Tube || l.up.Dot(up) < sameWay {
			continue
		}
		l.items = append(l.items, it)
		if !slices.ContainsFunc(l.points, func(q geom.Vec) bool { return q.Dist(at) <= samePlace }) {
			l.points = append(l.points, at)
		}
		return lifts
	}
	return append(lifts, &lift{h, []*model.Item{it}, []geom.Vec{at}, up, it.Tube})
}

// liftingPoint is where a lifting insert is held, and the way out of the
// concrete. A loop with two legs in the concrete is held in the middle; a hole for
// a pin lies across the way up.
func liftingPoint(it *model.Item) (at, up geom.Vec, ok bool) {
	if it.Tube && len(it.Anchors) == 0 {
		return it.Middle(), geom.V(0, 0, 1), !it.Box.Empty() && it.Middle().Finite()
	}
	for _, a := range it.Anchors {
		at, up = at.Add(a.Open), up.Sub(a.Dir)
	}
	if n := len(it.Anchors); n > 0 {
		at, up = at.Mul(1/float64(n)), up.Unit()
	}
	return at, up, at.Finite() && up.Norm() > 0.5
}

// level reports whether a lift meets the limit for every centre of gravity within
// slack of a place: most do, and booleans of all openings took three fifths of
// the time of a check of a yard of panels.
func (p *Pass) level(l *lift, near geom.Vec, slack float64) bool {
	r, ok := p.Params(l.items[0]).Limit.Resolve(p.Rule.Relation, Basis{})
	b := l.balance(near)
	return ok && b.outside == 0 && b.inside > slack && b.off+slack < r.Value
}

// unbalanced is the hit of a lift whose centre of gravity lies too far off.
func (p *Pass) unbalanced(l *lift, centre geom.Vec) (Hit, bool) {
	b := l.balance(centre)
	it := l.items[0]
	h := Hit{Item: it, At: centre, Normal: l.up}
	for _, o := range l.items[1:] {
		h.Others = append(h.Others, o.Ref)
	}
	if geom.Over(b.outside, 0) {
		h.Measured, h.Required = b.outside, Required{}
		h.Text = fmt.Sprintf("the centre of gravity of %s lies %s mm outside of its %d lifting points in plan: it tips", hostName(l.host), figure(b.outside), len(l.points))
		return h, true
	}
	r, ok := p.Required(it, nil, Basis{})
	if !ok || !geom.Over(b.off, r.Value) {
		return h, false
	}
	g, w := figures(b.off, r.Value)
	of := "the middle of its " + fmt.Sprint(len(l.points)) + " lifting points"
	if len(l.points) == 1 {
		of = "its only lifting point"
	}
	h.Measured, h.Required = b.off, r
	h.Text = fmt.Sprintf("the centre of gravity of %s lies %s mm from %s in plan%s; at most %s mm%s", hostName(l.host), g, of, b.split(), w, r.why())
	return h, true
}

// balance is where a centre of gravity lies from lifting points in plan, mm.
type balance struct {
	off           float64 // from their middle
	outside       float64 // of three or more points that are no row
	inside        float64 // of them, from the nearest side; infinite where outside does not count
	along, beside float64 // of a row
	row           bool
}

func (b *balance) split() string {
	if !b.row {
		return ""
	}
	return fmt.Sprintf(" (%s mm along their row, %s mm beside it)", figure(b.along), figure(b.beside))
}

// balance looks at the lift from above, as it hangs.
func (l *lift) balance(centre geom.Vec) balance {
	x := geom.V(0, 0, 1).Cross(l.up)
	if isUpright(l.up) {
		x = x.Unit() // so that y is the way up in the face
	} else {
		x = l.up.Perp()
	}
	f := geom.FrameZX(l.points[0], l.up, x)
	plan := make([]geom.Vec2, len(l.points))
	var middle geom.Vec2
	for i, q := range l.points {
		q = f.Local(q)
		plan[i] = geom.Vec2{X: q.X, Y: q.Y}
		middle = middle.Add(plan[i].Mul(1 / float64(len(l.points))))
	}
	q := f.Local(centre)
	at := geom.Vec2{X: q.X, Y: q.Y}
	if isUpright(l.up) && at.Y < middle.Y {
		at.Y = middle.Y
		return balance{off: at.Dist(middle), inside: math.Inf(1)}
	}
	b := balance{off: at.Dist(middle), inside: math.Inf(1)}
	hull := geom.Hull2(plan)
	dir, length := longestSide(hull)
	const slim = 0.1 // of the length: a row whose points are not quite in line
	switch {
	case length <= samePlace:
	case geom.Width2(hull) < slim*length:
		d := at.Sub(middle)
		b.row, b.along, b.beside = true, math.Abs(d.Dot(dir)), math.Abs(d.Cross(dir))
	case evenOdd(at, hull):
		b.inside = fromSides(at, hull)
	default:
		b.outside = geom.Polygon{Outer: hull}.Dist(at)
	}
	return b
}

// fromSides is the distance of a place from the nearest side of a polygon.
func fromSides(at geom.Vec2, sides []geom.Vec2) float64 {
	least := math.Inf(1)
	for i, a := range sides {
		least = min(least, geom.NearestOnSegment2(at, a, sides[(i+1)%len(sides)]).Dist(at))
	}
	return least
}

// longestSide is the direction between the two points that are farthest apart,
// and their distance.
func longestSide(pts []geom.Vec2) (dir geom.Vec2, length float64) {
	for i, a := range pts {
		for _, b := range pts[i+1:] {
			if d := b.Sub(a); d.Norm() > length {
				dir, length = d.Mul(1/d.Norm()), d.Norm()
			}
		}
	}
	return dir, length
}
