package sheet

import (
	"fmt"
	"strconv"

	"embedcheck/internal/drawing"
	"embedcheck/internal/finding"
	"embedcheck/internal/model"
	"embedcheck/internal/setout"
)

func text(n int) string { return strconv.Itoa(n) }

// checklist is what is filled in and signed before the pour.
func (b *book) checklist() {
	b.measured()
	b.hardware()
	b.release()
}

// measured has a box for each value that is taped in the form.
func (b *book) measured() {
	cols := []column{{"dimension", 84}, {"model", 12}, {"tolerance", 15.5}, {"measured", 18}, {"within", 11}}
	var rows []row
	add := func(title string, dims []setout.Dim) {
		first := true
		for i := range dims {
			d := &dims[i]
			if !d.Taped {
				continue
			}
			if first {
				rows = append(rows, row{heading: true, cells: []string{title}})
			}
			first = false
			rows = append(rows, row{cells: []string{d.Text, mm(d.MM), tolText(d.Tol), "", ""}})
		}
	}
	add("Form "+b.u.Mark, b.u.Form)
	for _, s := range b.u.Sets {
		add(s.Mark+": "+what(s)+", "+b.faceText(s.Face), s.Dims)
	}
	b.table("Pre-pour checklist: measured values",
		"mm. Write the measured value in its box. Tolerances are a screening with the sources on the last page; the project's documents decide. No tolerance: none is stated here.", cols, rows, 2)
}

// hardware has a line for each set with what it has to be.
func (b *book) hardware() {
	cols := []column{
		{"mark", 34}, {"no.", 9}, {"size", 38}, {"length", 15}, {"thread", 15}, {"grade", 18}, {"finish", 26}, {"nuts", 12}, {"washers", 15},
		{"thread clean, capped", 32}, {"checked", 16},
	}
	var rows []row
	for _, s := range b.u.Sets {
		it := mainItem(s)
		nuts, washers := parts(s)
		length, thread := "", "-"
		if len(s.Anchors) > 0 && it.Kind != model.Plate {
			thread = "not stated"
			a := s.Anchors[0]
			length = mm(a.Deepest)
			if t := max(a.Thread, it.Stated.Thread); t > 0 {
				thread = mm(t)
			}
		}
		rows = append(rows, row{cells: []string{
			s.Mark, text(amount(s)), orElse(it.Size, it.Kind.String()), length, thread, orElse(it.Stated.Grade, "not stated"),
			orElse(it.Stated.Finish, "not stated"), nuts, washers, "", "",
		}})
	}
	b.table("Pre-pour checklist: hardware",
		"What the model states, in mm. Not stated: ask before ordering. Nuts and washers are those of the whole set in the model; cap or tape every thread and close every socket before the pour.", cols, rows, 1)
}

// parts counts the nuts and washers of a set.
func parts(s *setout.Set) (string, string) {
	if mainItem(s).Kind != model.Bolt {
		return "-", "-"
	}
	nuts, washers := 0, 0
	for i := range s.Anchors {
		for _, p := range s.Anchors[i].Parts {
			switch p.Kind {
			case model.Nut:
				nuts++
			case model.Washer:
				washers++
			}
		}
	}
	return text(nuts), text(washers)
}

// holdPoints are what has to be so before the pour, whatever the model says.
var holdPoints = []string{
	"This sheet is of the model and the revision that the form is built from (name, hash and revision at the foot of each page).",
	"Form clean, square (diagonals), tight and firm; the face that is up is the one named on page 1.",
	"Items fixed so that they stay in place and square to the face during the pour and vibration; templates fixed.",
	"Reinforcement fixed; no bar cut, bent or moved for an item without the engineer's agreement; cover measured.",
	"Supplementary bars at anchors fixed where the engineer's documents call for them; marks: ______________________",
	"Threads clean and protected, sockets closed, recess formers in place.",
	"All values above measured and within their tolerances, or the engineer has agreed in writing: no. ______________",
	"Open findings below are settled. Nothing on hold is poured.",
	"After the pour: positions and levels checked while they can still be put right; measured values kept.",
	"Torque, nuts, grout and loading: only as the engineer's documents say. Document: ______________________",
}

// release is the page of hold points, open findings and signatures.
func (b *book) release() {
	p := b.newPage("release for the pour", false)
	r := p.room
	x, w := r.Min.X+3, r.W()-6
	y := p.put(x, r.Min.Y+6, "Pre-pour checklist: hold points and release", large, true, w)
	for _, t := range holdPoints {
		p.tick(x, y)
		y = p.paragraph(x+6, y, t, small, false, w-6, 2) + 1
	}
	foot := r.Max.Y - 40
	y = p.put(x, y+3, fmt.Sprintf("Open findings: %d, %d of them on hold", len(b.findings), b.holds), large, true, w)
	for _, f := range b.findings {
		if y > foot-10 {
			p.foot40(x, foot)
			p = b.newPage("release for the pour, continued", false)
			y = p.put(x, r.Min.Y+6, "Open findings, continued", large, true, w)
		}
		p.tick(x, y)
		y = p.paragraph(x+6, y, fmt.Sprintf("%s (%.8s). %s", told(f), f.ID, upper(f.Message)), small, f.Priority == finding.Hold, w-6, 2) + 1
	}
	for _, t := range b.sources() {
		if y > foot-6 {
			break
		}
		y = p.put(x, y+1, t, small, false, w)
	}
	p.foot40(x, foot)
}

// tick is an empty box to be ticked, on the base line of its text.
func (p *page) tick(x, y float64) {
	p.Frame(drawing.RectAt(x, y-2.9, 3.4, 3.4), drawing.Pen{Width: drawing.Fine})
}

// foot40 is the lines for signatures, with what the sheet cannot say.
func (p *page) foot40(x, y float64) {
	w := p.room.W() - 6
	thin := drawing.Pen{Width: drawing.Thin}
	for i, who := range []string{"Set out by", "Checked by", "Released for the pour by"} {
		x0 := x + float64(i)*w/3
		p.put(x0, y+6, who, small, true, w/3-4)
		p.Line(at(x0, y+16), at(x0+w/3-8, y+16), thin)
		p.put(x0, y+20, "name, date, signature", small, false, w/3-4)
	}
	p.paragraph(x, y+28, finding.Caution+" embedcheck has no knowledge of loads; the engineer's documents govern. Screening against published limits is no release.", small, false, w, 2)
}

// sources are the tolerances with where they come from.
func (b *book) sources() []string {
	seen := map[string]bool{}
	var out []string
	for _, d := range b.u.Dims() {
		if d.Tol == nil || !d.Taped {
			continue
		}
		t := fmt.Sprintf("Tolerance of %s %s: %s", d.Tol.Kind, tolText(d.Tol), d.Tol.Source)
		if !seen[t] {
			seen[t] = true
			out = append(out, t)
		}
	}
	return out
}
