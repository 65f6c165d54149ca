package ifcread

import (
	"bytes"
	"errors"
	"fmt"
	"sync"
)

// block is what one scan over a range of the file found.
type block struct {
	offs  []uint32 // of the '#' of each instance
	types []Type
	maxID ID
	next  int // start of the first statement at or behind the range's end
	bad   []found
}

// scan finds all instances from an offset that is outside of any statement. The
// file is cut into ranges that are scanned side by side, each from a place that
// looks like the start of a statement. Whether it was one shows when the range
// before it ends: its last statement ends there, or reaches beyond, as a string
// over several lines does; then the range is scanned again from the right place.
// The result is that of one scan from the start.
func (f *File) scan(from, workers, chunk int) []block {
	cuts := []int{from}
	for at := from + chunk; at < len(f.data); at = cuts[len(cuts)-1] + chunk {
		next := f.likelyStart(at)
		if next >= len(f.data) {
			break
		}
		cuts = append(cuts, next)
	}
	cuts = append(cuts, len(f.data))
	blocks := make([]block, len(cuts)-1)
	var wg sync.WaitGroup
	work := make(chan int, len(blocks))
	for i := range blocks {
		work <- i
	}
	close(work)
	for range min(max(workers, 1), len(blocks)) {
		wg.Go(func() {
			for i := range work {
				blocks[i] = f.scanRange(cuts[i], cuts[i+1])
			}
		})
	}
	wg.Wait()
	for i := 1; i < len(blocks); i++ {
		if at := blocks[i-1].next; at != cuts[i] {
			blocks[i] = f.scanRange(at, cuts[i+1])
		}
	}
	return blocks
}

// likelyStart is the next place that looks like the start of a statement at the
// start of a line.
func (f *File) likelyStart(at int) int {
	b := f.data
	for at < len(b) {
		k := bytes.IndexByte(b[at:], '#')
		if k < 0 {
			return len(b)
		}
		at += k
		if at > 0 && (b[at-1] == '\n' || b[at-1] == '\r') && startsInstance(b[at:]) {
			return at
		}
		at++
	}
	return len(b)
}

