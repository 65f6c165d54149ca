package asbuilt

import (
	"fmt"
	"slices"
	"strings"

	"embedcheck/internal/finding"
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
	unit  *setout.Unit
	refs  []survey.Pair
	items []sighted // points of items
}

// sighted is a point of an item as it was measured.
type sighted struct {
	*point
	survey.Pair
	entry *Entry
}

func (v *surveys) add(pt *point, e *Entry) {
	i := slices.IndexFunc(v.units, func(u *surveyed) bool { return u.unit == pt.unit })
	if i < 0 {
		i = len(v.units)
		v.units = append(v.units, &surveyed{unit: pt.unit})
	}
	of := v.units[i]
	if pt.reference() {
		of.refs = append(of.refs, survey.Pair{Name: pt.what, Model: pt.at, Measured: *e.Point})
		return
	}
	of.items = append(of.items, sighted{pt, survey.Pair{Name: pt.label(), Model: pt.at, Measured: *e.Point}, e})
}

// pairs are the points of items without what they belong to.
func (v *surveyed) pairs() []survey.Pair {
	out := make([]survey.Pair, len(v.items))
	for i, p := range v.items {
		out[i] = p.Pair
	}
	return out
}

// defaultFit is how far a reference may miss the fit, in mm, before nothing is
// compared by it: forms are struck to about that.
const defaultFit = 10.0

// survey fits one unit and compares what its points say.
func (k *comparer) survey(s *Sheet, v *surveyed) {
	told := report.Survey{Host: v.unit.Mark, Sheet: s.Name}
	suspect := survey.Suspect(v.refs, v.pairs(), s.Unit)
	for _, h := range suspect {
		k.hint(s, v.unit.Mark+": "+h.Text)
	}
	fit, err := survey.New(v.refs)
	if err != nil {
		told.Notes = append(told.Notes, err.Error())
		k.unfitted(s, v, err.Error())
		k.endToEnd(s, v)
		k.Surveys = append(k.Surveys, told)
		return
	}
	told.RMS = fit.RMS
	for _, r := range fit.Residuals {
		told.References = append(told.References, report.SurveyReference{Name: r.Name, X: r.Off.X, Y: r.Off.Y, Z: r.Off.Z, Length: r.Size()})
	}
	if len(suspect) == 0 { // of a mirrored sheet any point looks like an outlier
		told.Notes = append(told.Notes, outlierNotes(v.refs)...)
	}
	limit, source := defaultFit, rules.Practice.String()
	if t, ok := k.set.Tolerance(nil, rules.TolFit); ok {
		limit, source = t.Plus, t.Source
	}
	if worst := fit.Residuals[fit.Worst()]; geom.Over(worst.Size(), limit) {
		why := fmt.Sprintf("%s misses the fit by %.1f mm, more than %g mm (%s)", worst.Name, worst.Size(), limit, source)
		told.Notes = append(told.Notes, why+": nothing is compared by this survey")
		k.unfitted(s, v, "the survey does not fit: "+why)
		if h := k.otherCorners(v, limit); h != "" {
			k.hint(s, h)
		}
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
	slices.SortFunc(names, finding.Natural)
	return []string{"one of " + strings.Join(names, ", ") + " is an outlier; which one these references cannot tell, sight one more"}
}

// unfitted tells that the points of a unit were not compared.
func (k *comparer) unfitted(s *Sheet, v *surveyed, why string) {
	for _, p := range v.items {
		row := report.MeasuredRow{State: report.NotCompared, Surveyed: true, Where: where(s, p.entry), Note: why}
		describePoint(&row, p.point)
		k.Rows = append(k.Rows, row)
	}
	k.Unread = append(k.Unread, model.Unread{
		Ref: v.unit.Host.Ref, Role: "host", At: v.unit.Host.Box.Center(),
		Why: fmt.Sprintf("%d surveyed points of %s were not compared: %s", len(v.items), s.Name, why),
	})
}
