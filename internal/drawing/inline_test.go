package drawing_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"

	"embedcheck/internal/drawing"
	"embedcheck/internal/geom"
)

func TestInlineIsSmallAndWellFormed(t *testing.T) {
	d := sheetOfLines()
	var long, short bytes.Buffer
	if err := errors.Join(d.SVG(&long), d.Inline(&short)); err != nil {
		t.Fatal(err)
	}
	if short.Len()*3 > long.Len() {
		t.Errorf("%d bytes inline, %d as SVG", short.Len(), long.Len())
	}
	texts := 0
	dec := xml.NewDecoder(&short)
	for {
		tok, err := dec.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		if c, ok := tok.(xml.CharData); ok {
			texts++
			if string(c) != "<b>&" {
				t.Errorf("text is %q", c)
			}
		}
	}
	if texts != 1 {
		t.Errorf("%d texts", texts)
	}
}

// Lines that go on where the last one ended are one path, in steps of 0.05 mm;
// a filled outline stands alone, for it covers what was drawn before it.
func TestInlineJoinsLinesOfOnePen(t *testing.T) {
	pen := drawing.Pen{Width: drawing.Thin}
	a, b, c := geom.Vec2{X: 10, Y: 10}, geom.Vec2{X: 20, Y: 10}, geom.Vec2{X: 20, Y: 15.05}
	d := &drawing.Drawing{
		Marks: []drawing.Mark{drawing.Group{Name: "face", Marks: []drawing.Mark{
			drawing.Line{A: a, B: b, Pen: pen}, drawing.Line{A: b, B: c, Pen: pen},
			drawing.Poly{Points: []geom.Vec2{a, b, c}, Closed: true, Fill: drawing.White},
			drawing.Line{A: a, B: c, Pen: pen},
		}}},
		Fields: []drawing.Field{{Name: "face", W: 100, H: 50}},
	}
	var out bytes.Buffer
	if err := d.Inline(&out); err != nil {
		t.Fatal(err)
	}
	want := `<path class="s0 w1" d="M200 200h200v101"/><path class="f3" d="M200 200h200v101z"/><path class="s0 w1" d="M200 200l200 101"/>`
	if !strings.Contains(out.String(), want) {
		t.Errorf("got %s", out.String())
	}
}

func sheetOfLines() *drawing.Drawing {
	g := drawing.Group{Name: "face"}
	for i := range 200 {
		x := float64(i)
		g.Marks = append(g.Marks, drawing.Line{A: geom.Vec2{X: x, Y: x}, B: geom.Vec2{X: x + 1, Y: x + 1}, Pen: drawing.Pen{Width: drawing.Hair, Dash: drawing.Chain}})
	}
	g.Marks = append(g.Marks, drawing.Text{Text: "<b>&", Size: 2.5})
	return &drawing.Drawing{Width: 297, Height: 210, Marks: []drawing.Mark{g}, Fields: []drawing.Field{{Name: "face", Label: "a & b", W: 297, H: 210}}}
}
