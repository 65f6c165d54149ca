package main

import (
	"github.com/urfave/cli/v2"

	"embedcheck/internal/check"
	"embedcheck/internal/report"
)

func inventoryCommand() *cli.Command {
	return &cli.Command{
		Name:      "inventory",
		Usage:     "what was recognised as host, item, set, anchor and bar, and why; what was left out",
		ArgsUsage: "MODEL...",
		Flags: []cli.Flag{
			rulesFlag,
			&cli.BoolFlag{Name: "json", Usage: "print JSON for programs"},
			&cli.BoolFlag{Name: "shapes", Usage: "count instead the bodies by representation item: read, approximated, not read and why"},
			workersFlag,
		},
		Action: func(c *cli.Context) error {
			paths, options, err := readAsked(c)
			if err != nil {
				return err
			}
			if c.Bool("shapes") {
				return tellShapes(c, paths, options)
			}
			m, err := check.Read(paths, options)
			if err != nil {
				return err
			}
			inv := check.Inventory(m)
			if c.Bool("json") {
				return report.WriteInventoryJSON(c.App.Writer, inv)
			}
			return report.WriteInventory(c.App.Writer, inv, report.LayoutFor(c.App.Writer))
		},
	}
}

func tellShapes(c *cli.Context, paths []string, o check.Options) error {
	s, err := check.Shapes(paths, o)
	if err != nil {
		return err
	}
	if c.Bool("json") {
		return report.WriteShapesJSON(c.App.Writer, s)
	}
	return report.WriteShapes(c.App.Writer, s, report.LayoutFor(c.App.Writer))
}
