package asbuilt

import (
	"fmt"
	"math"
	"strings"

	"embedcheck/internal/finding"
	"embedcheck/internal/setout"
	"embedcheck/internal/survey"
)

// sameForm is by how much, in mm, a form may be off and still be taken for the
// one of the model.
const sameForm = 25.0

// otherForm says so when the sizes of a form are not those of its host, and are
// those of another one: then the sheet was taken to the wrong form.
func (p *Plan) otherForm(values []tapedValue) []string {
	var units []*setout.Unit
	sizes := map[*setout.Unit]map[string]float64{}
	for _, v := range values {
		if v.set != nil || v.Quantity != setout.Extent {
			continue
		}
		if sizes[v.unit] == nil {
			sizes[v.unit] = map[string]float64{}
			units = append(units, v.unit)
		}
		sizes[v.unit][v.What] = v.mm
	}
	var out []string
	for _, u := range units {
		taken := sizes[u]
		if len(taken) < 2 || formFits(u, taken, sameForm) {
			continue // one size alone may be a slip
		}
		if names := p.othersLike(u, func(o *setout.Unit) bool { return formFits(o, taken, near) }); names != "" {
			out = append(out, fmt.Sprintf("LIKELY another host: the form was not measured as that of %s but as that of %s", finding.Plain(u.Mark), names))
		}
	}
	return out
}

// formFits reports whether all sizes are those of a unit's form.
func formFits(u *setout.Unit, sizes map[string]float64, within float64) bool {
	known := 0
	for i := range u.Form {
		if mm, ok := sizes[u.Form[i].What]; ok {
			known++
			if math.Abs(mm-u.Form[i].MM) > within {
				return false
			}
		}
	}
	return known == len(sizes)
}

// othersLike names the units, other than one, that a condition holds for.
func (p *Plan) othersLike(u *setout.Unit, fits func(*setout.Unit) bool) string {
	const shown = 3
	var names []string
	for _, o := range p.Units {
		if o != u && fits(o) {
			names = append(names, finding.Plain(o.Mark))
		}
	}
	if n := len(names) - shown; n > 0 {
		return strings.Join(names[:shown], ", ") + fmt.Sprintf(" or %d more", n)
	}
	return strings.Join(names, " or ")
}

// otherCorners says so when surveyed corners are not those of their host, and
// are those of another one.
func (p *Plan) otherCorners(v *surveyed, limit float64) string {
	names := p.othersLike(v.unit, func(o *setout.Unit) bool {
		var refs []survey.Pair
		for _, r := range v.refs {
			pt := p.points[normal(o.Mark+"/form/"+r.Name)]
			if pt == nil {
				return false
			}
			refs = append(refs, survey.Pair{Name: r.Name, Model: pt.at, Measured: r.Measured})
		}
		f, err := survey.New(refs)
		return err == nil && f.Residuals[f.Worst()].Size() <= limit
	})
	if names == "" {
		return ""
	}
	return "LIKELY another host: the corners are not those of " + finding.Plain(v.unit.Mark) + " but those of " + names
}
