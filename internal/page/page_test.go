package page_test

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"io"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"

	"embedcheck/internal/finding"
	"embedcheck/internal/page"
)

// hostile is what a name in a model may hold: markup, an end of a script
// element, a turn of the reading direction, a terminal escape.
const hostile = "</script><img src=x onerror=alert(1)>\"'&\u202e\x1b[31m"

func run(n int, name string) *finding.Run {
	r := &finding.Run{Models: []finding.ModelInfo{{Path: name, Name: name}}, Ruleset: finding.Ruleset{Name: name}}
	for i := range n {
		f := finding.Finding{
			ID: fmt.Sprintf("%032x", i), Rule: "edge-distance", Priority: finding.Priority(i % 3), Status: "open",
			Host: finding.Ref{GlobalID: "h", Class: "IfcWall", Name: name + fmt.Sprint(i/7), Model: name},
			Set:  name, Title: "Edge distance: " + name, Message: name, Source: name,
			Instances: []finding.Instance{{
				Item: finding.Ref{Name: name}, Kind: "bolt", Anchor: 0, Measured: 65, Required: 100, Unit: "mm", Relation: finding.AtLeast,
				Others: []finding.Ref{{Name: name}},
			}},
		}
		f.Life.Topic = &finding.Talk{AssignedTo: name, Comments: []finding.Said{{Date: "2026-03-03T10:00:00Z", Author: name, Text: name}}}
		f.Life.Decision = &finding.Decision{Status: "accepted", Reason: name, By: name, Date: "2026-03-03"}
		r.Findings = append(r.Findings, f)
	}
	r.Tally()
	return r
}

