package ifcread

import (
	"math"
	"strings"
)

// Kind is what a parameter is, told by how it is written.
type Kind uint8

// Kinds of values.
const (
	Null    Kind = iota // $, an empty parameter, or none
	Derived             // *
	Int                 // 12
	Real                // 12.5
	String              // 'text'
	Enum                // .NAME., also .T., .F. and .U.
	Ref                 // #12
	List                // (...)
	Typed               // IFCLABEL('x')
	Binary              // "0FF"
	Bad                 // none of these
)

// Value is one parameter: a place in the file that is decoded when it is asked.
// The zero Value is null. What a value is not, its methods answer with false, ""
// or nothing; they never panic.
type Value struct {
	f      *File
	off, n uint32
}

// Raw is the text of the parameter as the file has it; do not change it.
func (v Value) Raw() []byte {
	if v.n == 0 {
		return nil
	}
	end := v.off + v.n
	return v.f.data[v.off:end:end]
}

// Kind tells the value by its first and last characters.
func (v Value) Kind() Kind {
	b := v.Raw()
	if len(b) == 0 {
		return Null
	}
	switch c := b[0]; {
	case len(b) == 1 && c == '$':
		return Null
	case len(b) == 1 && c == '*':
		return Derived
	case c == '#' && len(b) > 1 && isDigit(b[1]):
		return Ref
	case c == '\'' && closed(b, '\''):
		return String
	case c == '(' && closed(b, ')'):
		return List
	case c == '"' && closed(b, '"'):
		return Binary
	case isLetter(c) && closed(b, ')'):
		return Typed
	case c == '.' && closed(b, '.') && isLetter(b[1]):
		return Enum
	}
	return numberKind(b)
}

func closed(b []byte, end byte) bool { return len(b) > 1 && b[len(b)-1] == end }

// numberKind is Int or Real for what consists of a number's characters.
func numberKind(b []byte) Kind {
	kind, digits := Int, false
	for i, c := range b {
		switch {
		case isDigit(c):
			digits = true
		case c == '.' || (c == 'E' || c == 'e') && i > 0:
			kind = Real
		case c != '+' && c != '-':
			return Bad
		}
	}
	if !digits {
		return Bad
	}
	return kind
}

// IsNull reports whether nothing is stated: $, *, or no such parameter.
func (v Value) IsNull() bool {
	b := v.Raw()
	return len(b) == 0 || len(b) == 1 && (b[0] == '$' || b[0] == '*')
}

// maxWrap is how many types may be wrapped around one value.
const maxWrap = 4

// inner is what a typed value wraps; any other value as it is.
func (v Value) inner() Value {
	for range maxWrap {
		in, ok := v.unwrap()
		if !ok {
			break
		}
		v = in
	}
	return v
}

// unwrap is the one parameter of a typed value; false for other values.
func (v Value) unwrap() (Value, bool) {
	if v.n == 0 || !isLetter(v.f.data[v.off]) {
		return Value{}, false
	}
	b, end := v.f.data, int(v.off+v.n)
	i := skipBlank(b, skipWord(b, int(v.off)))
	if i >= end || b[i] != '(' {
		return Value{}, false
	}
	p := v.f.list(i)
	ok := p.next() && p.done && p.i+1 == end
	return p.value, ok
}

// Typed is a value with the name of its type in upper case: IFCLENGTHMEASURE and
// 12. for IFCLENGTHMEASURE(12.).
func (v Value) Typed() (name string, inner Value, ok bool) {
	if inner, ok = v.unwrap(); !ok {
		return "", Value{}, false
	}
	return upperString(v.f.data[v.off:skipWord(v.f.data, int(v.off))]), inner, true
}

// Float is a number, also a whole one and one inside a typed value. False for
// anything else, also for infinities and what writers put for "not a number".
func (v Value) Float() (float64, bool) {
	b := v.inner().Raw()
	x, n := number(b)
	return x, n == len(b) && n > 0
}

// Int is a whole number, also one written with a point, 12., and one inside a
// typed value.
func (v Value) Int() (int64, bool) {
	b := v.inner().Raw()
	x, n := integer(b)
	if n == len(b) && n > 0 {
		return x, true
	}
	f, n := number(b)
	if n != len(b) || n == 0 || f != math.Trunc(f) || math.Abs(f) > 1<<53 {
		return 0, false
	}
	return int64(f), true
}

// Bool is .T. or .F., also inside a typed value; ok is false for .U. and
// anything else.
func (v Value) Bool() (val, ok bool) {
	b := v.inner().Raw()
	if len(b) != 3 || b[0] != '.' || b[2] != '.' {
		return false, false
	}
	c := upperByte(b[1])
	return c == 'T', c == 'T' || c == 'F'
}

// Str is a string with its escapes decoded (see DecodeString), also inside a
// typed value.
func (v Value) Str() (string, bool) {
	b := v.inner().Raw()
	if len(b) < 2 || b[0] != '\'' || b[len(b)-1] != '\'' {
		return "", false
	}
	return DecodeString(b[1 : len(b)-1]), true
}

// Enum is an enumerator in upper case without its dots, also inside a typed
// value; "" for anything else.
func (v Value) Enum() string {
	v = v.inner()
	if v.Kind() != Enum {
		return ""
	}
	b := v.Raw()
	return upperString(b[1 : len(b)-1])
}

// Ref is the number of the instance that is referred to.
func (v Value) Ref() (ID, bool) {
	b := v.Raw()
	if len(b) < 2 || b[0] != '#' {
		return 0, false
	}
	id, n := instanceNumber(b[1:])
	if n == 0 || n != len(b)-1 {
		return 0, false
	}
	return id, true
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
		v.f.missing(v.off, id)
	}
	return i, ok
}

func upperString(b []byte) string {
	for _, c := range b {
		if c >= 'a' && c <= 'z' {
			return strings.ToUpper(string(b))
		}
	}
	return string(b)
}
