package main

import (
	"fmt"
	"io"
	"os"

	"github.com/urfave/cli/v2"

	"embedcheck/internal/atomicfile"
	"embedcheck/internal/check"
	"embedcheck/internal/report"
	"embedcheck/internal/ruleset"
)

func rulesCommand() *cli.Command {
	return &cli.Command{
		Name:      "rules",
		Usage:     "every rule: what it measures, its built-in limit and source; with an ID, its page",
		ArgsUsage: "[ID]",
		Flags: []cli.Flag{
			&cli.BoolFlag{Name: "json", Usage: "print JSON for programs"},
			&cli.BoolFlag{Name: "schema", Usage: "print the JSON Schema of rule files, for editors"},
			&cli.StringFlag{Name: "set", Usage: "print the built-in set `NAME` that --rules of other commands takes: its limits, their sources, and what it leaves to the product's data"},
			&cli.StringFlag{Name: "write", Usage: "start a rule `FILE` for a project with the built-in limits and their sources, or with those of --set"},
		},
		Action: listRules,
	}
}

func listRules(c *cli.Context) error {
	if c.NArg() > 1 {
		return usagef("rules takes one ID at most")
	}
	if c.Bool("schema") {
		_, err := c.App.Writer.Write(ruleset.Schema())
		return err
	}
	if name := c.String("set"); name != "" {
		return namedSet(c, name)
	}
	if path := c.String("write"); path != "" {
		return startRuleFile(c, path, ruleset.Starter())
	}
	list := check.RuleList()
	if id := c.Args().First(); id != "" {
		row := find(list, id)
		if row == nil {
			return usagef("no rule %q; embedcheck rules lists them", id)
		}
		if c.Bool("json") {
			return report.WriteRulesJSON(c.App.Writer, []report.RuleRow{*row})
		}
		return report.WriteRule(c.App.Writer, row, report.LayoutFor(c.App.Writer))
	}
	if c.Bool("json") {
		return report.WriteRulesJSON(c.App.Writer, list)
	}
	return report.WriteRules(c.App.Writer, list, report.LayoutFor(c.App.Writer))
}

// namedSet prints a built-in set, or starts a rule file from it.
func namedSet(c *cli.Context, name string) error {
	n := ruleset.FindNamed(name)
	switch {
	case n == nil:
		return usageError{ruleset.UnknownSet(name)}
	case c.NArg() > 0:
		return usagef("rules takes an ID or --set, not both")
	}
	if path := c.String("write"); path != "" {
		return startRuleFile(c, path, n.File())
	}
	set := n.Set()
	page := &report.SetPage{Name: n.Name, Title: n.Title, Notes: n.Notes, Rules: check.SetRules(set), Tolerances: check.SetTolerances(set)}
	if c.Bool("json") {
		return report.WriteSetJSON(c.App.Writer, page)
	}
	return report.WriteSet(c.App.Writer, page, report.LayoutFor(c.App.Writer))
}

func find(list []report.RuleRow, id string) *report.RuleRow {
	for i := range list {
		if list[i].ID == id {
			return &list[i]
		}
	}
	return nil
}

// startRuleFile writes a rule file to begin with; it never writes over one.
func startRuleFile(c *cli.Context, path string, content []byte) error {
	if _, err := os.Lstat(path); err == nil {
		return usagef("%s: is there already; name a new file", path)
	}
	err := atomicfile.Write(path, func(w io.Writer) error {
		_, err := w.Write(content)
		return err
	})
	if err != nil {
		return err
	}
	fmt.Fprintf(c.App.ErrWriter, "%s written; it states built-in limits: keep what the project changes\n", path)
	return nil
}
