package ifcread

import "bytes"

// end is the place behind the semicolon that ends the statement whose parameters
// begin at i, strings and comments passed over. When the statement is not whole,
// it is the place where reading goes on.
func (s *scanner) end(i int) (int, why) {
	b := s.b
	from := i
	for {
		stop, c := s.special(i)
		if k := bytes.IndexByte(b[i:stop], '='); k >= 0 {
			return s.beforeNumber(from, i+k), whySemicolon
		}
		switch c {
		case ';':
			if !s.endsInBracket(from, stop) {
				return stop + 1, whyBracket
			}
			return stop + 1, whole
		case '\'':
			next, w := s.string(stop + 1)
			if w != whole {
				return next, w
			}
			i = next
		case '/':
			next, ok := s.comment(stop)
			if !ok {
				return s.nextLine(stop), whyComment
			}
			i = next
		default:
			if balanced(b[from:]) {
				return len(b), whole // only its semicolon was cut off
			}
			return len(b), whyCut
		}
	}
}

// special is the next place from i on that changes how to read: a semicolon, an
// apostrophe or a comment, and which it is; 0 at the end of the file.
func (s *scanner) special(i int) (int, byte) {
	b := s.b
	stop := s.semicolon(i)
	stop = s.quotes.look(b, i, stop)
	stop = s.comments.look(b, i, stop)
	if stop >= len(b) {
		return len(b), 0
	}
	return stop, b[stop]
}

// string is the place behind the string whose text begins at i. A line that
// starts like an instance in what seems to be a string tells that its closing
// apostrophe was lost: then it is that line.
func (s *scanner) string(i int) (int, why) {
	b := s.b
	next := skipString(b, i)
	if line := s.lineStart(i, next); line < next {
		return line, whyQuote
	}
	if next == len(b) && (next == i || b[next-1] != '\'') {
		return next, whyCut
	}
	return next, whole
}

// comment is the place behind the comment that begins at i. One without an end
// is no comment, or it would swallow the rest of the file.
func (s *scanner) comment(i int) (next int, ok bool) {
	if i < s.open {
		if k := bytes.Index(s.b[i+2:], commentClose); k >= 0 {
			return i + 2 + k + 2, true
		}
		s.open = i // nor does one further on; but one before may, to which a broken statement leads back
	}
	return i, false
}

// skip skips blanks and comments.
func (s *scanner) skip(i int) int {
	for i < len(s.b) {
		if s.b[i] <= ' ' {
			i++
			continue
		}
		if !isComment(s.b, i) {
			break
		}
		next, ok := s.comment(i)
		if !ok {
			break
		}
		i = next
	}
	return i
}

// endsInBracket reports whether the last character before the semicolon at end
// is a closing bracket, blanks and comments aside.
func (s *scanner) endsInBracket(from, end int) bool {
	b := s.b
	for end--; end > from && b[end] <= ' '; end-- {
	}
	if end > from && b[end] == '/' && b[end-1] == '*' {
		end = trim(b, from, end+1, true) - 1
	}
	return b[end] == ')'
}

// beforeNumber is where "#12" begins when that is what stands before the "=" at
// eq; else the place where reading goes on behind a broken statement.
func (s *scanner) beforeNumber(from, eq int) int {
	b := s.b
	i := eq - 1
	for i > from && b[i] <= ' ' {
		i--
	}
	digits := i
	for i > from && isDigit(b[i]) {
		i--
	}
	if i > from && i < digits && b[i] == '#' {
		return i
	}
	return s.resume(eq)
}

// leaveOut reports the statement at b[at] == '#' and gives the place where
// reading goes on.
func (s *scanner) leaveOut(at int, w why) int {
	id, _ := instanceNumber(s.b[at+1:])
	s.blk.bad.add(fault{at: at, id: id, why: w})
	return s.resume(at + 1)
}

// resume is the place behind a broken statement: behind its semicolon, or at the
// next line that starts like an instance when that comes first.
func (s *scanner) resume(i int) int {
	b := s.b
	for {
		stop, c := s.special(i)
		if line := s.lineStart(i, stop); line < stop {
			return line
		}
		switch c {
		case ';':
			return stop + 1
		case '\'':
			next, w := s.string(stop + 1)
			if w != whole {
				return next
			}
			i = next
		case '/':
			next, ok := s.comment(stop)
			if !ok {
				next = stop + 2
			}
			i = next
		default:
			return len(b)
		}
	}
}

// nextLine is the next line that starts like an instance.
func (s *scanner) nextLine(i int) int { return s.lineStart(i, len(s.b)) }

// stray passes what is no instance: the words around sections, or what is left
// of a broken statement.
func (s *scanner) stray(at int) int {
	n, ok := section(s.b[at:])
	if !ok {
		s.blk.bad.add(fault{at: at, why: whyStray})
		return s.resume(at)
	}
	next := s.skip(at + n)
	if next < len(s.b) && s.b[next] == '(' { // DATA('name',('IFC4'));
		return s.resume(next)
	}
	return next
}

// section is the length of the word at the start of b when it begins or ends a
// section.
func section(b []byte) (n int, ok bool) {
	word := b[:skipWord(b, 0)]
	for _, w := range [...]string{"ENDSEC", "DATA", "HEADER", "SIGNATURE"} {
		if bytes.EqualFold(word, []byte(w)) {
			return len(w), true
		}
	}
	return 0, false
}

var exchangeEnd = []byte("END-ISO-10303-21")

func endsExchange(b []byte) bool {
	return len(b) >= len(exchangeEnd) && b[0]|0x20 == 'e' && bytes.EqualFold(b[:len(exchangeEnd)], exchangeEnd)
}

// lineStart is the first place in b[from:to) that starts an instance at the start
// of a line; to when there is none.
func (s *scanner) lineStart(from, to int) int {
	b := s.b
	for i := from; i < to; i++ {
		i = s.feeds.look(b, i, s.returns.look(b, i, to))
		if i >= to {
			break
		}
		if at := afterBreak(b, i+1); at < to && startsInstance(b[at:]) {
			return at
		}
	}
	return to
}

// afterBreak skips the blanks that indent a line.
func afterBreak(b []byte, i int) int {
	for i < len(b) && (b[i] == ' ' || b[i] == '\t') {
		i++
	}
	return i
}

// startsInstance reports whether b begins with "#", digits and "=".
func startsInstance(b []byte) bool {
	if len(b) == 0 || b[0] != '#' {
		return false
	}
	i := 1
	for i < len(b) && isDigit(b[i]) {
		i++
	}
	if i == 1 {
		return false
	}
	for i < len(b) && b[i] <= ' ' {
		i++
	}
	return i < len(b) && b[i] == '='
}

// balanced reports whether a parameter list that has no semicolon behind it is
// whole, with nothing but blanks behind it.
func balanced(b []byte) bool {
	depth := 0
	for i := 0; i < len(b); i++ {
		switch class[b[i]] {
		case open:
			depth++
		case shut:
			if depth--; depth == 0 {
				return skipBlank(b, i+1) == len(b)
			}
		case quote:
			i = skipString(b, i+1) - 1
		case slash:
			if isComment(b, i) {
				i = skipComment(b, i) - 1
			}
		}
	}
	return false
}
