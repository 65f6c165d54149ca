package snapshot

import (
	"image"
	"image/color"
	"image/draw"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"

	"embedcheck/internal/drawing/subject"
	"embedcheck/internal/finding"
)

// captionH is the height of the line of text at the foot of the picture.
const captionH = 30

// lettering is the face of the caption; nil when it could not be made, which
// only a damaged program has. Faces keep buffers, so that each use needs its own.
var lettering = sync.OnceValue(func() *opentype.Font {
	f, err := opentype.Parse(gobold.TTF)
	if err != nil {
		return nil
	}
	return f
})

// caption writes the rule and the figure, and what the colours stand for.
func caption(img *image.RGBA, s *subject.Subject) {
	band := image.Rect(0, height-captionH, width, height)
	draw.Draw(img, band, image.NewUniform(color.White), image.Point{}, draw.Src)
	draw.Draw(img, image.Rect(0, height-captionH, width, height-captionH+1), image.NewUniform(color.Black), image.Point{}, draw.Src)
	f := lettering()
	if f == nil {
		return
	}
	face, err := opentype.NewFace(f, &opentype.FaceOptions{Size: 15, DPI: 72, Hinting: font.HintingNone})
	if err != nil {
		return
	}
	defer face.Close()
	w := writer{img: img, face: face, y: height - 10}
	right := width - 8
	for _, k := range keys(s) {
		right = w.key(k, right)
	}
	w.text(8, fitText(face, captionText(s), right-16), color.Black)
}

// captionText is the rule with its figure: "edge-distance: 65 mm, at least 100 mm required".
func captionText(s *subject.Subject) string {
	t := s.Finding.Rule
	if fig := s.Instance.Figures(); fig != "" {
		t += ": " + fig
	}
	return finding.Plain(t)
}

// key is what a colour stands for.
type key struct {
	paint paint
	text  string
}

// keys are from right to left.
func keys(s *subject.Subject) []key {
	var out []key
	add := func(p paint, t string) { out = append(out, key{p, finding.Short(finding.Plain(t), 20)}) }
	switch {
	case s.Aim.Bar != nil:
		r := s.Index.Ref(s.Aim.Bar)
		add(named, subject.Label(&r))
	case s.Aim.Item != nil:
		add(named, subject.Label(&s.Aim.Item.Ref))
	case s.Aim.Anchor != nil && s.Aim.Anchor.Item != s.Item:
		add(named, subject.Label(&s.Aim.Anchor.Item.Ref))
	}
	add(theItem, subject.Label(&s.Item.Ref))
	return out
}

type writer struct {
	img  *image.RGBA
	face font.Face
	y    int
}

func (w *writer) text(x int, s string, c color.Color) {
	d := font.Drawer{Dst: w.img, Src: image.NewUniform(c), Face: w.face, Dot: fixed.P(x, w.y)}
	d.DrawString(s)
}

// key draws a chip with its text, ending at right, and gives where it begins.
func (w *writer) key(k key, right int) int {
	const chip = 13
	x := right - font.MeasureString(w.face, k.text).Ceil()
	w.text(x, k.text, color.Black)
	c := colours[k.paint]
	r := image.Rect(x-6-chip, w.y-chip+1, x-6, w.y+1)
	draw.Draw(w.img, r.Inset(-1), image.NewUniform(color.Black), image.Point{}, draw.Src)
	draw.Draw(w.img, r, image.NewUniform(color.RGBA{uint8(c[0]), uint8(c[1]), uint8(c[2]), 255}), image.Point{}, draw.Src)
	return r.Min.X - 16
}

// fitText cuts a text to a width in pixels.
func fitText(face font.Face, s string, w int) string {
	if font.MeasureString(face, s).Ceil() <= w {
		return s
	}
	r := []rune(s)
	for len(r) > 0 && font.MeasureString(face, string(r)+"...").Ceil() > w {
		r = r[:len(r)-1]
	}
	return string(r) + "..."
}
