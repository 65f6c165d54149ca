package report

import (
	"bufio"
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"embedcheck/internal/finding"
)

// Inventory is what was recognised in the models, in plain rows.
type Inventory struct {
	Models  []finding.ModelInfo
	Remarks []string // about the files as one federation
	Hosts   []HostRow
	Items   []ItemRow
	Bars    []BarRow
	LeftOut []LeftOutRow // neither host, item nor bar
	Unread  []LeftOutRow // could not be read
}

// HostRow is one host.
type HostRow struct {
	Ref   finding.Ref
	Items int
	Why   string // the evidence
}

// ItemRow is one item.
type ItemRow struct {
	Ref     finding.Ref
	Kind    string
	Set     string // "" for an item that stands alone
	Size    string // as a person says it: "M20"
	Anchors int
	Host    finding.Ref // zero when there is none
	Why     string      // the evidence
}

// BarRow is one reinforcement element.
type BarRow struct {
	Ref        finding.Ref
	DiameterMM float64 // 0 when it is no rod
	Pieces     int
	Assembly   string // innermost assembly it belongs to
}

// LeftOutRow is an element that is none of these, and why.
type LeftOutRow struct {
	Ref finding.Ref
	Why string
}

// WriteInventory writes the inventory as tables: hosts, the items of each host,
// bars by diameter, and what was left out by reason.
func WriteInventory(w io.Writer, inv *Inventory, l Layout) error {
	b := bufio.NewWriter(w)
	p := printer{w: b, Layout: l, run: (&finding.Run{Models: inv.Models, Remarks: inv.Remarks}).Sorted()}
	p.models()
	p.mapPlaces()
	p.hostRows(inv.Hosts)
	p.itemRows(inv.Items)
	p.barRows(inv.Bars)
	p.leftOut("Left out as neither host, item nor bar", inv.LeftOut)
	p.leftOut("Could not be read", inv.Unread)
	return b.Flush()
}

func (p *printer) hostRows(hosts []HostRow) {
	p.heading(fmt.Sprintf("Hosts: %d", len(hosts)))
	if len(hosts) == 0 {
		return
	}
	hosts = slices.SortedStableFunc(slices.Values(hosts), func(a, b HostRow) int { return finding.CompareRef(a.Ref, b.Ref) })
	t := table{columns: []column{
		{title: "host", most: 32}, {title: "mark", most: 12}, {title: "class"}, {title: "items", right: true}, {title: "why", flex: true},
	}}
	for _, h := range hosts {
		t.add(h.Ref.Label(), mark(h.Ref), finding.Plain(h.Ref.Class), strconv.Itoa(h.Items), finding.Plain(h.Why))
	}
	p.table(&t)
}

// mark is what tells an element from others of its name, where it has one.
func mark(r finding.Ref) string {
	if m := finding.Plain(r.Mark); m != r.Label() {
		return m
	}
	return ""
}

func (p *printer) itemRows(items []ItemRow) {
	p.heading(fmt.Sprintf("Items: %d", len(items)))
	items = slices.SortedStableFunc(slices.Values(items), func(a, b ItemRow) int {
		return cmp.Or(finding.CompareRef(a.Host, b.Host), cmp.Compare(a.Kind, b.Kind),
			finding.Natural(a.Set, b.Set), finding.CompareRef(a.Ref, b.Ref))
	})
	for len(items) > 0 {
		host, n := items[0].Host, 0
		for n < len(items) && items[n].Host == host {
			n++
		}
		head := "Without host"
		if host != (finding.Ref{}) {
			head = "In " + hostName(host)
		}
		p.line("")
		p.line("  " + fit(head, p.columns()-14) + ": " + count(n, "item"))
		p.itemTable(items[:n])
		items = items[n:]
	}
}

func (p *printer) itemTable(items []ItemRow) {
	t := table{columns: []column{
		{title: "item", most: 24}, {title: "kind"}, {title: "set", most: 16}, {title: "size", most: 24},
		{title: "anchors", right: true}, {title: "why", flex: true},
	}}
	for _, it := range items {
		t.add(it.Ref.Label(), finding.Plain(it.Kind), finding.Plain(it.Set), finding.Plain(it.Size),
			strconv.Itoa(it.Anchors), finding.Plain(it.Why))
	}
	p.table(&t)
}

// barSum is the bars of one diameter.
type barSum struct {
	diameter         float64
	elements, pieces int
	names            []string
}

