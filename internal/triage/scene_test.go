package triage

import (
	"bytes"
	"fmt"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"embedcheck/internal/bcf"
	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/lifecycle"
	"embedcheck/internal/page"
	"embedcheck/internal/report"
)

// hostile is what a name or a comment may hold: markup, an end of a script
// element, a turn of the reading direction, a terminal escape, a formula.
const hostile = "=1+1</script><img src=x onerror=alert(1)>\"'&\u202e\x1b[31m"

var today = time.Date(2026, 3, 3, 12, 0, 0, 0, time.UTC)

// id is the id of finding i of a checked folder.
func id(i int) string { return fmt.Sprintf("%032x", i) }

func checked(n int, name string) *finding.Run {
	r := &finding.Run{
		Models: []finding.ModelInfo{{Path: name, Name: name, Date: "2026-03-02T08:00:00"}}, Ruleset: finding.Ruleset{Name: name},
	}
	for i := range n {
		r.Findings = append(r.Findings, finding.Finding{
			ID: id(i), Rule: "edge-distance", Priority: finding.Hold, Status: "open",
			Host: finding.Ref{GlobalID: "h", Class: "IfcWall", Name: name, Model: name},
			Set:  name, Title: fmt.Sprintf("Edge distance %d: %s", i, name), Message: name, Source: name,
			Instances: []finding.Instance{{
				Item: finding.Ref{GlobalID: fmt.Sprintf("%022d", i), Name: name}, Kind: "bolt", Anchor: 0,
				Measured: 65, Required: 100, Unit: "mm", Relation: finding.AtLeast, At: geom.V(1, 2, 3),
			}},
		})
	}
	r.Tally()
	return r
}

// folder writes what a check writes, and gives the folder.
func folder(t testing.TB, run *finding.Run) string {
	t.Helper()
	return folderWith(t, run, page.Views{})
}

// folderWith is a folder whose page has drawings and views.
func folderWith(t testing.TB, run *finding.Run, views page.Views) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "out")
	if err := os.Mkdir(dir, 0o777); err != nil {
		t.Fatal(err)
	}
	scene := func(*finding.Finding) (*bcf.Scene, error) {
		return &bcf.Scene{Drawing: &bcf.Drawing{Name: "drawing.svg", Data: []byte("<svg/>")}}, nil
	}
	w := &bcf.Writer{Version: bcf.V21, Author: "embedcheck", Date: today, Scene: scene}
	p := &page.Report{Run: run, Verdict: "Hold", FailOn: finding.Hold, Rules: []page.Rule{{ID: "edge-distance", Title: "Edge distance"}}, Views: views}
	for name, write := range map[string]func(io.Writer) error{
		"findings.json": func(o io.Writer) error { return report.WriteJSON(o, run) },
		"report.html":   func(o io.Writer) error { return page.Write(o, p) },
		"issues.bcf":    func(o io.Writer) error { return lifecycle.WriteIssues(o, w, run, nil, nil) },
	} {
		var b bytes.Buffer
		if err := write(&b); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name), b.Bytes(), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// open opens a checked folder; decisions lie beside it.
func open(t testing.TB, dir string) *Desk {
	t.Helper()
	d, err := Open(Options{
		Dir: dir, Decisions: filepath.Join(filepath.Dir(dir), "decisions.json"), Author: "embedcheck", By: "N. N.",
		Now: func() time.Time { return today },
	})
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// serve serves a desk until the test ends.
func serve(t testing.TB, d *Desk) *Server {
	t.Helper()
	s, err := Listen(d, "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	done := make(chan error, 1)
	go func() { done <- s.Serve(t.Context()) }()
	t.Cleanup(func() {
		if err := <-done; err != nil {
			t.Error(err)
		}
	})
	return s
}

// call is one call of the server, as the page makes it unless change says
// otherwise.
func call(t testing.TB, s *Server, method, path, body string, change func(*http.Request)) (int, string) {
	t.Helper()
	r, err := http.NewRequest(method, s.URL+path, strings.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	if method == http.MethodPost {
		r.Header.Set("Origin", "http://"+r.Host)
		r.Header.Set("Content-Type", "application/json")
	}
	if change != nil {
		change(r)
	}
	a, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer a.Body.Close()
	data, err := io.ReadAll(a.Body)
	if err != nil {
		t.Fatal(err)
	}
	return a.StatusCode, string(data)
}
