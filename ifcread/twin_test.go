package ifcread

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// twin is the slow twin of the scanner: it reads one byte after the other, knows
// no ranges and remembers nothing. It says what the scanner has to find.
type twin struct {
	text string
	out  []string // "offset #id KEYWORD" and "offset kind"
	cut  bool
}

func (t *twin) note(at int, what string) { t.out = append(t.out, fmt.Sprintf("%d %s", at, what)) }

// twinScan lists the instances and the problems of text from an offset on.
func twinScan(text string, from int) []string {
	t := twin{text: text}
	at := from
	for {
		at = t.between(at)
		if at >= len(text) {
			if !t.cut {
				t.note(len(text), "cut")
			}
			break
		}
		if rest := text[at:]; len(rest) >= 16 && strings.EqualFold(rest[:16], "END-ISO-10303-21") {
			if line := t.line(at, len(text)); line < len(text) {
				t.note(line, "syntax")
			}
			break
		}
		if text[at] == '#' {
			at = t.instance(at)
		} else {
			at = t.stray(at)
		}
	}
	slices.SortStableFunc(t.out, func(a, b string) int { return cmp.Compare(offsetOf(a), offsetOf(b)) })
	return t.out
}

func offsetOf(s string) int {
	n, _ := strconv.Atoi(strings.Fields(s)[0])
	return n
}

func (t *twin) between(at int) int {
	for at < len(t.text) {
		switch {
		case t.text[at] <= ' ' || t.text[at] == ';':
			at++
		case strings.HasPrefix(t.text[at:], "/*"):
			if end := strings.Index(t.text[at+2:], "*/"); end >= 0 {
				at += 2 + end + 2
			} else {
				t.note(at, "syntax")
				at = t.line(at+2, len(t.text))
			}
		default:
			return at
		}
	}
	return at
}

// tokens skips blanks and closed comments.
func (t *twin) tokens(at int) int {
	for at < len(t.text) {
		if t.text[at] <= ' ' {
			at++
			continue
		}
		end := -1
		if strings.HasPrefix(t.text[at:], "/*") {
			end = strings.Index(t.text[at+2:], "*/")
		}
		if end < 0 {
			break
		}
		at += 2 + end + 2
	}
	return at
}

var (
	twinLine    = regexp.MustCompile(`[\r\n][ \t]*(#[0-9]+[\x00-\x20]*=)`)
	twinNumber  = regexp.MustCompile(`^#[0-9]{1,19}`)
	twinLong    = regexp.MustCompile(`^#[0-9]{20}`)
	twinWord    = regexp.MustCompile(`^[A-Za-z0-9_]*`)
	twinSection = regexp.MustCompile(`^(?i:ENDSEC|DATA|HEADER|SIGNATURE)$`)
	twinBefore  = regexp.MustCompile(`#[0-9]+[\x00-\x20]*$`)
)

// line is the first line in text[from:to) that starts an instance; to when none.
func (t *twin) line(from, to int) int {
	m := twinLine.FindStringSubmatchIndex(t.text[from:])
	if m == nil || from+m[2] >= to {
		return to
	}
	return from + m[2]
}

func (t *twin) instance(at int) int {
	number := twinNumber.FindString(t.text[at:])
	i := t.tokens(at + len(number))
	if number == "" || twinLong.MatchString(t.text[at:]) || i >= len(t.text) || t.text[i] != '=' {
		t.note(at, "syntax")
		return t.resume(at + 1)
	}
	i = t.tokens(i + 1)
	word := twinWord.FindString(t.text[i:])
	i = t.tokens(i + len(word))
	if word == "" || i >= len(t.text) || t.text[i] != '(' {
		t.note(at, "syntax")
		return t.resume(at + 1)
	}
	if TypeOf(word) == 0 {
		t.note(at, "unknown")
	}
	end, problem := t.end(i)
	if problem != "" {
		t.note(at, problem)
		t.cut = t.cut || problem == "cut"
		return end
	}
	t.note(at, number+" "+word)
	return end
}

func (t *twin) stray(at int) int {
	word := twinWord.FindString(t.text[at:])
	if !twinSection.MatchString(word) {
		t.note(at, "syntax")
		return t.resume(at)
	}
	i := t.tokens(at + len(word))
	if i < len(t.text) && t.text[i] == '(' {
		return t.resume(i)
	}
	return i
}

// end walks over a parameter list up to its semicolon.
func (t *twin) end(from int) (int, string) {
	depth, zero, after := 0, false, false // zero: the list was closed; after: by less than all of it
	last := byte(0)
	for i := from; i < len(t.text); i++ {
		c := t.text[i]
		switch {
		case c == '=':
			if m := twinBefore.FindStringIndex(t.text[from:i]); m != nil {
				return from + m[0], "syntax"
			}
			return t.resume(i), "syntax"
		case c == ';':
			if last != ')' {
				return i + 1, "syntax"
			}
			return i + 1, ""
		case c == '\'':
			end := strings.IndexByte(t.text[i+1:], '\'')
			next := i + 1 + end + 1
			if end < 0 {
				next = len(t.text)
			}
			if line := t.line(i+1, next); line < next {
				return line, "syntax"
			}
			if end < 0 {
				return len(t.text), "cut"
			}
			i, last, after = next-1, '\'', after || zero
			continue
		case strings.HasPrefix(t.text[i:], "/*"):
			end := strings.Index(t.text[i+2:], "*/")
			if end < 0 {
				return t.line(i, len(t.text)), "syntax"
			}
			i += 2 + end + 2 - 1
			continue
		case c <= ' ':
			continue
		}
		after = after || zero
		last = c
		if c == '(' {
			depth++
		} else if c == ')' {
			depth--
			zero = zero || depth == 0
		}
	}
	if zero && !after {
		return len(t.text), ""
	}
	return len(t.text), "cut"
}

// resume is where reading goes on inside a broken statement.
func (t *twin) resume(i int) int {
	for i < len(t.text) {
		switch c := t.text[i]; {
		case c == '\r' || c == '\n':
			if m := twinLine.FindStringSubmatchIndex(t.text[i:]); m != nil && m[0] == 0 {
				return i + m[2]
			}
			i++
		case c == ';':
			return i + 1
		case c == '\'':
			next := len(t.text)
			if end := strings.IndexByte(t.text[i+1:], '\''); end >= 0 {
				next = i + 1 + end + 1
			}
			if line := t.line(i+1, next); line < next {
				return line
			}
			i = next
		case strings.HasPrefix(t.text[i:], "/*"):
			if end := strings.Index(t.text[i+2:], "*/"); end >= 0 {
				i += 2 + end + 2
			} else {
				i += 2
			}
		default:
			i++
		}
	}
	return len(t.text)
}
