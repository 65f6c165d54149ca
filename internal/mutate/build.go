package mutate

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
)

// overlay is a set of files that stand in for others, or are added, in a build.
type overlay struct {
	dir     string
	replace map[string]string
}

func newOverlay(dir string) *overlay { return &overlay{dir, map[string]string{}} }

func (o *overlay) put(path string, text []byte) error {
	dir := filepath.Join(o.dir, strconv.Itoa(len(o.replace))) // errors show the name of the file
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return err
	}
	o.replace[path] = filepath.Join(dir, filepath.Base(path))
	return os.WriteFile(o.replace[path], text, 0o600)
}

// test builds the test binary of a package in a folder.
func (o *overlay) test(folder, binary string) error {
	list, err := json.Marshal(map[string]any{"Replace": o.replace})
	if err != nil {
		return err
	}
	path := filepath.Join(o.dir, "overlay.json")
	if err := os.WriteFile(path, list, 0o600); err != nil {
		return err
	}
	_, err = command(folder, "go", "test", "-c", "-vet=off", "-gcflags=-e", "-overlay", path, "-o", binary, ".")
	return err
}

// instrumented puts all mutants but those left out into an overlay.
func (s *source) instrumented(dir string, without map[int]bool) (*overlay, error) {
	o := newOverlay(dir)
	for _, f := range s.files {
		var edits []edit
		for _, e := range f.together {
			if !without[e.owner] {
				edits = append(edits, e)
			}
		}
		if err := o.put(f.path, apply(f.src, edits)); err != nil {
			return nil, err
		}
	}
	return o, o.put(filepath.Join(s.dir, "zz_mutants.go"), fmt.Appendf(nil, helpers, s.types.Name()))
}

var compileError = regexp.MustCompile(`(?m)([^\s/]+\.go):(\d+):\d+: `)

// together builds the test binaries of the folders with all mutants in it that
// compile as one, and marks the others to be built alone: those on lines that the
// compiler complains about, which needs a constant there, say.
func (s *source) together(mutants []*Mutant, dir string, folders []string) (binaries []string, err error) {
	without := map[int]bool{}
	for range 5 {
		o, err := s.instrumented(dir, without)
		if err != nil {
			return nil, err
		}
		binaries = nil
		for i, folder := range folders {
			binary := filepath.Join(dir, fmt.Sprintf("together-%d.test", i))
			if err = o.test(folder, binary); err != nil {
				break
			}
			binaries = append(binaries, binary)
		}
		if err == nil {
			return binaries, nil
		}
		lines := map[string]bool{}
		for _, m := range compileError.FindAllStringSubmatch(err.Error(), -1) {
			lines[m[1]+":"+m[2]] = true
		}
		dropped := 0
		for _, m := range mutants {
			if lines[fmt.Sprintf("%s:%d", m.File, m.Line)] && !m.separate {
				m.separate, without[m.ID] = true, true
				dropped++
			}
		}
		if dropped == 0 {
			return nil, err
		}
	}
	return nil, fmt.Errorf("the mutants of %s do not compile together", s.dir)
}

// alone builds the test binary of a folder with one mutant only.
func (s *source) alone(m *Mutant, dir, folder, binary string) error {
	o := newOverlay(dir)
	for _, f := range s.files {
		if filepath.Base(f.path) == m.File {
			if err := o.put(f.path, apply(f.src, m.alone)); err != nil {
				return err
			}
		}
	}
	return o.test(folder, binary)
}
