package asbuilt

import (
	"embedcheck/internal/grid"
	"embedcheck/internal/report"
)

// Table is the result for a spreadsheet: one row a dimension, worst first.
func (r *Result) Table() *grid.Table {
	t := &grid.Table{Name: "measured", Columns: []grid.Column{
		{Name: "result"}, {Name: headHost}, {Name: headSet}, {Name: headWhat}, {Name: "in words"},
		mm(headModel), mm(headMeasured), mm("deviation"), mm("minus"), mm("plus"), {Name: "tolerance from"},
		{Name: "by"}, mm("uncertainty of the fit"), {Name: "from"}, {Name: "note"}, {Name: headKey},
	}}
	for i := range r.Rows {
		w := &r.Rows[i]
		var model, taken, off, minus, plus, holds grid.Cell
		if w.Known {
			model = grid.Num(w.Model)
		}
		if w.Taken {
			taken = grid.Num(w.Measured)
		}
		if w.Known && w.Taken {
			off = grid.Num(w.Deviation())
		}
		if w.Limited {
			minus, plus = grid.Num(w.Minus), grid.Num(w.Plus)
		}
		by := ""
		if w.Taken {
			by = "tape"
		}
		if w.Surveyed {
			by = "instrument"
		}
		if w.Holds > 0 {
			holds = grid.Num(w.Holds)
		}
		t.Add(grid.Str(StateText(w.State)), grid.Str(w.Host), grid.Str(w.Set), grid.Str(w.What), grid.Str(w.Text),
			model, taken, off, minus, plus, grid.Str(w.Source),
			grid.Str(by), holds, grid.Str(w.Where), grid.Str(w.Note), grid.Str(w.Key))
	}
	return t
}

// StateText is a state as tables have it.
func StateText(s report.MeasuredState) string {
	switch s {
	case report.Outside:
		return "outside the stated tolerance"
	case report.Within:
		return "within the stated tolerance"
	case report.NoTolerance:
		return "no tolerance stated"
	}
	return string(s)
}
