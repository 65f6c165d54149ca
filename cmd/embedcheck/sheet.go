package main

import (
	"cmp"
	"fmt"
	"io"
	"path/filepath"
	"runtime"
	"strings"
	"unicode"

	"github.com/urfave/cli/v2"

	"embedcheck/internal/asbuilt"
	"embedcheck/internal/atomicfile"
	"embedcheck/internal/check"
	"embedcheck/internal/element"
	"embedcheck/internal/finding"
	"embedcheck/internal/lifecycle"
	"embedcheck/internal/pdf"
	"embedcheck/internal/report"
	"embedcheck/internal/setout"
	"embedcheck/internal/sheet"
)

func sheetCommand() *cli.Command {
	return &cli.Command{
		Name:      "sheet",
		Usage:     "setting-out sheets for the form: each host as it is cast, dimensioned as it is taped, with a pre-pour checklist",
		ArgsUsage: "MODEL...",
		Flags: []cli.Flag{
			rulesFlag,
			&cli.StringSliceFlag{Name: "host", Usage: "only the host with this `MARK`, name or GlobalId; may be given again"},
			&cli.StringFlag{Name: "out", Value: "sheets", Usage: "write sheets.pdf and an SVG of each page to `DIR`"},
			&cli.StringFlag{Name: "paper", Value: "A3", Usage: "`SIZE` of the paper: A3 or A4"},
			&cli.StringFlag{Name: "revision", Usage: "`TEXT` that stands on the sheets as their revision"},
			&cli.BoolFlag{Name: "form", Usage: "also write blank forms for measured values, CSV and XLSX; compare takes them filled in"},
			decisionsFlag,
			todayFlag,
			workersFlag,
		},
		Action: makeSheets,
	}
}

func makeSheets(c *cli.Context) error {
	paper, ok := sheet.ParsePaper(strings.ToUpper(c.String("paper")))
	if !ok {
		return usagef("--paper takes A3 or A4, not %s", finding.Plain(c.String("paper")))
	}
	paths, options, err := readAsked(c)
	if err != nil {
		return err
	}
	set := options.Rules
	log, err := readDecisions(c)
	if err != nil {
		return err
	}
	today, err := dayOf(c, "today")
	if err != nil {
		return err
	}
	m, run, err := check.Run(paths, options)
	if err != nil {
		return err
	}
	lifecycle.Look(m, set, run).Place()
	log.Apply(run, today)
	plan := asbuilt.NewPlan(m, set)
	units, err := unitsOf(plan, c.StringSlice("host"))
	if err != nil {
		return err
	}
	if len(units) == 0 {
		return usagef("nothing is cast into a host of these models: there is nothing to set out; embedcheck inventory tells what was recognised")
	}
	k := sheet.New(m, run, sheet.Options{Paper: paper, Revision: finding.Plain(c.String("revision"))})
	sheets := make([]*sheet.Sheet, len(units))
	element.Parallel(len(units), cmp.Or(c.Int("workers"), runtime.GOMAXPROCS(0)), func(i int) { sheets[i] = k.Of(units[i]) })
	dir := c.String("out")
	files, err := writeSheets(dir, sheets, pdf.Document{Title: "Setting-out sheets", Date: latest(run)})
	if err != nil {
		return err
	}
	if c.Bool("form") {
		forms, err := writeForms(dir, plan, units)
		if err != nil {
			return err
		}
		files = append(files, forms...)
	}
	return tellSheets(c.App.Writer, sheets, files)
}

// writeSheets writes all pages as one PDF, and each as SVG, all or none.
func writeSheets(dir string, sheets []*sheet.Sheet, doc pdf.Document) ([]report.File, error) {
	if err := makeFolder(dir); err != nil {
		return nil, err
	}
	book := filepath.Join(dir, "sheets.pdf")
	files := []report.File{{Path: book, What: "all sheets, to print"}}
	pages := sheet.Pages(sheets)
	out := []atomicfile.Output{{Path: book, Write: func(w io.Writer) error { return pdf.Write(w, doc, pages) }}}
	for i, s := range sheets {
		for j, p := range s.Pages {
			path := filepath.Join(dir, fmt.Sprintf("sheet-%03d-%s-%d.svg", i+1, fileWord(s.Unit.Mark), j+1))
			out = append(out, atomicfile.Output{Path: path, Write: func(w io.Writer) error { return p.SVG(w) }})
		}
	}
	files = append(files, report.File{Path: filepath.Join(dir, "sheet-*.svg"), What: "the same, a drawing a page"})
	return files, atomicfile.WriteAll(out...)
}

// fileWord is what a mark leaves for a file's name: letters, digits and dashes.
func fileWord(mark string) string {
	s := strings.Map(func(r rune) rune {
		if r < unicode.MaxASCII && (unicode.IsLetter(r) || unicode.IsDigit(r)) {
			return r
		}
		return '-'
	}, mark)
	const longest = 40
	return strings.Trim(s[:min(len(s), longest)], "-")
}

func tellSheets(w io.Writer, sheets []*sheet.Sheet, files []report.File) error {
	for _, s := range sheets {
		line := fmt.Sprintf("%s: %d pages, %s up", finding.Plain(s.Unit.Mark), len(s.Pages), s.Unit.Cast.UpName)
		if s.Unit.Cast.Basis == setout.Unknown {
			line += " (not known, ask)"
		}
		if s.Holds > 0 {
			line += fmt.Sprintf("; do not pour: %d open findings on hold", s.Holds)
		}
		fmt.Fprintln(w, line)
	}
	for _, f := range files {
		fmt.Fprintf(w, "%s  %s\n", finding.Plain(f.Path), f.What)
	}
	_, err := fmt.Fprintln(w, finding.Caution)
	return err
}
