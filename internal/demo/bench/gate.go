package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
)

const (
	gateSize     = 5_000_000
	gateRuns     = 7
	gateWorse    = 3   // times the kept figure, for time: shared machines differ from hour to hour
	gateLarger   = 2   // times the kept figure, for memory, which differs less
	gateOutdated = 0.6 // of the kept figure: the gate no longer guards what was gained
)

// gateFigures are what a change must not make much worse. They are kept in
// gate.json.
type gateFigures struct {
	Time   float64 `json:"check_over_calibration"` // processor time of a check with one worker over that of calibrate
	Memory float64 `json:"peak_memory_over_file"`  // of that check
}

// gate measures a small check against a fixed piece of work in the same run and
// holds it against the figures that were kept; with keep they are kept anew.
func (b *bench) gate(out io.Writer, keep bool) error {
	path, bytes, err := b.model(gateSize)
	if err != nil {
		return err
	}
	b.runs = gateRuns
	costs, err := b.inTurns(b.program("check", "--workers", "1", path), b.own("calibrate", "400000", ""))
	if err != nil {
		return err
	}
	now := gateFigures{costs[0].cpu / costs[1].cpu, costs[0].peak / bytes}
	file := filepath.Join(b.root, "internal", "demo", "bench", "gate.json")
	if keep {
		return writeGate(file, now)
	}
	kept, err := readGate(file)
	if err != nil {
		return err
	}
	return now.hold(kept, out)
}

// hold compares with what was kept. The error names each figure that is much
// worse.
func (now gateFigures) hold(kept gateFigures, out io.Writer) error {
	var errs []error
	for _, f := range []struct {
		what             string
		now, kept, limit float64
	}{
		{"processor time of a check / calibration", now.Time, kept.Time, gateWorse},
		{"peak memory of a check / file", now.Memory, kept.Memory, gateLarger},
	} {
		fmt.Fprintf(out, "%s: %.2f, kept %.2f\n", f.what, f.now, f.kept)
		if f.now > f.limit*f.kept {
			errs = append(errs, fmt.Errorf("%s: %.2f is more than %g times what was kept, %.2f; profile the check, or run with -gate -keep if it is worth it", f.what, f.now, f.limit, f.kept))
		}
		if f.now < gateOutdated*f.kept {
			fmt.Fprintln(out, "  much better than what was kept: run go run ./internal/demo/bench -gate -keep, so that it stays so")
		}
	}
	return errors.Join(errs...)
}

func readGate(path string) (f gateFigures, err error) {
	text, err := os.ReadFile(path)
	if err != nil {
		return f, err
	}
	if err := json.Unmarshal(text, &f); err != nil {
		return f, fmt.Errorf("%s: %w", path, err)
	}
	if !(f.Time > 0 && f.Memory > 0) {
		return f, fmt.Errorf("%s: both figures must be greater than 0; write it anew with -gate -keep", path)
	}
	return f, nil
}

func writeGate(path string, f gateFigures) error {
	f = gateFigures{math.Round(f.Time*100) / 100, math.Round(f.Memory*100) / 100}
	text, err := json.MarshalIndent(f, "", " ")
	if err != nil {
		return err
	}
	return os.WriteFile(path, append(text, '\n'), 0o666)
}

// calibrate is a fixed piece of work of the kind that a check does: numbers are
// read from text, sorted and looked up. It uses the language only, so that a
// change of this project cannot make it faster or slower.
func calibrate(n int, out io.Writer) error {
	r := rand.New(rand.NewPCG(3, 4))
	texts := make([]string, n)
	for i := range texts {
		texts[i] = strconv.FormatFloat(r.Float64()*1e5, 'f', 3, 64)
	}
	sum := 0.0
	for range 2 {
		places := map[float64]int{}
		var all []float64
		for i, s := range texts {
			f, err := strconv.ParseFloat(s, 64)
			if err != nil {
				return err
			}
			places[f] = i
			all = append(all, f)
		}
		slices.Sort(all)
		for i, f := range all {
			sum += float64(places[f] ^ i)
		}
	}
	_, err := fmt.Fprintln(out, sum)
	return err
}
