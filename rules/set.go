package rules

import (
	"cmp"

	"embedcheck/internal/finding"
	"embedcheck/internal/selector"
)

// Set is a rule file: what differs from the built-in parameters.
type Set struct {
	Name      string
	SHA256    string // of the file, hexadecimal; "" for the built-in set
	FailOn    finding.Priority
	Rules     map[string]Change // by rule
	For       []For
	Recognise []selector.Override

	Tolerances map[ToleranceKind]Tolerance // of measured values
}

// For changes rules and tolerances for the items that match. All entries that match an item
// are laid over one another in their order: the last one wins.
type For struct {
	Items      selector.Selector
	Rules      map[string]Change
	Tolerances map[ToleranceKind]Tolerance
}

// Change is what a rule file states about a rule; nil where it is silent. A
// limit replaces the one before it as a whole.
type Change struct {
	Off      *bool
	Priority *finding.Priority
	Limit    Limit
	Source   *string
	Details  Given
}

// Builtin is the set without a rule file.
func Builtin() *Set { return &Set{Name: "built-in", FailOn: finding.Hold} }

// over lays the change over p. A new limit does not keep the source of the old
// one.
func (c Change) over(p Params, set string) Params {
	if c.Off != nil {
		p.Off = *c.Off
	}
	if c.Priority != nil {
		p.Priority = *c.Priority
	}
	if c.Limit != nil {
		p.Limit, p.Source = c.Limit, "rule file "+set
	}
	if c.Source != nil {
		p.Source = *c.Source
	}
	if c.Details != nil {
		p.Details = p.Details.with(c.Details)
		p.DetailsFrom = cmp.Or(p.Source, "rule file "+set)
	}
	return p
}
