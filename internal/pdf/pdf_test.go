package pdf

import (
	"strings"
	"testing"
	"unicode"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
)

func TestPrintable(t *testing.T) {
	for in, want := range map[string]string{
		"HD-1":             "HD-1",
		"Fundação Ø20":     "Fundação Ø20",
		"Насос":            "Насос",
		"水泵 A":             "[U+6C34 U+6CF5] A",
		"a\x00\x1b[1mb\nc": "a??[1mb c",
		"😀":                "[U+1F600]",
		"":                 "",
	} {
		if got := Printable(in); got != want {
			t.Errorf("Printable(%q) = %q, want %q", in, got, want)
		}
	}
}

func TestBothFacesHaveTheSameGlyphs(t *testing.T) {
	a, b := glyphsOf(goregular.TTF), glyphsOf(gobold.TTF)
	if len(a) < 500 || len(a) != len(b) {
		t.Fatalf("%d and %d glyphs", len(a), len(b))
	}
	for r := range a {
		if !b[r] {
			t.Errorf("the bold face lacks %U", r)
		}
	}
}

func FuzzPrintable(f *testing.F) {
	for _, s := range []string{"HD-1", "水泵", "\x1b[31m", "a\xff", "\u202e", "e\u0301"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		p := Printable(s)
		for _, r := range p {
			if unicode.IsControl(r) || !has(r) {
				t.Errorf("%q gives %q with %U", s, p, r)
			}
		}
		if Printable(p) != p {
			t.Errorf("%q: not the same when it is done twice", s)
		}
		if strings.TrimSpace(p) != p {
			t.Errorf("%q: blanks at the ends of %q", s, p)
		}
	})
}
