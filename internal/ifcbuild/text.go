package ifcbuild

import (
	"fmt"
	"math"
	"strconv"
	"unicode/utf16"
	"unicode/utf8"
)

// line is one instance on its way into the file.
type line struct {
	buf   []byte
	first bool // nothing stands in the innermost bracket yet
}

// begin starts an instance.
func (l *line) begin(id uint64, keyword string) {
	l.buf = append(l.buf[:0], '#')
	l.buf = strconv.AppendUint(l.buf, id, 10)
	l.buf = append(l.buf, '=')
	l.buf = append(l.buf, keyword...)
	l.buf = append(l.buf, '(')
	l.first = true
}

func (l *line) next() {
	if !l.first {
		l.buf = append(l.buf, ',')
	}
	l.first = false
}

// open starts an aggregate or, with a keyword, a typed value.
func (l *line) open(keyword string) {
	l.next()
	l.buf = append(l.buf, keyword...)
	l.buf = append(l.buf, '(')
	l.first = true
}

func (l *line) close() {
	l.buf = append(l.buf, ')')
	l.first = false
}

// raw writes a value as it stands: $, *, .T., an enumerator in dots.
func (l *line) raw(s string) {
	l.next()
	l.buf = append(l.buf, s...)
}

// enum writes an enumerator, $ for "".
func (l *line) enum(s string) {
	if s == "" {
		l.raw("$")
		return
	}
	l.next()
	l.buf = append(l.buf, '.')
	l.buf = append(l.buf, s...)
	l.buf = append(l.buf, '.')
}

// ref writes a reference, $ for 0.
func (l *line) ref(id uint64) {
	l.next()
	if id == 0 {
		l.buf = append(l.buf, '$')
		return
	}
	l.buf = append(l.buf, '#')
	l.buf = strconv.AppendUint(l.buf, id, 10)
}

func (l *line) refs(ids []uint64) {
	l.open("")
	for _, id := range ids {
		l.ref(id)
	}
	l.close()
}

func (l *line) integer(n int) {
	l.next()
	l.buf = strconv.AppendInt(l.buf, int64(n), 10)
}

// real writes a number with at most so many digits behind the point.
func (l *line) real(v float64, decimals int) {
	l.next()
	l.buf = appendReal(l.buf, v, decimals)
}

var powers = [...]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15}

// appendReal writes v as a real, rounded, without zeros at the end.
func appendReal(b []byte, v float64, decimals int) []byte {
	scaled := math.Round(math.Abs(v) * powers[decimals])
	if !(scaled < 1<<62) { // too large to count in the last digit, or no number
		if math.IsNaN(v) || math.IsInf(v, 0) {
			panic(fmt.Sprintf("ifcbuild: %v is no length", v))
		}
		b = strconv.AppendFloat(b, v, 'f', -1, 64)
		return append(b, '.')
	}
	n, unit := uint64(scaled), uint64(powers[decimals])
	if v < 0 && n > 0 {
		b = append(b, '-')
	}
	b = strconv.AppendUint(b, n/unit, 10)
	b = append(b, '.')
	for rest := n % unit; rest > 0; rest %= unit {
		unit /= 10
		b = append(b, byte('0'+rest/unit))
	}
	return b
}

// Escape is how characters outside printable ASCII are written.
type Escape int

const (
	EscapeX2    Escape = iota // \X2\00E9\X0\, what the standard prefers
	EscapeX                   // \X\E9 for the first 256, \X2\ beyond
	EscapeS                   // \S\i for the upper half of ISO 8859-1, \X2\ beyond
	EscapeUTF8                // as they are, edition 3 of ISO 10303-21
	EscapeEvery               // every letter as \X2\: legal, if odd
)

// text writes a string, $ for "".
func (l *line) text(s string, e Escape) {
	if s == "" {
		l.raw("$")
		return
	}
	l.next()
	l.buf = appendText(l.buf, s, e)
}

func appendText(b []byte, s string, e Escape) []byte {
	b = append(b, '\'')
	for i := 0; i < len(s); {
		c := s[i]
		if c == '\'' || c == '\\' {
			b = append(b, c, c)
			i++
			continue
		}
		if c >= ' ' && c < 0x7f && !(e == EscapeEvery && c > '9') {
			b = append(b, c)
			i++
			continue
		}
		r, n := utf8.DecodeRuneInString(s[i:])
		switch {
		case e == EscapeUTF8 && r >= 0x80:
			b = append(b, s[i:i+n]...)
		case e == EscapeX && r < 0x100:
			b = fmt.Appendf(b, `\X\%02X`, r)
		case e == EscapeS && r >= 0xa0 && r < 0xff:
			b = append(b, '\\', 'S', '\\', byte(r-0x80))
		case r > 0xffff && e == EscapeX:
			b = fmt.Appendf(b, `\X4\%08X\X0\`, r)
		default:
			b = append(b, `\X2\`...)
			for _, u := range utf16.Encode([]rune{r}) {
				b = fmt.Appendf(b, "%04X", u)
			}
			b = append(b, `\X0\`...)
		}
		i += n
	}
	return append(b, '\'')
}
