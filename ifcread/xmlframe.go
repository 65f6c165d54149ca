package ifcread

import (
	"cmp"
	"encoding/xml"
	"slices"
	"strings"
)

// frameKind is what an open XML element stands for.
type frameKind uint8

const (
	frameOutside frameKind = iota // around the instances, or in the header
	frameEntity                   // an instance
	frameAttr                     // an attribute of the instance around it
	frameValue                    // a member of an aggregate, or a value with the name of its type
	frameInverse                  // relationships that refer to the instance around it
	frameSkip                     // nothing that is read
)

// xmlFrame is an open XML element. An element that stands for two things at a
// time, an attribute and the instance in it, has two frames.
type xmlFrame struct {
	kind frameKind
	same bool   // the frame below is of the same XML element
	name string // as written, with its prefix

	// Of an instance.
	typ          Type
	keyword      string
	id           ID
	args         []string // "": not stated
	line, offset uint32
	faults       []fault

	// Of an attribute or a value.
	arg     int // position among the parameters
	form    form
	typed   string // keyword around the value, in upper case
	isNil   bool
	pos     int // in the aggregate; -1: not stated
	text    []byte
	members []xmlMember

	inverse string  // the name of a frameInverse
	header  *string // where the text of a header element goes
	inside  bool    // in the header
}

type xmlMember struct {
	pos  int
	text string
}

// deliver hands the text of a value to the frame around it.
func (fr *xmlFrame) deliver(text string, pos int) {
	if fr == nil || fr.kind != frameAttr && fr.kind != frameValue {
		return
	}
	if pos < 0 {
		pos = len(fr.members)
	}
	fr.members = append(fr.members, xmlMember{pos, text})
}

// value is the clear text of an attribute or a value.
func (fr *xmlFrame) value() string {
	v := fr.bare()
	if fr.typed != "" && v != "$" {
		return fr.typed + "(" + v + ")"
	}
	return v
}

func (fr *xmlFrame) bare() string {
	_, _, isList := fr.form.list()
	switch n := len(fr.members); {
	case n == 0 && fr.isNil:
		return "$"
	case n == 0 && isList:
		return listText(fr.form, string(fr.text))
	case n == 0:
		return scalarText(fr.form, string(fr.text))
	case n == 1 && !isList:
		return fr.members[0].text
	}
	slices.SortStableFunc(fr.members, func(a, b xmlMember) int { return cmp.Compare(a.pos, b.pos) })
	var b strings.Builder
	for i, m := range fr.members {
		b.WriteByte("(,"[min(i, 1)])
		b.WriteString(m.text)
	}
	b.WriteByte(')')
	return b.String()
}

// nothing reports whether no value was in the element, not even an empty one.
func (fr *xmlFrame) nothing() bool {
	return len(fr.members) == 0 && len(strings.TrimSpace(string(fr.text))) == 0
}

// control are the XML attributes that are no attributes of an instance.
type control struct {
	id, ref, typ string
	isNil        bool
	pos          int
	others       bool // there are attributes of an instance, too
}

func controls(attrs []xml.Attr) control {
	c := control{pos: -1}
	for _, a := range attrs {
		switch local := a.Name.Local; {
		case a.Name.Space == "xmlns" || local == "xmlns":
		case local == "type" && a.Name.Space != "":
			c.typ = unprefixed(a.Value)
		case local == "nil" && a.Name.Space != "":
			c.isNil = a.Value == "true" || a.Value == "1"
		case local == "id":
			c.id = a.Value
		case local == "ref":
			c.ref = a.Value
		case local == "href":
			if at := strings.LastIndexByte(a.Value, '#'); at >= 0 && c.ref == "" {
				c.ref = a.Value[at+1:]
			}
		case local == "pos":
			c.pos = position(a.Value)
		case isControl(a):
		default:
			c.others = true
		}
	}
	return c
}

// isControl reports whether an XML attribute says how to read the element: those
// of IFC begin with a capital letter and have no prefix.
func isControl(a xml.Attr) bool {
	c := a.Name.Local
	return a.Name.Space != "" || c == "" || c[0] < 'A' || c[0] > 'Z'
}

// position is the place in an aggregate, the first of several for one of nested
// aggregates; -1 when it is none.
func position(s string) int {
	n, digits := integer([]byte(strings.TrimSpace(s)))
	if digits == 0 || n < 0 || n > 1<<31 {
		return -1
	}
	return int(n)
}

// unprefixed is a name without its prefix.
func unprefixed(name string) string {
	return name[strings.LastIndexByte(name, ':')+1:]
}