func (p *printer) barRows(bars []BarRow) {
	sums := map[float64]*barSum{}
	pieces := 0
	for _, b := range slices.SortedStableFunc(slices.Values(bars), func(a, b BarRow) int { return finding.CompareRef(a.Ref, b.Ref) }) {
		d := finding.Round(b.DiameterMM, 1)
		s := sums[d]
		if s == nil {
			s = &barSum{diameter: d}
			sums[d] = s
		}
		s.elements++
		s.pieces += b.Pieces
		pieces += b.Pieces
		if n := name(b.Ref); len(s.names) < maxNames && !slices.Contains(s.names, n) {
			s.names = append(s.names, n)
		}
	}
	p.heading(fmt.Sprintf("Bars: %d in %s", pieces, count(len(bars), "element")))
	if len(sums) == 0 {
		return
	}
	t := table{columns: []column{
		{title: "diameter", right: true}, {title: "elements", right: true}, {title: "bars", right: true}, {title: "such as", flex: true},
	}}
	for _, s := range sortedSums(sums) {
		d := "no rod"
		if s.diameter > 0 {
			d = strconv.FormatFloat(s.diameter, 'f', -1, 64) + " mm"
		}
		t.add(d, strconv.Itoa(s.elements), strconv.Itoa(s.pieces), strings.Join(s.names, ", "))
	}
	p.table(&t)
}

func sortedSums(sums map[float64]*barSum) []*barSum {
	var list []*barSum
	for _, s := range sums {
		list = append(list, s)
	}
	slices.SortFunc(list, func(a, b *barSum) int { return cmp.Compare(a.diameter, b.diameter) })
	return list
}

// leftOut groups elements by reason and class: a building has thousands that
// are no business of this check, and each reason is told once.
func (p *printer) leftOut(title string, rows []LeftOutRow) {
	if len(rows) == 0 {
		return
	}
	p.heading(fmt.Sprintf("%s: %d", title, len(rows)))
	type key struct{ why, class string }
	groups := map[key]*reason{}
	classes := map[*reason]string{}
	var order []*reason
	for _, r := range slices.SortedStableFunc(slices.Values(rows), func(a, b LeftOutRow) int { return finding.CompareRef(a.Ref, b.Ref) }) {
		k := key{finding.Plain(r.Why), finding.Plain(r.Ref.Class)}
		g := groups[k]
		if g == nil {
			g = &reason{why: k.why}
			groups[k] = g
			classes[g] = k.class
			order = append(order, g)
		}
		g.count++
		if n := name(r.Ref); len(g.names) < maxNames && !slices.Contains(g.names, n) {
			g.names = append(g.names, n)
		}
	}
	slices.SortStableFunc(order, func(a, b *reason) int {
		return cmp.Or(cmp.Compare(b.count, a.count), cmp.Compare(a.why, b.why), cmp.Compare(classes[a], classes[b]))
	})
	t := table{columns: []column{{title: "count", right: true}, {title: "class", most: 28}, {title: "why", flex: true}, {title: "such as", flex: true}}}
	for _, g := range order {
		t.add(strconv.Itoa(g.count), classes[g], g.why, strings.Join(g.names, ", "))
	}
	p.table(&t)
}

// WriteInventoryJSON writes every row of the inventory for programs.
func WriteInventoryJSON(w io.Writer, inv *Inventory) error {
	b := bufio.NewWriter(w)
	j := jsonWriter{w: b}
	models := (&finding.Run{Models: inv.Models}).Sorted().Models
	j.textf("{\n \"schema\": %d,\n \"models\": ", Schema)
	list(&j, " ", models, func(m *finding.ModelInfo) { j.value(modelOut(m)) })
	j.remarks(inv.Remarks)
	j.text(",\n \"hosts\": ")
	list(&j, " ", inv.Hosts, func(h *HostRow) {
		j.value(struct {
			refJSON
			Items int    `json:"items"`
			Why   string `json:"why"`
		}{plainRef(h.Ref), h.Items, h.Why})
	})
	j.text(",\n \"items\": ")
	list(&j, " ", inv.Items, func(it *ItemRow) {
		r := plainRef(it.Ref)
		r.Kind = it.Kind
		j.value(struct {
			refJSON
			Set     string   `json:"set"`
			Size    string   `json:"size"`
			Anchors int      `json:"anchors"`
			Host    *refJSON `json:"host"`
			Why     string   `json:"why"`
		}{r, it.Set, it.Size, it.Anchors, refOut(it.Host), it.Why})
	})
	j.text(",\n \"bars\": ")
	list(&j, " ", inv.Bars, func(r *BarRow) {
		j.value(struct {
			refJSON
			Diameter json.Marshaler `json:"diameter_mm"`
			Pieces   int            `json:"pieces"`
			Assembly string         `json:"assembly"`
		}{plainRef(r.Ref), number(finding.Round(r.DiameterMM, 2)), r.Pieces, r.Assembly})
	})
	j.text(",\n \"left_out\": ")
	list(&j, " ", inv.LeftOut, j.leftOut)
	j.text(",\n \"unread\": ")
	list(&j, " ", inv.Unread, j.leftOut)
	j.text("\n}\n")
	if j.err != nil {
		return j.err
	}
	return b.Flush()
}

func (j *jsonWriter) leftOut(r *LeftOutRow) {
	j.value(struct {
		refJSON
		Why string `json:"why"`
	}{plainRef(r.Ref), r.Why})
}

// plainRef is refOut for rows, which always are about an element.
func plainRef(r finding.Ref) refJSON {
	return refJSON{GlobalID: r.GlobalID, Class: r.Class, Name: r.Name, Mark: r.Mark, Model: r.Model}
}
