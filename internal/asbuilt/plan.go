package asbuilt

import (
	"strings"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
	"embedcheck/internal/setout"
	"embedcheck/rules"
)

// Plan is what can be measured of a model: the dimensions of all hosts, with the
// tolerances of the project, and the points that an instrument can sight.
type Plan struct {
	Units []*setout.Unit

	model  *model.Model
	set    *rules.Set
	dims   map[string]*dim
	points map[string]*point
	hosts  map[string]*setout.Unit
	alias  map[string]string   // other names of keys, as people write them
	spoken map[string][]string // the same as they are written, by the mark of the host
}

// dim is a dimension with what it belongs to.
type dim struct {
	*setout.Dim
	unit *setout.Unit
	set  *setout.Set // nil for those of the form
	kind rules.ToleranceKind
}

// NewPlan sets out all hosts of a model that something is cast into.
func NewPlan(m *model.Model, set *rules.Set) *Plan {
	p := &Plan{
		Units: setout.Plan(m, setout.DefaultTolerances()), model: m, set: set,
		dims: map[string]*dim{}, points: map[string]*point{}, hosts: map[string]*setout.Unit{}, alias: map[string]string{}, spoken: map[string][]string{},
	}
	for _, u := range p.Units {
		p.hosts[normal(u.Mark)] = u
		for i := range u.Form {
			p.add(&dim{Dim: &u.Form[i], unit: u})
		}
		for _, s := range u.Sets {
			for i := range s.Dims {
				p.add(&dim{Dim: &s.Dims[i], unit: u, set: s})
			}
		}
		for _, pt := range pointsOf(u) {
			p.points[normal(pt.key)] = pt
			if a := pt.anchor; a != nil {
				p.name(u.Mark, a.Mark, "point", pt.key)
			}
		}
	}
	return p
}

func (p *Plan) add(d *dim) {
	d.kind = rules.TolSize
	if d.Tol != nil {
		d.kind = rules.ToleranceKind(d.Tol.Kind)
	}
	if t, ok := p.set.Tolerance(d.limited(), d.kind); ok {
		d.Tol = &setout.Tolerance{Kind: setout.ToleranceKind(d.kind), Minus: t.Minus, Plus: t.Plus, Source: t.Source}
	}
	p.dims[normal(d.Key)] = d
	if a := d.anchor(); a != nil {
		p.name(d.unit.Mark, a.Mark, strings.TrimRight(d.What, " 0123456789"), d.Key)
	}
}

// name lets people write "HD-1.2" and "x" for the set HD-1 and "x 2". A name
// that two anchors have is nobody's.
func (p *Plan) name(unit, mark, what, key string) {
	name := unit + "/" + mark + "/" + what
	k := normal(name)
	if of, taken := p.alias[k]; taken {
		if of != normal(key) {
			p.alias[k] = shared
		}
		return
	}
	p.alias[k] = normal(key)
	p.spoken[unit] = append(p.spoken[unit], name)
}

// shared stands for a name of several; it is no key, which have two slashes.
const shared = "several"

// item is the first item that the dimension is about, nil for the form's.
func (d *dim) item() *model.Item {
	if len(d.Items) == 0 {
		return nil
	}
	return d.Items[0]
}

// limited is the item whose tolerance holds: a template stands as its bolts do.
func (d *dim) limited() *model.Item {
	if d.Quantity == setout.StandOff && d.set != nil && len(d.set.Anchors) > 0 {
		return d.set.Anchors[0].Item
	}
	return d.item()
}

// anchor is the one anchor that the dimension is about, nil when it is about
// none or several.
func (d *dim) anchor() *setout.Anchor {
	if d.set == nil || len(d.Anchors) != 1 {
		return nil
	}
	for i := range d.set.Anchors {
		if a := &d.set.Anchors[i]; a.Number == d.Anchors[0] {
			return a
		}
	}
	return nil
}

// at is where the dimension ends, in the model's local coordinates.
func (d *dim) at() geom.Vec { return d.unit.Frame.Apply(d.To) }

// file is the model file that a host comes from, with the first digits of its
// hash: what a form carries to be known again.
func (p *Plan) file(u *setout.Unit) string {
	if i := u.Host.Source; i >= 0 && i < len(p.model.Sources) {
		s := &p.model.Sources[i]
		return s.Name + " " + s.SHA256[:min(len(s.SHA256), hashDigits)]
	}
	return ""
}

// hashDigits are enough to tell the revisions of a project apart.
const hashDigits = 12

// normal makes keys alike that differ in capitals and blanks only.
func normal(s string) string {
	parts := strings.Split(strings.ToLower(s), "/")
	for i, p := range parts {
		parts[i] = strings.Join(strings.Fields(p), " ")
	}
	return strings.Join(parts, "/")
}
