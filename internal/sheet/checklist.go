package sheet

import (
	"fmt"
	"strings"

	"embedcheck/internal/drawing"
	"embedcheck/internal/finding"
	"embedcheck/internal/model"
	"embedcheck/internal/pdf"
	"embedcheck/internal/setout"
)

// checklist is what is measured and looked at before the pour, with a box for
// each, the open findings, hold points and signatures.
func (b *book) checklist() {
	cols := []column{{"dimension (key: set / what)", 4.6, false}, {"mm", 0.8, true}, {"tolerance", 1.2, true}, {"measured", 1.3, false}, {"within", 0.8, false}}
	across := 1
	if b.paper.W > 400 {
		across = 2
	}
	b.table("pre-pour checklist: measured values", cols, b.measuredRows(), across)
	b.lookedAt()
}

// measuredRows are the taped dimensions of the form, then of each set.
func (b *book) measuredRows() []row {
	var rows []row
	take := func(heading string, dims []setout.Dim) {
		first := true
		for i := range dims {
			d := &dims[i]
			if !d.Taped {
				continue
			}
			if first {
				rows = append(rows, row{heading: heading})
				first = false
			}
			rows = append(rows, row{cells: []string{d.Set + " / " + d.What, mm(d.MM), orElse(tolText(d.Tol), "none stated")}, box: 3})
		}
	}
	take("FORM", b.u.Form)
	for _, s := range b.u.Sets {
		take(strings.ToUpper(s.Mark)+", "+b.faceText(s.Face), s.Dims)
	}
	return rows
}

// lookedAt is the last pages: hardware, thread protection, bars, hold points,
// findings, signatures.
func (b *book) lookedAt() {
	cols := []column{{"before the pour", 7.2, false}, {"seen", 0.8, false}, {"remark", 2.4, false}}
	rows := b.findingRows()
	rows = append(rows, row{heading: "HARDWARE AS DELIVERED (size, length, thread, finish, grade, nuts and washers)"})
	for _, k := range b.kins() {
		rows = append(rows, row{cells: []string{hardware(k)}, box: 1})
	}
	rows = append(rows, ticks("IN THE FORM",
		"marks, revision and model hash of this sheet agree with the drawing in use",
		"datum corner and face up agree with the drawing; form measured, diagonals equal",
		"templates and plates tied so that they cannot move when concrete is placed; level and square",
		"threads taped or capped, sockets plugged, recess formers oiled and fixed",
		"bars near items as detailed; none cut, bent or moved to make room without the engineer's word",
		"supplementary bars called up by the engineer's documentation are in place",
		"cover blocks, ducts and lifting inserts as detailed; lifting bars through their inserts",
	)...)
	rows = append(rows, ticks("HOLD POINTS: DO NOT GO ON WITHOUT A SIGNATURE",
		"set out and measured, by (name, date, signature):",
		"checked by a second person (name, date, signature):",
		"released for the pour by (name, date, signature):",
		"measured after the pour, before the form is struck (name, date, signature):",
		"grout, base plate, tightening: torque and method by the engineer's documentation, reference:",
	)...)
	rows = append(rows, row{heading: "TOLERANCES ON THESE SHEETS"})
	for _, t := range b.sources() {
		rows = append(rows, row{cells: []string{t}})
	}
	if b.replaced() {
		rows = append(rows, row{cells: []string{pdf.Lacking}})
	}
	rows = append(rows, row{cells: []string{finding.Caution}, bold: true})
	b.table("pre-pour checklist: look and sign", cols, rows, 1)
}

// ticks are lines under a heading, each with a box to tick.
func ticks(heading string, lines ...string) []row {
	rows := []row{{heading: heading}}
	for _, t := range lines {
		rows = append(rows, row{cells: []string{t}, box: 1})
	}
	return rows
}

// findingRows are the open findings of the host, holds first.
func (b *book) findingRows() []row {
	if len(b.findings) == 0 {
		return []row{{heading: "OPEN FINDINGS OF THE CHECK: none at the time of printing. That is no statement about the element."}}
	}
	rows := []row{{heading: "OPEN FINDINGS OF THE CHECK (DO NOT POUR ON A HOLD)"}}
	for _, f := range b.findings {
		t := strings.ToUpper(f.Priority.String()) + "  " + finding.Plain(f.Title)
		if w := f.Worst(); w != nil && w.Figures() != "" {
			t += ": " + finding.Plain(w.Figures())
		}
		rows = append(rows, row{cells: []string{t}, box: 1, bold: f.Priority == finding.Hold})
	}
	return rows
}

// hardware is what stands in the model about the items of sets that are alike.
func hardware(k *kin) string {
	it := mainItem(k.first)
	parts := []string{k.title() + ": " + what(k.first)}
	st := &it.Stated
	if st.Length > 0 {
		parts = append(parts, "length "+mm(st.Length))
	}
	if st.Thread > 0 {
		parts = append(parts, "thread "+mm(st.Thread))
	}
	parts = append(parts, "finish "+orElse(st.Finish, "NOT STATED"))
	if it.Kind == model.Bolt {
		parts = append(parts, "grade "+orElse(st.Grade, orElse(it.Material, "NOT STATED")))
		nuts, washers := 0, 0
		for i := range k.first.Anchors {
			for _, p := range k.first.Anchors[i].Parts {
				switch p.Kind {
				case model.Nut:
					nuts++
				case model.Washer:
					washers++
				}
			}
		}
		if nuts+washers > 0 {
			parts = append(parts, fmt.Sprintf("%s, %s", count(nuts, "nut"), count(washers, "washer")))
		} else {
			parts = append(parts, "nuts and washers NOT MODELLED")
		}
	}
	return strings.Join(parts, ", ")
}

// sources are the tolerances with where they come from, each once.
func (b *book) sources() []string {
	var out []string
	seen := map[string]bool{}
	for _, d := range b.u.Dims() {
		if d.Tol == nil {
			continue
		}
		t := string(d.Tol.Kind) + " " + tolText(d.Tol) + ": " + d.Tol.Source
		if !seen[t] {
			seen[t] = true
			out = append(out, t)
		}
	}
	return out
}

// replaced reports whether some text of the sheet had characters that the font
// lacks.
func (b *book) replaced() bool {
	for _, p := range b.pages {
		for _, m := range p.Marks() {
			if t, ok := m.(drawing.Text); ok && strings.Contains(t.Text, "[U+") {
				return true
			}
		}
	}
	return false
}
