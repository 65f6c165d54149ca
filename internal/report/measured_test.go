package report

import (
	"fmt"
	"strings"
	"testing"

	"embedcheck/internal/finding"
)

func comparison() *Measured {
	bolt := func(state MeasuredState, what string, model, taken float64) MeasuredRow {
		return MeasuredRow{
			State: state, Host: "PB-01", Set: "HD-1", What: what, Key: "PB-01/HD-1/" + what, Known: true, Model: model, Taken: true, Measured: taken,
			Limited: true, Minus: 5, Plus: 25, Source: "drawing S-101", Where: "form.csv, row 7",
		}
	}
	blank := bolt(NotMeasured, "y 3", 130, 0)
	blank.Taken = false
	absent := blank
	absent.Note = "on no sheet"
	free := bolt(NoTolerance, "length", 1500, 1499)
	free.Limited, free.Source = false, ""
	surveyed := bolt(Within, "x 2", 1050, 1074.96)
	surveyed.Surveyed, surveyed.Holds, surveyed.Note = true, 1.2, "nearer to the limit than the uncertainty of the fit, 1.2 mm"
	return &Measured{
		Run:    &finding.Run{Models: []finding.ModelInfo{{Path: "base.ifc", Schema: "IFC4", Unit: "millimetre"}}, Ruleset: finding.Ruleset{Name: "built-in"}},
		Sheets: []MeasuredSheet{{Name: "form.csv", Unit: "inches", Values: 6, Blank: 2}},
		Surveys: []Survey{{Host: "PB-01", Sheet: "points.csv", RMS: 3.04, References: []SurveyReference{{"corner 1", 1.04, -2, 0, 2.26}},
			Notes: []string{"outlier: corner 2 is 60 mm off from where the others have it"}}},
		Hints: []string{"form.csv: LIKELY in another unit"},
		Rows: []MeasuredRow{
			bolt(Outside, "x 1", 450, 475.01), bolt(Outside, "projection 1", 110, 90),
			{State: NotCompared, Key: "PB-01/HD-1/y 1", Where: "form.csv, row 8", Note: "column H: \"53O\" is no number"},
			{State: UnknownKey, Key: "PB-01/HD-9/x 1", Where: "form.csv, row 9", Note: "no dimension of PB-01 has this key"},
			surveyed, free, blank, absent,
		},
		Files:  []File{{"out/measured.csv", "all values"}},
		Layout: Layout{Width: 100},
	}
}

func compared(t *testing.T, m *Measured) string {
	t.Helper()
	var b strings.Builder
	if err := WriteMeasured(&b, m); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestWriteMeasured(t *testing.T) {
	got := compared(t, comparison())
	golden(t, "measured.txt", []byte(got))
	if !strings.Contains(strings.Join(strings.Fields(got), " "), finding.Caution) {
		t.Error("no caution")
	}
	for _, bad := range []string{"OK", "pass", "safe", "adequate", "may be poured"} {
		if strings.Contains(got, bad) {
			t.Errorf("says %q", bad)
		}
	}
}

func TestMeasuredKeepsTheWidth(t *testing.T) {
	m := comparison()
	m.Rows[0].Host, m.Rows[1].Set = strings.Repeat("host ", 20), strings.Repeat("set ", 20)
	m.Rows[1].What, m.Rows[2].Key = strings.Repeat("what ", 30), strings.Repeat("k", 300)
	m.Hints[0], m.Rows[4].Note = strings.Repeat("hint ", 50), strings.Repeat("note ", 50)
	for _, w := range []int{72, 80, 100} {
		m.Layout.Width = w
		for _, l := range strings.Split(compared(t, m), "\n") {
			if columnsOf(l) > w {
				t.Errorf("width %d: %d columns in %q", w, columnsOf(l), l)
			}
		}
	}
}

// Of many surveys only those are printed in full that there is something to say
// about.
func TestManySurveys(t *testing.T) {
	m := comparison()
	for i := range 60 {
		m.Surveys = append(m.Surveys, Survey{Host: fmt.Sprint("H", i), Sheet: "points.csv", RMS: 1, References: []SurveyReference{{"corner 1", 1, 0, 0, 1}}})
	}
	got := compared(t, m)
	if strings.Count(got, "Survey of ") != 1 || !strings.Contains(got, "Surveys: 60 more") || !strings.Contains(got, "and 20 more") {
		t.Errorf("got %s", got)
	}
}

// A form that nobody filled in says so.
func TestNothingCompared(t *testing.T) {
	m := comparison()
	m.Rows = m.Rows[6:]
	if got := compared(t, m); !strings.HasSuffix(got, "Nothing was compared: 0 outside the stated tolerance, 0 within it, 2 not measured.\n") {
		t.Errorf("got %s", got)
	}
}

// What is left out of a long list is counted.
func TestLongComparison(t *testing.T) {
	m := comparison()
	for _, s := range []MeasuredState{Outside, NotCompared, UnknownKey, Within, NoTolerance} {
		for i := range 100 {
			m.Rows = append(m.Rows, MeasuredRow{State: s, Key: fmt.Sprint("k", i), Host: "H", What: "x"})
		}
	}
	got := compared(t, m)
	for _, want := range []string{"and 62 more, see measured.csv", "and 61 more, see measured.csv", "and 76 more, see measured.csv"} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q", want)
		}
	}
}

func TestMeasuredIsHarmless(t *testing.T) {
	m := comparison()
	const nasty = "\x1b[31m\u202e<b>\n=cmd"
	m.Sheets[0].Name, m.Hints[0], m.Surveys[0].Host, m.Surveys[0].References[0].Name = nasty, nasty, nasty, nasty
	m.Surveys[0].Notes[0], m.Files[0].Path = nasty, nasty
	for i := range m.Rows {
		r := &m.Rows[i]
		r.Host, r.Set, r.What, r.Key, r.Source, r.Where, r.Note = nasty, nasty, nasty, nasty, nasty, nasty, nasty
	}
	if got := compared(t, m); strings.ContainsAny(got, "\x1b\u202e") {
		t.Errorf("holds control characters: %q", got)
	}
}
