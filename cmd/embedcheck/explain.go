package main

import (
	"fmt"
	"iter"
	"os"
	"path/filepath"
	"slices"

	"github.com/urfave/cli/v2"

	"embedcheck/internal/check"
	"embedcheck/internal/explain"
	"embedcheck/internal/finding"
	"embedcheck/internal/lifecycle"
)

func explainCommand() *cli.Command {
	return &cli.Command{
		Name:      "explain",
		Usage:     "how the figure of a finding came about, step by step",
		ArgsUsage: "ID [MODEL...]",
		Flags: []cli.Flag{
			rulesFlag,
			&cli.StringFlag{Name: "findings", Value: filepath.Join("out", "findings.json"), Usage: "`FILE` or folder of the check that found it"},
			workersFlag,
		},
		Action: interruptible(explainFinding),
	}
}

func explainFinding(c *cli.Context) error {
	id := c.Args().First()
	if id == "" {
		return usagef("explain needs the ID of a finding, or its beginning; the summary of check and findings.json give it")
	}
	set, err := readRules(c)
	if err != nil {
		return err
	}
	earlier, err := findingsAt(c.String("findings"))
	if err != nil {
		return err
	}
	paths := c.Args().Tail()
	if len(paths) == 0 {
		for _, m := range earlier.Models {
			paths = append(paths, m.Path)
		}
	}
	m, run, err := check.Run(paths, check.Options{Workers: c.Int("workers"), Rules: set})
	if err != nil {
		return err
	}
	warnChanged(c, earlier, run)
	f, err := findingOf(run.Sorted(), earlier, id)
	if err != nil {
		return err
	}
	return explain.New(m, set).Write(c.App.Writer, f)
}

// findingsAt reads the findings of an earlier run, from their file or its folder.
func findingsAt(path string) (*finding.Run, error) {
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		path = filepath.Join(path, "findings.json")
	}
	run, err := lifecycle.ReadFindings(path)
	if err != nil {
		return nil, usageError{err}
	}
	return run, nil
}

// warnChanged tells the models, and the rule set, that are others than those of
// the earlier run: the figures may be others, too.
func warnChanged(c *cli.Context, was, is *finding.Run) {
	known := map[string]bool{}
	for _, m := range was.Models {
		known[m.SHA256] = true
	}
	for _, m := range is.Models {
		if !known[m.SHA256] {
			fmt.Fprintf(c.App.ErrWriter, "embedcheck: %s has changed since that check, or was not part of it\n", finding.Plain(m.Path))
		}
	}
	if was.Ruleset != is.Ruleset {
		fmt.Fprintf(c.App.ErrWriter, "embedcheck: the rule set was %s then, and is %s now; --rules names the file\n", finding.Plain(was.Ruleset.Name), finding.Plain(is.Ruleset.Name))
	}
}

// findingOf is the one finding of a run whose id begins so. One that only the
// earlier run has is said to be gone.
func findingOf(run, earlier *finding.Run, prefix string) (*finding.Finding, error) {
	if len(beginning(prefix, idsOf(run))) == 0 && len(beginning(prefix, idsOf(earlier))) > 0 {
		return nil, usagef("finding %s is not found any more in the models as they are now", finding.Plain(prefix))
	}
	id, err := oneID(prefix, idsOf(run))
	if err != nil {
		return nil, err
	}
	i := slices.IndexFunc(run.Findings, func(f finding.Finding) bool { return f.ID == id })
	return &run.Findings[i], nil
}

func idsOf(run *finding.Run) iter.Seq[string] {
	return func(yield func(string) bool) {
		for i := range run.Findings {
			if !yield(run.Findings[i].ID) {
				return
			}
		}
	}
}
