package main

import (
	"os"
	"strings"
	"testing"
)

func TestSheetCommand(t *testing.T) {
	call := in(t)
	said := call(0, "sheet", "BASE", "--host", "pb-01", "--revision", "B", "--form", "--out", "a", "--workers", "1")
	for _, f := range []string{"sheets.pdf", "sheet-PB-01-1.svg", "form-tape.csv", "form-points.xlsx"} {
		if _, err := os.Stat("a/" + f); err != nil {
			t.Errorf("%s: %v", f, err)
		}
	}
	if !strings.Contains(said, "PB-01") || !strings.Contains(said, "a/sheets.pdf") || strings.Contains(said, "PB-02") {
		t.Errorf("says %s", said)
	}
	call(0, "sheet", "BASE", "--host", "PB-01", "--revision", "B", "--out", "b", "--workers", "4")
	for _, f := range []string{"sheets.pdf", "sheet-PB-01-1.svg"} {
		a, errA := os.ReadFile("a/" + f)
		b, errB := os.ReadFile("b/" + f)
		if errA != nil || errB != nil || string(a) != string(b) {
			t.Errorf("%s differs: %v, %v", f, errA, errB)
		}
	}
	call(2, "sheet", "BASE", "--paper", "A2")
	call(2, "sheet", "BASE", "--host", "PB-77", "--out", "c")
	call(3, "sheet", "nothing.ifc", "--out", "c")
}

// TestSheetHasTheProjectsTolerances takes them from the rule file.
func TestSheetHasTheProjectsTolerances(t *testing.T) {
	call := in(t)
	put(t, "wide.json", `{"tolerances": {"position": {"within": {"mm": 17}, "source": "drawing S-101"}}}`)
	call(0, "sheet", "BASE", "--host", "PB-01", "--rules", "wide.json", "--out", "a")
	var all strings.Builder
	for _, n := range []string{"4", "5", "6"} {
		data, err := os.ReadFile("a/sheet-PB-01-" + n + ".svg")
		if err != nil {
			t.Fatal(err)
		}
		all.Write(data)
	}
	for _, want := range []string{"±17", "drawing S-101"} {
		if !strings.Contains(all.String(), want) {
			t.Errorf("no %s on the checklist", want)
		}
	}
}

func TestFileName(t *testing.T) {
	taken := map[string]bool{}
	for _, c := range [][2]string{{"WP-01", "WP-01"}, {"wp-01", "wp-01_2"}, {"a/../b c", "a_.._b_c"}, {"水", "水"}} {
		if got := fileName(c[0], taken); got != c[1] {
			t.Errorf("fileName(%q) = %q, want %q", c[0], got, c[1])
		} else if strings.ContainsAny(got, `/\`) {
			t.Errorf("fileName(%q) = %q leaves the folder", c[0], got)
		}
	}
}
