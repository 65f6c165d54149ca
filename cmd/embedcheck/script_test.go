package main

import (
	"errors"
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"embedcheck/internal/demo"
	ib "embedcheck/internal/ifcbuild"
)

var update = flag.Bool("update", false, "write what the scripts compare with anew")

// TestMain lets scripts and tests run the program as a process of its own, by
// its name.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"embedcheck": main})
}

// TestScripts runs testdata/script: one file a command. A script says what is
// called, with which exit code ("exits 1 embedcheck check ..."), and what it
// prints and writes. $DEMO is the folder of the demonstration models, $ESC the
// character that escapes begin with. go test -run Scripts -args -update writes the
// files that cmp compares with anew.
func TestScripts(t *testing.T) {
	demoDir, err := filepath.Abs("../../testdata/demo")
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		UpdateScripts:       *update,
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(e *testscript.Env) error {
			e.Setenv("DEMO", demoDir)
			e.Setenv("ESC", "\x1b")
			return nil
		},
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){
			"exits":  exits,
			"panels": writePanels,
			"absent": absent,
		},
	})
}

// exits runs a program and holds its exit code: exits 3 embedcheck check x.ifc.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE PROGRAM [ARGUMENT...]")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	err = ts.Exec(args[1], args[2:]...)
	if got := exitCode(err); got != want {
		ts.Fatalf("exit code %d, want %d: %v", got, want, err)
	}
}

// exitCode is the exit code that a process ended with, -1 when it did not run
// to its end.
func exitCode(err error) int {
	var e *exec.ExitError
	switch {
	case err == nil:
		return 0
	case errors.As(err, &e):
		return e.ExitCode()
	}
	return -1
}

// panels writes panels of the yard, each a model of its own: panels 5 DIR.
func writePanels(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: panels NUMBER DIR")
	}
	n, err := strconv.Atoi(args[0])
	ts.Check(err)
	ts.Check(makePanels(ts.MkAbs(args[1]), n))
}

func makePanels(dir string, n int) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	y := demo.Yard{Schema: ib.IFC4, Unit: ib.MM}
	for i := range n {
		name, model, _ := y.Panel(i)
		if err := os.WriteFile(filepath.Join(dir, name), model, 0o600); err != nil {
			return err
		}
	}
	return nil
}

// absent holds that nothing matches a pattern: absent out/*/.*.tmp.
func absent(ts *testscript.TestScript, neg bool, args []string) {
	for _, a := range args {
		found, err := filepath.Glob(ts.MkAbs(a))
		ts.Check(err)
		if len(found) > 0 {
			ts.Fatalf("%s is there", found[0])
		}
	}
}
