package main

import (
	"encoding/json"
	"fmt"
	"io"
	"strconv"
	"strings"
	"syscall"
	"time"

	"embedcheck/rules"
)

// clashTime is what the clash phase of one model took, in processor time: it
// runs with one worker, and others may use the machine.
type clashTime struct {
	Seconds  float64
	Findings int
}

// benchClash measures how the time to find bars near items grows with their
// number, where they lie in rows, in one stack and at random.
func benchClash(b *bench) error {
	for _, layout := range layouts {
		times := make([]clashTime, len(b.bars))
		for round := range min(b.runs, 3) {
			for i, n := range b.bars {
				text, err := output(b.own("clash", strconv.Itoa(n), layout.name))
				if err != nil {
					return err
				}
				var t clashTime
				if err := json.Unmarshal([]byte(text), &t); err != nil {
					return err
				}
				if round == 0 || t.Seconds < times[i].Seconds {
					times[i] = t
				}
			}
		}
		for i := 1; i < len(times); i++ {
			s := [2]float64{float64(b.bars[i-1]), float64(b.bars[i])}
			b.table.add(fmt.Sprintf("%s, growth from %.3g to %.3g bars, exponent", layout.name, s[0], s[1]),
				growth([2]float64{times[i-1].Seconds, times[i].Seconds}, s), atMost(1.2),
				"%s for %d findings, %s for %d", seconds(times[i-1].Seconds), times[i-1].Findings, seconds(times[i].Seconds), times[i].Findings)
		}
	}
	return nil
}

// processorTime is what this process has used so far.
func processorTime() (time.Duration, error) {
	var u syscall.Rusage
	err := syscall.Getrusage(syscall.RUSAGE_SELF, &u)
	return time.Duration(u.Utime.Nano() + u.Stime.Nano()), err
}

// clash makes a model of n bars, runs the rules about clear distances over it
// and prints the least time of three runs.
func clash(n int, layout string, out io.Writer) error {
	s, err := newScene(n, layout)
	if err != nil {
		return err
	}
	set := rules.Builtin()
	set.Rules = map[string]rules.Change{}
	off := true
	for _, r := range rules.All {
		if !r.Always && !strings.HasSuffix(r.ID, "-clearance") {
			set.Rules[r.ID] = rules.Change{Off: &off}
		}
	}
	best := clashTime{}
	for k := range 3 {
		began, err := processorTime()
		if err != nil {
			return err
		}
		found, err := rules.Run(s, set, 1)
		if err != nil {
			return err
		}
		ended, err := processorTime()
		if err != nil {
			return err
		}
		took := (ended - began).Seconds()
		if k == 0 || took < best.Seconds {
			best = clashTime{took, len(found)}
		}
	}
	return json.NewEncoder(out).Encode(best)
}
