package ifcread

import (
	"bytes"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// DecodeString decodes the inside of a string, without the apostrophes around it:
// doubled apostrophes and backslashes; the directives \S\, \P.\, \X\, \X2\ and
// \X4\ (ISO 10303-21, clause 6.4.3); and what writers put in raw, which is UTF-8
// or else 8-bit text of Western Europe. Line ends in a string are no part of it;
// a backslash that begins no directive stands for itself.
func DecodeString(raw []byte) string {
	if isPlain(raw) {
		return string(raw)
	}
	d := decoder{in: raw, utf8: utf8.Valid(raw)}
	d.out.Grow(len(raw))
	for d.i < len(d.in) {
		d.step()
	}
	d.flush()
	return d.out.String()
}

// isPlain reports whether there is nothing to decode.
func isPlain(b []byte) bool {
	for _, c := range b {
		if c >= utf8.RuneSelf || c == '\\' || c == '\'' || c == '\n' || c == '\r' {
			return false
		}
	}
	return true
}

type decoder struct {
	in    []byte
	i     int
	out   strings.Builder
	utf8  bool     // raw bytes above 127 are UTF-8
	page  int      // of ISO 8859 for \S\, less one
	units []uint16 // UTF-16 of \X2\, not yet written: a pair may come in two directives
}

func (d *decoder) step() {
	switch c := d.in[d.i]; {
	case c == '\'':
		d.rune('\'')
		d.i++
		if d.i < len(d.in) && d.in[d.i] == '\'' {
			d.i++
		}
	case c == '\\':
		d.directive()
	case c == '\n' || c == '\r':
		d.i++
	case c >= utf8.RuneSelf && d.utf8:
		r, n := utf8.DecodeRune(d.in[d.i:])
		d.rune(r)
		d.i += n
	default:
		d.rune(windows(c))
		d.i++
	}
}

func (d *decoder) rune(r rune) {
	d.flush()
	d.out.WriteRune(r)
}

func (d *decoder) flush() {
	if len(d.units) > 0 {
		for _, r := range utf16.Decode(d.units) {
			d.out.WriteRune(r)
		}
		d.units = d.units[:0]
	}
}

// directive decodes what begins with a backslash.
func (d *decoder) directive() {
	rest := d.in[d.i:]
	switch {
	case has(rest, `\\`):
		d.rune('\\')
		d.i += 2
	case has(rest, `\S\`) && len(rest) > 3:
		d.shifted(rest[3])
	case has(rest, `\X2\`):
		d.i += 4
		for d.group(4) {
		}
	case has(rest, `\X4\`):
		d.i += 4
		for d.group(8) {
		}
	case has(rest, `\X0\`): // the end of either
		d.i += 4
	case has(rest, `\X\`):
		d.i += 3
		d.group(2)
	case has(rest, `\N\`), has(rest, `\F\`): // print control
		d.i += 3
	case len(rest) > 3 && has(rest, `\P`) && rest[3] == '\\' && isLetter(rest[2]):
		d.page = int(upperByte(rest[2]) - 'A')
		d.i += 4
	default:
		d.rune('\\')
		d.i++
	}
}

// shifted is the character behind \S\: that of the page with its high bit set.
// An apostrophe is doubled there too, or the string would end with it.
func (d *decoder) shifted(c byte) {
	d.rune(pageRune(d.page, c|0x80))
	d.i += 4
	if c == '\'' && d.i < len(d.in) && d.in[d.i] == c {
		d.i++
	}
}

// group decodes hexadecimal digits: a code point, or a unit of UTF-16 when there
// are four.
func (d *decoder) group(digits int) bool {
	if d.i+digits > len(d.in) {
		return false
	}
	v, ok := hexNumber(d.in[d.i : d.i+digits])
	if !ok {
		return false
	}
	d.i += digits
	if digits == 4 {
		d.units = append(d.units, uint16(v))
	} else {
		d.rune(rune(min(v, utf8.MaxRune+1))) // what is no code point becomes U+FFFD
	}
	return true
}

// has reports whether b begins with a directive, in any case.
func has(b []byte, directive string) bool {
	return len(b) >= len(directive) && bytes.EqualFold(b[:len(directive)], []byte(directive))
}

func hexNumber(b []byte) (v uint32, ok bool) {
	for _, c := range b {
		switch c = upperByte(c); {
		case isDigit(c):
			v = v<<4 | uint32(c-'0')
		case c >= 'A' && c <= 'F':
			v = v<<4 | uint32(c-'A'+10)
		default:
			return 0, false
		}
	}
	return v, true
}
