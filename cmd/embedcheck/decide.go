package main

import (
	"fmt"
	"iter"
	"maps"
	"path/filepath"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"embedcheck/internal/decision"
	"embedcheck/internal/finding"
	"embedcheck/internal/lifecycle"
)

func decideCommand() *cli.Command {
	return &cli.Command{
		Name:      "decide",
		Usage:     "record what was decided about findings: accept with a reason, close or reopen them",
		ArgsUsage: "[ID...]",
		Flags: []cli.Flag{
			&cli.BoolFlag{Name: "accept", Usage: "accept the findings as they are measured now; needs --reason"},
			&cli.BoolFlag{Name: "close", Usage: "close the findings: they are settled in the model"},
			&cli.BoolFlag{Name: "reopen", Usage: "open the findings again"},
			&cli.StringFlag{Name: "reason", Usage: "`TEXT` that says why"},
			&cli.StringFlag{Name: "by", Usage: "`NAME` of who decided"},
			&cli.StringFlag{Name: "date", Usage: "`DATE` of the decision, as 2026-03-31; without it the date of the clock"},
			&cli.StringFlag{Name: "until", Usage: "last `DATE` that an acceptance holds"},
			&cli.StringFlag{Name: "findings", Value: filepath.Join("out", "findings.json"), Usage: "`FILE` that holds the findings"},
			&cli.StringFlag{Name: "decisions", Usage: "`FILE` to write to; without it decisions.json beside the folder of the findings"},
			&cli.StringFlag{Name: "rule", Usage: "take all findings of rule `ID`"},
			&cli.StringFlag{Name: "host", Usage: "take all findings in the host with this `NAME`, mark or GlobalId"},
			&cli.StringFlag{Name: "kind", Usage: "take all findings about items of this `KIND`"},
		},
		Action: interruptible(decide),
	}
}

func decide(c *cli.Context) error {
	act, err := readAct(c)
	if err != nil {
		return err
	}
	source := c.String("findings")
	run, err := lifecycle.ReadFindings(source)
	if err != nil {
		return usageError{err}
	}
	path := c.String("decisions")
	if path == "" {
		path = decisionsBeside(filepath.Dir(source))
	}
	var told []string
	err = decision.Update(path, func(l *decision.Log) error {
		told = nil
		list, err := chosen(c, run.Sorted(), l)
		if err != nil {
			return err
		}
		for _, e := range list {
			e.Status, e.Reason, e.By, e.Date, e.Until = act.Status, act.Reason, act.By, act.Date, act.Until
			before, err := l.Add(e)
			if err != nil {
				return usageError{err}
			}
			told = append(told, change(before, &e))
		}
		return nil
	})
	if err != nil {
		return err
	}
	for _, s := range told {
		fmt.Fprintln(c.App.Writer, s)
	}
	fmt.Fprintf(c.App.Writer, "%d decided in %s\n", len(told), finding.Plain(path))
	return nil
}

// readAct is the act that the flags state.
func readAct(c *cli.Context) (*decision.Entry, error) {
	e := &decision.Entry{
		Reason: finding.Plain(c.String("reason")), By: finding.Plain(c.String("by")), Until: c.String("until"),
	}
	n := 0
	for flag, status := range map[string]string{"accept": decision.Accepted, "close": decision.Closed, "reopen": decision.Open} {
		if c.Bool(flag) {
			e.Status = status
			n++
		}
	}
	switch {
	case n != 1:
		return nil, usagef("decide needs one of --accept, --close and --reopen")
	case e.Status == decision.Accepted && e.Reason == "":
		return nil, usagef("--accept needs --reason TEXT: whoever reads the list later has to know why")
	case e.Status != decision.Accepted && e.Until != "":
		return nil, usagef("--until goes with --accept")
	}
	if e.Until != "" {
		if err := decision.CheckDate(e.Until); err != nil {
			return nil, usagef("--until: %w", err)
		}
	}
	var err error
	e.Date, err = dayOf(c, "date")
	return e, err
}

// chosen are entries, without the act, about the findings that the call names.
func chosen(c *cli.Context, run *finding.Run, l *decision.Log) ([]decision.Entry, error) {
	rule, host, kind := c.String("rule"), c.String("host"), c.String("kind")
	bulk := rule != "" || host != "" || kind != ""
	if bulk == (c.NArg() > 0) {
		return nil, usagef("decide takes either IDs or --rule, --host and --kind")
	}
	var list []decision.Entry
	if !bulk {
		for _, id := range c.Args().Slice() {
			e, err := byPrefix(run, l, id)
			if err != nil {
				return nil, err
			}
			if !slices.ContainsFunc(list, func(o decision.Entry) bool { return o.Finding == e.Finding }) {
				list = append(list, *e)
			}
		}
		return list, nil
	}
	for i := range run.Findings {
		f := &run.Findings[i]
		ofKind := func(in finding.Instance) bool { return in.Kind == kind }
		if (rule == "" || f.Rule == rule) &&
			(host == "" || f.Host.Name == host || f.Host.Mark == host || f.Host.GlobalID == host) &&
			(kind == "" || slices.ContainsFunc(f.Instances, ofKind)) {
			list = append(list, decision.About(f))
		}
	}
	if len(list) == 0 {
		return nil, usagef("no finding in %s is like that", c.String("findings"))
	}
	return list, nil
}

// byPrefix is an entry about the one finding whose id begins so: one of the run,
// else one that was decided about before.
func byPrefix(run *finding.Run, l *decision.Log, prefix string) (*decision.Entry, error) {
	known := map[string]decision.Entry{}
	for _, e := range l.Entries {
		e.Comment, e.Assigned = "", nil
		known[e.Finding] = e
	}
	for i := range run.Findings {
		known[run.Findings[i].ID] = decision.About(&run.Findings[i])
	}
	id, err := oneID(prefix, maps.Keys(known))
	if err != nil {
		return nil, err
	}
	e := known[id]
	return &e, nil
}

// oneID is the only one of ids that begins so, in whatever case that is written.
func oneID(prefix string, ids iter.Seq[string]) (string, error) {
	hits := beginning(prefix, ids)
	switch len(hits) {
	case 1:
		return hits[0], nil
	case 0:
		return "", usagef("no finding's id begins with %q", prefix)
	}
	return "", usagef("the ids of %d findings begin with %q; give more of it", len(hits), prefix)
}

func beginning(prefix string, ids iter.Seq[string]) []string {
	prefix = strings.ToLower(prefix)
	var hits []string
	for id := range ids {
		if prefix != "" && strings.HasPrefix(id, prefix) {
			hits = append(hits, id)
		}
	}
	return hits
}

// change is one line on what an act changed.
func change(before, e *decision.Entry) string {
	was := decision.Open
	if before != nil {
		was = before.Status
	}
	s := fmt.Sprintf("%.12s  %s in %s, %s: %s -> %s", e.Finding, e.Rule, e.Host, e.Set, was, e.Status)
	if e.Measured != nil {
		s += fmt.Sprintf(" at %g %s, limit %s %g", *e.Measured, e.Unit, e.Relation, *e.Required)
	}
	if e.Until != "" {
		s += " until " + e.Until
	}
	if e.Reason != "" {
		s += " (" + e.Reason + ")"
	}
	return finding.Plain(s)
}
