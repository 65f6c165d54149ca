package main

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"embedcheck/rules"
)

// TestMain lets the program call itself, as it does outside of tests.
func TestMain(m *testing.M) {
	if len(os.Args) > 1 && os.Args[1] == childWord {
		exit(child(os.Args[2:], os.Stdout))
	}
	os.Exit(m.Run())
}

// All sections run at a small size, and each prints its figures. What they
// measure is no matter here.
func TestSections(t *testing.T) {
	var out bytes.Buffer
	args := []string{"-sizes", "100kB,200kB", "-bars", "2000,4000", "-topics", "10,20", "-models", "2", "-runs", "1", "-library", t.TempDir()}
	if err := run(args, &out); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"check / wc -l", "check / sha256sum", "(peak memory - 16 MiB) / file", "exponent", "index / wc -l",
		"one stack, growth from 2e+03 to 4e+03 bars", "one worker / two", "outputs that differ", "screen / sum of checks",
		"14 topics, written", "28 topics, written", "memory for each topic",
	} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("the table has no %q", want)
		}
	}
	if t.Failed() || testing.Verbose() {
		t.Log(out.String())
	}
}

// The number of findings grows as the number of bars does: the time is for the
// same work a bar.
func TestLayoutsAreAsDenseForManyBars(t *testing.T) {
	for _, l := range layouts {
		found := func(n int) float64 {
			all, err := rules.Run(l.scene(n), rules.Builtin(), 1)
			if err != nil {
				t.Fatal(err)
			}
			count := 0.0
			for _, f := range all {
				if f.Rule == rules.ReinforcementClearance.ID {
					count++
				}
			}
			return count
		}
		few, many := found(20_000), found(60_000)
		if few < 15 || math.Abs(many/few-3) > 0.6 {
			t.Errorf("%s: %.0f findings, and %.0f for three times the bars", l.name, few, many)
		}
	}
}

func TestTargets(t *testing.T) {
	for _, c := range []struct {
		target
		got           float64
		want, verdict string
	}{
		{atMost(15).to(10), 15, "<= 15 (10)", "met"},
		{atMost(15).to(10), 15.01, "<= 15 (10)", "MISSED"},
		{atLeast(25), 24.9, ">= 25", "MISSED"},
		{atLeast(25), 25, ">= 25", "met"},
		{atMost(0), 0, "<= 0", "met"},
		{target{}, 7, "", ""},
	} {
		if want, verdict := c.words(c.got); want != c.want || verdict != c.verdict {
			t.Errorf("%g: %q %q, want %q %q", c.got, want, verdict, c.want, c.verdict)
		}
	}
	if e := growth([2]float64{2, 200}, [2]float64{5, 50}); math.Abs(e-2) > 1e-12 {
		t.Errorf("a hundred times for ten times the size: exponent %g, want 2", e)
	}
}

func TestWrongCalls(t *testing.T) {
	for _, args := range [][]string{
		{"-sections", "check,speed"},
		{"-sizes", "much"},
		{"-sizes", "50MB,5MB"},
		{"-bars", "0"},
		{"-topics", "5,"},
		{"-yard", "large"},
	} {
		if err := run(args, &bytes.Buffer{}); err == nil {
			t.Errorf("%v: no error", args)
		}
	}
}

func TestGateFailsForMuchWorseOnly(t *testing.T) {
	kept := gateFigures{Time: 2, Memory: 10}
	for _, c := range []struct {
		now  gateFigures
		says string // in the error; "" for none
		out  bool   // asks to keep the better figures
	}{
		{now: gateFigures{2, 10}},
		{now: gateFigures{5.9, 19.9}},
		{now: gateFigures{6.1, 10}, says: "processor time of a check / calibration: 6.10 is more than 3 times"},
		{now: gateFigures{2, 20.1}, says: "peak memory of a check / file: 20.10 is more than 2 times"},
		{now: gateFigures{1.1, 10}, out: true},
		{now: gateFigures{1.3, 6.1}},
	} {
		var out bytes.Buffer
		err := c.now.hold(kept, &out)
		if (err != nil) != (c.says != "") || err != nil && !strings.Contains(err.Error(), c.says) {
			t.Errorf("%v: error %v, want %q", c.now, err, c.says)
		}
		if got := strings.Contains(out.String(), "-gate -keep"); got != c.out {
			t.Errorf("%v: asks to keep: %v", c.now, got)
		}
	}
}

func TestGateFileIsRead(t *testing.T) {
	path := filepath.Join(t.TempDir(), "gate.json")
	if err := writeGate(path, gateFigures{1.234567, 18}); err != nil {
		t.Fatal(err)
	}
	if f, err := readGate(path); err != nil || f != (gateFigures{1.23, 18}) {
		t.Errorf("%v, %v", f, err)
	}
	for _, wrong := range []string{"", "{}", `{"check_over_calibration": 2}`} {
		if err := os.WriteFile(path, []byte(wrong), 0o666); err != nil {
			t.Fatal(err)
		}
		if f, err := readGate(path); err == nil {
			t.Errorf("%q: no error, %v", wrong, f)
		}
	}
	if _, err := readGate("gate.json"); err != nil {
		t.Error(err)
	}
}
