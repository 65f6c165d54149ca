package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"embedcheck/internal/decision"
	"embedcheck/internal/demo"
	ib "embedcheck/internal/ifcbuild"
)

// writing is a command that writes files, and the same with another result.
type writing struct {
	name      string
	args, old []string
	out       string
}

// writings are all commands that write files at once; screen and triage have
// tests of their own.
func writings(t *testing.T) []writing {
	base := filepath.Join(demoFolder(t), "pump-station-base.ifc")
	return []writing{
		{"check", []string{"check", base, "--drawings", "--author", "A. A.", "--out", "out"}, []string{"check", base, "--drawings", "--rules", "aci318-19", "--author", "B. B.", "--out", "out"}, "out"},
		{"sheet", []string{"sheet", base, "--form", "--revision", "A", "--out", "out"}, []string{"sheet", base, "--form", "--revision", "B", "--out", "out"}, "out"},
		{"schedule", []string{"schedule", base, "--out", "out"}, []string{"schedule", filepath.Join(demoFolder(t), "pump-station-roof.ifc"), "--out", "out"}, "out"},
		{"decide", []string{"decide", "--rule", "edge-distance", "--accept", "--reason", "A", "--findings", "in/findings.json", "--decisions", "out/decisions.json", "--date", "2026-03-03"},
			[]string{"decide", "--rule", "spacing", "--close", "--findings", "in/findings.json", "--decisions", "out/decisions.json", "--date", "2026-03-03"}, "out"},
	}
}

// resultOf is what a command leaves in an empty folder, and how long it takes.
func (w *writing) resultOf(t *testing.T, args []string) (map[string]string, time.Duration) {
	t.Helper()
	if err := os.RemoveAll(w.out); err != nil {
		t.Fatal(err)
	}
	w.before(t)
	start := time.Now()
	if code := exitCode(start1(t, args...).Wait()); code > exitFound {
		t.Fatalf("%q: exit code %d", args, code)
	}
	return files(t, w.out), time.Since(start)
}

// before makes what a command needs.
func (w *writing) before(t *testing.T) {
	t.Helper()
	if w.name != "decide" {
		return
	}
	if err := os.MkdirAll("out", 0o777); err != nil {
		t.Fatal(err)
	}
	if !exists("in/findings.json") {
		embedcheck(t, exitFound, "check", filepath.Join(demoFolder(t), "pump-station-base.ifc"), "--out", "in")
	}
}

func exists(path string) bool { _, err := os.Stat(path); return err == nil }

// TestKilledWhileWriting kills each command again and again, over the files of an
// earlier run: each file that has its final name is that of one run or of the
// other, and in the end nothing is left behind.
func TestKilledWhileWriting(t *testing.T) {
	for _, w := range writings(t) {
		t.Run(w.name, func(t *testing.T) {
			t.Chdir(t.TempDir())
			was, _ := w.resultOf(t, w.old)
			is, whole := w.resultOf(t, w.args)
			r := rand.New(rand.NewPCG(3, 4))
			killed := 0
			for i := range 8 {
				args := [][]string{w.old, w.args}[i%2]
				if w.name == "decide" { // decisions are added to, not written over
					w.resultOf(t, w.old)
					args = w.args
				}
				c := start1(t, args...)
				time.Sleep(time.Duration(r.Float64() * float64(whole)))
				if c.Process.Kill() == nil && exitCode(c.Wait()) == -1 {
					killed++
				}
				for name, data := range files(t, w.out) {
					if !strings.HasPrefix(filepath.Base(name), ".") && data != was[name] && data != is[name] && w.name != "decide" {
						t.Errorf("%s is not whole", name)
					}
				}
				if _, err := decision.Read("out/decisions.json"); err != nil {
					t.Error(err)
				}
			}
			if killed == 0 {
				t.Error("the program was never killed in time")
			}
			if code := exitCode(start1(t, w.args...).Wait()); code > exitFound {
				t.Errorf("the last run ends with exit code %d", code)
			}
			for name, data := range files(t, w.out) {
				if strings.HasPrefix(filepath.Base(name), ".") {
					t.Errorf("%s is left behind", name)
				} else if w.name != "decide" && is[name] != data && was[name] != data {
					t.Errorf("%s is not that of the last run", name)
				}
			}
		})
	}
}

// TestStoppedByCtrlC sends what Ctrl-C sends to a check of a large model, now and
// then: it ends, and leaves the files of the earlier run as they were.
func TestStoppedByCtrlC(t *testing.T) {
	t.Chdir(t.TempDir())
	var yard bytes.Buffer
	if _, err := (demo.Yard{Size: 5e6, Schema: ib.IFC4}).Write(&yard); err != nil {
		t.Fatal(err)
	}
	put(t, "yard.ifc", yard.String())
	base := filepath.Join(demoFolder(t), "pump-station-base.ifc")
	embedcheck(t, exitFound, "check", base, "--out", "out")
	want := files(t, "out")
	start := time.Now()
	if code := exitCode(start1(t, "check", "yard.ifc", "--out", "other").Wait()); code > exitFound {
		t.Fatalf("exit code %d", code)
	}
	whole := time.Since(start)
	for i := range 6 {
		c := exec.Command("embedcheck", "check", "yard.ifc", "--drawings", "--out", "out")
		var said bytes.Buffer
		c.Stderr = &said
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(50*time.Millisecond + whole*time.Duration(i)/8)
		sent := time.Now()
		_ = c.Process.Signal(syscall.SIGINT)
		guard := time.AfterFunc(2*time.Minute, func() { _ = c.Process.Kill() })
		code := exitCode(c.Wait())
		if !guard.Stop() {
			t.Fatal("it does not end")
		}
		t.Logf("ended %v after the signal, exit code %d", time.Since(sent).Round(time.Millisecond), code)
		switch got := files(t, "out"); {
		case code == exitInterrupted:
			sameFiles(t, got, want)
			if !strings.Contains(said.String(), "embedcheck: stopped") {
				t.Errorf("it says %q", said.String())
			}
		case code > exitFound:
			t.Errorf("exit code %d: %s", code, said.String())
		}
	}
}

