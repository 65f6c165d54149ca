package asbuilt

import (
	"embedcheck/internal/grid"
	"embedcheck/internal/setout"
)

// Headings of forms. A form is read by them, whatever the order of its columns.
const (
	headHost     = "host"
	headSet      = "set"
	headWhat     = "dimension"
	headPoint    = "point"
	headModel    = "model"
	headMeasured = "measured"
	headKey      = "key"
	headFile     = "model file"
)

// fillIn is a cell to fill in: a workbook shows where.
var fillIn = grid.Missing("")

// mm is a column of lengths.
func mm(name string) grid.Column {
	return grid.Column{Name: name, Unit: "mm", Type: grid.Number, Decimals: 1}
}

// TapeForm is a form for values that are taped: every dimension of the units
// with its tolerance, its key and a column to fill in.
func (p *Plan) TapeForm(units []*setout.Unit) *grid.Table {
	t := &grid.Table{Name: "form for the tape", Columns: []grid.Column{
		{Name: headHost}, {Name: headSet}, {Name: headWhat}, {Name: "in words"},
		mm(headModel), mm("minus"), mm("plus"), mm(headMeasured),
		{Name: "remark"}, {Name: "tolerance from"}, {Name: headKey}, {Name: headFile},
	}}
	for _, u := range units {
		file := p.file(u)
		for _, d := range u.Dims() {
			minus, plus, source := grid.Cell{}, grid.Cell{}, grid.Str("none stated")
			if d.Tol != nil {
				minus, plus, source = grid.Num(d.Tol.Minus), grid.Num(d.Tol.Plus), grid.Str(d.Tol.Source)
			}
			t.Add(grid.Str(d.Unit), grid.Str(d.Set), grid.Str(d.What), grid.Str(d.Text),
				grid.Num(d.MM), minus, plus, fillIn,
				grid.Cell{}, source, grid.Str(d.Key), grid.Str(file))
		}
	}
	return t
}

// PointForm is a form for coordinates that an instrument gives: the corners of
// the units, of which it takes three at least, and the open ends of the anchors.
// The model's coordinates are those of the form: from the datum corner to the
// right, up the sheet, and out of the face that is up.
func (p *Plan) PointForm(units []*setout.Unit) *grid.Table {
	t := &grid.Table{Name: "form for the instrument", Columns: []grid.Column{
		{Name: headHost}, {Name: headSet}, {Name: headPoint}, {Name: "in words"},
		mm(headModel + " x"), mm(headModel + " y"), mm(headModel + " z"), mm("x"), mm("y"), mm("z"),
		{Name: "remark"}, {Name: headKey}, {Name: headFile},
	}}
	for _, u := range units {
		file := p.file(u)
		for _, pt := range pointsOf(u) {
			t.Add(grid.Str(u.Mark), grid.Str(pt.set), grid.Str(pt.what), grid.Str(pt.text),
				grid.Num(pt.at.X), grid.Num(pt.at.Y), grid.Num(pt.at.Z), fillIn, fillIn, fillIn,
				grid.Cell{}, grid.Str(pt.key), grid.Str(file))
		}
	}
	return t
}
