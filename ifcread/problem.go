package ifcread

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"slices"
	"sync"
)

// Kinds of problems, for errors.Is.
var (
	ErrSyntax    = errors.New("broken statement")
	ErrDuplicate = errors.New("instance number used twice")
	ErrMissing   = errors.New("refers to an instance that is not in the file")
	ErrUnknown   = errors.New("entity is in no schema")
	ErrCut       = errors.New("the file ends inside an instance")
)

// Problem is something wrong in a file that was read all the same.
type Problem struct {
	File   string
	ID     ID     // 0 when it could not be read
	Entity string // as written; may be empty
	Offset int64  // byte offset of the instance
	Line   int    // 1-based
	Err    error
}

// Error is the problem in one line that editors can jump to.
func (p Problem) Error() string {
	return fmt.Sprintf("%s:%d: #%d=%s (byte %d): %v", p.File, p.Line, p.ID, p.Entity, p.Offset, p.Err)
}

func (p Problem) Unwrap() error { return p.Err }

// maxProblems of one kind are kept; the others are counted.
const maxProblems = 50

// problems collects what is found while scanning and later on look-ups.
type problems struct {
	mu    sync.Mutex
	list  []found
	seen  map[ID]bool // missing references told already
	count map[error]int
}

// found is a problem at an offset; its line is worked out when it is asked for.
type found struct {
	at   int
	id   ID
	err  error
	kind error
}

func (p *problems) add(f found) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.count == nil {
		p.count = map[error]int{}
	}
	if p.count[f.kind]++; p.count[f.kind] <= maxProblems {
		p.list = append(p.list, f)
	}
}

func (f *File) missing(from int, id ID) {
	p := &f.problems
	p.mu.Lock()
	told := p.seen[id]
	if p.seen == nil {
		p.seen = map[ID]bool{}
	}
	p.seen[id] = true
	p.mu.Unlock()
	if !told {
		p.add(found{from, f.idAt(from), fmt.Errorf("#%d: %w; what depends on it is left out", id, ErrMissing), ErrMissing})
	}
}

// Problems is what was wrong so far, by place in the file: statements that could
// not be read, and references that turned out to lead nowhere. Of each kind the
// first 50 are named; the last of them says how many more there are.
func (f *File) Problems() []Problem {
	f.problems.mu.Lock()
	list := slices.Clone(f.problems.list)
	count := map[error]int{}
	for k, n := range f.problems.count {
		count[k] = n
	}
	f.problems.mu.Unlock()
	slices.SortStableFunc(list, func(a, b found) int { return cmp.Or(cmp.Compare(a.at, b.at), cmp.Compare(a.id, b.id)) })
	out := make([]Problem, len(list))
	last := map[error]int{}
	for i, p := range list {
		out[i] = Problem{File: f.name, ID: p.id, Entity: f.keywordAt(p.at), Offset: int64(p.at), Line: f.lineAt(p.at), Err: p.err}
		last[p.kind] = i
	}
	for kind, i := range last {
		if more := count[kind] - maxProblems; more > 0 {
			out[i].Err = fmt.Errorf("%w (and %d more like this)", out[i].Err, more)
		}
	}
	return out
}

// lineAt counts lines up to an offset; in files with CR-only line ends by those.
func (f *File) lineAt(at int) int {
	b := f.data[:min(at, len(f.data))]
	if n := bytes.Count(b, []byte{'\n'}); n > 0 {
		return n + 1
	}
	return bytes.Count(b, []byte{'\r'}) + 1
}
