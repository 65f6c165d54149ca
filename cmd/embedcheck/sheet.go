package main

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"unicode"

	"github.com/urfave/cli/v2"

	"embedcheck/internal/asbuilt"
	"embedcheck/internal/atomicfile"
	"embedcheck/internal/check"
	"embedcheck/internal/drawing"
	"embedcheck/internal/finding"
	"embedcheck/internal/model"
	"embedcheck/internal/pdf"
	"embedcheck/internal/report"
	"embedcheck/internal/setout"
	"embedcheck/internal/sheet"
)

func sheetCommand() *cli.Command {
	return &cli.Command{
		Name:      "sheet",
		Usage:     "setting-out sheets to take to the yard: each host as it is cast, its items dimensioned as they are taped, a pre-pour checklist",
		ArgsUsage: "MODEL...",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "out", Usage: "write sheets.pdf and SVGs for each host to `DIR`", Value: "out"},
			&cli.StringSliceFlag{Name: "host", Usage: "sheets of the host with this `MARK` only; may be given more than once"},
			&cli.StringFlag{Name: "paper", Usage: "A3 or A4, on its side", Value: "A3"},
			&cli.StringFlag{Name: "revision", Usage: "print `TEXT` as the revision on each page"},
			&cli.BoolFlag{Name: "form", Usage: "write blank forms for measured values, too"},
			rulesFlag,
			decisionsFlag,
			todayFlag,
			workersFlag,
		},
		Action: interruptible(makeSheets),
	}
}

func makeSheets(c *cli.Context) error {
	paper, ok := sheet.ParsePaper(strings.ToUpper(c.String("paper")))
	if !ok {
		return usagef("--paper %s: A3 or A4", finding.Plain(c.String("paper")))
	}
	paths, options, err := readAsked(c)
	if err != nil {
		return err
	}
	set := options.Rules
	k := &call{failOn: set.FailOn}
	if k.today, err = dayOf(c, "today"); err != nil {
		return err
	}
	if k.log, err = readDecisions(c); err != nil {
		return err
	}
	m, run, err := check.Run(paths, options)
	if err != nil {
		return err
	}
	k.follow(m, run, set)
	plan := asbuilt.NewPlan(m, set)
	units, err := unitsOf(plan, c.StringSlice("host"))
	if err != nil {
		return err
	}
	if len(units) == 0 {
		return usagef("the models have no host with a body that something is cast into; embedcheck inventory tells what was recognised")
	}
	sheets := newSheets(m, run, units, sheet.Options{Paper: paper, Revision: c.String("revision")})
	dir := c.String("out")
	files, outputs := sheets.outputs(dir)
	if c.Bool("form") {
		forms, more := formOutputs(dir, plan, units)
		files, outputs = append(files, forms...), append(outputs, more...)
	}
	if err := atomicfile.WriteFolder(dir, outputs...); err != nil {
		return err
	}
	sheets.tell(c.App.Writer)
	return report.WriteFiles(c.App.Writer, files)
}

// sheets are those of one call.
type sheets struct {
	run    *finding.Run
	sheets []*sheet.Sheet
}

func newSheets(m *model.Model, run *finding.Run, units []*setout.Unit, o sheet.Options) *sheets {
	k := sheet.New(m, run, o)
	s := &sheets{run: run}
	for _, u := range units {
		s.sheets = append(s.sheets, k.Of(u))
	}
	return s
}

// outputs are the PDF and an SVG of each page.
func (s *sheets) outputs(dir string) ([]report.File, []atomicfile.Output) {
	file := filepath.Join(dir, "sheets.pdf")
	var pages []*drawing.Drawing
	for _, h := range s.sheets {
		pages = append(pages, h.Pages...)
	}
	doc := pdf.Document{Title: "Setting-out sheets", Date: latest(s.run)}
	out := []atomicfile.Output{{Path: file, Write: func(w io.Writer) error { return pdf.Write(w, doc, pages) }}}
	taken := map[string]bool{}
	for _, h := range s.sheets {
		base := fileName(h.Unit.Mark, taken)
		for i, page := range h.Pages {
			name := fmt.Sprintf("sheet-%s-%d.svg", base, i+1)
			out = append(out, atomicfile.Output{Path: filepath.Join(dir, name), Write: page.SVG})
		}
	}
	files := []report.File{
		{Path: file, What: "all sheets, to print"},
		{Path: filepath.Join(dir, "sheet-HOST-PAGE.svg"), What: "each page of each host"},
	}
	return files, out
}

// fileName is a mark as a part of a file's name: letters, digits, points and
// hyphens; numbered where it is taken.
func fileName(mark string, taken map[string]bool) string {
	name := strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) || r == '.' || r == '-' {
			return r
		}
		return '_'
	}, finding.Plain(mark))
	if r := []rune(name); len(r) > 40 {
		name = string(r[:40])
	}
	out := name
	for i := 2; taken[strings.ToLower(out)]; i++ {
		out = fmt.Sprintf("%s_%d", name, i)
	}
	taken[strings.ToLower(out)] = true
	return out
}

// tell says for each host how many pages it has, how its cast is known, and
// whether something holds the pour.
func (s *sheets) tell(w io.Writer) {
	for _, h := range s.sheets {
		c := h.Unit.Cast
		fmt.Fprintf(w, "%s  %d pages; face up: %s (%s)", finding.Plain(h.Unit.Mark), len(h.Pages), c.UpName, finding.Plain(c.Why))
		if c.Basis != setout.Stated {
			fmt.Fprint(w, ", to be confirmed")
		}
		if h.Holds > 0 {
			fmt.Fprintf(w, "; DO NOT POUR: %d on hold", h.Holds)
		}
		fmt.Fprintln(w)
	}
	fmt.Fprintln(w, finding.Caution)
}
