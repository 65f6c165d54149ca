package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"embedcheck/internal/check"
	"embedcheck/internal/finding"
	"embedcheck/internal/screen"
)

// readAsked is what all commands that read models are asked for: the models, and
// how they are read.
func readAsked(c *cli.Context) ([]string, check.Options, error) {
	o := check.Options{Workers: c.Int("workers")}
	var err error
	if o.Rules, err = readRules(c); err != nil {
		return nil, o, err
	}
	paths, err := modelPaths(c)
	return paths, o, err
}

// modelPaths are the models that the call names: files, folders and patterns. A
// folder stands for the models in it, not for those in folders below it: what
// lies there is mostly an older release. What is named twice is read once.
func modelPaths(c *cli.Context) ([]string, error) {
	if c.NArg() == 0 {
		return nil, usagef("%s needs a model: embedcheck %[1]s MODEL.ifc", c.Command.Name)
	}
	var paths []string
	for _, arg := range c.Args().Slice() {
		named, err := modelsOf(arg)
		if err != nil {
			return nil, err
		}
		for _, p := range named {
			same := func(q string) bool { return filepath.Clean(q) == filepath.Clean(p) }
			if !slices.ContainsFunc(paths, same) {
				paths = append(paths, p)
			}
		}
	}
	return paths, nil
}

// modelsOf are the models that one argument stands for.
func modelsOf(arg string) ([]string, error) {
	info, err := os.Stat(arg)
	switch {
	case err == nil && info.IsDir():
		return modelsIn(arg)
	case err == nil || !strings.ContainsAny(arg, "*?["):
		return []string{arg}, nil // that it is not there says who opens it
	}
	matches, err := filepath.Glob(arg)
	if err != nil {
		return nil, usagef("the pattern %s cannot be read: %w", finding.Plain(arg), err)
	}
	if len(matches) == 0 {
		return nil, usagef("no file is like %s; name the models, or the folder they are in", finding.Plain(arg))
	}
	slices.SortFunc(matches, finding.Natural)
	var paths []string
	for _, m := range matches {
		if info, err := os.Stat(m); err == nil && info.IsDir() {
			continue
		}
		paths = append(paths, m)
	}
	if len(paths) == 0 {
		return nil, usagef("only folders are like %s; name the one with the models", finding.Plain(arg))
	}
	return paths, nil
}

// modelsIn are the models in a folder, as people sort names: 2 before 10.
func modelsIn(dir string) ([]string, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, usagef("the folder %s cannot be read: %w", finding.Plain(dir), err)
	}
	var paths []string
	for _, e := range entries {
		name := e.Name()
		if !strings.HasPrefix(name, ".") && !e.IsDir() && screen.IsModel(name) {
			paths = append(paths, filepath.Join(dir, name))
		}
	}
	if len(paths) == 0 {
		return nil, usagef("no model is in the folder %s; models end in .ifc, .ifcxml or .ifczip, and folders below it are not looked into", finding.Plain(dir))
	}
	slices.SortFunc(paths, finding.Natural)
	return paths, nil
}
