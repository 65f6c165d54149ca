package page

import (
	"cmp"
	"slices"
	"strings"

	"embedcheck/internal/finding"
)

// hostView is one host and its findings.
type hostView struct {
	Ref   finding.Ref
	Index int
	Rows  []*row
}

// row is one finding in the list.
type row struct {
	F     *finding.Finding
	Host  *hostView
	Index int
	Kinds []string
}

// hostsOf groups the findings of a sorted run: hosts with the most urgent
// findings first.
func hostsOf(run *finding.Run) []*hostView {
	byRef := map[finding.Ref]*hostView{}
	var list []*hostView
	for i := range run.Findings {
		f := &run.Findings[i]
		h := byRef[f.Host]
		if h == nil {
			h = &hostView{Ref: f.Host}
			byRef[f.Host] = h
			list = append(list, h)
		}
		h.Rows = append(h.Rows, &row{F: f, Host: h, Kinds: kinds(f)})
	}
	slices.SortStableFunc(list, func(a, b *hostView) int {
		return cmp.Or(
			cmp.Compare(b.Rows[0].F.Priority, a.Rows[0].F.Priority),
			finding.CompareRef(a.Ref, b.Ref),
		)
	})
	for i, h := range list {
		h.Index = i
	}
	return list
}

func kinds(f *finding.Finding) []string {
	var list []string
	for i := range f.Instances {
		if k := finding.Plain(f.Instances[i].Kind); k != "" && !slices.Contains(list, k) {
			list = append(list, k)
		}
	}
	slices.Sort(list)
	return list
}

// Name is what the host is called, and what stands for findings without one.
func (h *hostView) Name() string {
	if h.Ref == (finding.Ref{}) {
		return "In no host"
	}
	return h.Ref.Label()
}

// Where is class and file of the host.
func (h *hostView) Where() string {
	return strings.Join(filled(finding.Plain(h.Ref.Class), finding.Plain(h.Ref.Mark), finding.Plain(h.Ref.Model)), ", ")
}

func filled(list ...string) []string {
	return slices.DeleteFunc(list, func(s string) bool { return s == "" })
}

// KindList is the kinds as an attribute.
func (w *row) KindList() string { return strings.Join(w.Kinds, " ") }

// Figures are the measured value of the worst place and its limit.
func (w *row) Figures() *figures {
	in := w.F.Worst()
	if in == nil {
		return nil
	}
	return figuresOf(in)
}

// figures is a comparison, ready to be set.
type figures struct{ Measured, Sign, Required string }

var signs = map[finding.Relation]string{finding.AtLeast: "≥", finding.AtMost: "≤", finding.Equal: "="}

func figuresOf(in *finding.Instance) *figures {
	if in.Relation == finding.None {
		return nil
	}
	m, r := in.Values()
	return &figures{m, signs[in.Relation], r}
}

// Status is open, accepted or closed.
func (w *row) Status() string { return cmp.Or(w.F.Status, "open") }

// Assigned is who is to settle the finding; "" when nobody was named.
func (w *row) Assigned() string { return finding.Plain(w.F.Life.To()) }
