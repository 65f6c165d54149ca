package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/signal"
	"path/filepath"
	"syscall"

	"github.com/rogpeppe/go-internal/lockedfile"
	"github.com/urfave/cli/v2"

	"embedcheck/internal/report"
	"embedcheck/internal/screen"
)

// keptFlags are the flags of an interrupted run that --resume takes over.
var keptFlags = []string{"rules", "bcf", "author", "fail-on", "today"}

func screenCommand() *cli.Command {
	return &cli.Command{
		Name:      "screen",
		Usage:     "check many files, each a model of its own: a line and a word for each, tables for all",
		ArgsUsage: "DIR|MODEL|PATTERN...",
		Flags: []cli.Flag{
			rulesFlag,
			&cli.StringFlag{Name: "out", Usage: "write tables to `DIR`, and issues.bcf and findings.json of each file to a folder of its name in it"},
			&cli.BoolFlag{Name: "resume", Usage: "go on with the run that was interrupted in --out; files and flags are remembered"},
			&cli.BoolFlag{Name: "again", Usage: "check files again that have not changed since the last run"},
			bcfFlag,
			authorFlag,
			todayFlag,
			&cli.StringFlag{Name: "fail-on", Usage: "least `PRIORITY` that makes the word stop and the exit code 1: note, review or hold"},
			workersFlag,
		},
		Action: screenFiles,
	}
}

func screenFiles(c *cli.Context) error {
	args, err := screenArgs(c)
	if err != nil {
		return err
	}
	s, err := newScreening(c, args)
	if err != nil {
		return err
	}
	if s.store != nil {
		unlock, err := s.begin(c, args)
		if err != nil {
			return err
		}
		defer unlock()
	}
	ctx, stop := signal.NotifyContext(c.Context, os.Interrupt, syscall.SIGTERM)
	defer stop()
	result, err := s.run(ctx, c)
	if errors.Is(err, context.Canceled) {
		return s.interrupted()
	}
	if err != nil {
		return err
	}
	if err := s.finish(result); err != nil {
		return err
	}
	if err := report.WriteScreening(c.App.Writer, result); err != nil {
		return err
	}
	return verdict(result)
}

// screenArgs are the files of the call, or with --resume those of the run that
// was interrupted, whose flags are taken over.
func screenArgs(c *cli.Context) ([]string, error) {
	if c.NArg() > 0 {
		return c.Args().Slice(), nil
	}
	if !c.Bool("resume") {
		return nil, usagef("screen needs a folder, models or a pattern: embedcheck screen panels")
	}
	if c.String("out") == "" {
		return nil, usagef("--resume needs --out DIR: the folder of the run that was interrupted")
	}
	was, err := screen.Interrupted(c.String("out"))
	if err != nil {
		return nil, usagef("--resume: %w", err)
	}
	for _, name := range keptFlags {
		if v := was.Flags[name]; v != "" && !c.IsSet(name) {
			if err := c.Set(name, v); err != nil {
				return nil, usagef("--resume: %w", err)
			}
		}
	}
	return was.Arguments, nil
}

func newScreening(c *cli.Context, args []string) (*screening, error) {
	set, err := readRules(c)
	if err != nil {
		return nil, err
	}
	s := &screening{set: set, out: c.String("out"), again: c.Bool("again"), workers: c.Int("workers")}
	if s.call, err = readOutputs(c, set); err != nil {
		return nil, err
	}
	if s.files, err = screen.Find(args); err != nil {
		return nil, usageError{err}
	}
	if s.out == "" {
		return s, nil
	}
	s.store = screen.NewStore(s.out)
	if exe, err := os.Executable(); err == nil {
		// Without the hash nothing is kept from run to run, which costs time only.
		s.program, _ = screen.HashFile(exe)
	}
	return s, nil
}

// begin makes the folder of the results this run's own.
func (s *screening) begin(c *cli.Context, args []string) (unlock func(), err error) {
	if err := os.MkdirAll(s.out, 0o777); err != nil {
		return nil, fmt.Errorf("the folder for the results cannot be made: %w", err)
	}
	unlock, err = lockedfile.MutexAt(filepath.Join(s.out, screen.Tables+".lock")).Lock()
	if err != nil {
		return nil, fmt.Errorf("%s: the lock in it cannot be taken: %w", s.out, err)
	}
	k := screen.Call{Arguments: args, Flags: map[string]string{}}
	for _, name := range keptFlags {
		if c.IsSet(name) {
			k.Flags[name] = c.String(name)
		}
	}
	if err := k.Begin(s.out); err != nil {
		unlock()
		return nil, err
	}
	return unlock, nil
}
