package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"time"

	"github.com/urfave/cli/v2"

	"embedcheck/internal/bcf"
	"embedcheck/internal/decision"
	"embedcheck/internal/finding"
	"embedcheck/internal/lifecycle"
	"embedcheck/internal/model"
	"embedcheck/internal/report"
	"embedcheck/rules"
)

// now is the clock; nothing but the commands reads it.
var now = time.Now

// call is what a check was asked for, read before any model is.
type call struct {
	version bcf.Version
	failOn  finding.Priority
	newOnly bool // only new findings make the exit code 1
	summary string
	author  string
	today   string
	since   *lifecycle.Earlier // nil without
	log     *decision.Log
}

func readCall(c *cli.Context, set *rules.Set) (*call, error) {
	newOnly := c.String("fail-on") == "new"
	since := c.String("since")
	if newOnly && since == "" {
		return nil, usagef("--fail-on new needs --since PATH: without an earlier run nothing is known to be new")
	}
	k, err := readOutputs(c, set, "new")
	if err != nil {
		return nil, err
	}
	k.newOnly, k.summary = newOnly, c.String("summary")
	switch k.summary {
	case "", "text", "markdown", "json": // "": a command that has one form only
	default:
		return nil, usagef("--summary %s: there are text, markdown and json", k.summary)
	}
	if k.log, err = readDecisions(c); err != nil {
		return nil, err
	}
	if since != "" {
		if k.since, err = lifecycle.Load(since); err != nil {
			return nil, usagef("--since: %w", err)
		}
	}
	return k, nil
}

// readOutputs is what a call says of what is written and of the exit code; also
// are words for --fail-on that the caller knows beside the priorities.
func readOutputs(c *cli.Context, set *rules.Set, also ...string) (*call, error) {
	k := &call{failOn: set.FailOn, author: c.String("author")}
	var ok bool
	if k.version, ok = bcf.ParseVersion(c.String("bcf")); !ok {
		return nil, usagef("--bcf %s: there are 2.1 and 3.0", c.String("bcf"))
	}
	if f := c.String("fail-on"); f != "" && !slices.Contains(also, f) {
		if k.failOn, ok = finding.ParsePriority(f); !ok {
			return nil, usagef("--fail-on %s: there are %s", f, inWords(append(also, "note", "review", "hold")))
		}
	}
	var err error
	k.today, err = dayOf(c, "today")
	return k, err
}

// dayOf is the day that a flag states, or that of the clock.
func dayOf(c *cli.Context, flag string) (string, error) {
	s := c.String(flag)
	if s == "" {
		return decision.Day(now()), nil
	}
	if err := decision.CheckDate(s); err != nil {
		return "", usagef("--%s: %w", flag, err)
	}
	return s, nil
}

// readDecisions reads the file that is named, which must be there, or the usual
// one if it is there.
func readDecisions(c *cli.Context) (*decision.Log, error) {
	path := c.String("decisions")
	if path == "" {
		path = decisionsBeside(c.String("out"))
	} else if _, err := os.Stat(path); err != nil {
		return nil, usagef("--decisions: %w", err)
	}
	l, err := decision.Read(path)
	if err != nil {
		return nil, usageError{err}
	}
	return l, nil
}

// decisionsBeside is the usual decisions file: beside the folder of the results.
func decisionsBeside(out string) string {
	if out == "" {
		return "decisions.json"
	}
	return filepath.Join(filepath.Dir(filepath.Clean(out)), "decisions.json")
}

// follow adds to the findings what became of them since the earlier run, what
// others said and what was decided.
func (k *call) follow(m *model.Model, run *finding.Run, set *rules.Set) *finding.Comparison {
	p := lifecycle.Look(m, set, run)
	p.Place()
	var compared *finding.Comparison
	if k.since != nil {
		compared = lifecycle.Compare(run, k.since, p)
		k.since.Listen(run, k.author)
	}
	k.log.Apply(run, k.today)
	return compared
}

func (k *call) tell(c *cli.Context, r *report.Release, s report.Summary) error {
	w := c.App.Writer
	switch k.summary {
	case "markdown":
		return report.WriteMarkdown(w, r)
	case "json":
		return report.WriteReleaseJSON(w, r)
	}
	if err := report.WriteSummary(w, r.Run, s); err != nil {
		return err
	}
	if k.since == nil && len(k.log.Entries) == 0 {
		return nil
	}
	if err := report.WriteSince(w, r.Run, r.Since, s.Layout); err != nil {
		return err
	}
	_, err := fmt.Fprintf(w, "\n%s\n", r.Verdict())
	return err
}

// fails reports whether the exit code is to be 1.
func (k *call) fails(r *report.Release) bool {
	for _, f := range r.Holding() {
		if !k.newOnly || f.Life.State == finding.New {
			return true
		}
	}
	return false
}
