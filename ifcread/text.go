package ifcread

import (
	"bytes"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// DecodeString decodes the inside of a string (without its apostrophes): doubled
// apostrophes and backslashes, \S\ with \P.\ pages, \X\, \X2\ and \X4\ (ISO
// 10303-21 clause 6.4.3), and what writers put in raw: UTF-8, or else 8-bit text,
// which is taken for ISO 8859-1. Line ends inside a string are no part of it.
func DecodeString(raw []byte) string {
	if bytes.IndexByte(raw, '\\') < 0 && bytes.IndexByte(raw, '\'') < 0 && plainASCII(raw) {
		return string(raw)
	}
	d := decoder{in: raw, utf8: utf8.Valid(raw), page: 'A'}
	for d.i < len(d.in) {
		d.step()
	}
	return d.out.String()
}

func plainASCII(b []byte) bool {
	for _, c := range b {
		if c >= 0x80 || c == '\n' || c == '\r' {
			return false
		}
	}
	return true
}

type decoder struct {
	in   []byte
	i    int
	out  strings.Builder
	utf8 bool
	page byte // of ISO 8859, 'A' for part 1
}

func (d *decoder) step() {
	c := d.in[d.i]
	switch {
	case c == '\'':
		d.out.WriteByte('\'')
		d.i++
		if d.i < len(d.in) && d.in[d.i] == '\'' {
			d.i++
		}
	case c == '\\':
		d.escape()
	case c == '\n' || c == '\r':
		d.i++
	case c >= 0x80 && d.utf8:
		r, n := utf8.DecodeRune(d.in[d.i:])
		d.out.WriteRune(r)
		d.i += n
	default:
		d.out.WriteRune(rune(c))
		d.i++
	}
}

// escape decodes a directive; a backslash that begins none stands for itself.
func (d *decoder) escape() {
	rest := d.in[d.i:]
	has := func(s string) bool { return len(rest) >= len(s) && strings.EqualFold(string(rest[:len(s)]), s) }
	switch {
	case has(`\\`):
		d.out.WriteByte('\\')
		d.i += 2
	case has(`\S\`) && len(rest) > 3:
		d.out.WriteRune(fromPage(d.page, rest[3]|0x80))
		d.i += 4
	case has(`\X2\`):
		d.hex(4, 4)
	case has(`\X4\`):
		d.hex(4, 8)
	case has(`\X\`):
		d.i += 3
		if v, ok := hexNumber(d.in[d.i:min(d.i+2, len(d.in))]); ok && len(rest) >= 5 {
			d.out.WriteRune(rune(v))
			d.i += 2
		}
	case has(`\X0\`): // the end of nothing
		d.i += 4
	case has(`\N\`), has(`\F\`):
		d.i += 3
	case len(rest) >= 4 && (rest[1] == 'P' || rest[1] == 'p') && rest[3] == '\\':
		d.page = rest[2] &^ 0x20
		d.i += 4
	default:
		d.out.WriteByte('\\')
		d.i++
	}
}

// hex decodes groups of digits up to \X0\ or to what is no group: UTF-16 units
// for 4 digits, code points for 8.
func (d *decoder) hex(from, digits int) {
	d.i += from
	var units []uint16
	flush := func() {
		for _, r := range utf16.Decode(units) {
			d.out.WriteRune(r)
		}
		units = units[:0]
	}
	for d.i+digits <= len(d.in) {
		v, ok := hexNumber(d.in[d.i : d.i+digits])
		if !ok {
			break
		}
		d.i += digits
		if digits == 4 {
			units = append(units, uint16(v))
		} else if r := rune(v); v <= utf8.MaxRune {
			d.out.WriteRune(r)
		} else {
			d.out.WriteRune(utf8.RuneError)
		}
	}
	flush()
	if rest := d.in[d.i:]; len(rest) >= 4 && strings.EqualFold(string(rest[:4]), `\X0\`) {
		d.i += 4
	}
}

func hexNumber(b []byte) (uint32, bool) {
	var v uint32
	for _, c := range b {
		switch {
		case c >= '0' && c <= '9':
			v = v<<4 | uint32(c-'0')
		case c >= 'A' && c <= 'F':
			v = v<<4 | uint32(c-'A'+10)
		case c >= 'a' && c <= 'f':
			v = v<<4 | uint32(c-'a'+10)
		default:
			return 0, false
		}
	}
	return v, len(b) > 0
}
