package schedule

import (
	"cmp"
	"fmt"
	"slices"

	"embedcheck/internal/finding"
	"embedcheck/internal/grid"
	"embedcheck/internal/model"
)

func column(name, unit string, decimals int) grid.Column {
	return grid.Column{Name: name, Unit: unit, Type: grid.Number, Decimals: decimals}
}

func number(v float64) grid.Cell { return grid.Num(v) }

// notStated is what stands where the model is silent.
const notStated = "NOT STATED"

// Tables are the schedule for a spreadsheet: what to order, where it goes, what
// the models do not say, and what to know about the figures.
func (s *Schedule) Tables() []*grid.Table {
	return []*grid.Table{s.Order(), s.Hosts(), s.GapTable(), s.about()}
}

// Order is one row a line.
func (s *Schedule) Order() *grid.Table {
	t := &grid.Table{Name: "order", Columns: []grid.Column{
		column("line", "", 0), column("count", "", 0), {Name: "what"}, {Name: "plate"}, column("anchors each", "", 0), {Name: "size"},
		column("length", "mm", 1), column("developed length", "mm", 1), {Name: "end"}, column("thread", "mm", 1),
		column("nuts above", "", 0), column("nuts below", "", 0), column("nuts embedded", "", 0),
		column("washers above", "", 0), column("washers below", "", 0), column("washers embedded", "", 0),
		{Name: "finish"}, {Name: "grade"}, column("mass each", "kg", 2), column("mass total", "kg", 2), {Name: "mass from"},
		column("bars each by table", "kg", 2), {Name: "marks"}, {Name: "note"},
	}}
	for _, l := range s.Lines {
		t.Rows = append(t.Rows, l.row())
	}
	return t
}

// Mass is the mass of all lines in kg, and of how many units it is not known.
func (s *Schedule) Mass() (kg float64, open int) {
	for _, l := range s.Lines {
		m := massOf(l.first.items)
		kg += m.kg * float64(l.Count())
		if m.open != "" {
			open += l.Count()
		}
	}
	return kg, open
}

// hostLine is a line in one host.
type hostLine struct {
	host *model.Host
	Line
}

// byHost takes the lines apart by host.
func (s *Schedule) byHost() []*hostLine {
	var out []*hostLine
	for _, l := range s.Lines {
		at := map[*model.Host]*hostLine{}
		for _, u := range l.Units {
			h := at[u.Host]
			if h == nil {
				h = &hostLine{u.Host, Line{Number: l.Number, MirrorOf: l.MirrorOf, first: l.first}}
				at[u.Host] = h
				out = append(out, h)
			}
			h.Units = append(h.Units, u)
		}
	}
	slices.SortStableFunc(out, func(a, b *hostLine) int {
		return cmp.Or(compareHosts(a.host, b.host), cmp.Compare(a.Number, b.Number))
	})
	return out
}

// Hosts is one row for each line in each host; the first of a host has the mass
// of all that is cast into it.
func (s *Schedule) Hosts() *grid.Table {
	t := &grid.Table{Name: "hosts", Columns: []grid.Column{
		{Name: "host"}, {Name: "model"}, column("line", "", 0), column("count", "", 0), {Name: "what"}, {Name: "size"}, {Name: "marks"},
		column("mass", "kg", 2), column("host total", "kg", 2), {Name: "note"}, {Name: "host GlobalId"},
	}}
	for _, rows := range s.hostRows() {
		total := hostMass(rows)
		note := grid.Cell{}
		if total.open != "" {
			note = grid.Missing("total without what is not known: " + total.open)
		}
		all := number(total.kg)
		for _, h := range rows {
			t.Add(hostCell(h.host), grid.Str(s.modelOf(h)), grid.Int(h.Number), grid.Int(h.Count()), grid.Str(h.What()), h.size(),
				grid.Str(h.marks()), massOf(h.first.items).cell(h.Count()), all, note, grid.Str(hostID(h.host)))
			all, note = grid.Cell{}, grid.Cell{}
		}
	}
	return t
}

// hostRows are the lines of each host.
func (s *Schedule) hostRows() [][]*hostLine {
	var out [][]*hostLine
	for _, h := range s.byHost() {
		if n := len(out); n > 0 && out[n-1][0].host == h.host {
			out[n-1] = append(out[n-1], h)
		} else {
			out = append(out, []*hostLine{h})
		}
	}
	return out
}

