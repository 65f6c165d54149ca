package decision

import (
	"fmt"
	"math"

	"embedcheck/internal/finding"
)

// tolerances within which a value is as it was accepted, by unit.
var tolerances = map[string]float64{"mm": 0.1, "degrees": 0.1, "ratio": 0.005}

// Apply sets the status of the findings by what was decided, and who said what
// about them. An acceptance does not hold any more after its last day, when the
// worst place is worse than it was by more than 0.1 mm, when there are more
// places than were accepted, or when something else is measured; a closed
// finding that is found is open again. today is a day as YYYY-MM-DD.
func (l *Log) Apply(run *finding.Run, today string) { l.apply(run, today, math.MaxInt) }

// ApplySince is Apply for a run that was read from its file, after what people
// decided since: what was closed after the check stays closed until the next
// one looks.
func (l *Log) ApplySince(run *finding.Run, today string) { l.apply(run, today, 0) }

// apply takes entries up to the number known, or to the one that the finding
// itself tells of if that is higher, for entries that the check knew.
func (l *Log) apply(run *finding.Run, today string, known int) {
	for i := range run.Findings {
		f := &run.Findings[i]
		seen := known
		if d := f.Life.Decision; d != nil {
			seen = max(seen, d.Number)
		}
		f.Status, f.Life.Decision = Open, nil
		f.Life.Assigned, f.Life.Comments = l.talk(f.ID)
		e := l.Last(f.ID)
		if e == nil {
			continue
		}
		d := &finding.Decision{Number: e.Number, Status: e.Status, Reason: e.Reason, By: e.By, Date: e.Date, Until: e.Until}
		if e.Status == Accepted || e.Status == Closed && e.Number <= seen {
			d.Reopened = e.lapsed(f, today)
		}
		if d.Reopened == "" {
			f.Status = e.Status
		}
		f.Life.Decision = d
	}
}

// talk is to whom a finding is assigned, nil when no entry says so, and what was
// said about it.
func (l *Log) talk(id string) (assigned *string, said []finding.Said) {
	for _, e := range l.History(id) {
		if e.Assigned != nil {
			assigned = e.Assigned
		}
		if e.Comment != "" {
			said = append(said, finding.Said{Date: e.Date, Author: e.By, Text: e.Comment})
		}
	}
	return assigned, said
}

// lapsed says why a decision does not hold any more; "" while it does.
func (e *Entry) lapsed(f *finding.Finding, today string) string {
	switch {
	case e.Status == Closed:
		return "closed, but found again"
	case e.Until != "" && today > e.Until:
		return "accepted until " + e.Until + " only"
	case len(f.Instances) > e.Places:
		return fmt.Sprintf("%d places now, %d were accepted", len(f.Instances), e.Places)
	}
	now := About(f)
	if (now.Measured == nil) != (e.Measured == nil) || now.Unit != e.Unit || now.Relation != e.Relation {
		return "what is measured is not what was accepted"
	}
	if now.Measured == nil {
		return ""
	}
	if worse(e, *now.Measured, *now.Required) {
		measured, _ := f.Worst().Values()
		was := finding.Instance{Measured: *e.Measured, Required: *e.Required, Unit: e.Unit}
		accepted, _ := was.Values()
		return fmt.Sprintf("%s now, %s was accepted", measured, accepted)
	}
	return ""
}

// worse reports whether a value is worse than the accepted one. Where an exact
// value is asked for, its distance from that counts.
func worse(e *Entry, measured, required float64) bool {
	d := 0.0
	switch finding.Relation(e.Relation) {
	case finding.AtLeast:
		d = *e.Measured - measured
	case finding.AtMost:
		d = measured - *e.Measured
	default:
		d = math.Abs(measured-required) - math.Abs(*e.Measured-*e.Required)
	}
	return d > tolerances[e.Unit]+1e-9
}
