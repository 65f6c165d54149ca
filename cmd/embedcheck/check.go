package main

import (
	"io"
	"path/filepath"
	"strings"
	"time"

	"github.com/urfave/cli/v2"

	"embedcheck/internal/atomicfile"
	"embedcheck/internal/bcf"
	"embedcheck/internal/check"
	"embedcheck/internal/finding"
	"embedcheck/internal/lifecycle"
	"embedcheck/internal/page"
	"embedcheck/internal/report"
	"embedcheck/internal/ruleset"
	"embedcheck/rules"
)

var rulesFlag = &cli.StringFlag{Name: "rules", Usage: "rule `FILE` of the project: limits and priorities that differ from the built-in ones; or a built-in set: " + strings.Join(ruleset.SetNames(), ", ")}

// Flags of the commands that write an issue list.
var (
	bcfFlag       = &cli.StringFlag{Name: "bcf", Value: "2.1", Usage: "`VERSION` of the issue list: 2.1 or 3.0"}
	authorFlag    = &cli.StringFlag{Name: "author", Value: "embedcheck", Usage: "`NAME` that stands in the issues as their author"}
	decisionsFlag = &cli.StringFlag{Name: "decisions", Usage: "apply the decisions in `FILE`; without it decisions.json beside the folder of --out, else in the working folder, if there"}
	todayFlag     = &cli.StringFlag{Name: "today", Usage: "`DATE` that acceptances are held against, as 2026-03-31; without it the date of the clock"}
)

var workersFlag = &cli.IntFlag{Name: "workers", Usage: "use `N` cores instead of all; the results are the same"}

func checkCommand() *cli.Command {
	return &cli.Command{
		Name:      "check",
		Usage:     "read models as one federation, apply the rules, write the issue list",
		ArgsUsage: "MODEL...",
		Flags: []cli.Flag{
			rulesFlag,
			&cli.StringFlag{Name: "out", Usage: "write issues.bcf, findings.json and report.html to `DIR`"},
			bcfFlag,
			authorFlag,
			&cli.StringFlag{Name: "since", Usage: "compare with the earlier run at `PATH`: a folder, a findings.json or an issue list that others may have edited"},
			decisionsFlag,
			todayFlag,
			&cli.StringFlag{Name: "fail-on", Usage: "least `PRIORITY` that makes the exit code 1: note, review or hold; new: only new findings at or above the rule file's"},
			&cli.StringFlag{Name: "summary", Value: "text", Usage: "`FORM` of the summary: text, markdown (for a message or a pull request) or json"},
			&cli.BoolFlag{Name: "drawings", Usage: "also write a dimensioned drawing of each finding to DIR/drawings"},
			workersFlag,
		},
		Action: interruptible(checkModels),
	}
}

func checkModels(c *cli.Context) error {
	paths, options, err := readAsked(c)
	if err != nil {
		return err
	}
	set := options.Rules
	call, err := readCall(c, set)
	if err != nil {
		return err
	}
	defer call.since.Close()
	m, run, err := check.Run(paths, options)
	if err != nil {
		return err
	}
	compared := call.follow(m, run, set)
	s := report.Summary{LeftOut: len(m.LeftOut), Layout: report.LayoutFor(c.App.Writer)}
	if dir := c.String("out"); dir != "" {
		if s.Files, err = call.write(dir, newViews(m), run, compared, c.Bool("drawings")); err != nil {
			return err
		}
	}
	r := &report.Release{Run: run, Since: compared, FailOn: call.failOn}
	if err := call.tell(c, r, s); err != nil {
		return err
	}
	if call.fails(r) {
		return errFound
	}
	return nil
}

// readRules is the project's rule file, a built-in set by its name, or the
// general limits.
func readRules(c *cli.Context) (*rules.Set, error) {
	path := c.String("rules")
	if path == "" {
		return rules.Builtin(), nil
	}
	set, err := ruleset.Open(path)
	if err != nil {
		return nil, usageError{err}
	}
	return set, nil
}

// write writes all files of a check, or none.
func (k *call) write(dir string, v *views, run *finding.Run, compared *finding.Comparison, drawings bool) ([]report.File, error) {
	files, outputs := k.outputs(dir, v, run, compared)
	if drawings {
		file, more := v.outputs(dir, run)
		files, outputs = append(files, file), append(outputs, more...)
	}
	return files, atomicfile.WriteFolder(dir, outputs...)
}

// outputs are the files of a check, and how they are written.
func (k *call) outputs(dir string, v *views, run *finding.Run, compared *finding.Comparison) ([]report.File, []atomicfile.Output) {
	files := []report.File{
		{Path: filepath.Join(dir, "issues.bcf"), What: "issue list for BCF viewers"},
		{Path: filepath.Join(dir, "findings.json"), What: "all findings with figures, for programs"},
		{Path: filepath.Join(dir, "report.html"), What: "page with all findings and their drawings, for a browser"},
	}
	w := k.issueWriter(v, run)
	p := reportPage(v, &report.Release{Run: run, Since: compared, FailOn: k.failOn})
	return files, []atomicfile.Output{
		{Path: files[0].Path, Write: func(o io.Writer) error { return lifecycle.WriteIssues(o, w, run, k.since, compared) }},
		{Path: files[1].Path, Write: func(o io.Writer) error { return report.WriteJSONSince(o, run, compared) }},
		{Path: files[2].Path, Write: func(o io.Writer) error { return page.Write(o, p) }},
	}
}

// issueWriter writes the findings of a run as an issue list.
func (k *call) issueWriter(v *views, run *finding.Run) *bcf.Writer {
	return &bcf.Writer{Version: k.version, Author: k.author, Date: latest(run), Scene: v.scene}
}

// latest is the date that issues carry: that of the newest model, so that the
// same models give the same bytes.
func latest(run *finding.Run) time.Time {
	newest := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	for _, m := range run.Models {
		if t, ok := bcf.ParseDate(m.Date); ok && t.After(newest) {
			newest = t.UTC()
		}
	}
	return newest
}
