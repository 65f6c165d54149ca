package mutate

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"time"
)

// Outcome is what became of a mutant.
type Outcome string

// What can become of a mutant.
const (
	Caught   Outcome = "caught" // a test failed, panicked or did not end
	Alive    Outcome = "alive"
	NotBuilt Outcome = "not built"
)

// Verdict is the outcome of a mutant.
type Verdict struct {
	*Mutant
	Outcome Outcome
	By      string // folder of the tests that caught it
}

// judge runs test binaries.
type judge struct {
	src     *source
	dir     string        // for what is built
	folders []string      // of the tests, in the order in which they are asked
	quick   []string      // of each folder, the pattern of tests that are asked first
	limit   time.Duration // for one run of the tests of a folder
}

// all judges mutants, some at once; tell is called for each as it is done.
func (j *judge) all(mutants, chosen []*Mutant, workers int, tell func(Verdict)) ([]Verdict, error) {
	binaries, err := j.src.together(mutants, j.dir, j.folders)
	if err != nil {
		return nil, err
	}
	for i, b := range binaries { // without a change nothing may fail
		out, ok := j.passes(b, j.folders[i], 0, "-test.v")
		if !ok {
			return nil, fmt.Errorf("%s: its tests fail without a change, or take too long:\n%s", j.folders[i], out)
		}
		j.quick = append(j.quick, quick(out))
	}
	out := make([]Verdict, len(chosen))
	next := make(chan int)
	var wg sync.WaitGroup
	var mu sync.Mutex
	for range workers {
		wg.Go(func() {
			for i := range next {
				out[i] = j.one(chosen[i], binaries)
				mu.Lock()
				tell(out[i])
				mu.Unlock()
			}
		})
	}
	for i := range chosen {
		next <- i
	}
	close(next)
	wg.Wait()
	return out, nil
}

func (j *judge) one(m *Mutant, binaries []string) Verdict {
	for i, folder := range j.folders {
		on := m.ID
		var binary string
		if m.separate {
			dir, err := os.MkdirTemp(j.dir, "alone")
			if err != nil {
				return Verdict{m, NotBuilt, ""}
			}
			defer os.RemoveAll(dir)
			on, binary = 0, filepath.Join(dir, "alone.test")
			if err := j.src.alone(m, dir, folder, binary); err != nil {
				return Verdict{m, NotBuilt, ""}
			}
		} else {
			binary = binaries[i]
		}
		for _, flag := range [...]string{"-test.run=" + j.quick[i], "-test.skip=" + j.quick[i]} {
			if _, ok := j.passes(binary, folder, on, flag); !ok {
				return Verdict{m, Caught, folder}
			}
		}
	}
	return Verdict{m, Alive, ""}
}

// passes runs the tests of a folder with a mutant on. What takes too long, or
// ends in any other way, does not pass.
func (j *judge) passes(binary, folder string, on int, flags ...string) (output []byte, ok bool) {
	ctx, cancel := context.WithTimeout(context.Background(), j.limit)
	defer cancel()
	cmd := exec.CommandContext(ctx, binary, append(flags, "-test.failfast", "-test.timeout="+j.limit.String())...)
	cmd.Dir = folder
	cmd.Env = append(os.Environ(), variable+"="+strconv.Itoa(on))
	out, err := cmd.CombinedOutput()
	return out, err == nil
}

var elapsed = regexp.MustCompile(`(?m)^--- PASS: (\S+) \(([0-9.]+)s\)$`)

// quick is a pattern of the tests of a folder that take no more than a twentieth
// of their time each: they are asked first, and the slow ones only about what
// survives them.
func quick(output []byte) string {
	var names []string
	var took []float64
	sum := 0.0
	for _, m := range elapsed.FindAllSubmatch(output, -1) {
		t, _ := strconv.ParseFloat(string(m[2]), 64)
		names, took, sum = append(names, string(m[1])), append(took, t), sum+t
	}
	var out []string
	for i, n := range names {
		if took[i] <= sum/20 {
			out = append(out, n)
		}
	}
	return "^(" + strings.Join(out, "|") + ")$"
}
