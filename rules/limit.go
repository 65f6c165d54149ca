package rules

import (
	"strconv"
	"strings"

	"embedcheck/internal/finding"
)

// Unit is the unit of one entry of a limit, under its name in rule files.
type Unit string

const (
	MM           Unit = "mm"
	Inch         Unit = "in"
	Diameters    Unit = "diameters"     // of the anchor
	Pitches      Unit = "pitches"       // of the anchor's coarse thread
	BarDiameters Unit = "bar_diameters" // of the bar that is near
	Embedments   Unit = "embedments"    // embedment depths of the anchor
	Thicknesses  Unit = "thicknesses"   // of the member where the anchor is
	Ratio        Unit = "ratio"
	Degrees      Unit = "degrees"
	Number       Unit = "count" // of lifting points
)

// Units are all units in the order in which limits show them.
var Units = []Unit{MM, Inch, Diameters, Pitches, BarDiameters, Embedments, Thicknesses, Ratio, Degrees, Number}

const mmPerInch = 25.4

// words are how a unit that counts in something reads behind 1 and other numbers.
var words = map[Unit][2]string{
	Diameters:    {"diameter", "diameters"},
	Pitches:      {"thread pitch", "thread pitches"},
	BarDiameters: {"bar diameter", "bar diameters"},
	Embedments:   {"embedment depth", "embedment depths"},
	Thicknesses:  {"member thickness", "member thicknesses"},
}

// Term is one entry of a limit.
type Term struct {
	Unit  Unit
	Value float64
}

// String is the entry as a person says it: "50 mm", "6 diameters".
func (t Term) String() string {
	n := strconv.FormatFloat(t.Value, 'f', -1, 64)
	switch t.Unit {
	case Ratio, Number:
		return n
	case Degrees:
		return n + "°"
	}
	w, ok := words[t.Unit]
	if !ok {
		return n + " " + string(t.Unit)
	}
	if t.Value == 1 {
		return n + " " + w[0]
	}
	return n + " " + w[1]
}

// Limit is all entries of a "min" or a "max". The largest governs a least value,
// the smallest a greatest one.
type Limit []Term

func (l Limit) term(u Unit) (Term, bool) {
	for _, t := range l {
		if t.Unit == u {
			return t, true
		}
	}
	return Term{}, false
}

// String lists the entries.
func (l Limit) String() string {
	s := make([]string, len(l))
	for i, t := range l {
		s[i] = t.String()
	}
	return strings.Join(s, ", ")
}

// Basis is what the entries of a limit are multiples of, in mm; 0 when unknown.
type Basis struct {
	Diameter    float64 // of the anchor
	Pitch       float64 // of its coarse thread
	BarDiameter float64
	Embedment   float64
	Thickness   float64 // of the member
}

// of is the size that one entry counts in, 1 for entries that count in nothing.
func (b Basis) of(u Unit) float64 {
	switch u {
	case Inch:
		return mmPerInch
	case Diameters:
		return b.Diameter
	case Pitches:
		return b.Pitch
	case BarDiameters:
		return b.BarDiameter
	case Embedments:
		return b.Embedment
	case Thicknesses:
		return b.Thickness
	}
	return 1
}

// Required is a limit worked out for one place.
type Required struct {
	Value   float64 // in the rule's unit; radians are not used, degrees stay degrees
	Governs Unit
	Missing []Unit // entries that nothing is known for

	limit  Limit
	basis  Basis
	reason string // says what governs when that is no entry of the limit
	cite   string // where it comes from then
}

// Resolve works a limit out. ok is false when no entry could be.
func (l Limit) Resolve(rel finding.Relation, b Basis) (r Required, ok bool) {
	r = Required{limit: l, basis: b}
	for _, t := range l {
		size := b.of(t.Unit)
		if size <= 0 {
			r.Missing = append(r.Missing, t.Unit)
			continue
		}
		v := t.Value * size
		if !ok || rel == finding.AtLeast && v > r.Value || rel == finding.AtMost && v < r.Value {
			r.Value, r.Governs, ok = v, t.Unit, true
		}
	}
	return r, ok
}

// stated is a limit that the model itself states.
const stated Unit = "stated"

// atLeast raises a least value to what the model states, where it says so.
func (r Required) atLeast(value float64, from string) Required {
	if value > r.Value {
		r.Value, r.Governs, r.reason = value, stated, from
	}
	return r
}

// raise lifts a least value to one with a reason and a source of its own.
func (r Required) raise(value float64, reason, cite string) Required {
	if value > r.Value {
		r.Value, r.Governs, r.reason, r.cite = value, stacked, reason, cite
	}
	return r
}

// stacked is a limit that is a sum of what a bolt carries.
const stacked Unit = "stack"

// why says in brackets what governs, unless the bare figure shows it.
func (r Required) why() string {
	if r.reason != "" {
		return " (" + r.reason + ")"
	}
	t, ok := r.limit.term(r.Governs)
	_, counts := words[t.Unit]
	if !ok || len(r.limit) == 1 && !counts && t.Unit != Inch {
		return ""
	}
	s := t.String()
	if counts {
		s += " of " + figure(r.basis.of(t.Unit)) + " mm"
	}
	var rest []string
	for _, o := range r.limit {
		if o != t {
			rest = append(rest, o.String())
		}
	}
	if len(rest) > 0 {
		govern := " govern over "
		if t.Value == 1 {
			govern = " governs over "
		}
		s += govern + strings.Join(rest, ", ")
	}
	return " (" + s + ")"
}

// lengths are the entries in mm and inches.
func (l Limit) lengths() Limit {
	var out Limit
	for _, t := range l {
		if t.Unit == MM || t.Unit == Inch {
			out = append(out, t)
		}
	}
	return out
}
