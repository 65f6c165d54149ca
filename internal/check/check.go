// Package check runs the whole way from files to findings: read, evaluate,
// recognise, apply the rules.
package check

import (
	"errors"
	"fmt"
	"runtime"
	"sync"

	"embedcheck/ifcread"
	"embedcheck/internal/element"
	"embedcheck/internal/finding"
	"embedcheck/internal/model"
	"embedcheck/internal/recognise"
	"embedcheck/rules"
)

// Options steer a run.
type Options struct {
	Workers int // 0: one for each core
	Rules   *rules.Set
}

// ErrRead is wrapped by errors about models that could not be read at all.
var ErrRead = errors.New("the model could not be read")

// Read reads the models at the paths as one federation. The error names every
// file that could not be read at all.
func Read(paths []string, o Options) (*model.Model, error) {
	workers := o.workers()
	files, err := open(paths, workers)
	if err != nil {
		return nil, err
	}
	hashes := hashAll(files)
	elements := make([]*element.Model, len(files))
	for i, f := range files {
		elements[i] = element.Read(f, workers)
	}
	m := recognise.Build(elements, recognise.Options{Workers: workers, Override: o.Rules.Recognise})
	if err := exceeded(paths, elements); err != nil {
		return nil, err
	}
	names := sourceNames(paths)
	for i, f := range files {
		elements[i].Release()
		m.Sources = append(m.Sources, source(paths[i], names[i], f, elements[i], hashes(i)))
		m.Unread = append(problems(i, f, elements[i]), m.Unread...)
	}
	m.Remarks = remarks(m)
	return m, nil
}

// exceeded is an error that names each file whose shapes are more than is read.
func exceeded(paths []string, elements []*element.Model) error {
	var errs []error
	for i, e := range elements {
		if why := e.Exceeded(); why != "" {
			errs = append(errs, fmt.Errorf("%w: %s: %s", ErrRead, paths[i], why))
		}
	}
	return errors.Join(errs...)
}

// open opens all files; the error names each that could not be.
func open(paths []string, workers int) ([]*ifcread.File, error) {
	files := make([]*ifcread.File, len(paths))
	errs := make([]error, len(paths))
	for i, p := range paths {
		files[i], errs[i] = ifcread.Open(p, ifcread.Options{Workers: workers})
	}
	if err := errors.Join(errs...); err != nil {
		return nil, fmt.Errorf("%w: %w", ErrRead, err)
	}
	return files, nil
}

// Run reads the models and applies the rules: the domain model, and the run as
// writers need it.
func Run(paths []string, o Options) (*model.Model, *finding.Run, error) {
	m, err := Read(paths, o)
	if err != nil {
		return nil, nil, err
	}
	found, err := rules.Run(m, o.Rules, o.workers())
	if err != nil {
		return nil, nil, err
	}
	return m, runOf(m, o.Rules, found), nil
}

func (o Options) workers() int {
	if o.Workers > 0 {
		return o.Workers
	}
	return runtime.GOMAXPROCS(0)
}

// hashAll hashes the files beside the other work and gives a function that
// waits for the result.
func hashAll(files []*ifcread.File) func(i int) string {
	sums := make([]string, len(files))
	var wg sync.WaitGroup
	wg.Go(func() {
		for i, f := range files {
			sums[i] = f.SHA256()
		}
	})
	return func(i int) string { wg.Wait(); return sums[i] }
}
