package rules

import (
	"cmp"
	"fmt"
	"slices"
	"sync"

	"embedcheck/internal/finding"
	"embedcheck/internal/model"
)

// Run applies all rules to a model. The findings are the same, and in the same
// order, for any number of workers.
func Run(m *model.Model, set *Set, workers int) ([]finding.Finding, error) {
	return run(All, m, set, workers)
}

func run(list []*Rule, m *model.Model, set *Set, workers int) ([]finding.Finding, error) {
	return apply(prepare(m, set, workers), list)
}

// apply runs rules over what was prepared for them.
func apply(s *shared, list []*Rule) ([]finding.Finding, error) {
	passes := make([]*Pass, len(list)) // slot i belongs to rule i: no lock
	errs := make([]error, len(list))
	var next counter
	var wg sync.WaitGroup
	for range min(s.workers, len(list)) {
		wg.Go(func() {
			for i := next.take(); i < len(list); i = next.take() {
				passes[i] = newPass(s, list[i])
				if list[i].Run != nil {
					errs[i] = list[i].Run(passes[i])
				}
			}
		})
	}
	wg.Wait()
	for i, err := range errs {
		if err != nil {
			return nil, fmt.Errorf("rule %s: %w", list[i].ID, err)
		}
	}
	return collect(s, passes), nil
}

// collect turns what the passes hold into sorted findings.
func collect(s *shared, passes []*Pass) []finding.Finding {
	var found []finding.Finding
	for _, p := range passes {
		if p.Rule.ID == finding.NotChecked {
			p.tellGaps(passes)
		}
		found = append(found, p.findings()...)
	}
	slices.SortFunc(found, compareFindings)
	return found
}

// compareFindings puts first what must not be poured; then it goes by host,
// rule and set.
func compareFindings(a, b finding.Finding) int {
	return cmp.Or(
		cmp.Compare(b.Priority, a.Priority),
		finding.Natural(a.Host.Model, b.Host.Model),
		finding.Natural(a.Host.Name, b.Host.Name),
		finding.Natural(a.Host.Mark, b.Host.Mark),
		cmp.Compare(a.Rule, b.Rule),
		finding.Natural(a.Set, b.Set),
		cmp.Compare(a.ID, b.ID),
	)
}
