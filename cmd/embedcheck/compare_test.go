package main

import (
	"os"
	"strings"
	"testing"
)

func put(t *testing.T, name, data string) {
	t.Helper()
	if err := os.WriteFile(name, []byte(data), 0o600); err != nil {
		t.Fatal(err)
	}
}

func TestCompareExitCodes(t *testing.T) {
	call := in(t)
	embedcheck := func(want int, args ...string) string {
		t.Helper()
		return strings.Join(strings.Fields(call(want, args...)), " ") // lines may break anywhere
	}
	put(t, "within.csv", "key,measured (mm)\nPB-01/HD-1/x 1,455\nPB-01/HD-1/projection 1,\n")
	put(t, "outside.csv", "key,measured (in)\nPB-01/HD-1/x 1,18 1/4\n")
	put(t, "a, b.csv", "key,measured (mm)\nPB-01/HD-1/x 1,450\n")
	put(t, "unread.csv", "key,measured (mm)\nPB-01/HD-1/x 1,455 or so\nPB-99/HD-1/x 1,3\n")
	put(t, "nounit.csv", "key,measured\nPB-01/HD-1/x 1,455\n")
	put(t, "review.json", `{"rules": {"position-measured": {"priority": "review"}}}`)
	put(t, "wide.json", `{"tolerances": {"position": {"within": {"in": 1}, "source": "drawing S-101"}}}`)

	said := embedcheck(0, "compare", "BASE", "--measured", "within.csv")
	for _, want := range []string{"PB-01/HD-1/x 1", "Within the stated tolerance: 1", "licensed engineer decide", "0 outside the stated tolerance, 1 within it, 31 not"} {
		if !strings.Contains(said, want) {
			t.Errorf("no %q in %s", want, said)
		}
	}
	said = embedcheck(1, "compare", "BASE", "--measured", "outside.csv", "--measured", "within.csv", "--out", "out")
	if !strings.Contains(said, "1 outside the stated tolerance") || !strings.Contains(said, "+13.5") || !strings.Contains(said, "2 values were taken of it") {
		t.Errorf("says %s", said)
	}
	for _, f := range []string{"measured.csv", "measured.xlsx", "issues.bcf", "findings.json"} {
		if _, err := os.Stat("out/" + f); err != nil {
			t.Error(err)
		}
	}
	if holds := ids(t, "hold"); len(holds) != 1 {
		t.Errorf("hold findings %q", holds)
	}
	embedcheck(0, "compare", "BASE", "--measured", "outside.csv", "--rules", "review.json")
	embedcheck(1, "compare", "BASE", "--measured", "outside.csv", "--rules", "review.json", "--fail-on", "review")
	if said = embedcheck(0, "compare", "BASE", "--measured", "outside.csv", "--rules", "wide.json"); !strings.Contains(said, "drawing S-101") {
		t.Errorf("says %s", said)
	}
	said = embedcheck(0, "compare", "BASE", "--measured", "unread.csv")
	if !strings.Contains(said, "0 within it, 2 not compared") {
		t.Errorf("says %s", said)
	}
	embedcheck(1, "compare", "BASE", "--measured", "unread.csv", "--fail-on", "review")

	embedcheck(0, "compare", "BASE", "--measured", "a, b.csv")

	embedcheck(2, "compare", "BASE")
	embedcheck(2, "compare", "--measured", "within.csv")
	embedcheck(2, "compare", "BASE", "--measured", "nowhere.csv")
	if said = embedcheck(2, "compare", "BASE", "--measured", "nounit.csv"); !strings.Contains(said, "states no unit") {
		t.Errorf("says %s", said)
	}
	embedcheck(2, "compare", "BASE", "--measured", "within.csv", "--fail-on", "never")
	embedcheck(3, "compare", "nowhere.ifc", "--measured", "within.csv")
}

