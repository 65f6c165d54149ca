package atomicfile

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"

	"github.com/rogpeppe/go-internal/lockedfile"
)

// lockName is the file in a folder of results that whoever writes there locks.
const lockName = ".embedcheck.lock"

// WriteFolder writes all files of one run to a folder, and to folders below it,
// that it makes. Two runs at once write one after the other, so that what lies
// there in the end is all of one run; what a run that was killed left behind is
// removed. Paths of outputs lie in dir.
func WriteFolder(dir string, outputs ...Output) (err error) {
	if err := makeFolder(dir); err != nil {
		return err
	}
	unlock, err := lockedfile.MutexAt(filepath.Join(dir, lockName)).Lock()
	if err != nil {
		return fmt.Errorf("%s: the lock in it cannot be taken: %w", dir, err)
	}
	defer unlock()
	swept := map[string]bool{}
	for _, o := range outputs {
		sub := filepath.Dir(o.Path)
		if swept[sub] {
			continue
		}
		swept[sub] = true
		if err := makeFolder(sub); err != nil {
			return err
		}
		if err := Sweep(sub); err != nil {
			return err
		}
	}
	return WriteAll(outputs...)
}

func makeFolder(dir string) error {
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return fmt.Errorf("the folder for the results cannot be made: %w", err)
	}
	return nil
}

// Sweep removes from a folder what a process that was killed left behind while
// it wrote there, and puts an earlier file back that it had put aside. Nobody else
// may be writing in the folder. A folder that is not there is swept.
func Sweep(dir string) error {
	entries, err := os.ReadDir(dir)
	if errors.Is(err, os.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	var errs []error
	for _, e := range entries {
		m := leftover.FindStringSubmatch(e.Name())
		if m == nil || !e.Type().IsRegular() {
			continue
		}
		name, place := filepath.Join(dir, e.Name()), filepath.Join(dir, m[1])
		if _, err := os.Lstat(place); m[2] != "" && errors.Is(err, os.ErrNotExist) {
			errs = append(errs, os.Rename(name, place))
			continue
		}
		errs = append(errs, os.Remove(name))
	}
	return errors.Join(errs...)
}

// leftover are the names that beside and place give.
var leftover = regexp.MustCompile(`^\.(.+)\.[0-9]+-[0-9]+\.tmp(\.old)?$`)
