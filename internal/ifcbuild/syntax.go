package ifcbuild

import (
	"bytes"
	"fmt"
)

// Syntax is the way the clear text is written. The zero value is one instance
// a line without a blank; everything else is as legal, and readers trip over it.
type Syntax struct {
	Newline  string // "" for "\n"
	Blanks   bool   // blanks round '=', ',' and brackets
	Breaks   bool   // line breaks within instances, between the numbers of a list too
	Comments bool   // comments between tokens
	Lower    bool   // keywords in mixed case
	Exponent bool   // reals as 1.8E+02
	Texts    Escape
	FirstID  uint64 // number of the first instance, 0 for 1
	Step     uint64 // from one number to the next, 0 for 1
	Backward bool   // instances in reverse order, so that every reference is to a later one; not for streams
}

func (s *Syntax) newline() string {
	if s.Newline == "" {
		return "\n"
	}
	return s.Newline
}

// plain reports whether instances are written as they are made.
func (s *Syntax) plain() bool {
	return !s.Blanks && !s.Breaks && !s.Comments && !s.Lower && !s.Exponent
}

// rewrite spreads one instance out. What it puts between tokens goes round in a
// fixed order, so that the same calls give the same file.
func (s *Syntax) rewrite(dst, inst []byte) []byte {
	turn := len(inst) % 7
	between := func() {
		turn++
		if s.Blanks && turn%2 == 0 {
			dst = append(dst, ' ')
		}
		if s.Breaks && turn%5 == 0 {
			dst = append(dst, s.newline()...)
			dst = append(dst, '\t')
		}
		if s.Comments && turn%11 == 0 {
			dst = append(dst, "/* '#1=IFCWALL(); */"...)
		}
	}
	for i := 0; i < len(inst); {
		c := inst[i]
		switch {
		case c == '\'':
			n := stringLen(inst[i:])
			dst = append(dst, inst[i:i+n]...)
			i += n
			continue
		case c == '=' || c == ',' || c == '(' || c == ')' || c == ';':
			between()
			dst = append(dst, c)
			if c != ';' {
				between()
			}
		case s.Lower && c >= 'A' && c <= 'Z' && (i == 0 || inst[i-1] != '.' && !isWord(inst[i-1])):
			n := wordLen(inst[i:])
			dst = append(dst, c)
			dst = append(dst, bytes.ToLower(inst[i+1:i+n])...)
			i += n
			continue
		case s.Exponent && (c >= '0' && c <= '9') && !isWord(inst[i-1]) && inst[i-1] != '#':
			n := numberLen(inst[i:])
			dst = appendExponent(dst, inst[i:i+n])
			i += n
			continue
		default:
			dst = append(dst, c)
		}
		i++
	}
	return dst
}

func isWord(c byte) bool {
	return c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z' || c >= '0' && c <= '9' || c == '_'
}

func wordLen(b []byte) int {
	n := 0
	for n < len(b) && isWord(b[n]) {
		n++
	}
	return n
}

func stringLen(b []byte) int {
	for i := 1; i < len(b); i++ {
		if b[i] != '\'' {
			continue
		}
		if i+1 < len(b) && b[i+1] == '\'' {
			i++
			continue
		}
		return i + 1
	}
	return len(b)
}

func numberLen(b []byte) int {
	n := 0
	for n < len(b) && (b[n] >= '0' && b[n] <= '9' || b[n] == '.') {
		n++
	}
	return n
}

// appendExponent writes 180.5 as 1.805E+02; integers stay integers.
func appendExponent(dst, number []byte) []byte {
	point := bytes.IndexByte(number, '.')
	if point < 0 {
		return append(dst, number...)
	}
	digits := append(append([]byte{}, number[:point]...), number[point+1:]...)
	lead := len(digits) - len(bytes.TrimLeft(digits, "0"))
	if lead == len(digits) {
		return append(dst, "0.E+00"...)
	}
	dst = append(dst, digits[lead], '.')
	dst = append(dst, digits[lead+1:]...)
	return fmt.Appendf(dst, "E%+03d", point-1-lead)
}
