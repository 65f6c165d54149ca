package decision

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"embedcheck/internal/finding"
)

func edge(measured float64, places int) finding.Finding {
	f := finding.Finding{ID: "aa", Rule: "edge-distance", Status: Open, Priority: finding.Hold}
	for range places {
		f.Instances = append(f.Instances, finding.Instance{Measured: measured, Required: 120, Unit: "mm", Relation: finding.AtLeast})
	}
	return f
}

func TestAcceptanceLapses(t *testing.T) {
	f := edge(80, 1)
	e := About(&f)
	e.Status, e.Reason, e.Date, e.Until = Accepted, "agreed", "2026-03-01", "2026-03-31"
	for _, c := range []struct {
		name     string
		measured float64
		places   int
		today    string
		want     string
	}{
		{"as accepted", 80, 1, "2026-03-02", Accepted},
		{"last day", 80, 1, "2026-03-31", Accepted},
		{"day after", 80, 1, "2026-04-01", Open},
		{"better", 90, 1, "2026-03-02", Accepted},
		{"worse within tolerance", 79.9, 1, "2026-03-02", Accepted},
		{"worse", 79.89, 1, "2026-03-02", Open},
		{"more places", 80, 2, "2026-03-02", Open},
	} {
		l := &Log{}
		if _, err := l.Add(e); err != nil {
			t.Fatal(err)
		}
		run := &finding.Run{Findings: []finding.Finding{edge(c.measured, c.places)}}
		l.Apply(run, c.today)
		got := run.Findings[0]
		if got.Status != c.want || got.Life.Decision == nil || (got.Life.Decision.Reopened == "") != (c.want == Accepted) {
			t.Errorf("%s: status %s, decision %+v; want %s", c.name, got.Status, got.Life.Decision, c.want)
		}
	}
}

func TestClosedIsOpenWhenFound(t *testing.T) {
	f := edge(80, 1)
	e := About(&f)
	e.Status, e.Date = Closed, "2026-03-01"
	l := &Log{Entries: []Entry{e}}
	run := &finding.Run{Findings: []finding.Finding{f}}
	l.Apply(run, "2026-03-02")
	if run.Findings[0].Status != Open {
		t.Error("a closed finding that is found stays closed")
	}
}

func TestMergeOrderDoesNotMatter(t *testing.T) {
	base := []Entry{
		{Finding: "aa", Number: 1, Status: Accepted, Reason: "r", Date: "2026-03-01"},
		{Finding: "aa", Number: 2, Status: Open, Date: "2026-03-02"},
		{Finding: "aa", Number: 2, Status: Accepted, Reason: "other branch", Date: "2026-03-02"},
		{Finding: "bb", Number: 1, Status: Closed, Date: "2026-03-05"},
		{Finding: "bb", Number: 1, Status: Closed, Date: "2026-03-05"},
	}
	write := func(list []Entry) string {
		var b bytes.Buffer
		if err := (&Log{Entries: append([]Entry(nil), list...)}).Write(&b); err != nil {
			t.Fatal(err)
		}
		return b.String()
	}
	want := write(base)
	if strings.Count(want, "\n,") != 4 {
		t.Errorf("four entries wanted, each on its line:\n%s", want)
	}
	r := rand.New(rand.NewPCG(1, 2))
	for range 50 {
		lines := strings.Split(strings.TrimSuffix(want, "]\n"), "\n")
		body := lines[1 : len(lines)-1]
		r.Shuffle(len(body), func(i, j int) { body[i], body[j] = body[j], body[i] })
		l, err := parse([]byte(lines[0] + "\n" + strings.Join(body, "\n") + "\n]\n"))
		if err != nil {
			t.Fatal(err)
		}
		if write(l.Entries) != want {
			t.Fatal("another order gave another file")
		}
		if l.Last("aa").Status != Open {
			t.Error("of two acts alike in date and number the one that leaves it open has to win")
		}
	}
}

func TestWritersLoseNothing(t *testing.T) {
	path := filepath.Join(t.TempDir(), "decisions.json")
	const n = 12
	var wg sync.WaitGroup
	for i := range n {
		wg.Go(func() {
			err := Update(path, func(l *Log) error {
				_, err := l.Add(Entry{Finding: fmt.Sprintf("%02d", i), Status: Closed, Date: "2026-03-01"})
				return err
			})
			if err != nil {
				t.Error(err)
			}
		})
	}
	wg.Wait()
	l, err := Read(path)
	if err != nil || len(l.Entries) != n {
		t.Fatalf("%d entries, %v; want %d", len(l.Entries), err, n)
	}
}