// TestTwoRunsIntoOneFolder lets two runs write to one folder at once: in the end
// all files are those of one of them.
func TestTwoRunsIntoOneFolder(t *testing.T) {
	for _, w := range writings(t)[:2] {
		t.Run(w.name, func(t *testing.T) {
			t.Chdir(t.TempDir())
			a, _ := w.resultOf(t, w.old)
			b, _ := w.resultOf(t, w.args)
			both := func(got map[string]string) error {
				for _, want := range []map[string]string{a, b} {
					same := true
					for name, data := range want {
						same = same && got[name] == data
					}
					if same {
						return nil
					}
				}
				return errors.New("files of two runs are mixed")
			}
			for i := range 3 {
				x, y := start1(t, w.old...), start1(t, w.args...)
				if cx, cy := exitCode(x.Wait()), exitCode(y.Wait()); cx > exitFound || cy > exitFound {
					t.Fatalf("exit codes %d and %d", cx, cy)
				}
				if err := both(files(t, w.out)); err != nil {
					t.Errorf("run %d: %v", i, err)
				}
			}
		})
	}
}

// noRoom are ways of a folder to take nothing, or not all.
var noRoom = []struct {
	name string
	make func(t *testing.T, dir string) // dir is there, with files in it
	wrap func(args []string) *exec.Cmd  // nil: as it is
}{
	{"files may not grow", nil, func(args []string) *exec.Cmd {
		return exec.Command("sh", append([]string{"-c", "ulimit -f 8; exec embedcheck \"$@\"", "sh"}, args...)...)
	}},
	{"full disk", func(t *testing.T, dir string) { mount(t, dir, "size=96k") }, nil},
	{"folder that may only be read", func(t *testing.T, dir string) {
		mount(t, dir, "size=16m")
		if out, err := exec.Command("mount", "-o", "remount,ro", dir).CombinedOutput(); err != nil {
			t.Skipf("it cannot be made: %s", out)
		}
	}, nil},
}

// mount puts a small disk at a folder, with the files of the folder on it.
func mount(t *testing.T, dir, size string) {
	t.Helper()
	was := os.DirFS(dir)
	kept := t.TempDir()
	if err := os.CopyFS(kept, was); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command("mount", "-t", "tmpfs", "-o", size, "tmpfs", dir).CombinedOutput(); err != nil {
		t.Skipf("a disk can be put there by an administrator only: %s", out)
	}
	t.Cleanup(func() { _ = exec.Command("umount", dir).Run() })
	if err := os.CopyFS(dir, os.DirFS(kept)); err != nil {
		t.Fatal(err)
	}
}

// TestNoRoomForAllFiles: where not all files can be written, none is, and the
// error names the file or the folder.
func TestNoRoomForAllFiles(t *testing.T) {
	for _, w := range writings(t)[:3] {
		for _, n := range noRoom {
			t.Run(fmt.Sprint(w.name, ", ", n.name), func(t *testing.T) {
				t.Chdir(t.TempDir())
				if err := os.MkdirAll("out", 0o777); err != nil {
					t.Fatal(err)
				}
				put(t, "out/issues.bcf", "earlier")
				put(t, "out/sheets.pdf", "earlier")
				put(t, "out/schedule.csv", "earlier")
				if n.make != nil {
					n.make(t, "out")
				}
				if n.wrap == nil && w.name == "schedule" && n.name == "full disk" {
					put(t, "out/full", strings.Repeat("x", 76<<10)) // its files are small
				}
				c := exec.Command("embedcheck", w.args...)
				if n.wrap != nil {
					c = n.wrap(w.args)
				}
				out, err := c.CombinedOutput()
				if code := exitCode(err); code != exitRead {
					t.Errorf("exit code %d: %s", code, out)
				}
				if !strings.Contains(string(out), "embedcheck: out") {
					t.Errorf("it says\n%s", out)
				}
				for name, data := range files(t, "out") {
					if data != "earlier" && name != "full" {
						t.Errorf("%s is there", name)
					}
				}
			})
		}
	}
}

// TestOneFileThatCannotBeWritten: the others are not written, either, drawings
// included.
func TestOneFileThatCannotBeWritten(t *testing.T) {
	t.Chdir(t.TempDir())
	base := filepath.Join(demoFolder(t), "pump-station-base.ifc")
	put(t, "out", "a file where the folder should be")
	embedcheck(t, exitRead, "check", base, "--out", "out")
	if err := os.Remove("out"); err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll("out/findings.json", 0o777); err != nil { // a folder where the file should be
		t.Fatal(err)
	}
	said := embedcheck(t, exitRead, "check", base, "--out", "out", "--drawings")
	if !strings.Contains(said, "findings.json: cannot be written over") {
		t.Errorf("it says %s", said)
	}
	err := fs.WalkDir(os.DirFS("out"), ".", func(path string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() && filepath.Ext(path) != ".lock" {
			t.Errorf("%s is there", path)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}
