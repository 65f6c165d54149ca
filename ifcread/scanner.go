package ifcread

import "bytes"

// block is what the scan of one range of the file found.
type block struct {
	offs  []uint32 // of the '#' of each instance
	types []Type
	ids   []ID
	bad   faults
	next  int  // start of the first statement at or behind the range's end
	ended bool // the end of the exchange structure was met, at next
}

// scanner walks over the statements of a data section.
type scanner struct {
	b   []byte
	e   *entities
	blk *block

	semi     int // the first semicolon at or behind semiAt, len(b) when there is none
	semiAt   int
	quotes   window
	comments window
	feeds    window // line breaks, as \n
	returns  window // line breaks, as \r
	open     int    // from here on no comment ends
	guesses  [guesses]keyword
}

func newScanner(b []byte) *scanner {
	return &scanner{b: b, e: known(), semiAt: -1, open: len(b),
		quotes: window{c: '\''}, comments: window{c: '/', then: '*'}, feeds: window{c: '\n'}, returns: window{c: '\r'}}
}

// scan finds the instances that start in b[at:end). At must be outside of any
// statement. What it finds depends on nothing before at.
func (s *scanner) scan(at, end int, blk *block) {
	*blk = block{offs: blk.offs[:0], types: blk.types[:0], ids: blk.ids[:0]}
	s.blk = blk
	for {
		at = s.blanks(at)
		blk.next = at
		switch {
		case at >= end:
			return
		case s.b[at] == '#':
			at = s.instance(at)
		case endsExchange(s.b[at:]):
			blk.ended = true
			return
		default:
			at = s.stray(at)
		}
	}
}

// blanks skips what may stand between statements.
func (s *scanner) blanks(at int) int {
	b := s.b
	for at < len(b) {
		switch c := b[at]; {
		case c <= ' ' || c == ';':
			at++
		case isComment(b, at):
			end, ok := s.comment(at)
			if !ok {
				s.blk.bad.add(fault{at: at, why: whyComment})
				end = s.nextLine(at + 2)
			}
			at = end
		default:
			return at
		}
	}
	return at
}

// instance notes the instance at b[at] == '#' and gives the place behind it. The
// common case is one without strings, comments and blanks between its tokens:
// then five searches of a few dozen bytes are all it takes.
func (s *scanner) instance(at int) int {
	b := s.b
	i := at + 1
	var id ID
	for i < len(b) && isDigit(b[i]) {
		id = id*10 + ID(b[i]-'0')
		i++
	}
	n := i - at - 1
	if n == 0 || n > maxDigits || i >= len(b) || b[i] != '=' {
		return s.loose(at)
	}
	i++
	t, n := s.keyword(i)
	if t == 0 {
		return s.loose(at)
	}
	i += n
	end := s.semicolon(i)
	if end < len(b) && b[end-1] == ')' && s.comments.clear(b, i, end) && s.simple(i, end) {
		s.note(at, id, t)
		return end + 1
	}
	return s.body(at, id, t, i)
}

// simple reports whether the first semicolon behind i, at end, surely ends the
// statement, when there are no comments: no "=" tells of another statement before
// it, and there are no strings, or all are closed before it.
func (s *scanner) simple(i, end int) bool {
	return bytes.IndexByte(s.b[i:end], '=') < 0 &&
		(s.quotes.clear(s.b, i, end) || bytes.Count(s.b[i:end], apostrophe)%2 == 0)
}

var apostrophe = []byte{'\''}

// loose is instance for any way of writing its beginning.
func (s *scanner) loose(at int) int {
	b := s.b
	id, n := instanceNumber(b[at+1:])
	i := s.skip(at + 1 + n)
	if n == 0 || i >= len(b) || b[i] != '=' {
		return s.leaveOut(at, whyNumber)
	}
	i = s.skip(i + 1)
	word := i
	i = skipWord(b, i)
	name := b[word:i]
	i = s.skip(i)
	if i >= len(b) || b[i] != '(' {
		return s.leaveOut(at, whyEntity)
	}
	if len(name) == 0 {
		return s.leaveOut(at, whyComplex)
	}
	t := TypeOf(string(name))
	if t == 0 {
		s.blk.bad.add(fault{at: at, id: id, why: whyUnknown})
	}
	return s.body(at, id, t, i)
}

// body notes an instance whose parameters begin at i when the statement is whole.
func (s *scanner) body(at int, id ID, t Type, i int) int {
	end, why := s.end(i)
	if why != whole {
		s.blk.bad.add(fault{at: at, id: id, why: why})
		return end
	}
	s.note(at, id, t)
	return end
}

func (s *scanner) note(at int, id ID, t Type) {
	s.blk.offs = append(s.blk.offs, uint32(at))
	s.blk.types = append(s.blk.types, t)
	s.blk.ids = append(s.blk.ids, id)
}

// semicolon is the first semicolon at or behind from; len(b) when there is none.
func (s *scanner) semicolon(from int) int {
	if s.semiAt >= 0 && from >= s.semiAt && from <= s.semi {
		return s.semi
	}
	s.semiAt, s.semi = from, len(s.b)
	if k := bytes.IndexByte(s.b[from:], ';'); k >= 0 {
		s.semi = from + k
	}
	return s.semi
}
