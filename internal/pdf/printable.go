package pdf

import (
	"fmt"
	"strings"
	"sync"

	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"

	"embedcheck/internal/finding"
)

// Lacking is what a page should say where Printable has replaced characters.
const Lacking = "[U+...]: characters that the font of this sheet lacks, by their Unicode numbers"

// Printable is a text as the font can print it: on one line, without control
// characters, and with what the font has no glyph for as Unicode numbers in
// brackets, as "[U+6C34 U+6CF5]".
func Printable(s string) string {
	s = finding.Plain(s)
	if isASCII(s) {
		return s
	}
	var b strings.Builder
	open := false
	for _, r := range s {
		if has(r) {
			if open {
				b.WriteByte(']')
			}
			open = false
			b.WriteRune(r)
			continue
		}
		if !open {
			b.WriteByte('[')
		} else {
			b.WriteByte(' ')
		}
		open = true
		fmt.Fprintf(&b, "U+%04X", r)
	}
	if open {
		b.WriteByte(']')
	}
	return b.String()
}

func isASCII(s string) bool {
	for i := 0; i < len(s); i++ {
		if s[i] > '~' {
			return false
		}
	}
	return true
}

// has reports whether the font has a glyph for a character.
func has(r rune) bool {
	if r < 0x7f {
		return true
	}
	return r <= 0xffff && glyphs()[r]
}

// glyphs are the characters of the basic plane that the font has. The bold one
// has the same; a test holds that.
var glyphs = sync.OnceValue(func() map[rune]bool {
	return glyphsOf(goregular.TTF)
})

func glyphsOf(ttf []byte) map[rune]bool {
	out := map[rune]bool{}
	f, err := sfnt.Parse(ttf)
	if err != nil { // the font is part of the program
		return out
	}
	var buf sfnt.Buffer
	for r := rune(0x80); r <= 0xffff; r++ {
		if i, err := f.GlyphIndex(&buf, r); err == nil && i != 0 {
			out[r] = true
		}
	}
	return out
}
