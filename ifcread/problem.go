package ifcread

import (
	"cmp"
	"errors"
	"fmt"
	"strings"
)

// Kinds of problems, for errors.Is.
var (
	ErrSyntax    = errors.New("broken statement")
	ErrCut       = errors.New("the file was cut off")
	ErrDuplicate = errors.New("instance number used twice")
	ErrUnknown   = errors.New("no schema has this entity")
	ErrMissing   = errors.New("missing instance")
	ErrElement   = errors.New("element out of place")
	ErrXML       = errors.New("broken XML")
)

// Problem is something wrong in a file that was read all the same.
type Problem struct {
	File   string
	ID     ID     // 0 when there is none, or it could not be read
	Entity string // as written; may be empty
	Offset int64  // of the statement, in bytes
	Line   int    // of the statement, from 1
	Err    error  // one of the kinds above, with what is wrong and what to do
}

// Error is the problem in one line that editors can jump to:
//
//	tower.ifc:733: #412=IFCWALL: missing instance: it refers to #77, which is ...
func (p Problem) Error() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s:%d: ", p.File, p.Line)
	if p.ID != 0 {
		fmt.Fprintf(&b, "#%d", p.ID)
		if p.Entity != "" {
			b.WriteString("=" + p.Entity)
		}
		b.WriteString(": ")
	}
	b.WriteString(p.Err.Error())
	return b.String()
}

// Unwrap is the kind, and all that Err wraps.
func (p Problem) Unwrap() error { return p.Err }

// why is what is wrong with a statement.
type why uint8

const (
	whole why = iota
	whyNumber
	whyEntity
	whyComplex
	whySemicolon
	whyBracket
	whyQuote
	whyComment
	whyStray
	whyBehind
	whyCut
	whyNoEnd
	whyDuplicate
	whyUnknown
	whyTorn
	whyMissing
	whyElement
	whyBroken
	whys
)

// reasons are the kind, what is wrong and what becomes of it.
var reasons = [whys]struct {
	kind error
	text string
}{
	whyNumber:    {ErrSyntax, "no number of at most 19 digits with \"=\" behind it; it is left out, export the model again"},
	whyEntity:    {ErrSyntax, "no entity with parameters behind \"=\"; it is left out, export the model again"},
	whyComplex:   {ErrSyntax, "an instance of several entities at once, which IFC does not have; it is left out"},
	whySemicolon: {ErrSyntax, "no semicolon before the next \"=\"; it is left out, export the model again"},
	whyBracket:   {ErrSyntax, "no closing bracket before its semicolon; it is left out, export the model again"},
	whyQuote:     {ErrSyntax, "a string has no end before the next instance; it is left out, export the model again"},
	whyComment:   {ErrSyntax, "a comment has no end; reading goes on at the next line that starts an instance"},
	whyStray:     {ErrSyntax, "text that belongs to no instance; it is left out"},
	whyBehind:    {ErrSyntax, "instances behind END-ISO-10303-21 are left out; if the file is two models, split it"},
	whyCut:       {ErrCut, "it ends inside this instance, which is left out; get the whole file"},
	whyNoEnd:     {ErrCut, "there is no END-ISO-10303-21 at its end, so that more may be missing; get the whole file"},
	whyDuplicate: {ErrDuplicate, "references mean the first one; export the model again"},
	whyUnknown:   {ErrUnknown, "its attributes have no names; export the model in IFC2X3, IFC4 or IFC4X3"},
	whyTorn:      {ErrSyntax, "a list has no closing bracket; its parameters may be wrong, export the model again"},
	whyMissing:   {ErrMissing, "what depends on it is left out, export the model again"},
	whyElement:   {ErrElement, "which the entity does not have, or has only once; it is left out, export the model again"},
	whyBroken:    {ErrXML, "what comes from there on, and the elements that are open there, are left out; get the whole file"},
}

// fault is a problem at an offset; its line is worked out when it is asked for.
type fault struct {
	at  int
	id  ID
	why why
	to  ID // what whyMissing misses

	note string // the XML element that whyElement is about, what breaks the XML
}

func (a fault) compare(b fault) int {
	return cmp.Or(cmp.Compare(a.at, b.at), cmp.Compare(a.why, b.why), cmp.Compare(a.to, b.to))
}

// maxFaults of each sort are kept; the others are counted.
const maxFaults = 50

// faults are the first of each sort, in the order of the file, and how many
// there are.
type faults struct {
	list  []fault
	count [whys]int
}

// add is for faults that come in the order of the file.
func (p *faults) add(f fault) {
	if p.count[f.why]++; p.count[f.why] <= maxFaults {
		p.list = append(p.list, f)
	}
}

// join adds those of a range further on.
func (p *faults) join(q *faults) {
	for _, f := range q.list {
		if p.count[f.why]++; p.count[f.why] <= maxFaults {
			p.list = append(p.list, f)
		}
		q.count[f.why]--
	}
	for w, n := range q.count {
		p.count[w] += n
	}
}

// Problems is what was wrong so far, in the order of the file: what could not be
// read, and references that turned out to lead nowhere, each missing instance
// once. Of each sort the first 50 are named; the last of them says how many more
// there are. Which references are looked up is up to the caller; the order in
// which that happens makes no difference.
func (f *File) Problems() []Problem {
	list, count := f.late.join(f)
	out := make([]Problem, len(list))
	lines := lineCounter{b: f.data}
	var last [whys]int
	for i, p := range list {
		r := reasons[p.why]
		text := r.text
		switch p.why {
		case whyMissing:
			text = fmt.Sprintf("it refers to %s, which is not in the file; %s", f.label(p.to), r.text)
		case whyElement:
			text = fmt.Sprintf("its XML has %q, %s", p.note, r.text)
		case whyBroken:
			text = p.note + "; " + r.text
		}
		out[i] = Problem{File: f.name, ID: p.id, Entity: f.keywordAt(p.at), Err: fmt.Errorf("%w: %s", r.kind, text)}
		if f.xml != nil {
			out[i].Offset, out[i].Line = f.xmlPlace(p.at)
		} else {
			out[i].Offset, out[i].Line = int64(p.at), lines.at(p.at)
		}
		last[p.why] = i
	}
	for w, n := range count {
		if more := n - maxFaults; more > 0 {
			p := &out[last[w]]
			p.Err = fmt.Errorf("%w (and %d more like this)", p.Err, more)
		}
	}
	return out
}
