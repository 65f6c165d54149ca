package check_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"

	"embedcheck/internal/check"
	"embedcheck/internal/finding"
	ifc "embedcheck/internal/ifcbuild"
	"embedcheck/rules"
)

// patience is how long one spoiled model may take: far longer than any does, so
// that only what hangs fails.
const patience = 2 * time.Minute

// look checks what is left of a model. A panic ends the test, and so does what
// does not end by itself; what it was is then in a file that is named.
func look(t *testing.T, name, text string) (*finding.Run, error) {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	timer := time.AfterFunc(patience, func() {
		kept := filepath.Join(os.TempDir(), "hangs-"+name)
		_ = os.WriteFile(kept, []byte(text), 0o600)
		stacks := make([]byte, 1<<20)
		panic(fmt.Sprintf("%s hangs the check; it is %s\n%s", name, kept, stacks[:runtime.Stack(stacks, true)]))
	})
	defer timer.Stop()
	_, run, err := check.Run([]string{path}, check.Options{Workers: 2, Rules: rules.Builtin()})
	return run, err
}

// scene is a small model with a bit of everything that is measured.
func scene() string {
	return string(variant{ifc.IFC4, ifc.MM, turned, false, "clipped", "voids"}.write())
}

// TestSpoiledModels spoils models in every way, again and again: nothing may
// panic or hang. SPOILED=5000 spoils each that many times in each way, SPOILED_IN=DIR
// the models in a folder instead of those of the tests.
func TestSpoiledModels(t *testing.T) {
	rounds := 12
	if n, err := strconv.Atoi(os.Getenv("SPOILED")); err == nil {
		rounds = n
	}
	for name, text := range toSpoil(t) {
		for _, d := range damages {
			t.Run(name+"/"+d.name, func(t *testing.T) {
				for i := range rounds {
					bad := d.spoil(text, rand.New(rand.NewPCG(uint64(i), uint64(len(d.name)))))
					if keep := os.Getenv("SPOILED_KEEP"); keep != "" {
						_ = os.WriteFile(keep, []byte(bad), 0o600)
					}
					look(t, "spoiled.ifc", bad)
				}
			})
		}
	}
}

func toSpoil(t *testing.T) map[string]string {
	t.Helper()
	out := map[string]string{"scene.ifc": scene()}
	paths := []string{"../../testdata/demo/pump-station-steel.ifc", "../../testdata/demo/pump-station-base.ifc"}
	if dir := os.Getenv("SPOILED_IN"); dir != "" {
		clear(out)
		paths, _ = filepath.Glob(filepath.Join(dir, "*.ifc"))
	}
	for _, p := range paths {
		data, err := os.ReadFile(p)
		if err != nil {
			t.Fatal(err)
		}
		out[filepath.Base(p)] = string(data)
	}
	return out
}

// TestCutOffModels cuts models off at every byte, larger ones at many: what was
// cut is an error, or something that was not checked, but never a clean result.
func TestCutOffModels(t *testing.T) {
	for name, text := range toSpoil(t) {
		t.Run(name, func(t *testing.T) {
			whole := len(strings.TrimRight(text, ";\r\n")) // what is cut off behind it is nothing
			for n := 0; n < whole; n += max(1, whole/2500) {
				run, err := look(t, "cut.ifc", text[:n])
				if err == nil && run.Counts.Unchecked == 0 {
					t.Fatalf("cut off at byte %d of %d, and nothing is said of it: %q", n, whole, text[max(0, n-40):n])
				}
			}
		})
	}
}
