package schedule

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"embedcheck/internal/finding"
	"embedcheck/internal/grid"
	"embedcheck/internal/model"
)

// Printed is the order as a table that fits a page: what each line is in words.
func (s *Schedule) Printed() *grid.Table {
	t := &grid.Table{Name: "To order", Columns: []grid.Column{
		column("line", "", 0), column("count", "", 0), {Name: "what"}, column("each", "kg", 2), column("all", "kg", 1), {Name: "marks"},
	}}
	for _, l := range s.Lines {
		m := massOf(l.first.items)
		t.Add(grid.Int(l.Number), grid.Int(l.Count()), grid.Str(l.inWords()), m.cell(1), m.cell(l.Count()), grid.Str(short(l.marks())))
	}
	return t
}

// short cuts a list of many marks; the files have them all.
func short(list string) string {
	const most = 6
	marks := strings.Split(list, ", ")
	if more := len(marks) - most; more > 1 {
		return strings.Join(marks[:most], ", ") + fmt.Sprintf(" and %d more", more)
	}
	return list
}

// inWords is what a line is: "4 bolts with template: 4 x M20, 390 long, L, leg
// 110; template 720 x 520 x 8; 4 nuts above, 4 nuts below; hot-dip, 4.6".
func (l *Line) inWords() string {
	items := l.first.items
	var parts []string
	for _, c := range anchorsOf(items) {
		parts = append(parts, c.inWords())
	}
	for _, it := range items {
		if it.Kind == model.Template || it.Kind == model.Plate {
			parts = append(parts, it.Kind.String()+" "+finding.Plain(it.Size))
		}
	}
	if len(parts) == 0 {
		parts = append(parts, l.size().Text())
	}
	_, _, plate := plateAlong(items)
	parts = append(parts, fittingsOf(items).inWords(plate)...)
	if l.size().Gap {
		parts = append(parts, "size "+notStated)
	}
	for _, d := range []model.Datum{model.FinishDatum, model.GradeDatum} {
		if c := l.stated(d); !c.Empty() {
			parts = append(parts, string(d)+" "+c.Text())
		}
	}
	text := l.What() + ": " + strings.Join(parts, "; ")
	if n := l.note(); n != "" {
		text += " (" + n + ")"
	}
	return text
}

func (c counted) inWords() string {
	s := c.size + ", " + mm(c.length) + " long, " + c.end
	if c.developed > 0 {
		s += ", " + mm(c.developed) + " developed"
	}
	if c.thread > 0 {
		s += ", thread " + mm(c.thread)
	}
	if c.n > 1 {
		return fmt.Sprintf("%d x %s", c.n, s)
	}
	return s
}

func (f fittings) inWords(plate bool) []string {
	var out []string
	for s, where := range []string{above: "above", below: "below", embedded: "embedded"} {
		if !plate && side(s) == above {
			where = "out of the concrete"
		}
		for _, x := range []struct {
			n    int
			what string
		}{{f.nuts[s], "nut"}, {f.washers[s], "washer"}} {
			switch {
			case x.n == 1:
				out = append(out, "1 "+x.what+" "+where)
			case x.n > 1:
				out = append(out, fmt.Sprintf("%d %ss %s", x.n, x.what, where))
			}
		}
	}
	return out
}

// PrintedHosts is one row a host.
func (s *Schedule) PrintedHosts() *grid.Table {
	t := &grid.Table{Name: "Where it goes", Columns: []grid.Column{{Name: "host"}, {Name: "lines and counts"}, column("mass", "kg", 1)}}
	for _, rows := range s.hostRows() {
		var counts []string
		for _, h := range rows {
			counts = append(counts, fmt.Sprintf("%d x line %d", h.Count(), h.Number))
		}
		t.Add(hostCell(rows[0].host), grid.Str(strings.Join(counts, ", ")), number(hostMass(rows).kg))
	}
	return t
}

// PrintedGaps is one row for each thing that is missing of a line.
func (s *Schedule) PrintedGaps() *grid.Table {
	t := &grid.Table{Name: "What the models do not say", Columns: []grid.Column{{Name: "missing"}, column("line", "", 0), column("items", "", 0), {Name: "kind"}, {Name: "such as"}}}
	type key struct {
		lacks, kind string
		line        int
	}
	sums := map[key][]string{}
	var order []key
	for _, g := range s.Gaps {
		k := key{g.Lacks, g.Kind, g.Line}
		if sums[k] == nil {
			order = append(order, k)
		}
		sums[k] = append(sums[k], markOf(&g.Item))
	}
	slices.SortStableFunc(order, func(a, b key) int { return cmp.Compare(a.line, b.line) })
	for _, k := range order {
		names := sums[k]
		such := strings.Join(names[:min(len(names), 4)], ", ")
		if more := len(names) - 4; more > 0 {
			such += fmt.Sprintf(" and %d more", more)
		}
		t.Add(grid.Missing(k.lacks), count(k.line), grid.Int(len(names)), grid.Str(k.kind), grid.Str(such))
	}
	return t
}
