package main

import (
	"path/filepath"

	"github.com/urfave/cli/v2"

	"embedcheck/internal/atomicfile"
	"embedcheck/internal/check"
	"embedcheck/internal/report"
	"embedcheck/internal/schedule"
)

func scheduleCommand() *cli.Command {
	return &cli.Command{
		Name:      "schedule",
		Usage:     "what to order and fix: alike items and sets on one line, by host and in total, with masses and what the models do not say",
		ArgsUsage: "MODEL...",
		Flags: []cli.Flag{
			rulesFlag,
			&cli.StringFlag{Name: "out", Usage: "write schedule.xlsx, schedule.csv and schedule.json to `DIR`"},
			workersFlag,
		},
		Action: interruptible(scheduleModels),
	}
}

func scheduleModels(c *cli.Context) error {
	paths, options, err := readAsked(c)
	if err != nil {
		return err
	}
	m, err := check.Read(paths, options)
	if err != nil {
		return err
	}
	s := schedule.Of(m)
	files, err := writeSchedule(c.String("out"), s)
	if err != nil {
		return err
	}
	return tellSchedule(c, s, files)
}

// writeSchedule writes the files, or nothing when no folder is named.
func writeSchedule(dir string, s *schedule.Schedule) ([]report.File, error) {
	if dir == "" {
		return nil, nil
	}
	base := filepath.Join(dir, "schedule")
	files := []report.File{
		{Path: base + ".xlsx", What: "sheets for the order, the hosts and the gaps"},
		{Path: base + ".csv", What: "the order, for spreadsheets"},
		{Path: base + ".json", What: "all of it, for programs"},
	}
	return files, atomicfile.WriteFolder(dir, tableOutputs(base, s.Tables())...)
}

func tellSchedule(c *cli.Context, s *schedule.Schedule, files []report.File) error {
	w := c.App.Writer
	if err := report.WriteGrid(w, s.Printed(), "what", "marks"); err != nil {
		return err
	}
	if err := report.WriteGrid(w, s.PrintedHosts(), "lines and counts"); err != nil {
		return err
	}
	if err := report.WriteGrid(w, s.PrintedGaps(), "such as"); err != nil {
		return err
	}
	if err := report.WriteFiles(w, files); err != nil {
		return err
	}
	return report.WriteNotes(w, s.Reading()...)
}
