package main

import (
	"bytes"
	"math"
	"os"
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
	} {
		if err := run(args, &bytes.Buffer{}); err == nil {
			t.Errorf("%v: no error", args)
		}
	}
}
