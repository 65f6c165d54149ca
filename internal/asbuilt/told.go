package asbuilt

import (
	"fmt"

	"embedcheck/internal/finding"
	"embedcheck/internal/model"
	"embedcheck/internal/report"
)

// refuse tells a value that is none.
func (k *comparer) refuse(s *Sheet, e *Entry, d *dim, pt *point, why string) {
	row := report.MeasuredRow{State: report.NotCompared, Where: where(s, e), Note: finding.Plain(why)}
	u := model.Unread{Role: "host"}
	if d != nil {
		describe(&row, d)
		u.Ref, u.At = d.unit.Host.Ref, d.at()
		k.taken[normal(d.Key)] = true
	} else {
		describePoint(&row, pt)
		u.Ref, u.At = pt.unit.Host.Ref, pt.unit.Frame.Apply(pt.at)
	}
	u.Why = fmt.Sprintf("the measured value of %s cannot be read: %s", row.Key, row.Note)
	k.Rows = append(k.Rows, row)
	k.Unread = append(k.Unread, u)
}

func describePoint(row *report.MeasuredRow, pt *point) {
	row.Host, row.Set, row.What, row.Text, row.Key = pt.unit.Mark, pt.set, pt.what, pt.text, pt.key
}

// maxGuesses is for how many unknown keys the nearest known one is sought: more
// are those of another model.
const maxGuesses = 100

// stray tells a value whose key the models do not have. A blank one was never
// filled in: forms of other models may have more rows.
func (k *comparer) stray(s *Sheet, e *Entry) {
	if e.blank() {
		return
	}
	row := report.MeasuredRow{
		State: report.UnknownKey, Host: finding.Plain(e.Host), Set: finding.Plain(e.Set), What: finding.Plain(e.What),
		Key: finding.Plain(e.Key), Where: where(s, e), Note: e.Bad,
	}
	if e.Key != "" {
		k.guessed++
		row.Note = joined(k.unknown(e, k.guessed <= maxGuesses), e.Bad)
	}
	if e.Value != nil {
		row.Taken, row.Measured = true, *e.Value
	}
	k.Rows = append(k.Rows, row)
	k.Unread = append(k.Unread, model.Unread{
		Ref: model.Ref{Name: s.Name}, Role: "sheet", Why: fmt.Sprintf("row %d, key %q: %s", e.Row, finding.Short(row.Key, 80), row.Note),
	})
}

// missing lists what was not measured of the units that the sheets are about:
// what stands blank on a sheet, and what can be taped and stands on none.
func (k *comparer) missing() {
	for _, u := range k.Units {
		if !k.touched[u] {
			continue
		}
		for _, d := range u.Dims() {
			key := normal(d.Key)
			if k.taken[key] || !d.Taped && !k.listed[key] {
				continue
			}
			row := report.MeasuredRow{State: report.NotMeasured}
			describe(&row, k.dims[key])
			if !k.listed[key] {
				row.Note = "on no sheet"
			}
			k.Rows = append(k.Rows, row)
		}
	}
}
