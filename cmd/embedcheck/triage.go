package main

import (
	"fmt"
	"os"
	"os/signal"
	"syscall"

	"github.com/urfave/cli/v2"

	"embedcheck/internal/finding"
	"embedcheck/internal/triage"
)

func triageCommand() *cli.Command {
	return &cli.Command{
		Name:      "triage",
		Usage:     "serve the page of a checked folder to decide about its findings in a browser",
		ArgsUsage: "DIR",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "listen", Value: "127.0.0.1:0", Usage: "`ADDRESS` and port to listen on; port 0 takes a free one"},
			&cli.StringFlag{Name: "decisions", Usage: "`FILE` to write to; without it decisions.json beside DIR"},
			&cli.StringFlag{Name: "by", Usage: "`NAME` that stands in the page as the one who decides"},
			authorFlag,
		},
		Action: serveTriage,
	}
}

func serveTriage(c *cli.Context) error {
	if c.NArg() != 1 {
		return usagef("triage takes one folder that check wrote to")
	}
	dir := c.Args().First()
	path := c.String("decisions")
	if path == "" {
		path = decisionsBeside(dir)
	}
	d, err := triage.Open(triage.Options{
		Dir: dir, Decisions: path, Author: c.String("author"), By: c.String("by"), Now: now,
	})
	if err != nil {
		return usageError{err}
	}
	ctx, stop := signal.NotifyContext(c.Context, os.Interrupt, syscall.SIGTERM)
	defer stop()
	s, err := triage.Listen(d, c.String("listen"))
	if err != nil {
		return usagef("--listen: %w", err)
	}
	if !s.Local() {
		fmt.Fprintln(c.App.ErrWriter, "embedcheck: others can reach this address, and what goes over it is not encrypted; whoever knows the whole of it can decide")
	}
	fmt.Fprintf(c.App.ErrWriter, "%d findings; acts are written to %s. Open this address in a browser; Ctrl-C ends.\n", d.Findings(), finding.Plain(path))
	fmt.Fprintln(c.App.Writer, s.URL)
	return s.Serve(ctx)
}
