package check

import (
	"strings"

	"embedcheck/internal/finding"
	"embedcheck/internal/model"
	"embedcheck/internal/report"
)

// Inventory lists what was recognised in a model, in rows for people and
// programs.
func Inventory(m *model.Model) *report.Inventory {
	inv := &report.Inventory{Models: modelInfos(m), Remarks: m.Remarks}
	ref := func(r model.Ref) finding.Ref {
		f := finding.Ref{GlobalID: r.GlobalID, Class: r.Class, Name: r.Name, Mark: r.Mark}
		if r.Source < len(m.Sources) {
			f.Model = m.Sources[r.Source].Name
		}
		return f
	}
	for _, h := range m.Hosts {
		inv.Hosts = append(inv.Hosts, report.HostRow{Ref: ref(h.Ref), Items: len(h.Items), Why: because(h.Evidence)})
	}
	for _, it := range m.Items {
		row := report.ItemRow{Ref: ref(it.Ref), Kind: it.Kind.String(), Size: it.Size, Anchors: len(it.Anchors), Why: because(it.Evidence)}
		if it.Set != nil {
			row.Set = it.Set.Name
		}
		if it.Host != nil {
			row.Host = ref(it.Host.Ref)
		}
		inv.Items = append(inv.Items, row)
	}
	inv.Bars = barRows(m, ref)
	for _, l := range m.LeftOut {
		inv.LeftOut = append(inv.LeftOut, report.LeftOutRow{Ref: ref(l.Ref), Why: l.Why})
	}
	for _, u := range m.Unread {
		inv.Unread = append(inv.Unread, report.LeftOutRow{Ref: ref(u.Ref), Why: u.Role + ": " + u.Why})
	}
	return inv
}

func barRows(m *model.Model, ref func(model.Ref) finding.Ref) []report.BarRow {
	rows := make([]report.BarRow, len(m.Bars.Marks))
	for i := range rows {
		rows[i].Ref = ref(m.Bars.Ref(int32(i)))
		rows[i].Assembly = m.Bars.Assembly(int32(i))
	}
	for _, p := range m.Bars.Pieces {
		rows[p.Mark].Pieces++
		rows[p.Mark].DiameterMM = 2 * float64(p.Radius)
	}
	for _, p := range m.Bars.Meshes {
		rows[p.Mark].Pieces++
	}
	return rows
}

func because(evidence []string) string { return strings.Join(evidence, "; ") }
