package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// bench holds what the sections share: the program, the folder for models, and
// the table that they fill.
type bench struct {
	*config
	root  string // of the checkout
	self  string // this program
	work  string // where models lie
	temp  string // goes at the end
	table table
}

func newBench(c *config, out io.Writer) (*bench, error) {
	b := &bench{config: c}
	mod, err := exec.Command("go", "env", "GOMOD").Output()
	if err != nil {
		return nil, fmt.Errorf("the checkout was not found: %w", err)
	}
	b.root = filepath.Dir(strings.TrimSpace(string(mod)))
	if b.self, err = os.Executable(); err != nil {
		return nil, err
	}
	if b.temp, err = os.MkdirTemp("", "embedcheck-bench"); err != nil {
		return nil, err
	}
	b.work = b.temp
	if b.dir != "" {
		b.work = b.dir
		if err := os.MkdirAll(b.dir, 0o777); err != nil {
			return nil, err
		}
	}
	if b.binary == "" {
		b.binary = filepath.Join(b.temp, "embedcheck")
		build := exec.Command("go", "build", "-o", b.binary, "./cmd/embedcheck")
		build.Dir = b.root
		if said, err := build.CombinedOutput(); err != nil {
			return nil, fmt.Errorf("the program does not build: %w\n%s", err, said)
		}
	}
	b.binary, err = filepath.Abs(b.binary)
	return b, err
}

// clean removes what no later run needs.
func (b *bench) clean() { os.RemoveAll(b.temp) }

// model is a storage yard of about so many bytes, made when it is not there yet
// and then read once, so that no command finds a cold cache.
func (b *bench) model(bytes int64) (path string, exact float64, err error) {
	return b.made(fmt.Sprintf("%s-%s.ifc", b.yard, strings.ReplaceAll(size(float64(bytes)), " ", "")), b.yard, fmt.Sprint(bytes))
}

// made is the file that a call of this program makes.
func (b *bench) made(name string, args ...string) (path string, exact float64, err error) {
	path = filepath.Join(b.work, name)
	if _, err := os.Stat(path); errors.Is(err, os.ErrNotExist) {
		part := path + ".part"
		if _, err := output(b.own(append(args, part)...)); err != nil {
			return "", 0, err
		}
		if err := os.Rename(part, path); err != nil {
			return "", 0, err
		}
	}
	f, err := os.Open(path)
	if err != nil {
		return "", 0, err
	}
	defer f.Close()
	n, err := io.Copy(io.Discard, f)
	return path, float64(n), err
}

// scratch is an empty folder for what a command writes.
func (b *bench) scratch(name string) (string, error) {
	dir := filepath.Join(b.temp, name)
	return dir, errors.Join(os.RemoveAll(dir), os.MkdirAll(dir, 0o777))
}
