package recognise

import (
	"fmt"
	"slices"

	"embedcheck/internal/element"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
	"embedcheck/internal/selector"
)

// Options steer recognition.
type Options struct {
	Workers  int                 // goroutines; the result does not depend on it
	Override []selector.Override // of the project's rule file: no evidence outweighs them
}

// Build reads all models as one federation: what they mean for a pour.
func Build(models []*element.Model, o Options) *model.Model {
	b := &builder{opt: o, out: &model.Model{}, assemblies: map[string]int32{}}
	b.out.Origin = originOf(models, o.Workers)
	for i, m := range models {
		b.elements(m, i)
	}
	b.judge()
	b.hosts()
	b.place()
	b.items()
	b.ahead()
	b.sets()
	b.sheets()
	for i, m := range models {
		b.bars(m, i)
	}
	b.finish()
	return b.out
}

// builder carries the parts of a model on their way.
type builder struct {
	opt        Options
	out        *model.Model
	elems      []*elem
	bodies     []*body
	tree       *geom.BoxTree
	units      map[*element.Whole]bool // wholes that hold concrete: cast units, storeys
	cands      []*candidate
	assemblies map[string]int32 // numbers of assemblies with bars
}

// originOf is the local origin, in whole metres: zero unless the model lies so
// far out that products of coordinates would lose what rules measure. It is the
// middle one of all elements along each axis, so that neither an element left
// behind at zero nor the order of the file has a part in it.
func originOf(models []*element.Model, workers int) geom.Vec {
	const far, metre = 1e5, 1000
	var at [3][]float64
	for _, m := range models {
		centres := make([]geom.Vec, len(m.Elements))
		element.Parallel(len(centres), workers, func(i int) { centres[i] = centreOf(m.Elements[i]) })
		for _, c := range centres {
			if c.Finite() {
				at[0], at[1], at[2] = append(at[0], c.X), append(at[1], c.Y), append(at[2], c.Z)
			}
		}
	}
	if len(at[0]) == 0 {
		return geom.Vec{}
	}
	for _, list := range at {
		slices.Sort(list)
	}
	k := len(at[0]) / 2
	if geom.V(at[0][k], at[1][k], at[2][k]).Norm() < far {
		return geom.Vec{}
	}
	round := func(v float64) float64 { return float64(int64(v/metre)) * metre }
	return geom.V(round(at[0][k]), round(at[1][k]), round(at[2][k]))
}

// centreOf is the middle of an element's first part, not finite when there is none.
func centreOf(e *element.Element) geom.Vec {
	if e.Problem != "" || len(e.Shape.Parts) == 0 {
		return geom.EmptyBox.Center()
	}
	p := &e.Shape.Parts[0]
	return p.Solid.Box().Transform(e.Place.Mul(p.At)).Center()
}

func (b *builder) elements(m *element.Model, source int) {
	out := make([]*elem, len(m.Elements))
	element.Parallel(len(out), b.opt.Workers, func(i int) {
		out[i] = newElem(m.Elements[i], source, b.out.Origin)
	})
	b.elems = append(b.elems, out...)
}

// judge gives every element its role, the project's own word last.
func (b *builder) judge() {
	element.Parallel(len(b.elems), b.opt.Workers, func(i int) {
		e := b.elems[i]
		e.judge()
		if len(b.opt.Override) == 0 {
			return
		}
		if o := selector.Choose(b.opt.Override, e.subject()); o != nil {
			e.override(o)
		}
	})
}

func (e *elem) override(o *selector.Override) {
	e.why = append(e.why[:0:0], fmt.Sprintf("rule file, line %d: %s", o.Line, o.As))
	switch o.As {
	case selector.Host:
		e.role = hostRole
	case selector.Item:
		e.role, e.strong = itemRole, true
		if k, ok := model.ParseKind(o.Kind); ok {
			e.kind = k
		} else {
			e.kind, _ = e.kindSaid()
		}
	case selector.Bar:
		e.role = barRole
	default:
		e.role = leftOut
	}
}

// hosts collects the concrete and marks what wholes are cast units.
func (b *builder) hosts() {
	b.units = map[*element.Whole]bool{}
	var all []*elem
	for _, e := range b.elems {
		if e.role != hostRole {
			continue
		}
		all = append(all, e)
		for w := e.Whole; w != nil && !b.units[w]; w = w.Up {
			b.units[w] = true
		}
	}
	var boxes []geom.Box
	for _, es := range castInOne(all) {
		h := newBody(es)
		b.bodies = append(b.bodies, h)
		boxes = append(boxes, h.host.Box)
	}
	b.tree = geom.NewBoxTree(boxes)
}

// finish adds what was left out or could not be read, in the order of the files.
func (b *builder) finish() {
	for _, h := range b.bodies {
		b.out.Hosts = append(b.out.Hosts, h.host)
		if h.used { // what nothing is cast into need not be readable
			b.out.Unread = append(b.out.Unread, h.lack...)
		}
	}
	for _, e := range b.elems {
		switch {
		case len(e.Shape.Parts) == 0 && len(e.Shape.Unread) > 0:
			u := e.Shape.Unread[0]
			b.out.Unread = append(b.out.Unread, e.unread("element", u.ItemType+": "+u.Why))
		case e.Problem != "":
			b.out.Unread = append(b.out.Unread, e.unread("element", e.Problem))
		case e.role == leftOut:
			b.out.LeftOut = append(b.out.LeftOut, model.LeftOut{Ref: e.ref(), Why: lastOf(e.why)})
		}
	}
}

func lastOf(why []string) string {
	if len(why) == 0 {
		return "no evidence of what it is"
	}
	return why[len(why)-1]
}

// subject is the element as a selector sees it.
func (e *elem) subject() *selector.Subject {
	r := e.ref()
	return &selector.Subject{
		Class: r.Class, Name: r.Name, Mark: r.Mark, Type: r.Type, Material: r.Material, Property: e.property(),
	}
}

// hostsInUse are the hosts that items were cast into, in order.
func (b *builder) hostsInUse() []*model.Host {
	var out []*model.Host
	for _, h := range b.bodies {
		if h.used {
			out = append(out, h.host)
		}
	}
	return out
}
