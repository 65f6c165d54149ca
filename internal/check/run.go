package check

import (
	"embedcheck/internal/finding"
	"embedcheck/internal/model"
	"embedcheck/rules"
)

// runOf puts together what writers need to know of a run.
func runOf(m *model.Model, set *rules.Set, found []finding.Finding) *finding.Run {
	run := &finding.Run{
		Models:   modelInfos(m),
		Ruleset:  finding.Ruleset{Name: set.Name, SHA256: set.SHA256},
		Counts:   counts(m),
		Findings: found,
		Remarks:  m.Remarks,
	}
	run.Tally()
	return run
}

// RunMeasured holds measured values against a model that was read: the run as
// writers need it, with what was not compared.
func RunMeasured(m *model.Model, set *rules.Set, workers int, values []rules.Measured, unread []model.Unread) (*finding.Run, error) {
	found, err := rules.RunMeasured(m, set, Options{Workers: workers}.workers(), values, unread)
	if err != nil {
		return nil, err
	}
	return runOf(m, set, found), nil
}

func counts(m *model.Model) finding.Counts {
	c := finding.Counts{
		Hosts: len(m.Hosts), Items: len(m.Items), Sets: len(m.Sets), Bars: m.Bars.Count(),
		Kinds: map[string]int{},
	}
	for _, it := range m.Items {
		c.Kinds[it.Kind.String()]++
		c.Anchors += len(it.Anchors)
	}
	return c
}

func modelInfos(m *model.Model) []finding.ModelInfo {
	var out []finding.ModelInfo
	for _, s := range m.Sources {
		out = append(out, finding.ModelInfo{
			Path: s.Path, Name: s.Name, SHA256: s.SHA256, Schema: s.Schema,
			Project: s.Project, Date: s.Date, Unit: s.Unit,
			Map: (*finding.MapPlace)(s.Map), TrueNorth: s.TrueNorth,
		})
	}
	return out
}
