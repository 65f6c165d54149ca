package main

import (
	"io"
	"path/filepath"

	"github.com/urfave/cli/v2"

	"embedcheck/internal/asbuilt"
	"embedcheck/internal/atomicfile"
	"embedcheck/internal/check"
	"embedcheck/internal/finding"
	"embedcheck/internal/grid"
	"embedcheck/internal/lifecycle"
	"embedcheck/internal/model"
	"embedcheck/internal/report"
)

func compareCommand() *cli.Command {
	return &cli.Command{
		Name:      "compare",
		Usage:     "hold values that were taped on the form or surveyed after the pour against the models",
		ArgsUsage: "MODEL...",
		Flags: []cli.Flag{
			&cli.StringSliceFlag{Name: "measured", Usage: "`FILE` (CSV or XLSX) with measured values; may be given more than once; sheet --form makes blank ones"},
			rulesFlag,
			&cli.StringFlag{Name: "out", Usage: "write measured.csv, measured.xlsx, issues.bcf and findings.json to `DIR`; take another one than that of check"},
			bcfFlag,
			authorFlag,
			decisionsFlag,
			todayFlag,
			&cli.StringFlag{Name: "fail-on", Usage: "least `PRIORITY` that makes the exit code 1: note, review or hold"},
			workersFlag,
		},
		Action: interruptible(compareMeasured),
	}
}

func compareMeasured(c *cli.Context) error {
	paths, options, err := readAsked(c)
	if err != nil {
		return err
	}
	set := options.Rules
	sheets, err := readSheets(c)
	if err != nil {
		return err
	}
	call, err := readCall(c, set)
	if err != nil {
		return err
	}
	m, err := check.Read(paths, options)
	if err != nil {
		return err
	}
	result := asbuilt.NewPlan(m, set).Compare(sheets)
	run, err := check.RunMeasured(m, set, c.Int("workers"), result.Values, result.Unread)
	if err != nil {
		return err
	}
	call.follow(m, run, set)
	told := &report.Measured{
		Run: run, Sheets: result.Sheets, Surveys: result.Surveys, Hints: result.Hints, Rows: result.Rows,
		Layout: report.LayoutFor(c.App.Writer),
	}
	if dir := c.String("out"); dir != "" {
		if told.Files, err = call.writeMeasured(dir, m, run, result); err != nil {
			return err
		}
	}
	if err := report.WriteMeasured(c.App.Writer, told); err != nil {
		return err
	}
	if call.fails(&report.Release{Run: run, FailOn: call.failOn}) {
		return errFound
	}
	return nil
}

// readSheets reads all tables of measured values; a mistake in one is a mistake
// of the call.
func readSheets(c *cli.Context) ([]*asbuilt.Sheet, error) {
	files := c.StringSlice("measured")
	if len(files) == 0 {
		return nil, usagef("compare needs measured values: embedcheck compare MODEL.ifc --measured FILE.csv; embedcheck sheet MODEL.ifc --form makes blank forms")
	}
	var out []*asbuilt.Sheet
	for _, f := range files {
		s, err := asbuilt.ReadSheet(f)
		if err != nil {
			return nil, usageError{err}
		}
		out = append(out, s)
	}
	return out, nil
}

// writeMeasured writes all files of a comparison, or none.
func (k *call) writeMeasured(dir string, m *model.Model, run *finding.Run, r *asbuilt.Result) ([]report.File, error) {
	files := []report.File{
		{Path: filepath.Join(dir, "measured.csv"), What: "every dimension with model, measured value, tolerance and result"},
		{Path: filepath.Join(dir, "measured.xlsx"), What: "the same as a workbook"},
		{Path: filepath.Join(dir, "issues.bcf"), What: "issue list for BCF viewers"},
		{Path: filepath.Join(dir, "findings.json"), What: "all findings with figures, for programs"},
	}
	t := r.Table()
	w := k.issueWriter(newViews(m), run)
	return files, atomicfile.WriteFolder(dir,
		atomicfile.Output{Path: files[0].Path, Write: func(o io.Writer) error { return grid.WriteCSV(o, t) }},
		atomicfile.Output{Path: files[1].Path, Write: func(o io.Writer) error { return grid.WriteXLSX(o, t) }},
		atomicfile.Output{Path: files[2].Path, Write: func(o io.Writer) error { return lifecycle.WriteIssues(o, w, run, nil, nil) }},
		atomicfile.Output{Path: files[3].Path, Write: func(o io.Writer) error { return report.WriteJSON(o, run) }},
	)
}
