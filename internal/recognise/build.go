package recognise

import (
	"embedcheck/internal/element"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// Options steer recognition.
type Options struct {
	Workers  int        // goroutines; the result does not depend on it
	Override []Override // of the project's rule file, the last match wins
}

// Override is a decision of the project that no evidence outweighs.
type Override struct {
	Match func(Subject) bool
	As    string // host, item, bar, ignore
	Kind  model.Kind
	Says  string // what the rule file says, for the evidence
}

// Subject is what an override can ask an element for.
type Subject interface {
	Class() string
	Name() string
	Type() string
	Material() string
	Property(name string) (string, bool)
}

// Build reads all models as one federation: what they mean for a pour.
func Build(models []*element.Model, o Options) *model.Model {
	b := &builder{opt: o, out: &model.Model{}, assemblies: map[string]int32{}}
	b.out.Origin = originOf(models)
	for i, m := range models {
		b.elements(m, i)
	}
	b.judge()
	b.hosts()
	b.place()
	b.items()
	b.sets()
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
// far out that products of coordinates would lose what rules measure.
func originOf(models []*element.Model) geom.Vec {
	const far = 1e5
	for _, m := range models {
		for _, e := range m.Elements {
			if e.Problem != "" || len(e.Shape.Parts) == 0 {
				continue
			}
			p := &e.Shape.Parts[0]
			c := p.Solid.Box().Transform(e.Place.Mul(p.At)).Center()
			if !c.Finite() || c.Norm() < far {
				return geom.Vec{}
			}
			const metre = 1000
			round := func(v float64) float64 { return float64(int64(v/metre)) * metre }
			return geom.V(round(c.X), round(c.Y), round(c.Z))
		}
	}
	return geom.Vec{}
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
		for _, o := range b.opt.Override {
			if o.Match(subject{e}) {
				e.override(o)
			}
		}
	})
}

func (e *elem) override(o Override) {
	e.why = append(e.why[:0:0], "rule file: "+o.Says)
	switch o.As {
	case "host":
		e.role = hostRole
	case "item":
		e.role, e.kind, e.strong = itemRole, o.Kind, true
	case "bar":
		e.role = barRole
	default:
		e.role = leftOut
	}
}

// hosts collects the concrete and marks what wholes are cast units.
func (b *builder) hosts() {
	b.units = map[*element.Whole]bool{}
	var boxes []geom.Box
	for _, e := range b.elems {
		if e.role != hostRole {
			continue
		}
		b.bodies = append(b.bodies, newBody(e))
		boxes = append(boxes, e.box)
		for w := e.Whole; w != nil && !b.units[w]; w = w.Up {
			b.units[w] = true
		}
	}
	b.tree = geom.NewBoxTree(boxes)
}

// finish adds what was left out or could not be read, in the order of the files.
func (b *builder) finish() {
	for _, h := range b.bodies {
		b.out.Hosts = append(b.out.Hosts, h.host)
		b.out.Unread = append(b.out.Unread, h.lackFor(h.used)...)
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

// lackFor is what could not be read of a host, when items were cast into it.
func (b *body) lackFor(used bool) []model.Unread {
	if !used {
		return nil
	}
	return b.lack
}

func lastOf(why []string) string {
	if len(why) == 0 {
		return "no evidence of what it is"
	}
	return why[len(why)-1]
}

// subject lets an override ask an element.
type subject struct{ e *elem }

func (s subject) Class() string    { return s.e.Element.Class }
func (s subject) Name() string     { return s.e.Element.Name }
func (s subject) Type() string     { return s.e.ref().Type }
func (s subject) Material() string { return s.e.ref().Material }
func (s subject) Property(name string) (string, bool) {
	return s.e.property(name)
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
