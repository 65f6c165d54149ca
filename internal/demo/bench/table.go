package main

import (
	"fmt"
	"io"
	"math"
	"text/tabwriter"
)

// target is what a figure should be; the zero target asks for nothing.
type target struct {
	sign    string // "<=", ">=" or "" for no bound
	bound   float64
	stretch float64 // what the bound may become one day; 0: nothing stated
}

func atMost(x float64) target        { return target{sign: "<=", bound: x} }
func atLeast(x float64) target       { return target{sign: ">=", bound: x} }
func (t target) to(x float64) target { t.stretch = x; return t }

func (t target) met(got float64) bool {
	switch t.sign {
	case "<=":
		return got <= t.bound
	case ">=":
		return got >= t.bound
	}
	return true
}

// words are the target and whether it was met.
func (t target) words(got float64) (want, verdict string) {
	if t.sign == "" {
		return "", ""
	}
	want = fmt.Sprintf("%s %g", t.sign, t.bound)
	if t.stretch != 0 {
		want += fmt.Sprintf(" (%g)", t.stretch)
	}
	if t.met(got) {
		return want, "met"
	}
	return want, "MISSED"
}

// row is one figure of the table.
type row struct {
	what   string
	ratio  float64 // NaN: the row only says something
	want   target
	detail string // what the ratio comes from, in seconds and bytes of this machine
}

type table struct{ rows []row }

func (t *table) add(what string, ratio float64, want target, detail string, args ...any) {
	t.rows = append(t.rows, row{what, ratio, want, fmt.Sprintf(detail, args...)})
}

// skip says what was not measured, and why.
func (t *table) skip(what, why string, args ...any) {
	t.rows = append(t.rows, row{what: what, ratio: math.NaN(), detail: "skipped: " + fmt.Sprintf(why, args...)})
}

// print prints the table and empties it.
func (t *table) print(w io.Writer, title string) {
	fmt.Fprintf(w, "\n%s\n", title)
	tw := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(tw, "  figure\tratio\ttarget (stretch)\t\ton this machine")
	for _, r := range t.rows {
		ratio := "-"
		if !math.IsNaN(r.ratio) {
			ratio = fmt.Sprintf("%.2f", r.ratio)
		}
		want, verdict := r.want.words(r.ratio)
		fmt.Fprintf(tw, "  %s\t%s\t%s\t%s\t%s\n", r.what, ratio, want, verdict, r.detail)
	}
	tw.Flush()
	t.rows = nil
}

// seconds and size are figures of this machine in few digits.
func seconds(s float64) string {
	if s < 1 {
		return fmt.Sprintf("%.1f ms", s*1e3)
	}
	return fmt.Sprintf("%.2f s", s)
}

func size(n float64) string {
	for _, u := range []struct {
		unit string
		n    float64
	}{{"GB", 1e9}, {"MB", 1e6}, {"kB", 1e3}} {
		if n >= u.n {
			return fmt.Sprintf("%.3g %s", n/u.n, u.unit)
		}
	}
	return fmt.Sprintf("%.0f bytes", n)
}
