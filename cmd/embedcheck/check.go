package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"

	"github.com/urfave/cli/v2"

	"embedcheck/internal/atomicfile"
	"embedcheck/internal/bcf"
	"embedcheck/internal/check"
	"embedcheck/internal/finding"
	"embedcheck/internal/report"
	"embedcheck/internal/ruleset"
	"embedcheck/rules"
)

var rulesFlag = &cli.StringFlag{Name: "rules", Usage: "rule `FILE` of the project: limits and priorities that differ from the built-in ones"}

var workersFlag = &cli.IntFlag{Name: "workers", Usage: "use `N` cores instead of all; the results are the same"}

func checkCommand() *cli.Command {
	return &cli.Command{
		Name:      "check",
		Usage:     "read models as one federation, apply the rules, write the issue list",
		ArgsUsage: "MODEL...",
		Flags: []cli.Flag{
			rulesFlag,
			&cli.StringFlag{Name: "out", Usage: "write issues.bcf and findings.json to `DIR`"},
			&cli.StringFlag{Name: "bcf", Value: "2.1", Usage: "`VERSION` of the issue list: 2.1 or 3.0"},
			&cli.StringFlag{Name: "author", Value: "embedcheck", Usage: "`NAME` that stands in the issues as their author"},
			workersFlag,
		},
		Action: checkModels,
	}
}

func checkModels(c *cli.Context) error {
	set, err := readRules(c)
	if err != nil {
		return err
	}
	version, ok := bcf.ParseVersion(c.String("bcf"))
	if !ok {
		return usagef("--bcf %s: there are 2.1 and 3.0", c.String("bcf"))
	}
	paths, err := modelPaths(c)
	if err != nil {
		return err
	}
	m, run, err := check.Run(paths, check.Options{Workers: c.Int("workers"), Rules: set})
	if err != nil {
		return err
	}
	s := report.Summary{LeftOut: len(m.LeftOut), Layout: report.LayoutFor(c.App.Writer)}
	if dir := c.String("out"); dir != "" {
		w := &bcf.Writer{Version: version, Author: c.String("author"), Date: latest(run)}
		if s.Files, err = writeOutputs(dir, run, w); err != nil {
			return err
		}
	}
	if err := report.WriteSummary(c.App.Writer, run, s); err != nil {
		return err
	}
	for i := range run.Findings {
		if run.Findings[i].Priority >= set.FailOn {
			return errFound
		}
	}
	return nil
}

// readRules is the project's rule file, or the built-in set.
func readRules(c *cli.Context) (*rules.Set, error) {
	path := c.String("rules")
	if path == "" {
		return rules.Builtin(), nil
	}
	set, err := ruleset.Read(path)
	if err != nil {
		return nil, usageError{err}
	}
	return set, nil
}

// modelPaths are the models named in the call.
func modelPaths(c *cli.Context) ([]string, error) {
	if c.NArg() == 0 {
		return nil, usagef("%s needs a model: embedcheck %s MODEL.ifc", c.Command.Name, c.Command.Name)
	}
	return c.Args().Slice(), nil
}

// writeOutputs writes all files of a check, or none.
func writeOutputs(dir string, run *finding.Run, w *bcf.Writer) ([]report.File, error) {
	files := []report.File{
		{Path: filepath.Join(dir, "issues.bcf"), What: "issue list for BCF viewers"},
		{Path: filepath.Join(dir, "findings.json"), What: "all findings with figures, for programs"},
	}
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return nil, fmt.Errorf("the folder for the results cannot be made: %w", err)
	}
	return files, atomicfile.WriteAll(
		atomicfile.Output{Path: files[0].Path, Write: func(o io.Writer) error { return w.Write(o, run) }},
		atomicfile.Output{Path: files[1].Path, Write: func(o io.Writer) error { return report.WriteJSON(o, run) }},
	)
}

// latest is the date that issues carry: that of the newest model, so that the
// same models give the same bytes.
func latest(run *finding.Run) time.Time {
	newest := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	for _, m := range run.Models {
		for _, layout := range []string{time.RFC3339, "2006-01-02T15:04:05", "2006-01-02T15:04", "2006-01-02"} {
			if t, err := time.Parse(layout, m.Date); err == nil {
				if t.After(newest) {
					newest = t.UTC()
				}
				break
			}
		}
	}
	return newest
}
