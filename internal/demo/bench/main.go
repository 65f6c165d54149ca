// Command bench measures the speed and the memory of the built program, as
// ratios to other programs on the same file in the same run: machines differ,
// ratios do so much less.
//
//	go run ./internal/demo/bench                                   everything; half an hour
//	go run ./internal/demo/bench -sections check -sizes 5MB,50MB   some of it; a minute
//	go run ./internal/demo/bench -list                             the sections
//
// What is compared runs in turns, each in a process of its own, on files that
// were read once before. Times are the least of some runs, memory is the most.
package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"time"
)

func main() {
	if len(os.Args) > 1 && os.Args[1] == childWord {
		exit(child(os.Args[2:], os.Stdout))
	}
	exit(run(os.Args[1:], os.Stdout))
}

func exit(err error) {
	if err != nil && !errors.Is(err, flag.ErrHelp) {
		fmt.Fprintln(os.Stderr, "bench:", err)
		os.Exit(1)
	}
	os.Exit(0)
}

// section is a part of the table that can be asked for alone.
type section struct {
	name, what string
	run        func(*bench) error
}

var sections = []section{
	{"check", "whole checks against wc -l and sha256sum, peak memory, growth with the size of the file", benchCheck},
	{"index", "opening a file (ifcread) against wc -l", benchIndex},
	{"library", "whole checks against web-ifc streaming all meshes", benchLibrary},
	{"clash", "finding bars near items, growth of processor time with the number of bars", benchClash},
	{"workers", "two workers against one, and the same bytes for any number", benchWorkers},
	{"screen", "screening many small models against the sum of their checks", benchScreen},
	{"topics", "writing issue lists with pictures and drawings", benchTopics},
}

// config is what the flags say.
type config struct {
	names  []string // of the sections
	sizes  []int64  // bytes of the models
	bars   []int
	topics []int
	models int
	runs   int
	budget time.Duration
	dir    string
	binary string
	yard   string // mixed or plain
	module string // folder where the library was installed
	gated  bool   // only hold a small check against the figures that were kept
	keep   bool   // keep the figures of now instead
}

func readFlags(args []string, out io.Writer) (*config, error) {
	c := &config{}
	fs := flag.NewFlagSet("bench", flag.ContinueOnError)
	names := fs.String("sections", "", "`NAMES` of sections, with commas; without it all")
	sizes := fs.String("sizes", "5MB,50MB,500MB", "`SIZES` of the models, ascending")
	bars := fs.String("bars", "100000,1000000", "`NUMBERS` of bars in the clash section, ascending")
	topics := fs.String("topics", "500,2000", "`NUMBERS` of topics that are written, ascending")
	fs.IntVar(&c.models, "models", 1000, "`NUMBER` of models that are screened")
	fs.IntVar(&c.runs, "runs", 5, "runs of each command")
	fs.DurationVar(&c.budget, "budget", 30*time.Second, "a command is not run again once its runs took so `LONG`")
	fs.StringVar(&c.dir, "dir", "", "`FOLDER` that keeps the models for the next run; without it they go")
	fs.StringVar(&c.yard, "yard", "mixed", "`KIND` of the models: mixed, panels of many designs, or plain, panels of one")
	fs.StringVar(&c.binary, "binary", "", "measure the program at `PATH` instead of building it")
	fs.StringVar(&c.module, "library", filepath.Join("internal", "element", "testdata", "reader"), "`FOLDER` where npm installed web-ifc, in the checkout")
	fs.BoolVar(&c.gated, "gate", false, "only hold a small check against the figures in gate.json; fails when one is much worse")
	fs.BoolVar(&c.keep, "keep", false, "with -gate: keep the figures of this run")
	list := fs.Bool("list", false, "print the sections")
	if err := fs.Parse(args); err != nil {
		return nil, err
	}
	if *list {
		for _, s := range sections {
			fmt.Fprintf(out, "%-8s  %s\n", s.name, s.what)
		}
		return nil, flag.ErrHelp
	}
	if c.yard != "mixed" && c.yard != "plain" {
		return nil, fmt.Errorf("-yard: there is no %q; there are mixed, plain", c.yard)
	}
	return c, errors.Join(c.choose(*names), readList(*sizes, "-sizes", &c.sizes), readList(*bars, "-bars", &c.bars), readList(*topics, "-topics", &c.topics))
}

func (c *config) choose(names string) error {
	var known []string
	for _, s := range sections {
		known = append(known, s.name)
	}
	c.names = known
	if names == "" {
		return nil
	}
	c.names = strings.Split(names, ",")
	for _, n := range c.names {
		if !slices.Contains(known, n) {
			return fmt.Errorf("-sections: there is no %q; there are %s", n, strings.Join(known, ", "))
		}
	}
	return nil
}

// readList reads numbers with kB, MB or GB behind them or none.
func readList[T int | int64](text, name string, to *[]T) error {
	for s := range strings.SplitSeq(text, ",") {
		number, unit := s, 1.0
		for suffix, n := range map[string]float64{"kB": 1e3, "MB": 1e6, "GB": 1e9} {
			if rest, ok := strings.CutSuffix(s, suffix); ok {
				number, unit = rest, n
			}
		}
		var f float64
		if _, err := fmt.Sscanf(number+"\n", "%g\n", &f); err != nil || f <= 0 {
			return fmt.Errorf("%s: %q is no size", name, s)
		}
		*to = append(*to, T(f*unit))
	}
	if !slices.IsSorted(*to) {
		return fmt.Errorf("%s: want the least first", name)
	}
	return nil
}

func run(args []string, out io.Writer) error {
	c, err := readFlags(args, out)
	if err != nil {
		return err
	}
	b, err := newBench(c, out)
	if err != nil {
		return err
	}
	defer b.clean()
	stop := make(chan os.Signal, 1)
	signal.Notify(stop, os.Interrupt)
	go func() {
		<-stop
		b.clean()
		os.Exit(130)
	}()
	if c.gated {
		return b.gate(out, c.keep)
	}
	fmt.Fprintf(out, "%d cores, %s, load %s; %s yard; least of up to %d runs in turns, files read once before\n", runtime.NumCPU(), runtime.Version(), load(), c.yard, c.runs)
	for _, s := range sections {
		if !slices.Contains(c.names, s.name) {
			continue
		}
		if err := s.run(b); err != nil {
			return fmt.Errorf("%s: %w", s.name, err)
		}
		b.table.print(out, s.name+": "+s.what)
	}
	return nil
}

// load is how many programs want a core at the moment, on average of the last
// minute: where it is near the number of cores before anything is measured,
// only the rows of processor time say something.
func load() string {
	text, err := os.ReadFile("/proc/loadavg")
	if first, _, ok := strings.Cut(string(text), " "); err == nil && ok {
		return first
	}
	return "unknown"
}
