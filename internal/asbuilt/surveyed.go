package asbuilt

import (
	"fmt"
	"math"
	"strings"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
	"embedcheck/internal/report"
	"embedcheck/internal/setout"
	"embedcheck/internal/survey"
	"embedcheck/rules"
)

// surveys are the points of one sheet, unit by unit.
type surveys struct{ units []*surveyed }

// surveyed is a unit as an instrument saw it from one place.
type surveyed struct {
	unit    *setout.Unit
	refs    []survey.Pair
	anchors []survey.Pair // beside points
	points  []*point
	entries []*Entry // of the anchors
}

func (v *surveys) add(pt *point, e *Entry) {
	var of *surveyed
	for _, u := range v.units {
		if u.unit == pt.unit {
			of = u
		}
	}
	if of == nil {
		of = &surveyed{unit: pt.unit}
		v.units = append(v.units, of)
	}
	if pt.anchor == nil {
		of.refs = append(of.refs, survey.Pair{Name: pt.what, Model: pt.at, Measured: *e.Point})
		return
	}
	of.anchors = append(of.anchors, survey.Pair{Name: pt.anchor.Mark, Model: pt.at, Measured: *e.Point})
	of.points = append(of.points, pt)
	of.entries = append(of.entries, e)
}

// defaultFit is how far a reference may miss the fit, in mm, before nothing is
// compared by it: forms are struck to about that.
const defaultFit = 10.0

// survey fits one unit and compares what its points say.
func (k *comparer) survey(s *Sheet, v *surveyed) {
	told := report.Survey{Host: v.unit.Mark, Sheet: s.Name}
	for _, h := range survey.Suspect(v.refs, v.anchors, s.Unit) {
		k.hint(s, v.unit.Mark+": "+h.Text)
	}
	fit, err := survey.New(v.refs)
	if err != nil {
		told.Notes = append(told.Notes, err.Error())
		k.unfitted(s, v, err.Error())
		k.Surveys = append(k.Surveys, told)
		return
	}
	told.RMS = fit.RMS
	for _, r := range fit.Residuals {
		told.References = append(told.References, report.SurveyReference{Name: r.Name, X: r.Off.X, Y: r.Off.Y, Z: r.Off.Z, Length: r.Size()})
	}
	told.Notes = append(told.Notes, outlierNotes(v.refs)...)
	limit, source := defaultFit, rules.Practice.String()
	if t, ok := k.set.Tolerance(nil, rules.TolFit); ok {
		limit, source = t.Plus, t.Source
	}
	if worst := fit.Residuals[fit.Worst()]; geom.Over(worst.Size(), limit) {
		why := fmt.Sprintf("%s misses the fit by %.1f mm, more than %g mm (%s)", worst.Name, worst.Size(), limit, source)
		told.Notes = append(told.Notes, why+": nothing is compared by this survey")
		k.unfitted(s, v, "the survey does not fit: "+why)
	} else {
		k.fitted(s, v, fit)
	}
	k.Surveys = append(k.Surveys, told)
}

// outlierNotes name the reference that does not go with the others, or those of
// which one does not.
func outlierNotes(refs []survey.Pair) []string {
	list := survey.Outliers(refs)
	switch {
	case len(list) == 0:
		return nil
	case len(list) == 1:
		o := list[0]
		return []string{fmt.Sprintf("outlier: %s is %.0f mm off from where the others have it, which fit to %.1f mm; sight it again, or leave its row empty", o.Name, o.Off, o.Others)}
	}
	var names []string
	for _, o := range list {
		names = append(names, o.Name)
	}
	return []string{"one of " + strings.Join(names, ", ") + " is an outlier; which one these references cannot tell, sight one more"}
}

