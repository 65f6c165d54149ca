package main

import (
	"bytes"
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
)

// files are the contents of all files below a folder; locks hold nothing.
func files(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Ext(path) == ".lock" {
			return err
		}
		data, err := os.ReadFile(path)
		rel, _ := filepath.Rel(dir, path)
		out[filepath.ToSlash(rel)] = string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// sameFiles compares two folders; a file that is only in one counts.
func sameFiles(t *testing.T, got, want map[string]string) {
	t.Helper()
	for name := range want {
		if got[name] != want[name] {
			t.Errorf("%s is not the same", name)
		}
	}
	for name := range got {
		if _, ok := want[name]; !ok {
			t.Errorf("%s is left behind", name)
		}
	}
}

// inFolder runs the test in a folder of its own with panels in yard.
func inFolder(t *testing.T, panels int) {
	t.Helper()
	t.Chdir(t.TempDir())
	if err := makePanels("yard", panels); err != nil {
		t.Fatal(err)
	}
}

func embedcheck(t *testing.T, want int, args ...string) string {
	t.Helper()
	var out, errs bytes.Buffer
	if got := run(append([]string{"embedcheck"}, args...), &out, &errs); got != want {
		t.Fatalf("%q: exit code %d, want %d\n%s", args, got, want, errs.String())
	}
	return out.String() + errs.String()
}

// TestScreeningGivesWhatCheckGives compares the results of each file with those
// of a check of that file alone, byte by byte, also after a decision.
func TestScreeningGivesWhatCheckGives(t *testing.T) {
	demo, err := filepath.Abs("../../testdata/demo")
	if err != nil {
		t.Fatal(err)
	}
	inFolder(t, 6)
	if err := os.CopyFS("yard/demo", os.DirFS(demo)); err != nil {
		t.Fatal(err)
	}
	embedcheck(t, 1, "screen", "yard", "--out", "all", "--bcf", "3.0")
	compareWithCheck(t)
	if ids := embedcheck(t, 0, "decide", "--rule", "edge-distance", "--findings", "all/YP-00005.ifc/findings.json", "--accept", "--reason", "agreed", "--date", "2026-03-03"); !strings.Contains(ids, "1 decided in all/decisions.json") {
		t.Fatal(ids)
	}
	said := embedcheck(t, 1, "screen", "yard", "--out", "all", "--bcf", "3.0")
	if !strings.Contains(said, "look  YP-00005.ifc") && !strings.Contains(said, "go    YP-00005.ifc") {
		t.Errorf("an accepted finding still stops the panel:\n%s", said)
	}
	compareWithCheck(t)
}

func compareWithCheck(t *testing.T) {
	t.Helper()
	found, _ := filepath.Glob("yard/*.ifc")
	more, _ := filepath.Glob("yard/demo/*.ifc")
	if len(more) == 0 {
		t.Fatal("no demonstration models")
	}
	for _, path := range append(found, more...) {
		rel, _ := filepath.Rel("yard", path)
		one := filepath.Join("one", rel)
		if err := os.MkdirAll(filepath.Dir(one), 0o777); err != nil {
			t.Fatal(err)
		}
		if data, err := os.ReadFile(filepath.Join("all", filepath.Dir(rel), "decisions.json")); err == nil {
			if err := os.WriteFile(filepath.Join("one", filepath.Dir(rel), "decisions.json"), data, 0o600); err != nil {
				t.Fatal(err)
			}
		}
		var b bytes.Buffer
		run([]string{"embedcheck", "check", path, "--out", one, "--bcf", "3.0"}, &b, &b)
		got := files(t, filepath.Join("all", rel))
		delete(got, "screened.json")
		if len(got) != 3 {
			t.Errorf("%s: %d files", rel, len(got))
		}
		sameFiles(t, got, files(t, one))
	}
}

func TestTheSameFilesForAnyNumberOfWorkers(t *testing.T) {
	inFolder(t, 5)
	embedcheck(t, 1, "screen", "yard", "--out", "w1", "--workers", "1")
	embedcheck(t, 1, "screen", "yard", "--out", "w7", "--workers", "7")
	sameFiles(t, files(t, "w1"), files(t, "w7"))
}

// TestKilledAtAnyMoment kills the program again and again while it screens. No
// file may be half, what was finished must not be done again, and in the end
// all must be as if nothing had happened.
func TestKilledAtAnyMoment(t *testing.T) {
	inFolder(t, 12)
	screening := []string{"screen", "yard", "--out", "out", "--workers", "2"}
	start := time.Now()
	start1(t, screening...).Wait()
	whole := time.Since(start)
	want := files(t, "out")
	if err := os.RemoveAll("out"); err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(7, 8))
	killed := 0
	for range 8 {
		c := start1(t, screening...)
		time.Sleep(time.Duration(r.Float64() * float64(whole)))
		if c.Process.Kill() == nil && exitCode(c.Wait()) == -1 {
			killed++
		}
		wholeFiles(t, files(t, "out"), want)
		screening = []string{"screen", "--resume", "--out", "out", "--workers", "2"}
		if len(files(t, "out")) == 0 || !hasCall(t) {
			screening = []string{"screen", "yard", "--out", "out", "--workers", "2"}
		}
	}
	if killed == 0 {
		t.Error("the program was never killed in time")
	}
	if code := exitCode(start1(t, screening...).Wait()); code != 1 {
		t.Errorf("the last run ends with exit code %d", code)
	}
	sameFiles(t, files(t, "out"), want)
}