func TestAnActThatFailsChangesNothing(t *testing.T) {
	path := filepath.Join(t.TempDir(), "decisions.json")
	add := func(e Entry) error {
		return Update(path, func(l *Log) error { _, err := l.Add(e); return err })
	}
	if err := add(Entry{Finding: "aa", Status: Closed, Date: "2026-03-02"}); err != nil {
		t.Fatal(err)
	}
	before, _ := os.ReadFile(path)
	// A lock file and a half-written file that a killed process left behind.
	os.WriteFile(path+".lock", nil, 0o600)
	os.WriteFile(path+".tmp123", []byte("[{"), 0o600)
	for name, e := range map[string]Entry{
		"no reason": {Finding: "aa", Status: Accepted, Date: "2026-03-03"},
		"bad date":  {Finding: "aa", Status: Open, Date: "3 March"},
		"back date": {Finding: "aa", Status: Open, Date: "2026-03-01"},
		"no status": {Finding: "aa", Date: "2026-03-03"},
	} {
		if add(e) == nil {
			t.Errorf("%s: taken", name)
		}
	}
	if after, _ := os.ReadFile(path); !bytes.Equal(before, after) {
		t.Error("the file changed")
	}
	if err := add(Entry{Finding: "aa", Status: Open, Date: "2026-03-03"}); err != nil {
		t.Error(err)
	}
	if l, _ := Read(path); len(l.History("aa")) != 2 || l.Last("aa").Number != 2 {
		t.Errorf("history is %+v", l.History("aa"))
	}
}

func TestFilesThatAreNoDecisions(t *testing.T) {
	for _, s := range []string{"", "[]", "{}", "[{\"decisions\":2}]", "[{\"decisions\":1}\n,{\"finding\":\"a\",\"sttus\":\"open\"}]",
		"[{\"decisions\":1}\n<<<<<<< here\n]", "[{\"decisions\":1}\n,{\"finding\":\"a\",\"n\":1,\"status\":\"accepted\",\"date\":\"2026-01-01\"}]"} {
		if _, err := parse([]byte(s)); err == nil {
			t.Errorf("%q was taken", s)
		}
	}
}

func TestCommentsAndAssignmentsDecideNothing(t *testing.T) {
	to, nobody := "N. N.", ""
	l := &Log{}
	for _, e := range []Entry{
		{Finding: "aa", Status: Closed, Date: "2026-03-01"},
		{Finding: "aa", Comment: "asked the precaster", By: "N. N.", Date: "2026-03-01"},
		{Finding: "aa", Assigned: &to, Date: "2026-03-02"},
		{Finding: "bb", Assigned: &nobody, Date: "2026-03-02"},
	} {
		if _, err := l.Add(e); err != nil {
			t.Fatal(err)
		}
	}
	var b bytes.Buffer
	if err := l.Write(&b); err != nil {
		t.Fatal(err)
	}
	l, err := parse(b.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	if e := l.Last("aa"); e == nil || e.Status != Closed || e.Number != 1 {
		t.Errorf("what holds is %+v", e)
	}
	if l.Last("bb") != nil {
		t.Error("an assignment counts as a decision")
	}
	f, g := edge(80, 1), edge(80, 1)
	g.ID = "bb"
	g.Life.Topic = &finding.Talk{AssignedTo: "N. N."}
	run := &finding.Run{Findings: []finding.Finding{f, g}}
	l.ApplySince(run, "2026-03-03")
	a, z := &run.Findings[0], &run.Findings[1]
	if a.Status != Closed || a.Life.To() != to || len(a.Life.Said()) != 1 || a.Life.Said()[0].Author != "N. N." {
		t.Errorf("%s, to %q, said %v", a.Status, a.Life.To(), a.Life.Said())
	}
	if z.Status != Open || z.Life.Decision != nil || z.Life.To() != "" {
		t.Error("assigned to nobody has to go before the issue list")
	}
	if _, err := l.Add(Entry{Finding: "aa", Comment: " ", Date: "2026-03-04"}); err == nil {
		t.Error("an entry that says nothing was taken")
	}
}

// A closed finding stays closed until a check finds it again, and what that
// check knew stays open.
func TestClosedHoldsUntilTheNextCheck(t *testing.T) {
	l := &Log{}
	add := func(status string) {
		if _, err := l.Add(Entry{Finding: "aa", Status: status, Date: "2026-03-01"}); err != nil {
			t.Fatal(err)
		}
	}
	add(Closed)
	checked := finding.Run{Findings: []finding.Finding{edge(80, 1)}}
	l.Apply(&checked, "2026-03-01")
	since := func() *finding.Finding {
		run := finding.Run{Findings: append([]finding.Finding(nil), checked.Findings...)}
		l.ApplySince(&run, "2026-03-01")
		return &run.Findings[0]
	}
	if f := since(); f.Status != Open || f.Life.Decision.Reopened == "" {
		t.Errorf("closed before the check that found it: %s, %+v", f.Status, f.Life.Decision)
	}
	add(Closed)
	if f := since(); f.Status != Closed || f.Life.Decision.Reopened != "" {
		t.Errorf("closed again after the check: %s, %+v", f.Status, f.Life.Decision)
	}
	add(Open)
	if f := since(); f.Status != Open || f.Life.Decision.Status != Open {
		t.Errorf("opened again: %s, %+v", f.Status, f.Life.Decision)
	}
}