// unfitted tells that the points of a unit were not compared.
func (k *comparer) unfitted(s *Sheet, v *surveyed, why string) {
	for i, pt := range v.points {
		row := report.MeasuredRow{State: report.NotCompared, Surveyed: true, Where: where(s, v.entries[i]), Note: why}
		describePoint(&row, pt)
		k.Rows = append(k.Rows, row)
	}
	k.Unread = append(k.Unread, model.Unread{
		Ref: v.unit.Host.Ref, Role: "host", At: v.unit.Host.Box.Center(),
		Why: fmt.Sprintf("%d surveyed points of %s were not compared: %s", len(v.points), s.Name, why),
	})
}

// fitted compares the dimensions that the points of a unit give.
func (k *comparer) fitted(s *Sheet, v *surveyed, fit *survey.Fit) {
	places := make([]survey.Pair, len(v.anchors))
	for i, p := range v.anchors {
		places[i] = survey.Pair{Name: p.Name, Model: p.Model, Measured: fit.Apply(p.Measured)}
		k.place(s, v, i, places[i], fit)
	}
	for _, h := range survey.FindExchanged(places, defaultFit) {
		k.hint(s, v.unit.Mark+": "+h.Text)
	}
	k.between(s, v, places)
}

// place compares the dimensions of one anchor.
func (k *comparer) place(s *Sheet, v *surveyed, i int, at survey.Pair, fit *survey.Fit) {
	pt := v.points[i]
	off := at.Measured.Sub(at.Model)
	into := turn(v.unit.Frame, pt.anchor.Dir)
	row := report.MeasuredRow{Surveyed: true, Where: where(s, v.entries[i]), Holds: fit.Uncertainty(at.Model)}
	stands := false // out of the face, or below it: then that is what was sighted
	for _, d := range k.dimsOf(pt) {
		stands = stands || d.Quantity == setout.Projection || d.Quantity == setout.Sunk
	}
	for _, d := range k.dimsOf(pt) {
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
			k.compare(d, mm, row, &at.Measured)
		}
	}
}

// dimsOf are the dimensions about the anchor of a point alone.
func (k *comparer) dimsOf(pt *point) []*dim {
	var out []*dim
	for i := range pt.of.Dims {
		d := k.dims[normal(pt.of.Dims[i].Key)]
		if len(d.Anchors) == 1 && d.Anchors[0] == pt.anchor.Number {
			out = append(out, d)
		}
	}
	return out
}

// between compares the dimensions from axis to axis, where both were sighted.
func (k *comparer) between(s *Sheet, v *surveyed, places []survey.Pair) {
	at := map[*setout.Anchor]int{}
	for i, pt := range v.points {
		at[pt.anchor] = i
	}
	done := map[*setout.Set]bool{}
	for _, pt := range v.points {
		if done[pt.of] {
			continue
		}
		done[pt.of] = true
		numbered := map[int]int{}
		for i := range pt.of.Anchors {
			if n, ok := at[&pt.of.Anchors[i]]; ok {
				numbered[pt.of.Anchors[i].Number] = n
			}
		}
		for i := range pt.of.Dims {
			d := k.dims[normal(pt.of.Dims[i].Key)]
			if len(d.Anchors) != 2 {
				continue
			}
			a, okA := numbered[d.Anchors[0]]
			b, okB := numbered[d.Anchors[1]]
			if !okA || !okB {
				continue
			}
			// In the face: the ends may stand out by different lengths.
			mm := flat(pt.of.Face, places[b].Measured.Sub(places[a].Measured)).Norm()
			k.compare(d, mm, report.MeasuredRow{Surveyed: true, Where: where(s, v.entries[a])}, &places[b].Measured)
		}
	}
}

// flat is a direction without its part out of a face.
func flat(f setout.Face, d geom.Vec) geom.Vec {
	n := f.Normal()
	return d.Sub(n.Mul(d.Dot(n)))
}

// turn is a direction of the model in a frame.
func turn(f geom.Affine, d geom.Vec) geom.Vec { return geom.V(d.Dot(f.X), d.Dot(f.Y), d.Dot(f.Z)) }
