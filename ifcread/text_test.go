package ifcread

import (
	"testing"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
)

// The ways to write A-umlaut are those of the implementers' guidance for strings
// in IFC files.
func TestDecodeString(t *testing.T) {
	for raw, want := range map[string]string{
		`plain`: "plain", "": "", `it''s`: "it's", `''`: "'", `'`: "'", `a\\b`: `a\b`,
		`\S\D`: "Ä", `\PA\\S\D`: "Ä", `\X\C4`: "Ä", `\X2\00C4\X0\`: "Ä", `\x2\00c4\x0\`: "Ä", `\s\D`: "Ä",
		`\X2\00C400D6\X0\x`: "ÄÖx", `\X4\0001F600\X0\`: "😀", `\X4\000000C40001F600\X0\`: "Ä😀",
		`\X2\D83DDE00\X0\`: "😀", `\X2\D83D\X0\\X2\DE00\X0\`: "😀", `\X2\D83D\X0\x`: "\uFFFDx", `\X4\00110000\X0\`: "\uFFFD",
		`\PE\\S\0`: "А", `\pe\\S\0\PA\\S\D`: "АÄ", `\PG\\S\a`: "α", `\PZ\\S\D`: "Ä", `\S\''`: "§", `\S\\\X\C4`: "ÜÄ",
		"\xc3\x84": "Ä", "\xc4": "Ä", "\x80 \x96": "€ –", "a\r\nb": "ab", `\N\x\F\`: "x", "a\tb": "a\tb",
		`\X2\00C4`: "Ä", `\X2\00C`: "00C", `\X2\zz\X0\`: `zz`, `\q`: `\q`, `\`: `\`, `\S\`: `\S\`, `\X\Z`: "Z", `\X0\`: "",
		`C:\temp\wall`: `C:\temp\wall`, `\X\0A`: "\n",
	} {
		if got := DecodeString([]byte(raw)); got != want {
			t.Errorf("%q: %q, want %q", raw, got, want)
		}
	}
}

// TestPages compares with the tables of a general library.
func TestPages(t *testing.T) {
	for page, m := range []*charmap.Charmap{
		charmap.ISO8859_1, charmap.ISO8859_2, charmap.ISO8859_3, charmap.ISO8859_4, charmap.ISO8859_5,
		charmap.ISO8859_6, charmap.ISO8859_7, charmap.ISO8859_8, charmap.ISO8859_9,
	} {
		for c := 0xA0; c < 0x100; c++ {
			if got, want := pageRune(page, byte(c)), m.DecodeByte(byte(c)); got != want {
				t.Errorf("8859-%d, %#x: %#x, want %#x", page+1, c, got, want)
			}
		}
	}
	for c := range 0x100 {
		want := charmap.Windows1252.DecodeByte(byte(c))
		if want == utf8.RuneError {
			want = rune(c)
		}
		if got := windows(byte(c)); got != want {
			t.Errorf("raw %#x: %#x, want %#x", c, got, want)
		}
	}
}
