package main

import (
	"bufio"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// Ctrl-C ends a triage, also while a browser keeps its line open.
func TestTriageEndsByCtrlC(t *testing.T) {
	model := filepath.Join(demoFolder(t), "pump-station-base.ifc")
	t.Chdir(t.TempDir())
	embedcheck(t, exitFound, "check", model, "--out", "out")
	c := exec.Command("embedcheck", "triage", "out", "--by", "N. N.")
	out, err := c.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	url, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		t.Fatal(err)
	}
	a, err := http.Get(strings.TrimSpace(url))
	if err != nil {
		t.Fatal(err)
	}
	defer a.Body.Close() // not read to its end
	if a.StatusCode != http.StatusOK || !strings.HasPrefix(url, "http://127.0.0.1:") {
		t.Errorf("%s: %s", url, a.Status)
	}
	if err := c.Process.Signal(syscall.SIGINT); err != nil {
		t.Fatal(err)
	}
	if code := exitCode(c.Wait()); code != exitDone {
		t.Errorf("exit code %d", code)
	}
	if _, err := os.Stat("decisions.json"); err == nil {
		t.Error("decisions were written, and nobody decided")
	}
}
