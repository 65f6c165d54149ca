package asbuilt

import (
	"bytes"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"

	"embedcheck/internal/check"
	"embedcheck/internal/geom"
	"embedcheck/internal/grid"
	"embedcheck/internal/model"
	"embedcheck/internal/report"
	"embedcheck/internal/ruleset"
	"embedcheck/internal/survey"
	"embedcheck/rules"
)

// demo is the pump station, read once.
var demo = sync.OnceValues(func() (*model.Model, error) {
	paths, err := filepath.Glob("../../testdata/demo/*.ifc")
	if err != nil {
		return nil, err
	}
	return check.Read(paths, check.Options{Workers: 1, Rules: rules.Builtin()})
})

func plan(t testing.TB, ruleFile string) *Plan {
	t.Helper()
	m, err := demo()
	if err != nil {
		t.Fatal(err)
	}
	set := rules.Builtin()
	if ruleFile != "" {
		if set, err = ruleset.Parse("site.json", []byte(ruleFile)); err != nil {
			t.Fatal(err)
		}
	}
	return NewPlan(m, set)
}

// csvOf is a table as a CSV file, its rows by the key column.
func csvOf(t testing.TB, table *grid.Table) [][]string {
	t.Helper()
	var b bytes.Buffer
	if err := grid.WriteCSV(&b, table); err != nil {
		t.Fatal(err)
	}
	g, err := grid.Parse("form.csv", b.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	var out [][]string
	for i := range g.Rows {
		row := make([]string, len(table.Columns))
		for c := range row {
			row[c] = g.Cell(i, c)
		}
		out = append(out, row)
	}
	return out
}

// column is where a heading stands.
func column(t testing.TB, rows [][]string, heading string) int {
	t.Helper()
	for i, h := range rows[0] {
		if h == heading {
			return i
		}
	}
	t.Fatalf("no column %q in %q", heading, rows[0])
	return 0
}

// text puts cells together again, each in quotes.
func text(rows [][]string, separator string) []byte {
	var b strings.Builder
	for _, r := range rows {
		for i, c := range r {
			if i > 0 {
				b.WriteString(separator)
			}
			b.WriteString(`"` + strings.ReplaceAll(c, `"`, `""`) + `"`)
		}
		b.WriteString("\r\n")
	}
	return []byte(b.String())
}

// fill writes values into the rows of a tape form by their key and leaves out
// the hosts that have none.
func fill(t testing.TB, p *Plan, values map[string]string) [][]string {
	t.Helper()
	rows := csvOf(t, p.TapeForm(p.Units))
	key, value, host := column(t, rows, "key"), column(t, rows, "measured (mm)"), column(t, rows, "host")
	hosts := map[string]bool{}
	for k := range values {
		h, _, _ := strings.Cut(k, "/")
		hosts[h] = true
	}
	out := rows[:1:1]
	for _, r := range rows[1:] {
		if hosts[r[host]] {
			r[value] = values[r[key]]
			out = append(out, r)
		}
	}
	return out
}

func compare(t testing.TB, p *Plan, files ...[]byte) *Result {
	t.Helper()
	var sheets []*Sheet
	for i, f := range files {
		s, err := ParseSheet("sheet"+strconv.Itoa(i+1)+".csv", f)
		if err != nil {
			t.Fatal(err)
		}
		sheets = append(sheets, s)
	}
	return p.Compare(sheets)
}

// rowsOf are the rows in a state, by key.
func rowsOf(r *Result, state report.MeasuredState) map[string]*report.MeasuredRow {
	out := map[string]*report.MeasuredRow{}
	for i := range r.Rows {
		if w := &r.Rows[i]; w.State == state {
			out[w.Key] = w
		}
	}
	return out
}

func count(r *Result, state report.MeasuredState) int {
	m := report.Measured{Rows: r.Rows}
	return m.Count(state)
}

// frame is where an instrument stands, turned about an axis.
func frame(axis geom.Vec, at geom.Vec) geom.Affine {
	f := geom.FrameZX(at, axis, geom.V(1, 0.3, 0))
	return f
}

// points fills in a point form as an instrument in a frame would, in a unit, with
// some points moved (cast frame, mm), and only those of one host whose names are
// taken.
func points(t testing.TB, p *Plan, host string, at geom.Affine, u survey.Unit, moved map[string]geom.Vec, take func(key string) bool) [][]string {
	t.Helper()
	rows := csvOf(t, p.PointForm(p.Units))
	key, hostCol := column(t, rows, "key"), column(t, rows, "host")
	var to [3]int
	for i, c := range []string{"x", "y", "z"} {
		to[i] = column(t, rows, c+" (mm)")
		rows[0][to[i]] = c + " (" + u.Name + ")"
	}
	out := rows[:1:1]
	for _, r := range rows[1:] {
		if r[hostCol] != host {
			continue
		}
		if take == nil || take(r[key]) {
			q := p.points[normal(r[key])].at.Add(moved[r[key]])
			q = at.Local(q)
			for i, v := range [3]float64{q.X, q.Y, q.Z} {
				r[to[i]] = strconv.FormatFloat(v/u.MM, 'f', 7, 64)
			}
		}
		out = append(out, r)
	}
	return out
}
