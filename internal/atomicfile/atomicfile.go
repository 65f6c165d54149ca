// Package atomicfile writes files whole or not at all: a run that fails leaves
// the files of the earlier run as they were.
package atomicfile

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
)

// Output is one file to be written.
type Output struct {
	Path  string
	Write func(io.Writer) error // writes the content; an error keeps the earlier file
}

// Write writes one file. See WriteAll.
func Write(path string, write func(io.Writer) error) error {
	return WriteAll(Output{path, write})
}

// WriteAll writes several files that belong together. All are written beside
// their places under other names first and take their places only when every
// one of them is complete and on the disk; should one not get there, those that
// did are taken back. Permissions of earlier files stay; a symbolic link stays,
// and the file it points to is written. Only a machine that stops, or a process that is killed,
// in the short time between the renames can leave new files beside old ones.
//
// An error names the path.
func WriteAll(outputs ...Output) error { return writeAll(disk, outputs) }

// system is what is asked of the disk; tests make it fail.
type system struct {
	sync, chmod           func(*os.File, os.FileMode) error
	rename, link, syncDir func(old, new string) error
}

var disk = system{
	sync:   func(f *os.File, _ os.FileMode) error { return f.Sync() },
	chmod:  (*os.File).Chmod,
	rename: os.Rename,
	link:   os.Link,
	syncDir: func(dir, _ string) error {
		d, err := os.Open(dir)
		if err != nil {
			return err
		}
		return errors.Join(d.Sync(), d.Close())
	},
}

// staged is one output on its way.
type staged struct {
	path    string      // where it goes, links resolved
	temp    string      // where it is; "" once it has been renamed
	beganAs string      // what temp was
	backup  string      // the earlier file while others are still to come; "" when there is none
	old     bool        // there is an earlier file
	mode    os.FileMode // permissions of the earlier file
}

func writeAll(sys system, outputs []Output) (err error) {
	var all []*staged
	defer func() {
		for _, s := range all { // also when a Write panics
			s.removeTemp()
		}
	}()
	places := map[string]bool{}
	for _, o := range outputs {
		s, err := target(o.Path)
		if err != nil {
			return err
		}
		if places[s.path] {
			return fmt.Errorf("%s: two outputs go to the same file", o.Path)
		}
		places[s.path] = true
		all = append(all, s)
	}
	for i, s := range all {
		if err := s.fill(sys, outputs[i].Write); err != nil {
			return fmt.Errorf("%s: %w", outputs[i].Path, err)
		}
	}
	return placing(func() error {
		for i, s := range all {
			if err := s.place(sys, len(all) > 1); err != nil {
				return errors.Join(fmt.Errorf("%s: %w", outputs[i].Path, err), undo(sys, all[:i]))
			}
		}
		for _, s := range all {
			s.settle(sys)
		}
		return nil
	})
}

// target looks at the place that an output goes to.
func target(path string) (*staged, error) {
	info, err := os.Stat(path)
	if errors.Is(err, os.ErrNotExist) {
		return &staged{path: filepath.Clean(path)}, nil
	}
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, fmt.Errorf("%s: cannot be written over: it is a %s", path, kindOf(info.Mode()))
	}
	real, err := filepath.EvalSymlinks(path)
	if err != nil {
		return nil, err
	}
	return &staged{path: real, old: true, mode: info.Mode().Perm()}, nil
}

func kindOf(m os.FileMode) string {
	if m.IsDir() {
		return "folder"
	}
	return "device or pipe"
}

// fill writes the content to a file of another name in the same folder: only
// there can it take its place in one step.
func (s *staged) fill(sys system, write func(io.Writer) error) (err error) {
	f, err := s.createTemp()
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	b := bufio.NewWriterSize(f, 64<<10)
	if err := write(b); err != nil {
		return err
	}
	if err := b.Flush(); err != nil {
		return err
	}
	if s.old {
		if err := sys.chmod(f, s.mode); err != nil {
			return err
		}
	}
	return sys.sync(f, 0)
}

// createTemp opens the file with the permissions that the umask gives a new
// one; os.CreateTemp would leave it readable by its owner only.
func (s *staged) createTemp() (*os.File, error) {
	for i := 0; ; i++ {
		name := s.beside(i)
		f, err := begin(func() (*os.File, error) { return os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666) })
		if errors.Is(err, os.ErrExist) && i < 10000 {
			continue
		}
		if err != nil {
			return nil, err
		}
		s.temp, s.beganAs = name, name
		return f, nil
	}
}

// beside is a name in the same folder that no other program uses.
func (s *staged) beside(i int) string {
	dir, base := filepath.Split(s.path)
	return filepath.Join(dir, fmt.Sprintf(".%s.%d-%d.tmp", base, os.Getpid(), i))
}

// place puts the file where it belongs and, when others are to follow, keeps
// the earlier one at hand.
func (s *staged) place(sys system, keep bool) error {
	if keep && s.old {
		backup := s.temp + ".old"
		if err := sys.link(s.path, backup); err != nil {
			// No hard links here. The file is away for a moment then.
			if err := sys.rename(s.path, backup); err != nil {
				return err
			}
		}
		s.backup = backup
	}
	if err := sys.rename(s.temp, s.path); err != nil {
		if s.backup != "" {
			err = errors.Join(err, s.restore(sys))
		}
		return err
	}
	s.temp = ""
	return nil
}

func (s *staged) restore(sys system) error {
	err := sys.rename(s.backup, s.path)
	if err != nil {
		return fmt.Errorf("%s: the earlier file is now %s: %w", s.path, s.backup, err)
	}
	os.Remove(s.backup) // still there when both names are links to one file: the rename did nothing then
	s.backup = ""
	return nil
}

// undo takes back what has been placed.
func undo(sys system, placed []*staged) error {
	var errs []error
	for _, s := range placed {
		if s.backup != "" {
			errs = append(errs, s.restore(sys))
			continue
		}
		errs = append(errs, os.Remove(s.path))
	}
	return errors.Join(errs...)
}

// settle ends the matter: the earlier file goes. The new one is complete, so
// what goes wrong here is no error of the run.
func (s *staged) settle(sys system) {
	if s.backup != "" {
		os.Remove(s.backup)
	}
	_ = sys.syncDir(filepath.Dir(s.path), "")
}

func (s *staged) removeTemp() {
	if s.temp != "" {
		os.Remove(s.temp)
	}
	end(s.beganAs)
}
