package asbuilt

import (
	"fmt"
	"math"

	"embedcheck/internal/geom"
	"embedcheck/internal/report"
	"embedcheck/internal/setout"
	"embedcheck/internal/survey"
)

// fitted compares the dimensions that the points of a unit give.
func (k *comparer) fitted(s *Sheet, v *surveyed, fit *survey.Fit) {
	f := &fitting{comparer: k, sheet: s, fit: fit}
	for _, p := range v.items {
		p.Measured = fit.Apply(p.Measured)
		f.points = append(f.points, p)
	}
	var plates []*setout.Plate
	corners := map[*setout.Plate][]sighted{}
	var places []survey.Pair
	for _, p := range f.points {
		places = append(places, p.Pair)
		if p.anchor != nil {
			f.anchor(p)
			continue
		}
		if corners[p.plate] == nil {
			plates = append(plates, p.plate)
		}
		corners[p.plate] = append(corners[p.plate], p)
	}
	for _, p := range plates {
		f.plate(corners[p])
	}
	for _, h := range survey.FindExchanged(places, defaultFit) {
		k.hint(s, v.unit.Mark+": "+h.Text)
	}
	// In the face: the ends may stand out by different lengths.
	k.between(s, f.points, "", func(d *dim, a, b sighted) float64 {
		return flat(d.set.Face, b.Measured.Sub(a.Measured)).Norm()
	})
}

// fitting is a survey whose points were brought to the cast frame.
type fitting struct {
	*comparer
	sheet  *Sheet
	fit    *survey.Fit
	points []sighted
}

func (f *fitting) row(p sighted) report.MeasuredRow {
	return report.MeasuredRow{Surveyed: true, Where: where(f.sheet, p.entry), Holds: f.fit.Uncertainty(p.Model)}
}

// anchor compares the dimensions of one anchor by its open end.
func (f *fitting) anchor(p sighted) {
	off := p.Measured.Sub(p.Model)
	into := turn(p.unit.Frame, p.anchor.Dir)
	var own []*dim
	stands := false // out of the face, or below it: then that is what was sighted
	for i := range p.of.Dims {
		d := f.dims[normal(p.of.Dims[i].Key)]
		if len(d.Anchors) == 1 && d.Anchors[0] == p.anchor.Number {
			own = append(own, d)
			stands = stands || d.Quantity == setout.Projection || d.Quantity == setout.Sunk
		}
	}
	for _, d := range own {
		mm := math.NaN()
		switch d.Quantity {
		case setout.Place:
			mm = d.MM + off.Dot(d.Axis.Dir())
		case setout.Projection:
			mm = d.MM - off.Dot(into)
		case setout.Sunk:
			mm = d.MM + off.Dot(into)
		case setout.Embedment:
			if !stands {
				mm = d.MM + off.Dot(into)
			}
		}
		if !math.IsNaN(mm) {
			f.compare(d, mm, f.row(p), &p.Measured)
		}
	}
}

// plate compares the place of a plate, and how flush it is, by the one of its
// corners that is off most: a plate that is turned or tipped shows.
func (f *fitting) plate(corners []sighted) {
	p := corners[0]
	for i := range p.of.Dims {
		d := f.dims[normal(p.of.Dims[i].Key)]
		if d.item() != p.plate.Item || len(d.Anchors) > 0 || d.Quantity != setout.Place && d.Quantity != setout.Flush {
			continue
		}
		dir := d.Dir
		if d.Quantity == setout.Place {
			dir = d.Axis.Dir()
		}
		var worst *sighted
		off, of := 0.0, 0
		for k := range corners {
			c := &corners[k]
			if d.Quantity == setout.Place && !c.plate.Square && c.Model.Dist(d.To) > geom.Tol {
				continue // a dimension of another corner
			}
			of++
			if o := c.Measured.Sub(c.Model).Dot(dir); worst == nil || math.Abs(o) > math.Abs(off) {
				worst, off = c, o
			}
		}
		if worst == nil {
			continue
		}
		row := f.row(*worst)
		if of > 1 {
			row.Note = fmt.Sprintf("worst of %d corners", of)
		}
		f.compare(d, d.MM+off, row, &worst.Measured)
	}
}

// flat is a direction without its part out of a face.
func flat(f setout.Face, d geom.Vec) geom.Vec {
	n := f.Normal()
	return d.Sub(n.Mul(d.Dot(n)))
}

// turn is a direction of the model in a frame.
func turn(f geom.Affine, d geom.Vec) geom.Vec { return geom.V(d.Dot(f.X), d.Dot(f.Y), d.Dot(f.Z)) }
