package ruleset

import (
	"embedcheck/internal/finding"
	"embedcheck/rules"
)

// tolerances reads what measured values may be off by, by kind.
func (r *reader) tolerances(v value) map[rules.ToleranceKind]rules.Tolerance {
	out := map[rules.ToleranceKind]rules.Tolerance{}
	known := fields{}
	for _, k := range rules.ToleranceKinds {
		known[string(k)] = func(v value) { out[k] = r.tolerance(v) }
	}
	r.object(v, known)
	return out
}

// tolerance reads one: the same to both sides, or one for each.
func (r *reader) tolerance(v value) rules.Tolerance {
	var t rules.Tolerance
	var within, minus, plus bool
	before := len(r.errs)
	r.object(v, fields{
		"within": func(v value) { t.Minus, within = r.millimetres(v), true; t.Plus = t.Minus },
		"minus":  func(v value) { t.Minus, minus = r.millimetres(v), true },
		"plus":   func(v value) { t.Plus, plus = r.millimetres(v), true },
		"source": func(v value) {
			if s, ok := r.string(v); ok {
				if t.Source = finding.Plain(s); t.Source == "" {
					r.fail(v, "want a source, found an empty text")
				}
			}
		},
	})
	if len(r.errs) == before && (within == (minus || plus) || minus != plus) {
		r.fail(v, `a tolerance is either "within", to both sides, or "minus" and "plus"`)
	}
	return t
}

// millimetres reads a length with its unit, above zero.
func (r *reader) millimetres(v value) float64 {
	mm, stated := 0.0, 0
	read := func(factor float64) func(value) {
		return func(v value) {
			n, ok := r.number(v)
			if stated++; ok && n == 0 {
				r.fail(v, "no measured value is within a tolerance of 0")
			}
			mm = n * factor
		}
	}
	before := len(r.errs)
	r.object(v, fields{string(rules.MM): read(1), string(rules.Inch): read(mmPerInch)})
	if len(r.errs) == before && stated != 1 {
		r.fail(v, "want one entry, mm or in")
	}
	return mm
}

const mmPerInch = 25.4