func write(t *testing.T, r *page.Report) string {
	t.Helper()
	var b bytes.Buffer
	if err := page.Write(&b, r); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

var packRE = regexp.MustCompile(`<script type="application/gzip" id="p\d+">([^<]*)</script>`)

// sheets unpacks the sheets of a page as its script does.
func sheets(t *testing.T, html string) []string {
	t.Helper()
	var all []string
	for _, m := range packRE.FindAllStringSubmatch(html, -1) {
		raw, err := base64.StdEncoding.DecodeString(m[1])
		if err != nil {
			t.Fatal(err)
		}
		z, err := gzip.NewReader(bytes.NewReader(raw))
		if err != nil {
			t.Fatal(err)
		}
		data, err := io.ReadAll(z)
		if err != nil {
			t.Fatal(err)
		}
		var list []string
		if err := json.Unmarshal(data, &list); err != nil {
			t.Fatal(err)
		}
		all = append(all, list...)
	}
	return all
}

func TestNothingOfAModelBecomesMarkup(t *testing.T) {
	r := &page.Report{Run: run(20, hostile), Verdict: "Hold", Rules: []page.Rule{{ID: "edge-distance", Title: "t"}}}
	r.Since = &finding.Comparison{Since: hostile, Resolved: []finding.Resolved{{Finding: r.Run.Findings[0], Reason: hostile}}}
	html := write(t, r)
	list := sheets(t, html)
	if len(list) != 20 {
		t.Fatalf("%d sheets", len(list))
	}
	for _, part := range append(list, html) {
		for _, bad := range []string{"<img", "onerror=alert(1)>\"", "\u202e", "\x1b"} {
			if strings.Contains(part, bad) {
				t.Errorf("%q stands in the page as it is", bad)
			}
		}
		if !strings.Contains(part, "&lt;img") {
			t.Error("the name is not shown at all")
		}
	}
	if n := strings.Count(html, "<script>"); n != 1 {
		t.Errorf("%d scripts can run", n)
	}
}

func TestPolicyNamesTheOneStyleSheetAndTheOneScript(t *testing.T) {
	html := write(t, &page.Report{Run: run(3, "WP"), Views: page.Views{Style: ".dwg{}"}})
	for _, element := range []string{"style", "script"} {
		m := regexp.MustCompile(`(?s)<`+element+`>(.*?)</`+element+`>`).FindAllStringSubmatch(html, -1)
		if len(m) != 1 {
			t.Fatalf("%d elements %s", len(m), element)
		}
		sum := sha256.Sum256([]byte(m[0][1]))
		want := element + "-src 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
		// html/template writes + in attributes as a reference
		if !strings.Contains(strings.ReplaceAll(strings.ReplaceAll(html, "&#43;", "+"), "&#39;", "'"), want) {
			t.Errorf("the policy lacks %s", want)
		}
	}
	if strings.Contains(html, " style=") || regexp.MustCompile(`\son[a-z]+="`).MatchString(html) {
		t.Error("the policy forbids styles and handlers in attributes")
	}
}

func TestSameBytesForAnyNumberOfWorkers(t *testing.T) {
	r := &page.Report{Run: run(100, "WP")}
	r.Views.Drawing = func(f *finding.Finding) ([]byte, error) { return []byte("<svg id=\"" + f.ID + "\"></svg>"), nil }
	r.Views.Scene = func(list []*finding.Finding) ([]byte, error) { return []byte(list[0].ID + list[len(list)-1].ID), nil }
	want := write(t, r)
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	if write(t, r) != want {
		t.Error("one worker writes another page")
	}
	list := sheets(t, want)
	ids := regexp.MustCompile(`data-i="(\d+)" data-id="([0-9a-f]+)"`).FindAllStringSubmatch(want, -1)
	if len(ids) != 100 || len(list) != 100 {
		t.Fatalf("%d rows, %d sheets", len(ids), len(list))
	}
	for i, m := range ids {
		if m[1] != fmt.Sprint(i) || !strings.Contains(list[i], `<svg id="`+m[2]+`"`) {
			t.Fatalf("row %d has the sheet of another finding", i)
		}
	}
}

func TestADrawingThatFailsIsAnError(t *testing.T) {
	r := &page.Report{Run: run(40, "WP")}
	r.Views.Drawing = func(f *finding.Finding) ([]byte, error) { return nil, io.ErrUnexpectedEOF }
	if err := page.Write(io.Discard, r); err == nil || !strings.Contains(err.Error(), "finding 0000") {
		t.Errorf("error is %v", err)
	}
}

func TestAPageWithoutFindingsApprovesNothing(t *testing.T) {
	html := write(t, &page.Report{Run: &finding.Run{}})
	if !strings.Contains(html, "This is no approval") || !strings.Contains(html, finding.Caution) {
		t.Error("the caution is not there")
	}
}

var sceneRE = regexp.MustCompile(`<script type="application/gzip" data-scene="(\d+)">([^<]*)</script>`)

// TestScenesAreOfWholeHosts: hosts of seven are put together until there are as
// many findings as in a package of sheets; a host with very many is divided.
func TestScenesAreOfWholeHosts(t *testing.T) {
	for _, c := range []struct {
		n, perHost int
		want       []int // findings in each scene
	}{{100, 7, []int{21, 21, 21, 21, 16}}, {15, 7, []int{15}}, {21, 21, []int{21}}, {600, 600, []int{256, 256, 88}}, {0, 1, nil}} {
		r := &page.Report{Run: run(c.n, "WP")}
		for i := range r.Run.Findings {
			r.Run.Findings[i].Host.Name = fmt.Sprintf("WP-%03d", i/c.perHost)
			r.Run.Findings[i].Priority = finding.Hold
		}
		var mu sync.Mutex
		seen := map[string]int{} // first finding of a scene, and how many it has
		r.Views.Scene = func(list []*finding.Finding) ([]byte, error) {
			mu.Lock()
			defer mu.Unlock()
			seen[list[0].ID] = len(list)
			return []byte("bodies"), nil
		}
		html := write(t, r)
		var got []int
		for _, m := range sceneRE.FindAllStringSubmatch(html, -1) {
			id := regexp.MustCompile(`data-i="` + m[1] + `" data-id="([0-9a-f]+)"`).FindStringSubmatch(html)
			if id == nil {
				t.Fatalf("scene of row %s: there is no such row", m[1])
			}
			got = append(got, seen[id[1]])
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%d findings, %d a host: scenes of %v, want %v", c.n, c.perHost, got, c.want)
		}
	}
}

func TestAViewThatFailsIsAnError(t *testing.T) {
	r := &page.Report{Run: run(40, "WP")}
	r.Views.Scene = func([]*finding.Finding) ([]byte, error) { return nil, io.ErrUnexpectedEOF }
	if err := page.Write(io.Discard, r); err == nil || !strings.Contains(err.Error(), "view of finding 0000") {
		t.Errorf("error is %v", err)
	}
}
