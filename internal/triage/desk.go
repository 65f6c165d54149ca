package triage

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"time"

	"embedcheck/internal/bcf"
	"embedcheck/internal/decision"
	"embedcheck/internal/finding"
	"embedcheck/internal/lifecycle"
	"embedcheck/internal/page"
	"embedcheck/internal/report"
)

// Options say what is triaged.
type Options struct {
	Dir       string // a check wrote findings.json, report.html and issues.bcf to it
	Decisions string // file that acts are written to
	Author    string // of the program's own comments in the issue list
	By        string // name that stands in the page at first; may be empty
	Now       func() time.Time
}

// Desk is a checked folder and the decisions about its findings.
type Desk struct {
	Options
	run  *finding.Run // as the check left it, with what others said; never changed
	of   map[string]*finding.Finding
	page *page.Served
	was  time.Time // when findings.json was written
}

const maxPage = 1 << 30

// Open reads the folder. Errors name the file.
func Open(o Options) (*Desk, error) {
	e, err := lifecycle.Load(o.Dir)
	if err != nil {
		return nil, err
	}
	defer e.Close()
	if e.Issues == nil {
		return nil, fmt.Errorf("%s: is not there; embedcheck check MODEL --out DIR writes it", filepath.Join(o.Dir, "issues.bcf"))
	}
	e.Listen(e.Run, o.Author)
	d := &Desk{Options: o, run: e.Run.Sorted(), of: map[string]*finding.Finding{}}
	for i := range d.run.Findings {
		f := &d.run.Findings[i]
		d.of[f.ID] = f
	}
	if d.was, err = d.written(); err != nil {
		return nil, err
	}
	if _, err := decision.Read(o.Decisions); err != nil {
		return nil, err
	}
	d.page, err = readPage(filepath.Join(o.Dir, "report.html"), o.By, d.of)
	return d, err
}

// readPage makes the page to serve out of a report.html about these findings.
func readPage(path, by string, of map[string]*finding.Finding) (*page.Served, error) {
	f, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("%s: is not there; embedcheck check MODEL --out DIR writes it", path)
	}
	if err != nil {
		return nil, err
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, maxPage+1))
	if err != nil {
		return nil, err
	}
	if len(data) > maxPage {
		return nil, fmt.Errorf("%s: larger than %d MiB", path, maxPage>>20)
	}
	p, err := page.Serve(data, by)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	same := len(p.IDs) == len(of)
	for id := range of {
		same = same && p.IDs[id]
	}
	if !same {
		return nil, fmt.Errorf("%s: is about other findings than the findings.json beside it; check the models again", path)
	}
	return p, nil
}

// Findings is how many findings there are.
func (d *Desk) Findings() int { return len(d.run.Findings) }

func (d *Desk) written() (time.Time, error) {
	info, err := os.Stat(filepath.Join(d.Dir, "findings.json"))
	if err != nil {
		return time.Time{}, err
	}
	return info.ModTime(), nil
}

const staleText = "The folder was checked again, or is gone: this page shows the findings before that. Stop embedcheck triage and start it again."

// stale says that the folder does not hold any more what was read; "" while it
// does.
func (d *Desk) stale() string {
	if t, err := d.written(); err != nil || !t.Equal(d.was) {
		return staleText
	}
	return ""
}

// decided is the run with the decisions of a log.
func (d *Desk) decided(l *decision.Log) *finding.Run {
	run := *d.run
	run.Findings = slices.Clone(d.run.Findings)
	l.ApplySince(&run, decision.Day(d.Now()))
	return &run
}

// WriteIssues writes the issue list as it stands now: that of the folder with
// what people decided and said.
func (d *Desk) WriteIssues(out io.Writer) error {
	if s := d.stale(); s != "" {
		return &refusal{text: s}
	}
	l, err := decision.Read(d.Decisions)
	if err != nil {
		return err
	}
	e, err := lifecycle.Load(d.Dir)
	if err != nil {
		return err
	}
	defer e.Close()
	w := &bcf.Writer{Version: e.Issues.Version, Author: d.Author, Date: d.Now()}
	return lifecycle.WriteDecided(out, w, e, d.decided(l))
}

func (d *Desk) verdict(run *finding.Run) string {
	return (&report.Release{Run: run, FailOn: d.page.FailOn}).Verdict()
}
