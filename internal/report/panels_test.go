package report

import (
	"bytes"
	"regexp"
	"strings"
	"testing"

	"embedcheck/internal/finding"
	"embedcheck/internal/grid"
)

func TestWordsOnBothSidesOfWhatStops(t *testing.T) {
	whole := func(hold, review, note, unchecked int) Panel {
		return Panel{Hosts: 1, Items: 1, Hold: hold, Review: review, Note: note, Unchecked: unchecked}
	}
	for _, c := range []struct {
		name               string
		p                  Panel
		hold, review, note Word // for each least priority that stops
	}{
		{"nothing found", whole(0, 0, 0, 0), Go, Go, Go},
		{"a note", whole(0, 0, 1, 0), Go, Go, Stop},
		{"a review", whole(0, 1, 0, 0), Look, Stop, Stop},
		{"a hold", whole(1, 0, 0, 0), Stop, Stop, Stop},
		{"not checked, and accepted", whole(0, 0, 0, 1), Look, Look, Look},
		{"no item", Panel{Hosts: 1}, Look, Look, Look},
		{"no host", Panel{Items: 1}, Look, Look, Look},
		{"not read", Panel{Problem: "no model"}, Stop, Stop, Stop},
	} {
		for i, want := range []Word{finding.Note: c.note, finding.Review: c.review, finding.Hold: c.hold} {
			if got := c.p.Word(finding.Priority(i)); got != want {
				t.Errorf("%s, %s stops: %s, want %s", c.name, finding.Priority(i), got, want)
			}
		}
	}
}

// TestNoWordApproves reads what is said of each word.
func TestNoWordApproves(t *testing.T) {
	for _, w := range words {
		for p := finding.Note; p <= finding.Hold; p++ {
			m := w.Meaning(p)
			for _, bad := range []string{"safe", "fine", "adequate", "passed", "approved", " ok"} {
				if strings.Contains(m, bad) {
					t.Errorf("%s means %q", w, m)
				}
			}
			if w == Go && !strings.HasPrefix(m, "nothing found at or above "+min(p, finding.Review).String()) {
				t.Errorf("go means %q when %s stops", m, p)
			}
		}
	}
}

func TestAcceptedFindingsAreCountedApart(t *testing.T) {
	run := &finding.Run{Counts: finding.Counts{Hosts: 1, Items: 2}, Findings: []finding.Finding{
		{Rule: "spacing", Priority: finding.Hold, Status: "accepted"},
		{Rule: "edge-distance", Priority: finding.Review, Status: "open", Set: "S", Instances: []finding.Instance{{
			Item: finding.Ref{Name: "Bolt", Mark: "HB-1"}, Measured: 40, Required: 50, Unit: "mm", Relation: finding.AtLeast,
		}}},
	}}
	p := PanelOf(run)
	if p.Hold != 0 || p.Review != 1 || p.Accepted != 1 || p.Word(finding.Hold) != Look || len(p.Rules) != 1 {
		t.Errorf("%+v", p)
	}
	if want := "edge-distance, HB-1: 40 mm, at least 50 mm required"; p.Why(finding.Hold) != want {
		t.Errorf("%q, want %q", p.Why(finding.Hold), want)
	}
}

// TestLinesOfHostileFiles: names of files and texts of models steer no terminal,
// break no line and run in no spreadsheet.
func TestLinesOfHostileFiles(t *testing.T) {
	bad := "=cmd|'\x1b[2J\n\u202e'!A1"
	s := Screening{Ruleset: bad, Panels: []Panel{
		{File: bad, Mark: bad, Hosts: 1, Items: 1, Kinds: map[string]int{bad: 1}, Worst: bad, Rules: []PanelRule{{Rule: bad}}},
		{File: bad, Problem: bad},
	}}
	var b bytes.Buffer
	l := NewPanelLines(&b, []string{bad}, finding.Hold)
	for i := range s.Panels {
		if err := l.Write(&s.Panels[i]); err != nil {
			t.Fatal(err)
		}
	}
	if n := strings.Count(b.String(), "\n"); n != 2 {
		t.Errorf("%d lines for 2 files", n)
	}
	if err := WriteScreening(&b, &s); err != nil {
		t.Fatal(err)
	}
	for _, r := range b.String() {
		if r != '\n' && finding.Unsafe(r) {
			t.Errorf("%U is printed", r)
		}
	}
	for _, table := range s.Tables() {
		b.Reset()
		if err := grid.WriteCSV(&b, table); err != nil {
			t.Fatal(err)
		}
		if begins := regexp.MustCompile(`(?m)(^|,)"?[=@]`); begins.Match(b.Bytes()) {
			t.Errorf("%s holds a formula:\n%s", table.Name, b.String())
		}
	}
}
