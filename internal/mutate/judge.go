package mutate

import (
	"context"
	"errors"
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
	limit   time.Duration // for one run of the tests of a folder
}

// all judges mutants, some at once; tell is called for each as it is done.
func (j *judge) all(mutants, chosen []*Mutant, workers int, tell func(Verdict)) ([]Verdict, error) {
	binaries, err := j.src.together(mutants, j.dir, j.folders)
	if err != nil {
		return nil, err
	}
	for i, b := range binaries { // without a change nothing may fail
		if ok, err := j.passes(b, j.folders[i], 0); err != nil || !ok {
			return nil, errors.Join(errors.New(j.folders[i]+": its tests fail without a change, or take too long"), err)
		}
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
		if own := j.src.ownTests(m.File); i == 0 && own != "" {
			if ok, err := j.passes(binary, folder, on, "-test.run="+own); err != nil || !ok {
				return Verdict{m, Caught, folder}
			}
		}
		if ok, err := j.passes(binary, folder, on); err != nil || !ok {
			return Verdict{m, Caught, folder}
		}
	}
	return Verdict{m, Alive, ""}
}

// passes runs the tests of a folder with a mutant on. What takes too long, or
// ends in any other way, does not pass.
func (j *judge) passes(binary, folder string, on int, flags ...string) (bool, error) {
	ctx, cancel := context.WithTimeout(context.Background(), j.limit)
	defer cancel()
	cmd := exec.CommandContext(ctx, binary, append(flags, "-test.failfast", "-test.timeout="+j.limit.String())...)
	cmd.Dir = folder
	cmd.Env = append(os.Environ(), variable+"="+strconv.Itoa(on))
	err := cmd.Run()
	var failed *exec.ExitError
	if err != nil && !errors.As(err, &failed) {
		return false, err
	}
	return err == nil, nil
}

var testFunc = regexp.MustCompile(`(?m)^func (Test\w+)\(`)

// ownTests is a pattern of the tests in the test file beside a file, which are
// asked first because they are the likeliest to notice; "" when there are none.
func (s *source) ownTests(file string) string {
	data, err := os.ReadFile(filepath.Join(s.dir, strings.TrimSuffix(file, ".go")+"_test.go"))
	if err != nil {
		return ""
	}
	var names []string
	for _, m := range testFunc.FindAllSubmatch(data, -1) {
		names = append(names, string(m[1]))
	}
	if len(names) == 0 {
		return ""
	}
	return "^(" + strings.Join(names, "|") + ")$"
}
