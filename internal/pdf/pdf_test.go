package pdf

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"golang.org/x/image/font/gofont/gobold"

	"embedcheck/internal/drawing"
	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
)

func TestPrintable(t *testing.T) {
	for s, want := range map[string]string{
		"HD-1":       "HD-1",
		"élévation":  "élévation",
		"řez φ16 ≥":  "řez φ16 ≥",
		"Стена":      "Стена",
		"水泵":         "[U+6C34 U+6CF5]",
		"P 水 1":      "P [U+6C34] 1",
		"a\x1b[31mb": "a[31mb",
	} {
		got := Printable(s)
		if s == "a\x1b[31mb" {
			if strings.ContainsFunc(got, finding.Unsafe) {
				t.Errorf("%q: %q", s, got)
			}
			continue
		}
		if got != want {
			t.Errorf("%q: %q, want %q", s, got, want)
		}
	}
}

func TestBoldFaceHasTheSameGlyphs(t *testing.T) {
	bold := glyphsOf(gobold.TTF)
	for r := range glyphs() {
		if !bold[r] {
			t.Errorf("the bold face lacks %q", r)
		}
	}
	if len(glyphs()) < 500 {
		t.Errorf("%d glyphs", len(glyphs()))
	}
}

func FuzzPrintable(f *testing.F) {
	for _, s := range []string{"", "a", "\x00", "\xff", "水", "\u202e", strings.Repeat("水", 100), "😀"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		got := Printable(s)
		for _, r := range got {
			if !has(r) || finding.Unsafe(r) {
				t.Errorf("%q: %q holds %q", s, got, r)
			}
		}
		page := &drawing.Drawing{Width: 100, Height: 50, Marks: []drawing.Mark{drawing.Text{At: geom.Vec2{X: 1, Y: 10}, Text: s, Size: 2.5}}}
		var b bytes.Buffer
		if err := Write(&b, Document{Title: s, Date: time.Unix(0, 0)}, []*drawing.Drawing{page}); err != nil {
			t.Errorf("%q: %v", s, err)
		}
	})
}
