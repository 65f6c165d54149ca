package finding

import (
	"strings"
	"testing"
	"unicode/utf8"
)

func TestPlain(t *testing.T) {
	for _, c := range []struct{ name, in, want string }{
		{"usual", "HB-1 (M20)", "HB-1 (M20)"},
		{"empty", "", ""},
		{"only blanks", " \t\n ", ""},
		{"blanks in a row", "  a  b \r\n c\t", "a b c"},
		{"no-break space", "a\u00a0b", "a b"},
		{"line and paragraph separators", "a\u2028b\u2029c", "a b c"},
		{"escape sequence", "\x1b[31mred\x1b[0m", "?[31mred?[0m"},
		{"8-bit escape", "a\u009b31mb", "a?31mb"},
		{"bell, backspace, delete, nul", "a\x07\x08\x7f\x00b", "a????b"},
		{"reading direction turned", "a\u202ebolt\u202c\u2066\u200f", "a?bolt???"},
		{"byte order mark", "\ufeffa", "?a"},
		{"no UTF-8", "a\xff\xc3b", "a??b"},
		{"replacement character stays", "a\ufffdb", "a\ufffdb"},
		{"no character", "a\ufffe\U0001ffffb", "a??b"},
		{"invisible tags", "a\U000e0041b", "a?b"},
		{"accents, Greek, wide", "Élément φ16 基礎", "Élément φ16 基礎"},
	} {
		got := Plain(c.in)
		if got != c.want {
			t.Errorf("%s: got %q, want %q", c.name, got, c.want)
		}
		if Plain(got) != got {
			t.Errorf("%s: %q changes when made plain again", c.name, got)
		}
	}
}

func TestShortKeepsTheLimit(t *testing.T) {
	for _, c := range []struct {
		in   string
		n    int
		want string
	}{
		{"abcdef", 6, "abcdef"},
		{"abcdefg", 6, "abc..."},
		{"éééééé", 6, "éééééé"},
		{"ééééééé", 6, "ééé..."},
		{"ab cdefg", 6, "ab..."},
		{"abc", 1, "abc"},
		{"abcd", 1, "..."},
	} {
		got := Short(c.in, c.n)
		if got != c.want {
			t.Errorf("Short(%q, %d) = %q, want %q", c.in, c.n, got, c.want)
		}
	}
}

func FuzzPlain(f *testing.F) {
	for _, s := range []string{"", "a b", "\x1b[2J", "\u202e", "\xff", "a\u00a0 "} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		p := Plain(s)
		if !utf8.ValidString(p) || strings.ContainsFunc(p, Unsafe) {
			t.Errorf("%q became %q, which is not plain", s, p)
		}
		if strings.Contains(p, "  ") || strings.TrimSpace(p) != p {
			t.Errorf("%q became %q with loose blanks", s, p)
		}
	})
}
