package lifecycle

import (
	"crypto/sha256"
	"encoding/hex"
	"math"
	"slices"
	"strings"

	"embedcheck/internal/bcf"
	"embedcheck/internal/finding"
)

// tolerances within which a measured value has not changed, by unit.
var tolerances = map[string]float64{"mm": 0.1, "degrees": 0.1, "ratio": 0.005, "count": 0}

// rounding is what is allowed for numbers that went through a file.
const rounding = 1e-9

// Compare marks each finding of run with what became of it since the earlier
// one, lets it keep the earlier id, and lists what is resolved. Why something is
// resolved is asked of now.
func Compare(run *finding.Run, e *Earlier, now *Present) *finding.Comparison {
	of := match(e.Run.Findings, e.comparable(run.Findings))
	gone := make([]bool, len(e.Run.Findings))
	for i := range gone {
		gone[i] = true
	}
	for i, w := range of {
		f := &run.Findings[i]
		if w < 0 {
			f.Life.State = finding.New
			if e.known(f) {
				f.Life.State = finding.Persisting
			}
			continue
		}
		was := &e.Run.Findings[w]
		gone[w] = false
		if e.issuesOnly {
			f.Life.Topic = &finding.Talk{GUID: was.ID}
		} else {
			f.ID, f.Life.Topic = was.ID, was.Life.Topic
		}
		f.Life.State = state(was, f)
	}
	freeIDs(run.Findings)
	c := &finding.Comparison{Since: e.Name}
	sorted := e.Run.Sorted()
	missing := map[string]int{}
	for i := range gone {
		if gone[i] {
			missing[e.Run.Findings[i].ID]++
		}
	}
	for i := range sorted.Findings {
		f := &sorted.Findings[i]
		if missing[f.ID] > 0 {
			missing[f.ID]--
			r := finding.Resolved{Finding: *f, Reason: now.unseen(f, e.Run)}
			if r.Unseen = r.Reason != ""; !r.Unseen {
				r.Reason = now.reason(f, e.Run)
			}
			c.Resolved = append(c.Resolved, r)
		}
	}
	return c
}

// known reports whether the issue list has an open topic about a finding that
// the earlier run itself did not look at.
func (e *Earlier) known(f *finding.Finding) bool {
	if e.Issues == nil {
		return false
	}
	guid := topicGUID(f)
	return slices.ContainsFunc(e.Issues.Topics, func(t *bcf.Topic) bool {
		return strings.EqualFold(t.GUID, guid) && !strings.EqualFold(t.Status, closedWord)
	})
}

// freeIDs gives new findings another id where an earlier issue has theirs.
func freeIDs(list []finding.Finding) {
	used := map[string]bool{}
	for i := range list {
		if list[i].Life.State != finding.New {
			used[list[i].ID] = true
		}
	}
	for i := range list {
		f := &list[i]
		if f.Life.State != finding.New {
			continue
		}
		for used[f.ID] {
			sum := sha256.Sum256([]byte("next " + f.ID))
			f.ID = hex.EncodeToString(sum[:16])
		}
		used[f.ID] = true
	}
}

// state is what became of was.
func state(was, is *finding.Finding) finding.State {
	a, b := was.Worst(), is.Worst()
	if a == nil || b == nil || a.Unit != b.Unit || a.Relation != b.Relation || b.Relation == finding.None {
		return finding.Persisting
	}
	d := miss(b) - miss(a)
	tol := Tolerance(b.Unit)
	switch {
	case math.IsNaN(d):
		return finding.Persisting
	case d > tol:
		return finding.Worse
	case d < -tol:
		return finding.Better
	}
	return finding.Persisting
}

// Tolerance is by how much a value in a unit may change and count as the same.
func Tolerance(unit string) float64 { return tolerances[unit] + rounding }

// miss is by how much an instance misses its limit, in the figures that files
// state.
func miss(in *finding.Instance) float64 {
	m, r := in.Rounded()
	switch in.Relation {
	case finding.AtLeast:
		return r - m
	case finding.AtMost:
		return m - r
	}
	return math.Abs(r - m)
}

// comparable are the findings as the earlier run has them: an issue list knows
// topics for ids, and not which of the elements is the host.
func (e *Earlier) comparable(list []finding.Finding) []finding.Finding {
	if !e.issuesOnly {
		return list
	}
	list = slices.Clone(list)
	for i := range list {
		list[i].ID = bcf.TopicGUID(list[i].ID)
		list[i].Host.GlobalID = anyHost
	}
	return list
}

// anyHost stands for the host of every finding when hosts are not known.
const anyHost = "any"
