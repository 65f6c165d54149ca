package ifcread

import "bytes"

// Inst is an instance: a small value to hand around. The zero Inst is none; it
// has no attributes.
type Inst struct {
	f   *File
	row uint32
}

// Valid reports whether there is an instance.
func (i Inst) Valid() bool { return i.f != nil }

// File is the file that the instance is in; nil for no instance.
func (i Inst) File() *File { return i.f }

// ID is its number in the file; 0 for no instance.
func (i Inst) ID() ID {
	if i.f == nil {
		return 0
	}
	return i.f.idAt(int(i.f.offs[i.row]))
}

// Type is its entity; 0 for one that no schema has.
func (i Inst) Type() Type {
	if i.f == nil {
		return 0
	}
	return i.f.types[i.row]
}

// Name is the entity's name in the standard's spelling, IfcWall; or as the file
// has it when no schema knows it.
func (i Inst) Name() string {
	if t := i.Type(); t != 0 || i.f == nil {
		return t.String()
	}
	return i.f.keywordAt(int(i.f.offs[i.row]))
}

// Is reports whether the entity is t or below it, by the file's schema.
func (i Inst) Is(t Type) bool { return i.f != nil && i.f.IsA(i.f.types[i.row], t) }

// Attr is an attribute by its name; null when the file's schema has none of that
// name, or the instance has too few parameters. In hot paths resolve the position
// once, by File.Pos, or read all by Args.
func (i Inst) Attr(name string) Value {
	if i.f == nil {
		return Value{}
	}
	return i.Arg(i.f.Pos(i.f.types[i.row], name))
}

// Arg is parameter n, counted from 0; null when there is none.
func (i Inst) Arg(n int) Value {
	if i.f == nil || n < 0 {
		return Value{}
	}
	p := i.params()
	for ; p.next(); n-- {
		if n == 0 {
			return p.value
		}
	}
	return Value{}
}

// Args appends all parameters to dst, in one scan over them.
func (i Inst) Args(dst []Value) []Value {
	if i.f == nil {
		return dst
	}
	p := i.params()
	for p.next() {
		dst = append(dst, p.value)
	}
	if p.torn {
		i.f.torn(i.f.offs[i.row])
	}
	return dst
}

func (i Inst) params() params { return i.f.list(i.f.opening(int(i.f.offs[i.row]))) }

// opening is the place of the bracket that opens the parameters of the instance
// at an offset.
func (f *File) opening(at int) int {
	b := f.data[at:]
	k := bytes.IndexByte(b, '(')
	if k < 0 {
		return -1
	}
	if bytes.IndexByte(b[:k], '/') < 0 {
		return at + k
	}
	i := skipBlank(f.data, f.keyword(at)) // a comment may have brackets of its own
	i = skipBlank(f.data, skipWord(f.data, i))
	if i >= len(f.data) {
		return -1
	}
	return i
}

// idAt is the number behind the "#" at an offset; 0 when there is none.
func (f *File) idAt(at int) ID {
	if at >= len(f.data) || f.data[at] != '#' {
		return 0
	}
	b := f.data[at+1:]
	id, _ := instanceNumber(b[:min(len(b), maxDigits+1)])
	return id
}

// keyword is the place behind "#12=" at an offset.
func (f *File) keyword(at int) int {
	_, n := instanceNumber(f.data[at+1:])
	i := skipBlank(f.data, at+1+n)
	if i < len(f.data) && f.data[i] == '=' {
		i++
	}
	return i
}

// keywordAt is the entity of the statement at an offset, as written; "" when
// there is none.
func (f *File) keywordAt(at int) string {
	if f.idAt(at) == 0 {
		return ""
	}
	i := skipBlank(f.data, f.keyword(at))
	return string(f.data[i:skipWord(f.data, i)])
}
