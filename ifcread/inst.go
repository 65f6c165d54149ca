package ifcread

import "bytes"

// Inst is an instance. The zero value is none; its attributes are null.
type Inst struct {
	f   *File
	row uint32
}

// Valid reports whether there is an instance.
func (i Inst) Valid() bool { return i.f != nil }

// ID is its number in the file.
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

// Name is the entity's name in the standard's spelling, or as the file has it
// when no schema knows it.
func (i Inst) Name() string {
	if t := i.Type(); t != 0 || i.f == nil {
		return t.String()
	}
	return i.f.keywordAt(int(i.f.offs[i.row]))
}

// Is reports whether the entity is t or below it, by the file's schema.
func (i Inst) Is(t Type) bool { return i.f != nil && i.f.table.isA(i.Type(), t) }

// IsA reports whether entity t is super or below it, by the file's schema.
func (f *File) IsA(t, super Type) bool { return f.table.isA(t, super) }

// Pos is the position of an attribute among the parameters of an entity; -1 when
// the file's schema has none of that name.
func (f *File) Pos(t Type, attr string) int { return f.table.position(t, attr) }

// Line is the 1-based line that the instance starts on.
func (f *File) Line(i Inst) int {
	if i.f == nil {
		return 0
	}
	return f.lineAt(int(f.offs[i.row]))
}

// Attr is an attribute by its name in the file's schema; null when there is none.
func (i Inst) Attr(name string) Value {
	if i.f == nil {
		return Value{}
	}
	return i.Arg(i.f.table.position(i.Type(), name))
}

// Arg is parameter n, counted from 0; null when there are fewer.
func (i Inst) Arg(n int) Value {
	if i.f == nil || n < 0 {
		return Value{}
	}
	p := params{b: i.text()}
	for p.next() {
		if n == 0 {
			return Value{p.value, i.f}
		}
		n--
	}
	return Value{}
}

// Args appends all parameters to dst.
func (i Inst) Args(dst []Value) []Value {
	if i.f == nil {
		return dst
	}
	return split(i.f, i.text(), dst)
}

// text begins with the bracket that opens the parameters.
func (i Inst) text() []byte { return i.f.argsAt(int(i.f.offs[i.row])) }

func (f *File) argsAt(at int) []byte {
	b := f.data[at:]
	k := bytes.IndexByte(b, '(')
	if k < 0 {
		return nil
	}
	if bytes.IndexByte(b[:k], '/') >= 0 { // a comment before it, perhaps with brackets
		i := f.skipBlank(at + 1)
		for i < len(f.data) && f.data[i] != '(' {
			i = f.skipBlank(i + 1)
		}
		return f.data[min(i, len(f.data)):]
	}
	return b[k:]
}

// idAt is the number behind the '#' at an offset.
func (f *File) idAt(at int) ID {
	var id ID
	for _, c := range f.data[min(at+1, len(f.data)):] {
		if c < '0' || c > '9' {
			break
		}
		id = id*10 + ID(c-'0')
	}
	return id
}

// keywordAt is the entity of the statement at an offset, as written.
func (f *File) keywordAt(at int) string {
	i := at + 1
	for i < len(f.data) && f.data[i] >= '0' && f.data[i] <= '9' {
		i++
	}
	if i = f.skipBlank(i); i >= len(f.data) || f.data[i] != '=' {
		return ""
	}
	i = f.skipBlank(i + 1)
	from := i
	for i < len(f.data) && isWord(f.data[i]) {
		i++
	}
	return string(f.data[from:i])
}
