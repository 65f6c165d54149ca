package asbuilt

import (
	"fmt"
	"slices"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
	"embedcheck/internal/report"
	"embedcheck/internal/setout"
	"embedcheck/rules"
)

// Result is what a comparison found: rows for people, values for the rules, and
// what could not be compared.
type Result struct {
	Sheets  []report.MeasuredSheet
	Surveys []report.Survey
	Hints   []string
	Rows    []report.MeasuredRow // worst first
	Values  []rules.Measured
	Unread  []model.Unread
}

// comparer holds one comparison on its way.
type comparer struct {
	*Plan
	Result
	taken   map[string]bool         // normal keys that a value was compared for, or refused
	listed  map[string]bool         // normal keys that stand on a sheet
	touched map[*setout.Unit]bool   // units that a sheet is about
	values  map[*Sheet][]tapedValue // for what looks wrong in a sheet
	guessed int                     // unknown keys that the nearest known one was sought for
}

// tapedValue is a taped value that has a place in the model.
type tapedValue struct {
	*dim
	mm float64
}

// Compare holds the values of sheets against the dimensions of the plan.
func (p *Plan) Compare(sheets []*Sheet) *Result {
	k := &comparer{
		Plan: p, taken: map[string]bool{}, listed: map[string]bool{}, touched: map[*setout.Unit]bool{},
		values: map[*Sheet][]tapedValue{},
	}
	for _, s := range sheets {
		k.sheet(s)
	}
	k.repeated()
	k.missing()
	sortRows(k.Rows)
	return &k.Result
}

func (k *comparer) sheet(s *Sheet) {
	info := report.MeasuredSheet{Name: s.Name, Unit: s.Unit.Word}
	var points surveys
	var old oldForms
	for i := range s.Entries {
		e := &s.Entries[i]
		d, pt := k.find(e.Key)
		if e.blank() {
			info.Blank++
		} else {
			info.Values++
		}
		switch {
		case d != nil:
			k.see(d.unit, d.Key)
			old.see(k.Plan, e, d.unit, d)
		case pt != nil:
			k.see(pt.unit, pt.key)
			old.see(k.Plan, e, pt.unit, nil)
		default:
			k.stray(s, e)
			continue
		}
		switch {
		case e.blank():
		case e.Bad != "":
			k.refuse(s, e, d, pt, e.Bad)
		case d != nil && e.Value != nil:
			k.values[s] = append(k.values[s], tapedValue{d, *e.Value})
			k.compare(d, *e.Value, report.MeasuredRow{Where: where(s, e)}, nil)
		case pt != nil && e.Point != nil:
			points.add(pt, e)
		case d != nil:
			k.refuse(s, e, d, pt, "this is one dimension; x, y and z go with points")
		default:
			k.refuse(s, e, d, pt, "a point has x, y and z")
		}
	}
	k.Sheets = append(k.Sheets, info)
	for _, h := range old.hints() {
		k.hint(s, h)
	}
	for _, h := range slices.Concat(tapeHints(s, k.values[s]), k.otherForm(k.values[s])) {
		k.hint(s, h)
	}
	for _, v := range points.units {
		k.survey(s, v)
	}
}

func (k *comparer) see(u *setout.Unit, key string) {
	k.touched[u] = true
	k.listed[normal(key)] = true
}

func (k *comparer) hint(s *Sheet, text string) {
	k.Hints = append(k.Hints, finding.Plain(s.Name)+": "+text)
}

func where(s *Sheet, e *Entry) string { return fmt.Sprintf("%s, row %d", finding.Plain(s.Name), e.Row) }

// compare holds one value against its dimension. The row brings what is known of
// where it comes from; at is where it was found in the cast frame, nil for a
// taped one.
func (k *comparer) compare(d *dim, mm float64, row report.MeasuredRow, at *geom.Vec) {
	describe(&row, d)
	row.Taken, row.Measured = true, mm
	k.taken[normal(d.Key)] = true
	if d.Tol == nil {
		row.State = report.NoTolerance
		k.Rows = append(k.Rows, row)
		return
	}
	v := rules.Measured{
		Kind: d.kind, Host: d.unit.Host, Item: d.item(), What: d.Text, Model: d.MM, Value: mm,
		Minus: d.Tol.Minus, Plus: d.Tol.Plus, Source: d.Tol.Source, At: d.at(),
	}
	if a := d.anchor(); a != nil {
		v.Anchor = a.Anchor
	}
	if at != nil {
		v.At = d.unit.Frame.Apply(*at)
	}
	row.State = report.Outside
	if v.Within() {
		row.State = report.Within
	}
	if row.Surveyed && row.Holds > 0 && nearLimit(&v, row.Holds) {
		row.Note = joined(row.Note, fmt.Sprintf("nearer to the limit than the uncertainty of the fit, %.1f mm", row.Holds))
	}
	k.Rows = append(k.Rows, row)
	k.Values = append(k.Values, v)
}

// nearLimit reports whether the deviation is nearer to its limit than by.
func nearLimit(v *rules.Measured, by float64) bool {
	d := v.Deviation()
	off := v.Plus - d
	if d < 0 {
		off = v.Minus + d
	}
	return off < by && -off < by
}

// describe fills in what a row says of its dimension.
func describe(row *report.MeasuredRow, d *dim) {
	row.Host, row.Set, row.What, row.Text, row.Key = d.Unit, d.Set, d.What, d.Text, d.Key
	row.Known, row.Model = true, d.MM
	if d.Tol != nil {
		row.Limited, row.Minus, row.Plus, row.Source = true, d.Tol.Minus, d.Tol.Plus, d.Tol.Source
	}
}

// repeated notes what was measured more than once: which value is right nobody
// knows.
func (k *comparer) repeated() {
	times := map[string]int{}
	for i := range k.Rows {
		if r := &k.Rows[i]; r.Known && r.Taken {
			times[r.Key]++
		}
	}
	for i := range k.Rows {
		if r := &k.Rows[i]; r.Known && r.Taken && times[r.Key] > 1 {
			r.Note = joined(r.Note, fmt.Sprintf("%d values were taken of it", times[r.Key]))
		}
	}
}

func joined(a, b string) string {
	if a != "" && b != "" {
		a += "; "
	}
	return a + b
}