// hostMass is the mass of the lines of one host, as far as it is known.
func hostMass(rows []*hostLine) mass {
	var sum mass
	for _, h := range rows {
		m := massOf(h.first.items)
		sum.kg += m.kg * float64(h.Count())
		sum.open = cmp.Or(sum.open, m.open)
	}
	return sum
}

func hostID(h *model.Host) string {
	if h == nil {
		return ""
	}
	return h.GlobalID
}

func hostCell(h *model.Host) grid.Cell {
	if h == nil {
		return grid.Missing(hostName(h))
	}
	return grid.Str(hostName(h))
}

// modelOf is the file that a host is in, or the items where there is no host.
func (s *Schedule) modelOf(h *hostLine) string {
	source := h.first.items[0].Source
	if h.host != nil {
		source = h.host.Source
	}
	return s.sourceName(source)
}

func (s *Schedule) sourceName(i int) string {
	if i < 0 || i >= len(s.model.Sources) {
		return ""
	}
	return s.model.Sources[i].Name
}

// GapTable is what the models do not say, one row a thing.
func (s *Schedule) GapTable() *grid.Table {
	t := &grid.Table{Name: "gaps", Columns: []grid.Column{
		{Name: "missing"}, column("line", "", 0), {Name: "host"}, {Name: "mark"}, {Name: "name"}, {Name: "kind"}, {Name: "rule"}, {Name: "detail"},
		{Name: "model"}, {Name: "GlobalId"},
	}}
	for _, g := range s.Gaps {
		t.Add(grid.Missing(g.Lacks), count(g.Line), grid.Str(gapHost(g)), grid.Str(g.Item.Mark), grid.Str(g.Item.Name), grid.Str(g.Kind),
			grid.Str(g.Rule), grid.Str(g.Detail), grid.Str(s.sourceName(g.Item.Source)), grid.Str(g.Item.GlobalID))
	}
	return t
}

func gapHost(g Gap) string {
	if g.Host == nil {
		return ""
	}
	return hostName(g.Host)
}

// about says how much it is in all, and how the figures came about.
func (s *Schedule) about() *grid.Table {
	t := &grid.Table{Name: "about", Columns: []grid.Column{{Name: "what"}, {Name: "meaning"}}}
	t.Add(grid.Str("mass of all"), grid.Str(s.massText()))
	for _, r := range Notes {
		t.Add(grid.Str(r[0]), grid.Str(r[1]))
	}
	return t
}

func (s *Schedule) massText() string {
	kg, open := s.Mass()
	text := column("", "kg", 1).Fixed(number(kg)) + " kg of steel"
	if open > 0 {
		text += fmt.Sprintf(", without %d of which the mass is not known", open)
	}
	return text
}

// Notes say what to know about the figures.
var Notes = [][2]string{
	{"line", "items and sets whose shapes agree to 0.5 mm in every distance and to 0.1 mm in diameter, wherever and however they stand, and whose finish, grade and thread are stated alike; names and marks do not count"},
	{"mirror image", "a line that agrees with another only in the mirror"},
	{"length", "over all, from the open end along the axis to the deepest point; developed length: of the centreline of a bent one"},
	{"nuts and washers", "above: on the open side of the plate, or out of the concrete where there is none; below: between plate and concrete; only what is modelled is counted"},
	{"mass", "volume of the bodies in the model times 7850 kg/m3 (EN 1993-1-2, 3.2.2(1), from memory); threads count as full; crossing parts of other shapes count twice; zinc and packing are left out"},
	{"bars by table", "the shanks of the bolts by nominal mass per metre (EN 10080 table 6 and EN 10060, from memory), without heads, nuts and plates: to hold the mass from geometry against"},
	{"thread", "as stated in the model; empty: not stated"},
	{"caution", finding.Caution},
}

// Reading is what to know of the printed tables, in short.
func (s *Schedule) Reading() []string {
	return []string{
		"In all " + s.massText() + ".",
		"Items are on one line when their shapes agree to 0.5 mm, and finish, grade and thread are stated alike; names do not count. " +
			"Masses are those of the bodies in the model at 7850 kg/m3.",
	}
}
