package report

import (
	"bytes"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"embedcheck/internal/finding"
)

func summary(t *testing.T, run *finding.Run, s Summary) string {
	t.Helper()
	var b bytes.Buffer
	if err := WriteSummary(&b, run, s); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

var written = []File{
	{"out/issues.bcf", "4 topics, BCF 2.1"},
	{"out/findings.json", "every place with its figures"},
}

func TestSummary(t *testing.T) {
	golden(t, "summary.txt", []byte(summary(t, demo(), Summary{Files: written, LeftOut: 21})))
	golden(t, "summary-large.txt", []byte(summary(t, large(60, 11), Summary{Files: written, Layout: Layout{Width: 100}})))
}

// Nothing found is told as just that: no word that the items are adequate.
func TestSummaryWithoutFindings(t *testing.T) {
	run := demo()
	run.Findings = nil
	run.Tally()
	got := summary(t, run, Summary{})
	golden(t, "summary-none.txt", []byte(got))
	for _, word := range []string{"OK", "ok ", "safe", "adequate", "pass", "compl"} {
		if strings.Contains(got, word) {
			t.Errorf("%q in the summary", word)
		}
	}
}

func TestSummaryKeepsTheWidth(t *testing.T) {
	run := large(60, 11)
	run.Findings = append(run.Findings, nasty().Findings...)
	run.Models[0].Path = "/a/very/long/path/" + strings.Repeat("of/folders/", 20) + "wall.ifc"
	for _, w := range []int{72, 80, 100} {
		for _, l := range strings.Split(summary(t, run, Summary{Files: written, LeftOut: 3, Layout: Layout{Width: w}}), "\n") {
			if columnsOf(l) > w {
				t.Errorf("width %d: %d columns in %q", w, columnsOf(l), l)
			}
		}
	}
}

// Everything that is not shown has to be counted: shown and counted together
// are all findings.
func TestSummaryLeavesNothingOutSilently(t *testing.T) {
	for _, n := range []struct{ hosts, each int }{{0, 0}, {1, 8}, {1, 9}, {7, 8}, {8, 8}, {60, 11}, {200, 1}} {
		run := large(n.hosts, n.each)
		got := summary(t, run, Summary{})
		shown := 0
		for _, l := range strings.Split(got, "\n") {
			for _, p := range []string{"  hold    ", "  review  ", "  note    "} {
				if strings.HasPrefix(l, p) {
					shown++
				}
			}
			var more, hosts int
			if k, _ := fmt.Sscanf(l, "  and %d more (", &more); k == 1 {
				if more != sum(l[strings.IndexByte(l, '('):]) {
					t.Errorf("%q does not add up", l)
				}
				shown += more
			}
			if k, _ := fmt.Sscanf(l, "Not shown: %d more host", &hosts); k == 1 {
				_, counts, _ := strings.Cut(l, " with ")
				counts, _, _ = strings.Cut(counts, ":")
				shown += sum(counts)
			}
		}
		told := 1 // the finding not-checked is told by its reason
		if shown+told != len(run.Findings) {
			t.Errorf("%d hosts with %d each: %d of %d findings shown or counted", n.hosts, n.each, shown+told, len(run.Findings))
		}
	}
}

// sum adds the numbers before the words of priority.
func sum(s string) (n int) {
	for _, part := range strings.Split(strings.Trim(s, "()"), ", ") {
		var k int
		var word string
		if c, _ := fmt.Sscanf(part, "%d %s", &k, &word); c == 2 {
			n += k
		}
	}
	return n
}

func TestSummaryColour(t *testing.T) {
	run := demo()
	run.Findings[0].Message = "a\x1b[31mb\u202e"
	run.Findings[0].Set = "HB\x1b]0;title\x07"
	plain := summary(t, run, Summary{})
	if strings.ContainsFunc(strings.ReplaceAll(plain, "\n", ""), finding.Unsafe) {
		t.Errorf("characters that steer a terminal in %q", plain)
	}
	coloured := summary(t, run, Summary{Layout: Layout{Color: true}})
	if !strings.Contains(coloured, "\x1b[1;31mhold  \x1b[0m  edge-distance") {
		t.Errorf("hold is not red in %q", coloured)
	}
	bare := coloured
	for _, a := range []string{"0", bold, red, yellow, cyan} {
		bare = strings.ReplaceAll(bare, "\x1b["+a+"m", "")
	}
	if bare != plain {
		t.Errorf("colour changes more than colour:\n%q\n%q", bare, plain)
	}
}

func TestColourOnlyOnATerminal(t *testing.T) {
	if l := LayoutFor(&bytes.Buffer{}); l.Color || l.Width != standard {
		t.Errorf("buffer: %+v", l)
	}
	f, err := os.Create(t.TempDir() + "/x")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if l := LayoutFor(f); l.Color || l.Width != standard {
		t.Errorf("file: %+v", l)
	}
	for _, c := range []struct {
		noColor, term string
		want          bool
	}{{"", "xterm", true}, {"1", "xterm", false}, {"0", "xterm", false}, {"", "dumb", false}, {"", "", true}} {
		env := map[string]string{"NO_COLOR": c.noColor, "TERM": c.term}
		if got := colorAllowed(func(k string) string { return env[k] }); got != c.want {
			t.Errorf("%v: got %v", env, got)
		}
	}
}

func TestReasonsAreGroupedAndCut(t *testing.T) {
	run := &finding.Run{}
	for i := range 40 {
		f := finding.Finding{Rule: finding.NotChecked}
		for range 40 - i {
			f.Instances = append(f.Instances, finding.Instance{Item: bolt(i), Text: fmt.Sprintf("reason %d", i)})
		}
		run.Findings = append(run.Findings, f)
	}
	got := summary(t, run, Summary{})
	for _, want := range []string{
		"Not checked: 820\n",
		"40 x reason 0: HB-0, HB-0, HB-0, HB-0, HB-0, HB-0 and 34 more, see",
		"and 28 more reasons, see findings.json",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is missing in\n%s", want, got)
		}
	}
	if strings.Contains(got, "reason 12:") {
		t.Error("more reasons than there is room for")
	}
}

