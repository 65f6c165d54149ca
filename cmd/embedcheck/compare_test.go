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
