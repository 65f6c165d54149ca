package sheet

import (
	"fmt"

	"embedcheck/internal/finding"
	"embedcheck/internal/setout"
)

// notes stands left of the title block: how the host is cast, and what is open.
func (b *book) notes(p *page) {
	f := b.paper.frame()
	x, y, w := f.Min.X+3, f.Max.Y-stripH+5, f.W()-blockW-6
	u := b.u
	for _, t := range b.castNotes() {
		y = p.paragraph(x, y, t, small, false, w, 4)
	}
	if diag, ok := diagonal(u); ok {
		y = p.paragraph(x, y, "Square the form first: both diagonals are "+diag+".", small, false, w, 1)
	}
	y += 0.8
	lines := int((f.Max.Y - 9.5 - y) / 4.2)
	if b.holds > 0 {
		y = p.paragraph(x, y, fmt.Sprintf("DO NOT POUR: %s on hold.", count(b.holds, "finding")), large, true, w, 1)
		lines--
	}
	shown := 0
	for _, g := range b.findings {
		if shown >= lines-1 && shown < len(b.findings) {
			break
		}
		y = p.put(x, y, told(g), small, g.Priority == finding.Hold, w)
		shown++
	}
	if rest := len(b.findings) - shown; rest > 0 {
		p.put(x, y, fmt.Sprintf("and %d more, all on the checklist.", rest), small, false, w)
	}
	if len(b.findings) == 0 {
		p.put(x, y, "No open findings in this host; that is no statement about its anchors.", small, false, w)
	}
	p.paragraph(x, f.Max.Y-5.8, finding.Caution, small, false, w, 2)
}

func (b *book) castNotes() []string {
	c := b.u.Cast
	how := "Face up: " + c.UpName + " (" + c.Why + ")."
	switch c.Basis {
	case setout.ByRule:
		how += " CONFIRM before marking out: the model does not state it."
	case setout.Unknown:
		how += " NOT KNOWN, assumed here: the precaster decides before marking out."
	}
	datum := "Datum: lower left corner of the form as seen from above. All running figures are taped from it: to the axes of bolts and sockets, the left and lower side of plates, the middle of other items, both sides of openings."
	if !b.u.Corner {
		datum += " No concrete is there: it is where the sides would meet."
	}
	if b.dense {
		datum += " There is no room for all marks: those without one, and what is not on the chains, are in the table of marks."
	}
	return []string{how, datum}
}

// diagonal is that of a form with square corners.
func diagonal(u *setout.Unit) (string, bool) {
	for i := range u.Form {
		if u.Form[i].Quantity == setout.Diagonal {
			return mm(u.Form[i].MM), true
		}
	}
	return "", false
}

// told is a finding in one line, with the mark of the item that it is worst at.
func told(f *finding.Finding) string {
	t := f.Priority.String() + ": " + f.Title
	if w := f.Worst(); w != nil && w.Item.Mark != "" {
		t += " [" + w.Item.Mark + "]"
	}
	return t
}
