package main

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/urfave/cli/v2"

	"embedcheck/internal/atomicfile"
	"embedcheck/internal/check"
	"embedcheck/internal/decision"
	"embedcheck/internal/finding"
	"embedcheck/internal/report"
	"embedcheck/internal/screen"
	"embedcheck/rules"
)

// screening is one run over many files.
type screening struct {
	*call
	set     *rules.Set
	files   []screen.File
	out     string        // "" without
	store   *screen.Store // nil without out
	again   bool
	program string // hash of this program
	workers int
}

// screened is what became of one file.
type screened struct {
	panel report.Panel
	kept  bool  // from an earlier run
	err   error // of writing; reading errors are in the panel
}

// run screens all files and tells each as it is known.
func (s *screening) run(ctx context.Context, c *cli.Context) (*report.Screening, error) {
	names := make([]string, len(s.files))
	for i, f := range s.files {
		names[i] = f.Folder
	}
	lines := report.NewPanelLines(c.App.Writer, names, s.failOn)
	var progress *screen.Progress
	if report.OnTerminal(c.App.ErrWriter) {
		progress = screen.NewProgress(c.App.ErrWriter, s.files, now)
		defer progress.Clear()
	}
	do := func(f screen.File, workers int) screened {
		r := s.file(f, workers)
		progress.Done(f)
		return r
	}
	result := &report.Screening{Ruleset: s.set.Name, FailOn: s.failOn}
	kept := 0
	err := screen.Run(ctx, s.files, s.workers, do, func(_ int, r screened) error {
		if r.err != nil {
			return r.err
		}
		if r.kept {
			kept++
		}
		result.Panels = append(result.Panels, r.panel)
		progress.Clear()
		return lines.Write(&r.panel)
	})
	if err == nil && kept > 0 {
		progress.Clear()
		fmt.Fprintf(c.App.ErrWriter, "%d of %d files have not changed since they were checked; --again checks them all the same\n", kept, len(s.files))
	}
	return result, err
}

// file checks one file, unless what is kept of it still holds. Whatever is
// wrong with it becomes its line.
func (s *screening) file(f screen.File, workers int) (r screened) {
	defer func() {
		if p := recover(); p != nil {
			r = s.unread(f, fmt.Sprintf("the program failed on this file: %v", p))
		}
	}()
	key, log, err := s.key(f)
	if err != nil {
		return s.unread(f, err.Error())
	}
	if s.store != nil && !s.again && s.store.HasMarker(f) {
		if key.Model, err = screen.HashFile(f.Path); err != nil {
			return s.unread(f, err.Error())
		}
		if p, ok := s.store.Load(f, key); ok {
			return screened{panel: p, kept: true}
		}
	}
	m, run, err := check.Run([]string{f.Path}, check.Options{Workers: workers, Rules: s.set})
	if err != nil {
		return s.unread(f, err.Error())
	}
	one := *s.call
	one.log = log
	one.follow(m, run, s.set)
	r.panel = screen.Panel(f, m, run)
	if s.store != nil {
		key.Model = run.Models[0].SHA256
		_, outputs := one.outputs(s.store.Folder(f), newViews(m), run, nil)
		r.err = s.store.Save(f, key, r.panel, outputs)
	}
	return r
}

// unread is the result of a file that could not be checked. What was kept of it
// is no result of it any more.
func (s *screening) unread(f screen.File, why string) screened {
	r := screened{panel: report.Panel{File: f.Folder, Problem: why}}
	if s.store != nil {
		r.err = s.store.Drop(f)
	}
	return r
}

// key is what the results of a file depend on, but for the model, and the
// decisions about it: those beside the folder of its results.
func (s *screening) key(f screen.File) (screen.Key, *decision.Log, error) {
	k := screen.Key{
		Path: f.Path, Rules: s.set.SHA256, Program: s.program,
		Options: strings.Join([]string{s.version.String(), s.author, s.failOn.String()}, "|"),
	}
	if s.store == nil {
		return k, &decision.Log{}, nil
	}
	path := decisionsBeside(s.store.Folder(f))
	log, err := decision.Read(path)
	if err != nil || len(log.Entries) == 0 {
		return k, log, err
	}
	sum, err := screen.HashFile(path)
	k.Decisions = sum + "|" + s.today
	return k, log, err
}

// finish writes the tables and says that the run is done.
func (s *screening) finish(result *report.Screening) error {
	if s.store == nil {
		return nil
	}
	base := filepath.Join(s.out, screen.Tables)
	result.Files = []report.File{
		{Path: base + ".xlsx", What: "all files in a workbook"},
		{Path: base + ".csv", What: "all files, for spreadsheets"},
		{Path: base + ".json", What: "all files, for programs"},
		{Path: filepath.Join(s.out, "*"), What: "a folder for each file, as check writes it"},
	}
	tables := result.Tables()
	if err := atomicfile.WriteAll(tableOutputs(base, tables)...); err != nil {
		return err
	}
	return screen.End(s.out)
}

// interrupted ends a run that was stopped: nothing is written after it.
func (s *screening) interrupted() error {
	if s.store == nil {
		return errInterrupted
	}
	s.store.Close()
	return fmt.Errorf("%w; what was finished is kept: embedcheck screen --resume --out %s", errInterrupted, finding.Plain(s.out))
}

// verdict is the exit code of a screening, as an error.
func verdict(s *report.Screening) error {
	unread, stop := 0, false
	for i := range s.Panels {
		if s.Panels[i].Problem != "" {
			unread++
		}
		stop = stop || s.Panels[i].Word(s.FailOn) == report.Stop
	}
	if unread > 0 {
		return fmt.Errorf("%d of %d files could not be read; their lines say why", unread, len(s.Panels))
	}
	if stop {
		return errFound
	}
	return nil
}
