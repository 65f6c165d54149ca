package asbuilt

import (
	"fmt"
	"math"
	"strings"

	"embedcheck/internal/finding"
	"embedcheck/internal/setout"
)

// oldForms are the units of a sheet that was made of another revision of the
// model than the one that was read.
type oldForms struct{ list []*oldForm }

type oldForm struct {
	unit    *setout.Unit
	form    string // file and hash that the form carries
	model   string // those of the model that was read
	held    int    // dimensions whose value the form states
	changed []string
}

// formNoise is what rounding on a form makes of a value, in mm.
const formNoise = 0.06

// see looks at what a row says of its model. d is nil for a point.
func (o *oldForms) see(p *Plan, e *Entry, u *setout.Unit, d *dim) {
	is := p.file(u)
	if e.File == "" || is == "" || lastField(e.File) == lastField(is) {
		return
	}
	var of *oldForm
	for _, f := range o.list {
		if f.unit == u && f.form == e.File {
			of = f
		}
	}
	if of == nil {
		of = &oldForm{unit: u, form: e.File, model: is}
		o.list = append(o.list, of)
	}
	if d == nil || e.Stated == nil {
		return
	}
	of.held++
	if math.Abs(*e.Stated-d.MM) > formNoise {
		of.changed = append(of.changed, fmt.Sprintf("%s from %.1f to %.1f mm", d.Set+"/"+d.What, *e.Stated, d.MM))
	}
}

func lastField(s string) string {
	f := strings.Fields(s)
	if len(f) == 0 {
		return ""
	}
	return f[len(f)-1]
}

// hints are a sentence for each unit.
func (o *oldForms) hints() []string {
	var out []string
	for _, f := range o.list {
		s := fmt.Sprintf("OLD FORM for %s: it was made of %s, the model that was read is %s; values are compared with the model that was read", f.unit.Mark, finding.Short(f.form, 80), f.model)
		const shown = 5
		switch n := len(f.changed); {
		case f.held == 0:
		case n == 0:
			s += "; no dimension on the form has changed since"
		case n > shown:
			s += "; changed since: " + strings.Join(f.changed[:shown], ", ") + fmt.Sprintf(" and %d more", n-shown)
		default:
			s += "; changed since: " + strings.Join(f.changed, ", ")
		}
		out = append(out, finding.Plain(s))
	}
	return out
}
