package main

import (
	"fmt"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
)

// benchScreen holds the screening of many small models against checks of them
// one by one, each with one worker, their sum shared out over the cores.
func benchScreen(b *bench) error {
	dir := filepath.Join(b.work, fmt.Sprintf("panels-%d", b.models))
	if _, err := output(b.own("panels", strconv.Itoa(b.models), dir)); err != nil {
		return err
	}
	paths, err := filepath.Glob(filepath.Join(dir, "*.ifc"))
	if err != nil {
		return err
	}
	slices.Sort(paths)
	for _, written := range []bool{false, true} {
		if err := b.screenOnce(dir, paths, written); err != nil {
			return err
		}
	}
	return nil
}

func (b *bench) screenOnce(dir string, paths []string, written bool) error {
	out := func(name string) []string {
		if !written {
			return nil
		}
		return []string{"--out", filepath.Join(b.temp, name)}
	}
	screened, err := b.inTurns(b.screening(dir, written))
	if err != nil {
		return err
	}
	var sum float64
	for i, p := range paths {
		var c cost
		args := slices.Concat([]string{"check", "--workers", "1"}, out(fmt.Sprintf("one/%d", i)), []string{p})
		if err := c.measure(b.program(args...)); err != nil {
			return err
		}
		sum += c.wall
	}
	what := "screen / sum of checks over the cores"
	if written {
		what += ", files written"
	}
	share := sum / float64(runtime.NumCPU())
	b.table.add(what, screened[0].wall/share, atMost(1.3), "%s / %s for %d models, %s peak", seconds(screened[0].wall), seconds(share), len(paths), size(screened[0].peak))
	return nil
}

// screening writes to a new folder in each run: what has not changed since the
// last one would not be checked again.
func (b *bench) screening(dir string, written bool) command {
	c := b.program("screen", dir)
	c.good = 3
	if written {
		c.each = func(run int) []string {
			return []string{b.binary, "screen", "--out", filepath.Join(b.temp, fmt.Sprintf("screen-%d", run)), dir}
		}
	}
	return c
}