// What people decided about a measured value holds, as for every other finding.
func TestAcceptedDeviation(t *testing.T) {
	embedcheck := in(t)
	put(t, "form.csv", "key,measured (mm)\nPB-01/HD-1/x 1,460\n")
	embedcheck(1, "compare", "BASE", "--measured", "form.csv", "--out", "out")
	holds := ids(t, "hold")
	if len(holds) != 1 {
		t.Fatalf("hold findings %q", holds)
	}
	embedcheck(0, "decide", holds[0], "--accept", "--reason", "slotted plate")
	embedcheck(0, "compare", "BASE", "--measured", "form.csv", "--out", "out")
	put(t, "form.csv", "key,measured (mm)\nPB-01/HD-1/x 1,470\n")
	embedcheck(1, "compare", "BASE", "--measured", "form.csv", "--out", "out")
	if again := ids(t, "hold"); len(again) != 1 || again[0] != holds[0] {
		t.Errorf("hold findings %q, before %q", again, holds)
	}
}

// The same bytes for any number of workers.
func TestCompareIsStable(t *testing.T) {
	embedcheck := in(t)
	put(t, "form.csv", "key,measured (mm)\nPB-01/HD-1/x 1,460\nPB-01/HD-1/projection 2,200\nnone,3\nPB-01/HD-1/y 1,x\n")
	for _, n := range []string{"1", "4"} {
		embedcheck(1, "compare", "BASE", "--measured", "form.csv", "--out", "out"+n, "--workers", n)
	}
	for _, f := range []string{"measured.csv", "measured.xlsx", "issues.bcf", "findings.json"} {
		a, errA := os.ReadFile("out1/" + f)
		b, errB := os.ReadFile("out4/" + f)
		if errA != nil || errB != nil || string(a) != string(b) {
			t.Errorf("%s differs: %v, %v", f, errA, errB)
		}
	}
}

// A form that is made, filled in and compared, as a surveyor does it.
func TestFormThereAndBack(t *testing.T) {
	embedcheck := in(t)
	said := embedcheck(0, "sheet", "BASE", "ROOF", "--form", "--out", "forms", "--host", "PB-01", "--host", "rp-01")
	for _, f := range []string{"form-tape.csv", "form-tape.xlsx", "form-points.csv", "form-points.xlsx"} {
		if !strings.Contains(said, "forms/"+f) {
			t.Errorf("%s is not named in %s", f, said)
		}
		// Blank ones pass nothing, and nothing is wrong with them.
		said := embedcheck(0, "compare", "BASE", "ROOF", "--measured", "forms/"+f)
		if !strings.Contains(said, "Nothing was compared") || strings.Contains(said, "OLD FORM") {
			t.Errorf("%s: says %s", f, said)
		}
	}
	data, err := os.ReadFile("forms/form-tape.csv")
	if err != nil {
		t.Fatal(err)
	}
	if s := string(data); !strings.Contains(s, "PB-01/HD-1/x 1") || !strings.Contains(s, "RP-01/") || strings.Contains(s, "BS-01/") {
		t.Error("the form does not hold the two hosts only")
	}
	filled := strings.Replace(string(data), "450,6,6,,,", "450,6,6,457,,", 1)
	if filled == string(data) {
		t.Fatal("no row was filled in")
	}
	put(t, "filled.csv", filled)
	if said := embedcheck(1, "compare", "BASE", "ROOF", "--measured", "filled.csv"); !strings.Contains(said, "1 outside the stated tolerance") {
		t.Errorf("says %s", said)
	}
	if said := embedcheck(2, "sheet", "BASE", "--form", "--out", "forms", "--host", "PB-77"); !strings.Contains(said, "no such host") {
		t.Errorf("says %s", said)
	}
}

// A check knows nothing of measured values, so it settles none.
func TestCheckResolvesNoMeasuredValues(t *testing.T) {
	embedcheck := in(t)
	put(t, "form.csv", "key,measured (mm)\nPB-01/HD-1/x 1,460\n")
	embedcheck(1, "compare", "BASE", "--measured", "form.csv", "--out", "measured")
	said := strings.Join(strings.Fields(embedcheck(1, "check", "BASE", "--since", "measured")), " ")
	if !strings.Contains(said, " 0 resolved") || !strings.Contains(said, "no measured values in this run") {
		t.Errorf("says %s", said)
	}
}
