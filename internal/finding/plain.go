package finding

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Plain makes a text of a model fit for a terminal, a table and an XML file:
// white space of any kind becomes one blank, and what could steer a terminal,
// turn the reading direction or break a parser shows as '?'.
func Plain(s string) string {
	if isPlain(s) {
		return s
	}
	var b strings.Builder
	b.Grow(len(s))
	blank := true // no blank at the start
	for i := 0; i < len(s); {
		r, n := utf8.DecodeRuneInString(s[i:])
		bad := r == utf8.RuneError && n == 1 || Unsafe(r)
		i += n
		switch {
		case unicode.IsSpace(r) || r == '\u2028' || r == '\u2029':
			if !blank {
				b.WriteByte(' ')
			}
			blank = true
			continue
		case bad:
			b.WriteByte('?')
		default:
			b.WriteRune(r)
		}
		blank = false
	}
	return strings.TrimRight(b.String(), " ")
}

// isPlain is the quick way out for the usual text: printable ASCII with single
// blanks inside.
func isPlain(s string) bool {
	last := byte(' ')
	for i := 0; i < len(s); i++ {
		c := s[i]
		if c < ' ' || c > '~' || c == ' ' && last == ' ' {
			return false
		}
		last = c
	}
	return s == "" || last != ' '
}

// Unsafe reports whether a character must not reach a terminal or an XML file
// as it is: controls, marks that turn the reading direction, invisible tags,
// separators that count as line ends, and what is no character at all.
func Unsafe(r rune) bool {
	switch {
	case r < ' ' || 0x7f <= r && r < 0xa0:
		return true
	case r == 0x061c || r == 0x200e || r == 0x200f,
		0x2028 <= r && r <= 0x202e,
		0x2066 <= r && r <= 0x2069,
		0x206a <= r && r <= 0x206f, // deprecated format characters
		r == 0xfeff,
		0xfff9 <= r && r <= 0xfffb, // interlinear annotation
		0xfdd0 <= r && r <= 0xfdef,
		r&0xfffe == 0xfffe,
		0xe0000 <= r && r <= 0xe0fff:
		return true
	}
	return !utf8.ValidRune(r)
}

// Short cuts a text to at most n characters, the last three being dots then.
func Short(s string, n int) string {
	n = max(n, 3)
	if len(s) <= n || utf8.RuneCountInString(s) <= n {
		return s
	}
	cut, count := 0, 0
	for i := range s {
		if count == n-3 {
			cut = i
			break
		}
		count++
	}
	return strings.TrimRight(s[:cut], " ") + "..."
}
