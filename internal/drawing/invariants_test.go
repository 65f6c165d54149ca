package drawing

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"

	"embedcheck/internal/geom"
)

// inked is a line on the sheet and the group that it belongs to.
type inked struct {
	seg
	group int
}

// flatSheet is a drawing taken apart.
type flatSheet struct {
	lines  []inked
	texts  []Text
	groups []int // of texts
	framed []bool
	next   int
}

func takeApart(d *Drawing) *flatSheet {
	f := &flatSheet{}
	for _, m := range d.Marks {
		f.add(m, 0, false)
	}
	return f
}

func (f *flatSheet) add(m Mark, group int, framed bool) {
	switch m := m.(type) {
	case Line:
		f.lines = append(f.lines, inked{seg{m.A, m.B}, group})
	case Poly:
		for i, p := range m.Points {
			if i+1 < len(m.Points) || m.Closed {
				f.lines = append(f.lines, inked{seg{p, m.Points[(i+1)%len(m.Points)]}, group})
			}
		}
	case Circle:
		pts := circlePoints(m.C, m.R, 24)
		for i, p := range pts {
			f.lines = append(f.lines, inked{seg{p, pts[(i+1)%len(pts)]}, group})
		}
	case Text:
		f.texts, f.groups, f.framed = append(f.texts, m), append(f.groups, group), append(f.framed, framed)
	case Group:
		if m.Name == "dim" || m.Name == "label" || m.Name == "figure" {
			f.next++
			group = f.next
			framed = m.Name == "figure" || m.Dim != nil && m.Dim.Fails
		}
		for _, c := range m.Marks {
			f.add(c, group, framed)
		}
	}
}

// checkSheet holds a drawing to what every sheet has to be: everything on the
// paper, no text on a text, and no text on a foreign line but on a white ground.
func checkSheet(t *testing.T, name string, d *Drawing) {
	t.Helper()
	f := takeApart(d)
	page := rect{geom.Vec2{}, geom.Vec2{X: d.Width, Y: d.Height}}
	for _, l := range f.lines {
		if !finite(l.a) || !finite(l.b) || !page.has(l.a) || !page.has(l.b) {
			t.Errorf("%s: a line runs off the sheet: %v", name, l.seg)
			break
		}
	}
	boxes := make([]box, len(f.texts))
	for i := range f.texts {
		boxes[i] = textBox(&f.texts[i])
		if !page.holds(boxes[i].bounds()) {
			t.Errorf("%s: %q runs off the sheet", name, f.texts[i].Text)
		}
		if f.texts[i].Size < 2.5 {
			t.Errorf("%s: %q is %v mm high, least is 2.5", name, f.texts[i].Text, f.texts[i].Size)
		}
	}
	for i := range boxes {
		for k := range i {
			if boxes[i].meets(boxes[k]) {
				t.Errorf("%s: %q lies on %q", name, f.texts[i].Text, f.texts[k].Text)
			}
		}
		for _, l := range f.lines {
			if f.texts[i].Halo || f.framed[i] || l.group == f.groups[i] && l.group != 0 {
				continue
			}
			if _, _, ok := boxes[i].grow(-0.1).crossing(l.a, l.b); ok {
				t.Errorf("%s: a line runs through %q at %v: %v", name, f.texts[i].Text, boxes[i].bounds(), l.seg)
				break
			}
		}
	}
}

// svgDims are the dimensions that an SVG file states, and checks that it is
// well-formed.
func svgDims(t *testing.T, name string, d *Drawing) (dims []Dim, figure string) {
	t.Helper()
	var b bytes.Buffer
	if err := d.SVG(&b); err != nil {
		t.Fatal(err)
	}
	if s := b.String(); strings.Contains(s, "NaN") || strings.Contains(s, "Inf") {
		t.Errorf("%s: a coordinate is no number", name)
	}
	dec := xml.NewDecoder(&b)
	for {
		tok, err := dec.Token()
		if errors.Is(err, io.EOF) {
			return dims, figure
		}
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		e, ok := tok.(xml.StartElement)
		if !ok {
			continue
		}
		at := map[string]string{}
		for _, a := range e.Attr {
			at[a.Name.Local] = a.Value
		}
		if n := at["data-dim"]; n != "" {
			dims = append(dims, Dim{n, number64(t, at["data-mm"]), at["data-fails"] == "1"})
		}
		if at["data-figure"] != "" {
			figure = at["data-measured"]
		}
	}
}
