package rules

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// Measured is a value that somebody took on the form or surveyed after the pour,
// beside that of the model.
type Measured struct {
	Kind        ToleranceKind
	Host        *model.Host
	Item        *model.Item   // nil for a dimension of the form itself
	Anchor      *model.Anchor // nil when it is about no single anchor
	What        string        // the dimension in words: "HD-1.1 from the left side of the form"
	Model       float64       // mm
	Value       float64       // mm
	Minus, Plus float64       // mm, both positive: what it may be below and above
	Source      string        // of the tolerance
	At          geom.Vec      // local, mm
}

// Deviation is the measured value less that of the model, mm.
func (m *Measured) Deviation() float64 { return m.Value - m.Model }

// Within reports whether the deviation is within the tolerance.
func (m *Measured) Within() bool {
	d := m.Deviation()
	return !geom.Over(d, m.Plus) && !geom.Over(-d, m.Minus)
}

// side is the tolerance on the side of the deviation, and its name as what
// governs.
func (m *Measured) side() (float64, Unit) {
	switch {
	case m.Minus == m.Plus:
		return m.Plus, MM
	case m.Deviation() < 0:
		return m.Minus, "minus"
	}
	return m.Plus, "plus"
}

// RunMeasured holds measured values against the model: a finding for each set
// that has one outside its tolerance. What could not be compared is told as not
// checked. The findings are the same for any number of workers and any order of
// values.
func RunMeasured(m *model.Model, set *Set, workers int, values []Measured, unread []model.Unread) ([]finding.Finding, error) {
	own := *m
	own.Unread = unread
	s := prepare(&own, set, workers)
	s.measured = values
	lacking := *NotChecked
	lacking.Run = func(p *Pass) error {
		p.tellUnread()
		return nil
	}
	return apply(s, []*Rule{PositionMeasured, DepthMeasured, SizeMeasured, &lacking})
}

// measuredRule reports the measured values of the given kinds that are outside
// their tolerance.
func measuredRule(kinds ...ToleranceKind) func(*Pass) error {
	return func(p *Pass) error {
		forms := formGroups{of: map[*model.Host]*group{}}
		for i := range p.measured {
			v := &p.measured[i]
			if !slices.Contains(kinds, v.Kind) {
				continue
			}
			if v.Item == nil {
				p.reportForm(v, &forms)
			} else if !p.Params(v.Item).Off && !v.Within() {
				p.Report(v.hit())
			}
		}
		return nil
	}
}

// formGroups are the forms that findings are about.
type formGroups struct {
	of  map[*model.Host]*group
	ids map[*model.Host]hostID // worked out when the first is asked for
}

func (f *formGroups) group(m *model.Model, h *model.Host) *group {
	if g := f.of[h]; g != nil {
		return g
	}
	if f.ids == nil {
		f.ids = hostIDs(m)
	}
	g := &group{
		host: h, unread: true, label: "form of " + hostName(h), key: f.ids[h].text + "|form", twin: f.twin(m, h),
		items: []*model.Item{{Ref: h.Ref, Host: h, Box: h.Box}},
	}
	f.of[h] = g
	return g
}

// twin is the number of a host among those that nothing but their place in the
// world tells apart.
func (f *formGroups) twin(m *model.Model, h *model.Host) int {
	n := 0
	for _, o := range m.Hosts {
		if o == h || f.ids[o].text != f.ids[h].text {
			continue
		}
		if cmp.Or(compareVec(o.Box.Min, h.Box.Min), cmp.Compare(o.GlobalID, h.GlobalID)) < 0 {
			n++
		}
	}
	return n
}

// reportForm reports a dimension of a form, which is no item's.
func (p *Pass) reportForm(v *Measured, forms *formGroups) {
	if p.rest.Off || v.Within() || !finite(v.Value, v.Model) {
		return
	}
	h := hit{v.hit(), forms.group(p.m, v.Host)}
	h.Item = h.group.items[0]
	p.hits = append(p.hits, h)
}

func (m *Measured) hit() Hit {
	tol, governs := m.side()
	off := math.Abs(m.Deviation())
	word := "more"
	if m.Deviation() < 0 {
		word = "less"
	}
	o, t := figures(off, tol)
	h := Hit{
		Item: m.Item, Anchor: m.Anchor, Measured: off, At: m.At,
		Required: Required{Value: tol, Governs: governs, cite: m.Source},
		Text: fmt.Sprintf("%s: %s mm measured, %s mm in the model; %s mm %s, and at most %s mm %s is within the tolerance",
			finding.Plain(m.What), figure(m.Value), figure(m.Model), o, word, t, word),
	}
	if m.Anchor != nil && m.Anchor.Entry != nil {
		h.Normal = m.Anchor.Entry.Normal
	}
	return h
}

// everyKind are all kinds of item: whatever is cast in can be measured.
func everyKind() []model.Kind {
	var out []model.Kind
	for k := range model.Kinds() {
		out = append(out, model.Kind(k))
	}
	return out
}
