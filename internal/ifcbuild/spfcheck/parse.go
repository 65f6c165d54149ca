// Package spfcheck reads clear text files plainly and slowly, and holds them
// against the attribute lists of the schemas and against boxes worked out anew.
// It is there for tests of the writer and shares no code with it, nor with the
// reader of the command.
package spfcheck

import (
	"fmt"
	"strconv"
	"strings"
)

// Value is one parameter of an instance.
type Value struct {
	Kind Kind
	Text string // string (still encoded), enumerator, keyword of a typed value
	Num  float64
	Ref  uint64
	List []Value // elements of a list, the content of a typed value
}

// Kind is the kind of a value.
type Kind int

const (
	Unset Kind = iota // $
	Derived
	Ref
	Text
	Enum
	Integer
	Real
	List
	Typed
)

// Instance is one entity instance.
type Instance struct {
	ID      uint64
	Keyword string // capitals
	Args    []Value
}

// File is a parsed file.
type File struct {
	Schema string
	Insts  []*Instance // in file order
	ByID   map[uint64]*Instance
}

// Parse reads a whole file; the first thing that is wrong is an error.
func Parse(src []byte) (*File, error) {
	p := &parser{src: src}
	f := &File{ByID: map[uint64]*Instance{}}
	if err := p.want("ISO-10303-21;"); err != nil {
		return nil, err
	}
	if err := p.want("HEADER;"); err != nil {
		return nil, err
	}
	for !p.took("ENDSEC;") {
		inst, err := p.record()
		if err != nil {
			return nil, err
		}
		if inst.Keyword == "FILE_SCHEMA" {
			f.Schema = inst.Args[0].List[0].Text
		}
	}
	if err := p.want("DATA;"); err != nil {
		return nil, err
	}
	for !p.took("ENDSEC;") {
		inst, err := p.instance()
		if err != nil {
			return nil, err
		}
		if f.ByID[inst.ID] != nil {
			return nil, fmt.Errorf("#%d stands twice", inst.ID)
		}
		f.ByID[inst.ID] = inst
		f.Insts = append(f.Insts, inst)
	}
	return f, p.want("END-ISO-10303-21;")
}

type parser struct {
	src []byte
	at  int
}

func (p *parser) blank() {
	for p.at < len(p.src) {
		switch c := p.src[p.at]; {
		case c == ' ' || c == '\t' || c == '\r' || c == '\n':
			p.at++
		case strings.HasPrefix(string(p.src[p.at:min(p.at+2, len(p.src))]), "/*"):
			end := strings.Index(string(p.src[p.at:]), "*/")
			if end < 0 {
				p.at = len(p.src)
				return
			}
			p.at += end + 2
		default:
			return
		}
	}
}

func (p *parser) took(word string) bool {
	p.blank()
	if n := len(word); p.at+n <= len(p.src) && string(p.src[p.at:p.at+n]) == word {
		p.at += n
		return true
	}
	return false
}

func (p *parser) want(word string) error {
	if !p.took(word) {
		return p.errorf("%s expected", word)
	}
	return nil
}

func (p *parser) errorf(format string, args ...any) error {
	rest := p.src[p.at:min(p.at+40, len(p.src))]
	return fmt.Errorf("byte %d, before %q: %s", p.at, rest, fmt.Sprintf(format, args...))
}

func (p *parser) instance() (*Instance, error) {
	if err := p.want("#"); err != nil {
		return nil, err
	}
	id, err := strconv.ParseUint(p.word("0123456789"), 10, 64)
	if err != nil {
		return nil, p.errorf("%v", err)
	}
	if err := p.want("="); err != nil {
		return nil, err
	}
	inst, err := p.record()
	if err == nil {
		inst.ID = id
	}
	return inst, err
}

const letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789_"

func (p *parser) word(set string) string {
	p.blank()
	from := p.at
	for p.at < len(p.src) && strings.IndexByte(set, p.src[p.at]) >= 0 {
		p.at++
	}
	return string(p.src[from:p.at])
}

func (p *parser) record() (*Instance, error) {
	inst := &Instance{Keyword: strings.ToUpper(p.word(letters))}
	if inst.Keyword == "" {
		return nil, p.errorf("keyword expected")
	}
	list, err := p.list()
	if err != nil {
		return nil, err
	}
	inst.Args = list
	return inst, p.want(";")
}

func (p *parser) list() ([]Value, error) {
	if err := p.want("("); err != nil {
		return nil, err
	}
	var out []Value
	if p.took(")") {
		return out, nil
	}
	for {
		v, err := p.value()
		if err != nil {
			return nil, err
		}
		out = append(out, v)
		if p.took(")") {
			return out, nil
		}
		if err := p.want(","); err != nil {
			return nil, err
		}
	}
}

func (p *parser) value() (Value, error) {
	p.blank()
	if p.at >= len(p.src) {
		return Value{}, p.errorf("value expected")
	}
	switch c := p.src[p.at]; {
	case c == '$':
		p.at++
		return Value{}, nil
	case c == '*':
		p.at++
		return Value{Kind: Derived}, nil
	case c == '#':
		p.at++
		id, err := strconv.ParseUint(p.word("0123456789"), 10, 64)
		return Value{Kind: Ref, Ref: id}, err
	case c == '(':
		list, err := p.list()
		return Value{Kind: List, List: list}, err
	case c == '.':
		p.at++
		w := p.word(letters)
		return Value{Kind: Enum, Text: w}, p.want(".")
	case c == '\'':
		return p.text()
	case c == '-' || c == '+' || c >= '0' && c <= '9':
		return p.number()
	}
	w := p.word(letters)
	if w == "" {
		return Value{}, p.errorf("value expected")
	}
	list, err := p.list()
	return Value{Kind: Typed, Text: strings.ToUpper(w), List: list}, err
}

func (p *parser) text() (Value, error) {
	p.at++
	var s []byte
	for p.at < len(p.src) {
		c := p.src[p.at]
		p.at++
		if c != '\'' {
			s = append(s, c)
			continue
		}
		if p.at < len(p.src) && p.src[p.at] == '\'' {
			s = append(s, '\'')
			p.at++
			continue
		}
		return Value{Kind: Text, Text: string(s)}, nil
	}
	return Value{}, p.errorf("string does not end")
}

func (p *parser) number() (Value, error) {
	w := p.word("0123456789+-.E")
	n, err := strconv.ParseFloat(w, 64)
	if err != nil {
		return Value{}, p.errorf("%v", err)
	}
	if !strings.Contains(w, ".") {
		return Value{Kind: Integer, Num: n}, nil
	}
	return Value{Kind: Real, Num: n}, nil
}
