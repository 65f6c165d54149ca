package rewrite

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// Text is a model as instances.
type Text struct {
	Head  string // up to the first instance
	Insts []*Inst
	by    map[uint64]*Inst
	next  uint64
}

// Inst is one instance.
type Inst struct {
	ID      uint64
	Keyword string // capitals
	Args    []Value
}

// Value is a parameter: a word as it is written, or a list, which has a word in
// front of it when it is a typed value.
type Value struct {
	Word   string
	List   []Value
	IsList bool
}

// Parse reads the text of a model; the first thing that it does not know is an
// error.
func Parse(data []byte) (*Text, error) {
	src := string(data)
	begin := dataSection.FindStringIndex(src)
	if begin == nil {
		return nil, fmt.Errorf("there is no data section")
	}
	t := &Text{Head: src[:begin[1]], by: map[uint64]*Inst{}}
	p := &parser{src: src, at: begin[1]}
	for p.blank(); strings.HasPrefix(p.src[p.at:], "#"); p.blank() {
		in, err := p.instance()
		if err != nil {
			return nil, err
		}
		if t.by[in.ID] != nil {
			return nil, fmt.Errorf("#%d stands twice", in.ID)
		}
		t.add(in)
	}
	if !strings.HasPrefix(p.src[p.at:], "ENDSEC") {
		return nil, p.fail("ENDSEC")
	}
	return t, nil
}

var dataSection = regexp.MustCompile(`(?m)^\s*DATA\s*;`)

func (t *Text) add(in *Inst) {
	t.Insts, t.by[in.ID] = append(t.Insts, in), in
	t.next = max(t.next, in.ID+1)
}

// new adds an instance and gives a reference to it. Parameters are words or
// values.
func (t *Text) new(keyword string, args ...any) Value {
	in := &Inst{ID: t.next, Keyword: keyword}
	for _, a := range args {
		switch a := a.(type) {
		case Value:
			in.Args = append(in.Args, a)
		case string:
			in.Args = append(in.Args, Value{Word: a})
		case []float64:
			in.Args = append(in.Args, reals(a))
		}
	}
	t.add(in)
	return Value{Word: fmt.Sprintf("#%d", in.ID)}
}

// at is the instance that a value refers to; nil when it is no reference.
func (t *Text) at(v Value) *Inst {
	if id, err := strconv.ParseUint(strings.TrimPrefix(v.Word, "#"), 10, 64); err == nil && strings.HasPrefix(v.Word, "#") {
		return t.by[id]
	}
	return nil
}

// each calls do for all instances of the keywords, but not for those that it adds.
func (t *Text) each(do func(*Inst), keywords ...string) {
	for _, in := range t.Insts[:len(t.Insts):len(t.Insts)] {
		for _, k := range keywords {
			if in.Keyword == k {
				do(in)
			}
		}
	}
}

// Bytes is the model as text, an instance a line.
func (t *Text) Bytes() []byte {
	var b strings.Builder
	b.WriteString(t.Head + "\n")
	for _, in := range t.Insts {
		fmt.Fprintf(&b, "#%d=%s%s;\n", in.ID, in.Keyword, Value{List: in.Args, IsList: true})
	}
	b.WriteString("ENDSEC;\nEND-ISO-10303-21;\n")
	return []byte(b.String())
}

func (v Value) String() string {
	if !v.IsList {
		return v.Word
	}
	var b strings.Builder
	b.WriteString(v.Word + "(")
	for i, m := range v.List {
		if i > 0 {
			b.WriteByte(',')
		}
		b.WriteString(m.String())
	}
	b.WriteByte(')')
	return b.String()
}

// isReal reports whether a value is a number with a point.
func (v Value) isReal() bool {
	return !v.IsList && strings.Contains(v.Word, ".") && strings.IndexAny(v.Word, "-+0123456789") == 0
}

func (v Value) number() (float64, error) {
	f, err := strconv.ParseFloat(v.Word, 64)
	if err != nil || v.IsList {
		return 0, fmt.Errorf("%s is no number", v)
	}
	return f, nil
}

// real is a number as IFC text has it.
func real(f float64) Value {
	s := strings.ToUpper(strconv.FormatFloat(f, 'g', -1, 64))
	if !strings.Contains(s, ".") {
		mantissa, exponent, has := strings.Cut(s, "E")
		if s = mantissa + "."; has {
			s += "E" + exponent
		}
	}
	return Value{Word: s}
}

func reals(list []float64) Value {
	v := Value{IsList: true}
	for _, f := range list {
		v.List = append(v.List, real(f))
	}
	return v
}

// floats are the numbers of a list.
func (v Value) floats() ([]float64, error) {
	var out []float64
	for _, m := range v.List {
		f, err := m.number()
		if err != nil {
			return nil, err
		}
		out = append(out, f)
	}
	return out, nil
}
