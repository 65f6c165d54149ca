package rewrite

import (
	"fmt"
	"strconv"
	"strings"
)

type parser struct {
	src string
	at  int
}

func (p *parser) fail(want string) error {
	return fmt.Errorf("byte %d, before %.40q: %s expected", p.at, p.src[p.at:], want)
}

// blank skips what has no meaning.
func (p *parser) blank() {
	for p.at < len(p.src) {
		if strings.HasPrefix(p.src[p.at:], "/*") {
			end := strings.Index(p.src[p.at:], "*/")
			if end < 0 {
				return
			}
			p.at += end + 2
		} else if strings.IndexByte(" \t\r\n", p.src[p.at]) >= 0 {
			p.at++
		} else {
			return
		}
	}
}

// took takes a character when it is the next one.
func (p *parser) took(c byte) bool {
	p.blank()
	if p.at < len(p.src) && p.src[p.at] == c {
		p.at++
		return true
	}
	return false
}

func (p *parser) instance() (*Inst, error) {
	head, _, ok := strings.Cut(p.src[p.at:], "=")
	id, err := strconv.ParseUint(strings.TrimSpace(strings.TrimPrefix(head, "#")), 10, 64)
	if !ok || err != nil {
		return nil, p.fail("the number of an instance")
	}
	p.at += len(head) + 1
	v, err := p.value()
	if err != nil {
		return nil, err
	}
	if !v.IsList || v.Word == "" {
		return nil, p.fail("an entity")
	}
	if !p.took(';') {
		return nil, p.fail("a semicolon")
	}
	return &Inst{ID: id, Keyword: strings.ToUpper(v.Word), Args: v.List}, nil
}

func (p *parser) value() (Value, error) {
	p.blank()
	if p.at < len(p.src) && p.src[p.at] == '\'' {
		return p.quoted()
	}
	from := p.at
	for p.at < len(p.src) && strings.IndexByte(" \t\r\n,();'/", p.src[p.at]) < 0 {
		p.at++
	}
	v := Value{Word: p.src[from:p.at]}
	if !p.took('(') {
		if v.Word == "" {
			return v, p.fail("a value")
		}
		return v, nil
	}
	v.IsList = true
	for !p.took(')') {
		if len(v.List) > 0 && !p.took(',') {
			return v, p.fail("a comma")
		}
		m, err := p.value()
		if err != nil {
			return v, err
		}
		v.List = append(v.List, m)
	}
	return v, nil
}

func (p *parser) quoted() (Value, error) {
	from := p.at
	for p.at++; p.at < len(p.src); p.at++ {
		if p.src[p.at] != '\'' {
			continue
		}
		if p.at+1 < len(p.src) && p.src[p.at+1] == '\'' {
			p.at++
			continue
		}
		p.at++
		return Value{Word: p.src[from:p.at]}, nil
	}
	return Value{}, p.fail("the end of a text")
}