// hasCall reports whether a run was interrupted in the folder out.
func hasCall(t *testing.T) bool {
	t.Helper()
	_, err := os.Stat("out/screen.run.json")
	return err == nil
}

// wholeFiles holds that each file that has its final name is what it is after a
// run that nothing disturbed.
func wholeFiles(t *testing.T, got, want map[string]string) {
	t.Helper()
	for name, data := range got {
		base := filepath.Base(name)
		if strings.HasPrefix(base, ".") || base == "screen.run.json" {
			continue
		}
		if data != want[name] {
			t.Errorf("%s is not whole", name)
		}
		if base == "screened.json" {
			for _, other := range []string{"issues.bcf", "findings.json"} {
				if _, ok := got[filepath.ToSlash(filepath.Join(filepath.Dir(name), other))]; !ok {
					t.Errorf("%s is there without %s", name, other)
				}
			}
		}
	}
}

// start1 starts the program as a process of its own.
func start1(t *testing.T, args ...string) *exec.Cmd {
	t.Helper()
	c := exec.Command("embedcheck", args...)
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	return c
}

// TestStoppedFromOutside sends what Ctrl-C sends when the first files are done.
func TestStoppedFromOutside(t *testing.T) {
	inFolder(t, 60)
	c := exec.Command("embedcheck", "screen", "yard", "--out", "out", "--workers", "1")
	var errs bytes.Buffer
	c.Stderr = &errs
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	for len(markers(t)) == 0 {
		time.Sleep(time.Millisecond)
	}
	if err := c.Process.Signal(syscall.SIGINT); err != nil {
		t.Fatal(err)
	}
	if code := exitCode(c.Wait()); code != exitInterrupted || !strings.Contains(errs.String(), "embedcheck screen --resume --out out") {
		t.Fatalf("exit code %d, %s", code, errs.String())
	}
	kept := len(markers(t))
	for name := range files(t, "out") {
		if strings.HasSuffix(name, ".tmp") {
			t.Errorf("%s is half a file", name)
		}
	}
	said := embedcheck(t, 1, "screen", "--resume", "--out", "out")
	// The test binary is the program of both runs, so what is kept counts.
	if want := fmt.Sprintf("%d of 60 files have not changed", kept); !strings.Contains(said, want) {
		t.Errorf("no %q in %s", want, said)
	}
	embedcheck(t, 2, "screen", "--resume", "--out", "out")
}

func markers(t *testing.T) []string {
	t.Helper()
	found, err := filepath.Glob("out/*/screened.json")
	if err != nil {
		t.Fatal(err)
	}
	return found
}
