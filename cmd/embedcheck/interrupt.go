package main

import (
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"

	"github.com/urfave/cli/v2"

	"embedcheck/internal/atomicfile"
)

// interruptible lets Ctrl-C end a command at once, wherever it is: what it has
// written of files that are not whole goes with it.
func interruptible(act cli.ActionFunc) cli.ActionFunc {
	return func(c *cli.Context) error {
		signals := make(chan os.Signal, 1)
		signal.Notify(signals, os.Interrupt, syscall.SIGTERM)
		done := make(chan struct{})
		defer close(done)
		defer signal.Stop(signals)
		go func() {
			select {
			case <-signals:
				endStopped(c.App.ErrWriter)
			case <-done:
			}
		}()
		return act(c)
	}
}

func endStopped(w io.Writer) {
	atomicfile.Stop()
	fmt.Fprintln(w, "embedcheck: stopped; files that were not whole are removed")
	os.Exit(exitInterrupted)
}
