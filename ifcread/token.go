package ifcread

import "bytes"

// What a byte means to whoever walks over parameters.
const (
	other = iota // nothing, as for blank
	blank
	open
	shut
	comma
	quote
	slash
	semicolon
)

var class = func() (c [256]uint8) {
	for i := range ' ' + 1 {
		c[i] = blank
	}
	c['('], c[')'], c[','] = open, shut, comma
	c['\''], c['/'], c[';'] = quote, slash, semicolon
	return c
}()

func isDigit(c byte) bool { return c-'0' <= 9 }

func isLetter(c byte) bool { return c|0x20-'a' < 26 }

// isWord reports whether c may stand in a keyword.
func isWord(c byte) bool { return isDigit(c) || isLetter(c) || c == '_' }

// isComment reports whether a comment begins at b[i].
func isComment(b []byte, i int) bool { return b[i] == '/' && i+1 < len(b) && b[i+1] == '*' }

var commentClose = []byte("*/")

// skipComment is the place behind the comment that begins at b[i]; len(b) when it
// has no end.
func skipComment(b []byte, i int) int {
	if k := bytes.Index(b[min(i+2, len(b)):], commentClose); k >= 0 {
		return i + 2 + k + 2
	}
	return len(b)
}

// skipBlank skips blanks and comments.
func skipBlank(b []byte, i int) int {
	for i < len(b) {
		switch {
		case b[i] <= ' ':
			i++
		case isComment(b, i):
			i = skipComment(b, i)
		default:
			return i
		}
	}
	return i
}

// skipString is the place behind the apostrophe that closes a string whose text
// begins at b[i]; len(b) when there is none. A doubled apostrophe closes one
// string and opens another, which is as good.
func skipString(b []byte, i int) int {
	if k := bytes.IndexByte(b[i:], '\''); k >= 0 {
		return i + k + 1
	}
	return len(b)
}

// skipWord is the place behind the keyword that begins at b[i].
func skipWord(b []byte, i int) int {
	for i < len(b) && isWord(b[i]) {
		i++
	}
	return i
}
