package mutate

import (
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
)

// tally counts outcomes.
type tally struct{ caught, alive, equivalent, notBuilt int }

func (t *tally) add(v Verdict, listed bool) {
	switch {
	case v.Outcome == Caught:
		t.caught++
	case v.Outcome == NotBuilt:
		t.notBuilt++
	case listed:
		t.equivalent++
	default:
		t.alive++
	}
}

// share is the part that was caught of what could be, in percent.
func (t *tally) share() float64 {
	if t.caught+t.alive == 0 {
		return 100
	}
	return 100 * float64(t.caught) / float64(t.caught+t.alive)
}

func (t *tally) String() string {
	return fmt.Sprintf("%6.1f %% caught: %d caught, %d alive, %d equivalent, %d not built", t.share(), t.caught, t.alive, t.equivalent, t.notBuilt)
}

// WriteReport writes what became of mutants by file, then each that no test
// noticed, and what is wrong with the list of equivalent ones. It gives the share
// that was caught of those that are not equivalent, in percent, and whether the
// list holds.
func WriteReport(w io.Writer, verdicts []Verdict, list *Equivalents) (share float64, sound bool) {
	files, all := map[string]*tally{}, &tally{}
	for _, v := range verdicts {
		t := files[v.File]
		if t == nil {
			t = &tally{}
			files[v.File] = t
		}
		_, listed := list.reasons[v.Key()]
		t.add(v, listed)
		all.add(v, listed)
	}
	for _, name := range slices.Sorted(maps.Keys(files)) {
		fmt.Fprintf(w, "%-28s %v\n", name, files[name])
	}
	fmt.Fprintf(w, "%-28s %v\n", "all", all)
	section(w, "alive", verdicts, func(v Verdict) bool { return v.Outcome == Alive && list.reasons[v.Key()] == "" })
	section(w, "not built", verdicts, func(v Verdict) bool { return v.Outcome == NotBuilt })
	caught := section(w, "listed as equivalent, but caught", verdicts, func(v Verdict) bool { return v.Outcome == Caught && list.reasons[v.Key()] != "" })
	return all.share(), caught == 0
}

func section(w io.Writer, title string, verdicts []Verdict, which func(Verdict) bool) (n int) {
	var b strings.Builder
	for _, v := range verdicts {
		if which(v) {
			fmt.Fprintf(&b, "  %v\n      key: %s\n", v.Mutant, v.Key())
			n++
		}
	}
	if n > 0 {
		fmt.Fprintf(w, "\n%s (%d)\n%s", title, n, b.String())
	}
	return n
}
