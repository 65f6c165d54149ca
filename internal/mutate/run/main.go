// Command run asks how much the tests of a package notice.
//
//	go run ./internal/mutate/run ./rules
//
// It changes the package in one place at a time, runs its tests and then those of
// the folders of -tests, and prints what no test noticed. See package mutate.
package main

import (
	"flag"
	"fmt"
	"os"
	"regexp"
	"strings"
	"time"

	"embedcheck/internal/mutate"
)

func main() {
	if err := run(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run() error {
	n := flag.Int("n", 0, "how many mutants, chosen by -seed; 0 for all")
	seed := flag.Uint64("seed", 1, "which ones")
	only := flag.String("only", "", "pattern of keys, as the report prints them, that are tried")
	tests := flag.String("tests", "internal/check", "folders whose tests are run as well, with commas between them; \"\" for none")
	limit := flag.Duration("limit", time.Minute, "for one run of the tests of a folder")
	workers := flag.Int("workers", 1, "how many mutants at once")
	listed := flag.String("equivalent", "internal/mutate/testdata/equivalent.txt", "list of mutants that change nothing, with reasons")
	skip := flag.Bool("skip-equivalent", false, "do not run those that are listed")
	list := flag.Bool("list", false, "print the mutants and run nothing")
	flag.Parse()
	if flag.NArg() != 1 {
		return fmt.Errorf("the folder of one package is wanted: go run ./internal/mutate/run ./rules")
	}
	pattern, err := regexp.Compile(*only)
	if err != nil {
		return err
	}
	known, err := mutate.ReadEquivalents(*listed)
	if err != nil {
		return err
	}
	p, err := mutate.Load(flag.Arg(0))
	if err != nil {
		return err
	}
	chosen := p.Sample(*seed, *n, func(m *mutate.Mutant) bool { return pattern.MatchString(m.Key()) && !(*skip && known.Has(m)) })
	if *list {
		for _, m := range chosen {
			fmt.Println(m, "\n    ", m.Key())
		}
		return nil
	}
	fmt.Fprintf(os.Stderr, "%d of %d mutants\n", len(chosen), len(p.Mutants))
	done := 0
	verdicts, err := p.Judge(chosen, fields(*tests), *limit, *workers, func(v mutate.Verdict) {
		done++
		fmt.Fprintf(os.Stderr, "%d/%d %s %v\n", done, len(chosen), v.Outcome, v.Mutant)
	})
	if err != nil {
		return err
	}
	if _, sound := mutate.WriteReport(os.Stdout, verdicts, known); !sound {
		return fmt.Errorf("%s: what is listed as equivalent was caught", *listed)
	}
	return nil
}

func fields(s string) []string {
	return strings.FieldsFunc(s, func(r rune) bool { return r == ',' })
}
