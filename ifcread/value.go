package ifcread

import (
	"bytes"
	"iter"
	"slices"
	"strconv"
	"unsafe"
)

// Kind is what a parameter is, told by its first characters.
type Kind uint8

const (
	Null    Kind = iota // $, or not there
	Derived             // *
	Int
	Real
	String
	Enum  // .NAME., also .T. and .F.
	Ref   // #12
	List  // (...)
	Typed // IFCLABEL('x')
	Binary
	Bad
)

// Value is one parameter, decoded when it is asked. The zero value is null.
type Value struct {
	raw []byte
	f   *File
}

// Raw is the text of the parameter; do not change it.
func (v Value) Raw() []byte { return v.raw }

// offset is the place in the file of the statement that holds the value.
func (v Value) offset() int {
	p := uintptr(unsafe.Pointer(unsafe.SliceData(v.raw))) - uintptr(unsafe.Pointer(unsafe.SliceData(v.f.data)))
	i, ok := slices.BinarySearch(v.f.offs, uint32(p))
	if !ok {
		i--
	}
	if i < 0 {
		return 0
	}
	return int(v.f.offs[i])
}

// Kind looks at the first characters only.
func (v Value) Kind() Kind {
	if len(v.raw) == 0 {
		return Null
	}
	switch c := v.raw[0]; {
	case c == '$':
		return Null
	case c == '*':
		return Derived
	case c == '\'':
		return String
	case c == '.' && len(v.raw) > 1 && (v.raw[1] < '0' || v.raw[1] > '9'):
		return Enum
	case c == '#':
		return Ref
	case c == '(':
		return List
	case c == '"':
		return Binary
	case c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z':
		return Typed
	case c >= '0' && c <= '9' || c == '-' || c == '+' || c == '.':
		for _, b := range v.raw {
			if b == '.' || b == 'E' || b == 'e' {
				return Real
			}
		}
		return Int
	}
	return Bad
}

// IsNull reports whether nothing is stated: $, *, or no such parameter.
func (v Value) IsNull() bool { k := v.Kind(); return k == Null || k == Derived }

// inner is what a typed value wraps; any other value as it is.
func (v Value) inner() Value {
	for v.Kind() == Typed {
		_, in, ok := v.Typed()
		if !ok {
			break
		}
		v = in
	}
	return v
}

// Float is a number, also inside a typed value; false for anything else, for
// infinities and for what is no number.
func (v Value) Float() (float64, bool) { return parseFloat(v.inner().raw) }

// Int is a whole number, also one written as a real.
func (v Value) Int() (int64, bool) {
	v = v.inner()
	n, err := strconv.ParseInt(str(v.raw), 10, 64)
	if err != nil {
		if f, ok := parseFloat(v.raw); ok && f == float64(int64(f)) {
			return int64(f), true
		}
	}
	return n, err == nil
}

// Bool is .T. or .F.; ok is false for .U. and anything else.
func (v Value) Bool() (val, ok bool) {
	switch v.inner().Enum() {
	case "T":
		return true, true
	case "F":
		return false, true
	}
	return false, false
}

// Str is a string with its escapes decoded, also inside a typed value.
func (v Value) Str() (string, bool) {
	v = v.inner()
	if len(v.raw) < 2 || v.raw[0] != '\'' || v.raw[len(v.raw)-1] != '\'' {
		return "", false
	}
	return DecodeString(v.raw[1 : len(v.raw)-1]), true
}

// Enum is an enumerator in upper case without its dots; "" for anything else.
func (v Value) Enum() string {
	v = v.inner()
	if v.Kind() != Enum || len(v.raw) < 3 || v.raw[len(v.raw)-1] != '.' {
		return ""
	}
	b := v.raw[1 : len(v.raw)-1]
	for _, c := range b {
		if c >= 'a' && c <= 'z' {
			return upper(b)
		}
	}
	return string(b)
}

func upper(b []byte) string {
	o := make([]byte, len(b))
	for i, c := range b {
		if c >= 'a' && c <= 'z' {
			c -= 32
		}
		o[i] = c
	}
	return string(o)
}

// Ref is the number behind "#".
func (v Value) Ref() (ID, bool) {
	if len(v.raw) < 2 || len(v.raw) > 20 || v.raw[0] != '#' {
		return 0, false
	}
	var n uint64
	for _, c := range v.raw[1:] {
		if c < '0' || c > '9' {
			return 0, false
		}
		n = n*10 + uint64(c-'0')
	}
	return ID(n), true
}

// Inst is the instance that is referred to. One that is not in the file becomes
// a Problem, once.
func (v Value) Inst() (Inst, bool) {
	id, ok := v.Ref()
	if !ok {
		return Inst{}, false
	}
	i, ok := v.f.Get(id)
	if !ok {
		v.f.missing(v.offset(), id)
	}
	return i, ok
}

// Typed is a value with the name of its type: IFCLENGTHMEASURE(12.). A type with
// several parameters gives them as one list.
func (v Value) Typed() (name string, inner Value, ok bool) {
	if v.Kind() != Typed {
		return "", Value{}, false
	}
	k := bytes.IndexByte(v.raw, '(')
	if k < 0 {
		return "", Value{}, false
	}
	name = string(bytes.TrimRight(v.raw[:k], " \t\r\n"))
	p := params{b: v.raw[k:]}
	if !p.next() || !p.done {
		return name, Value{v.raw[k:], v.f}, true
	}
	return name, Value{p.value, v.f}, true
}

// All is the members of a list, also of a typed one; nothing for other values.
func (v Value) All() iter.Seq[Value] {
	return func(yield func(Value) bool) {
		v := v.inner()
		if v.Kind() != List {
			return
		}
		for p := (params{b: v.raw}); p.next(); {
			if !yield(Value{p.value, v.f}) {
				return
			}
		}
	}
}

// Len is the number of members of a list.
func (v Value) Len() int {
	n := 0
	for range v.All() {
		n++
	}
	return n
}

// Floats appends all numbers of a list to dst, those of nested lists one behind
// the other. What is no number is passed over.
func (v Value) Floats(dst []float64) []float64 {
	b := v.inner().raw
	for i := 0; i < len(b); {
		c := b[i]
		if c >= '0' && c <= '9' || c == '-' || c == '+' || c == '.' {
			j := i + 1
			for j < len(b) && b[j] != ',' && b[j] != ')' && b[j] != ' ' && b[j] != '\n' && b[j] != '\r' && b[j] != '\t' {
				j++
			}
			if f, ok := parseFloat(b[i:j]); ok {
				dst = append(dst, f)
			}
			i = j
			continue
		}
		i++
	}
	return dst
}

// Ints is Floats for whole numbers.
func (v Value) Ints(dst []int64) []int64 {
	b := v.inner().raw
	for i := 0; i < len(b); i++ {
		if b[i] < '0' || b[i] > '9' {
			continue
		}
		neg := i > 0 && b[i-1] == '-'
		var n int64
		for ; i < len(b) && b[i] >= '0' && b[i] <= '9'; i++ {
			n = n*10 + int64(b[i]-'0')
		}
		if neg {
			n = -n
		}
		dst = append(dst, n)
	}
	return dst
}

// Refs appends the instances that a list refers to.
func (v Value) Refs(dst []Inst) []Inst {
	for e := range v.All() {
		if i, ok := e.Inst(); ok {
			dst = append(dst, i)
		}
	}
	return dst
}