func TestHostsWithTheWorstFirst(t *testing.T) {
	run := large(3, 4)
	var heads []string
	for _, h := range byHost(run.Findings) {
		c := tally(h.findings)
		heads = append(heads, fmt.Sprintf("%s %d %d %d", h.host.Name, c.Hold, c.Review, c.Note))
	}
	want := []string{"B-3 2 1 1", "B-2 1 2 1", "B-1 1 1 2", "WP-03 1 1 0", "WP-12 1 0 0"}
	if !slices.Equal(heads, want) {
		t.Errorf("got %q, want %q", heads, want)
	}
}

// Equal panels give equal sentences: told once, with how often.
func TestFindingsThatReadTheSameAreToldOnce(t *testing.T) {
	run := demo()
	for i := range 40 {
		f := run.Findings[0]
		f.ID = fmt.Sprint("twin ", i)
		f.Host.GlobalID = fmt.Sprintf("0twin%017d", i%2)
		run.Findings = append(run.Findings, f)
	}
	got := summary(t, run, Summary{})
	if n := strings.Count(got, "(20 such findings)"); n != 2 {
		t.Errorf("%d hosts of 2 tell their 20 findings at once in\n%s", n, got)
	}
	for _, head := range []string{"wall-07.ifc) 0twin00000000000000000\n", "wall-07.ifc) 0twin00000000000000001\n", "wall-07.ifc) 0wall00000000000000003\n"} {
		if !strings.Contains(got, head) {
			t.Errorf("hosts that read the same need their GlobalId: %q is missing", head)
		}
	}
	if strings.Contains(got, "0wall00000000000000012") {
		t.Error("a host of its own name needs no GlobalId")
	}
}

func TestFiguresAreAddedWhereTheMessageHasNone(t *testing.T) {
	for _, c := range []struct {
		message string
		added   bool
	}{
		{"65 mm from the edge; 120 mm needed", false},
		{"165 mm from the edge; 120 mm needed", true},
		{"-65 mm from the edge; 120 mm needed", true},
		{"265 mm, no, 65 mm from the edge; 120 mm needed", false},
		{"65 mm from the edge", true},
		{"", true},
	} {
		f := demo().Findings[0]
		f.Message = c.message
		if got := sentence(&f); strings.Contains(got, "65 mm, at least 120 mm required.") != c.added {
			t.Errorf("%q: got %q", c.message, got)
		}
	}
}

func TestReasonsLeaveOutTheItemsName(t *testing.T) {
	run := &finding.Run{}
	for i := range 3 {
		run.Findings = append(run.Findings, finding.Finding{Rule: finding.NotChecked, Instances: []finding.Instance{
			{Item: bolt(i), Text: fmt.Sprintf("HB-%d has no axis", i)},
		}})
	}
	if got := summary(t, run, Summary{}); !strings.Contains(got, "  3 x it has no axis: HB-0, HB-1, HB-2\n") {
		t.Errorf("got\n%s", got)
	}
}

func TestClosingLine(t *testing.T) {
	f := func(p finding.Priority, status string) finding.Finding {
		return finding.Finding{Priority: p, Status: status, Host: finding.Ref{Name: "WP-1"}}
	}
	for _, c := range []struct {
		items    int
		findings []finding.Finding
		want     string
	}{
		{3, nil, "0 hold, 0 review, 0 note."},
		{0, nil, "0 hold, 0 review, 0 note. No item was recognised: nothing was checked."},
		{3, []finding.Finding{f(finding.Hold, "open")}, "1 hold, 0 review, 0 note. Do not pour until the hold findings are settled."},
		{3, []finding.Finding{f(finding.Hold, "accepted")}, "1 hold, 0 review, 0 note (1 of them accepted)."},
		{3, []finding.Finding{f(finding.Hold, "accepted"), f(finding.Review, "open")}, "1 hold, 1 review, 0 note (1 of them accepted). An engineer decides on the review findings."},
		{3, []finding.Finding{f(finding.Note, "open")}, "0 hold, 0 review, 1 note."},
		{3, []finding.Finding{{Rule: finding.NotChecked, Instances: make([]finding.Instance, 2)}}, "0 hold, 0 review, 1 note; 2 not checked. What was not checked has to be looked at by a person."},
	} {
		run := &finding.Run{Findings: c.findings, Counts: finding.Counts{Items: c.items}}
		got := summary(t, run, Summary{Layout: Layout{Width: 110}})
		if !strings.HasSuffix(got, "decide.\n"+c.want+"\n") {
			t.Errorf("got %q, want %q at the end", got, c.want)
		}
	}
}

func BenchmarkSummary(b *testing.B) {
	run := large(200, 10)
	var buf bytes.Buffer
	for b.Loop() {
		buf.Reset()
		if err := WriteSummary(&buf, run, Summary{}); err != nil {
			b.Fatal(err)
		}
	}
}
