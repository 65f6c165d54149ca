package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// in runs the program in a folder of its own; the folder is kept between calls.
func in(t *testing.T) func(want int, args ...string) string {
	t.Helper()
	demo, err := filepath.Abs("../../testdata/demo/pump-station-base.ifc")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	return func(want int, args ...string) string {
		t.Helper()
		for i := range args {
			args[i] = strings.ReplaceAll(args[i], "BASE", demo)
			args[i] = strings.ReplaceAll(args[i], "ROOF", strings.Replace(demo, "-base", "-roof", 1))
		}
		var out, errs bytes.Buffer
		if got := run(append([]string{"embedcheck"}, args...), &out, &errs); got != want {
			t.Fatalf("%q: exit code %d, want %d\n%s", args, got, want, errs.String())
		}
		return out.String() + errs.String()
	}
}

// ids are the ids of findings of a priority in out/findings.json.
func ids(t *testing.T, priority string) []string {
	t.Helper()
	var file struct {
		Findings []struct{ ID, Priority, Status string }
	}
	data, err := os.ReadFile("out/findings.json")
	if err == nil {
		err = json.Unmarshal(data, &file)
	}
	if err != nil {
		t.Fatal(err)
	}
	var list []string
	for _, f := range file.Findings {
		if f.Priority == priority && f.Status == "open" {
			list = append(list, f.ID)
		}
	}
	return list
}

func TestAcceptedFindingsDoNotFailTheRun(t *testing.T) {
	embedcheck := in(t)
	embedcheck(1, "check", "BASE", "--out", "out")
	holds := ids(t, "hold")
	if len(holds) == 0 {
		t.Fatal("the demo has no hold findings")
	}
	embedcheck(2, "decide", holds[0], "--accept")
	args := append([]string{"decide"}, holds...)
	said := embedcheck(0, append(args, "--accept", "--reason", "agreed with the engineer", "--by", "N. N.", "--date", "2026-03-03", "--until", "2026-03-31")...)
	if !strings.Contains(said, "open -> accepted") {
		t.Errorf("decide says %q", said)
	}
	said = embedcheck(0, "check", "BASE", "--out", "out", "--today", "2026-03-31")
	if !strings.Contains(said, "agreed with the engineer") {
		t.Error("the summary does not give the reason")
	}
	if n := len(ids(t, "hold")); n != 0 {
		t.Errorf("%d hold findings are open in findings.json", n)
	}
	embedcheck(1, "check", "BASE", "--out", "out", "--today", "2026-04-01")
	embedcheck(0, "decide", holds[0][:8], "--reopen", "--date", "2026-03-04")
	embedcheck(1, "check", "BASE", "--out", "out", "--today", "2026-03-31")
}

func TestFailOn(t *testing.T) {
	embedcheck := in(t)
	embedcheck(2, "check", "BASE", "--fail-on", "new")
	embedcheck(2, "check", "BASE", "--fail-on", "never")
	embedcheck(2, "check", "BASE", "--since", "nowhere")
	embedcheck(2, "check", "BASE", "--decisions", "nowhere.json")
	embedcheck(1, "check", "BASE", "--out", "out")
	said := embedcheck(0, "check", "BASE", "--since", "out", "--fail-on", "new", "--out", "next")
	if !strings.Contains(said, "Since the last release (out)") || !strings.Contains(said, " 0 new, 0 worse, 0 better") {
		t.Errorf("summary is %s", said)
	}
	embedcheck(1, "check", "BASE", "--since", "next/issues.bcf", "--fail-on", "note")
	if err := os.WriteFile("empty.json", []byte(`{"schema":1,"models":[],"ruleset":{"name":"built-in","sha256":""},"counts":{},"findings":[]}`), 0o600); err != nil {
		t.Fatal(err)
	}
	embedcheck(1, "check", "BASE", "--since", "empty.json", "--fail-on", "new")
}

func TestReleaseSummaries(t *testing.T) {
	embedcheck := in(t)
	said := embedcheck(1, "check", "BASE", "--summary", "markdown")
	if !strings.HasPrefix(said, "**Hold: do not pour.") || strings.Contains(strings.ToLower(said), "approved") {
		t.Errorf("markdown is %s", said)
	}
	var out struct {
		Hold    bool
		Holding []string
	}
	if err := json.Unmarshal([]byte(embedcheck(1, "check", "BASE", "--summary", "json")), &out); err != nil || !out.Hold || len(out.Holding) == 0 {
		t.Errorf("json: %+v, %v", out, err)
	}
	embedcheck(2, "check", "BASE", "--summary", "html")
}

func TestSelectorsOfDecide(t *testing.T) {
	embedcheck := in(t)
	embedcheck(1, "check", "BASE", "--out", "out")
	embedcheck(2, "decide", "--close")
	embedcheck(2, "decide", "", "--close")
	embedcheck(2, "decide", "--rule", "no-such-rule", "--close")
	embedcheck(2, "decide", "zz", "--close")
	if said := embedcheck(0, "decide", "--host", "PB-02", "--kind", "bolt", "--accept", "--reason", "r"); !strings.Contains(said, "edge-distance in PB-02") {
		t.Errorf("decide says %q", said)
	}
}

func TestAModelLeftOutResolvesNothing(t *testing.T) {
	embedcheck := in(t)
	embedcheck(1, "check", "BASE", "ROOF", "--out", "one")
	said := embedcheck(0, "check", "ROOF", "--since", "one", "--out", "two")
	if !strings.Contains(said, " 0 resolved") || !strings.Contains(said, "not looked at") {
		t.Errorf("summary is %s", said)
	}
	said = embedcheck(0, "check", "BASE", "ROOF", "--since", "two", "--fail-on", "new")
	if !strings.Contains(said, " 0 new, ") {
		t.Errorf("summary is %s", said)
	}
}
