package report

import "embedcheck/internal/finding"

// MeasuredState is what a comparison says of one dimension.
type MeasuredState string

const (
	Outside     MeasuredState = "outside"
	NotCompared MeasuredState = "not compared"
	UnknownKey  MeasuredState = "unknown key"
	Within      MeasuredState = "within"
	NoTolerance MeasuredState = "no tolerance"
	NotMeasured MeasuredState = "not measured"
)

// MeasuredRow is one dimension or point beside what was measured of it, mm.
type MeasuredRow struct {
	State           MeasuredState
	Host, Set, What string
	Text            string // the dimension in words
	Key             string
	Known           bool // the model has a value
	Model           float64
	Taken           bool // there is a measured value
	Measured        float64
	Limited         bool // a tolerance is stated
	Minus, Plus     float64
	Source          string
	Surveyed        bool    // from an instrument, by way of a fit
	Holds           float64 // mm, standard deviation of the fit there
	Where           string  // sheet and row
	Note            string  // why it was not compared, and what else is to be said
}

// Deviation is the measured value less that of the model, mm.
func (r *MeasuredRow) Deviation() float64 { return r.Measured - r.Model }

// MeasuredSheet is a table of values that was read.
type MeasuredSheet struct {
	Name   string
	Unit   string
	Values int // values and points
	Blank  int // rows without one
}

// Survey is how a host's references fit.
type Survey struct {
	Host, Sheet string
	RMS         float64 // mm
	References  []SurveyReference
	Notes       []string // outliers, and why it does not serve
}

// SurveyReference is what a reference misses the fit by, mm.
type SurveyReference struct {
	Name            string
	X, Y, Z, Length float64
}

// Measured is all that a comparison with measured values has to say. Rows are
// sorted, worst first.
type Measured struct {
	Run     *finding.Run
	Sheets  []MeasuredSheet
	Surveys []Survey
	Hints   []string // what looks wrong in the sheets
	Rows    []MeasuredRow
	Files   []File
	Layout  Layout
}

// Count is the number of rows in a state.
func (m *Measured) Count(s MeasuredState) int {
	n := 0
	for i := range m.Rows {
		if m.Rows[i].State == s {
			n++
		}
	}
	return n
}