// startsInstance reports whether b begins with "#", digits and "=".
func startsInstance(b []byte) bool {
	i := 1
	for i < len(b) && b[i] >= '0' && b[i] <= '9' {
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

// scanRange finds the instances that start in [at,end).
func (f *File) scanRange(at, end int) block {
	b := f.data
	room := max(0, end-at)/48 + 16
	blk := block{offs: make([]uint32, 0, room), types: make([]Type, 0, room)}
	for {
		at = f.nextStatement(at)
		if at >= end {
			blk.next = at
			return blk
		}
		if b[at] != '#' { // ENDSEC, DATA, END-ISO and whatever else
			at = f.statementEnd(at, nil)
			continue
		}
		at = f.instance(at, &blk)
	}
}

// nextStatement skips blanks, comments and stray semicolons.
func (f *File) nextStatement(at int) int {
	b := f.data
	for at < len(b) {
		switch c := b[at]; {
		case c <= ' ' || c == ';':
			at++
		case c == '/' && at+1 < len(b) && b[at+1] == '*':
			at = f.commentEnd(at)
		default:
			return at
		}
	}
	return len(b)
}

func (f *File) commentEnd(at int) int {
	if k := bytes.Index(f.data[at+2:], []byte("*/")); k >= 0 {
		return at + 2 + k + 2
	}
	return len(f.data)
}

// instance notes the instance at b[at] == '#' and gives the place behind it.
func (f *File) instance(at int, blk *block) int {
	b := f.data
	var id ID
	i := at + 1
	for i < len(b) && b[i] >= '0' && b[i] <= '9' {
		id = id*10 + ID(b[i]-'0')
		i++
	}
	digits := i - at - 1
	i = f.skipBlank(i)
	if digits == 0 || digits > 19 || i >= len(b) || b[i] != '=' {
		return f.broken(at, id, blk, "no \"=\" behind the instance number")
	}
	i = f.skipBlank(i + 1)
	from := i
	for i < len(b) && isWord(b[i]) {
		i++
	}
	word := b[from:i]
	if i < len(b) && b[i] <= ' ' || i < len(b) && b[i] == '/' {
		i = f.skipBlank(i)
	}
	if len(word) == 0 || i >= len(b) || b[i] != '(' {
		return f.broken(at, id, blk, "no entity with parameters behind \"=\"")
	}
	t := f.ents.lookup.find(word)
	end := f.statementEnd(i, func(why error) {
		blk.bad = append(blk.bad, found{at, id, why, kindOf(why)})
		t = badType
	})
	if t == badType {
		return end
	}
	if t == 0 {
		blk.bad = append(blk.bad, found{at, id, fmt.Errorf("%s: %w", word, ErrUnknown), ErrUnknown})
	}
	blk.offs = append(blk.offs, uint32(at))
	blk.types = append(blk.types, t)
	blk.maxID = max(blk.maxID, id)
	return end
}

// badType marks, inside the scanner only, an instance that is not kept.
const badType = ^Type(0)

func kindOf(err error) error {
	if errors.Is(err, ErrCut) {
		return ErrCut
	}
	return ErrSyntax
}

func isWord(c byte) bool {
	return c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c >= 'a' && c <= 'z' || c == '_'
}

// skipBlank skips blanks and comments.
func (f *File) skipBlank(at int) int {
	b := f.data
	for at < len(b) {
		if b[at] <= ' ' {
			at++
		} else if b[at] == '/' && at+1 < len(b) && b[at+1] == '*' {
			at = f.commentEnd(at)
		} else {
			break
		}
	}
	return at
}

// broken reports a statement that cannot be read, and gives the next place that
// looks like a start.
func (f *File) broken(at int, id ID, blk *block, why string) int {
	blk.bad = append(blk.bad, found{at, id, fmt.Errorf("%w: %s; the instance is left out", ErrSyntax, why), ErrSyntax})
	return f.resync(at + 1)
}

// resync is the next line that starts an instance, or the place behind the next
// semicolon, whichever comes first.
func (f *File) resync(at int) int {
	line := f.likelyStart(at)
	if k := bytes.IndexByte(f.data[at:], ';'); k >= 0 && at+k+1 < line {
		return at + k + 1
	}
	return line
}

// statementEnd is the place behind the semicolon that ends the statement. What
// keeps it from being read is told to bad, which may be nil: an "=" outside
// strings (the semicolon was lost), a string that swallows the start of another
// instance (a quote was lost), the end of the file.
func (f *File) statementEnd(at int, bad func(error)) int {
	b := f.data
	k := bytes.IndexByte(b[at:], ';')
	if k < 0 {
		if bad != nil && bytes.IndexByte(b[at:], ')') < 0 {
			bad(fmt.Errorf("%w; it is left out", ErrCut))
		} else if bad != nil && !balanced(b[at:]) {
			bad(fmt.Errorf("%w; it is left out", ErrCut))
		}
		return len(b)
	}
	seg := b[at : at+k]
	if bytes.IndexByte(seg, '\'') < 0 && bytes.IndexByte(seg, '/') < 0 {
		if bad != nil && bytes.IndexByte(seg, '=') >= 0 {
			bad(fmt.Errorf("%w: no semicolon at its end; it is left out", ErrSyntax))
			return f.resync(at)
		}
		return at + k + 1
	}
	return f.slowEnd(at, bad)
}

// slowEnd is statementEnd for statements with strings or comments in them.
func (f *File) slowEnd(at int, bad func(error)) int {
	b := f.data
	for i := at; i < len(b); {
		k := bytes.IndexAny(b[i:], "';=/")
		if k < 0 {
			break
		}
		i += k
		switch b[i] {
		case ';':
			return i + 1
		case '=':
			if bad != nil {
				bad(fmt.Errorf("%w: no semicolon at its end; it is left out", ErrSyntax))
				return f.resync(at)
			}
			i++
		case '/':
			if i+1 < len(b) && b[i+1] == '*' {
				i = f.commentEnd(i)
			} else {
				i++
			}
		default:
			k := bytes.IndexByte(b[i+1:], '\'')
			if k < 0 {
				k = len(b) - i - 1
			}
			if start := f.swallowed(i+1, i+1+k); start >= 0 && bad != nil {
				bad(fmt.Errorf("%w: a string without an end; it is left out", ErrSyntax))
				return start
			}
			i += k + 2
		}
	}
	if bad != nil {
		bad(fmt.Errorf("%w; it is left out", ErrCut))
	}
	return len(b)
}

// swallowed looks for the start of an instance at the start of a line inside
// what seems to be a string; -1 when there is none.
func (f *File) swallowed(from, to int) int {
	s := f.data[from:to]
	if bytes.IndexByte(s, '\n') < 0 && bytes.IndexByte(s, '\r') < 0 {
		return -1
	}
	if at := f.likelyStart(from); at < to {
		return at
	}
	return -1
}

// balanced reports whether a parameter list without a semicolon is whole.
func balanced(b []byte) bool {
	depth := 0
	for i := 0; i < len(b); i++ {
		switch b[i] {
		case '(':
			depth++
		case ')':
			if depth--; depth == 0 {
				return true
			}
		case '\'':
			k := bytes.IndexByte(b[i+1:], '\'')
			if k < 0 {
				return false
			}
			i += k + 1
		}
	}
	return false
}
