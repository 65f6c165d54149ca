package ifcread

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"strconv"
	"strings"
)

// xmlReader writes the instances of an XML file as statements of clear text.
type xmlReader struct {
	f      *File
	d      *xml.Decoder
	opened bool // the edition is known
	stack  []xmlFrame
	end    xmlFrame // stands for the end of the file, for what is wrong there

	out    []byte
	limit  int64
	places xmlPlaces

	numbers map[string]ID // of the ids met so far
	taken   map[ID]bool   // numbers that ids gave
	last    ID            // number given to the latest instance without an id

	lineBefore   int // of the token at hand
	offsetBefore int64
}

func newXMLReader(f *File, text []byte, limit int64) *xmlReader {
	x := &xmlReader{f: f, d: xml.NewDecoder(bytes.NewReader(text)), limit: limit,
		numbers: map[string]ID{}, taken: map[ID]bool{}, last: highestID(text)}
	x.d.CharsetReader = charset
	x.places.ids = map[ID]string{}
	return x
}

func (x *xmlReader) line() int { return x.lineBefore }

func (x *xmlReader) top() *xmlFrame {
	if len(x.stack) == 0 {
		return nil
	}
	return &x.stack[len(x.stack)-1]
}

func (x *xmlReader) push(fr xmlFrame) *xmlFrame {
	x.stack = append(x.stack, fr)
	return x.top()
}

// start takes a start tag.
func (x *xmlReader) start(e *xml.StartElement) error {
	if len(x.stack) > maxXMLDepth {
		return fmt.Errorf("%w: its elements nest deeper than %d; export the model again", errHostile, maxXMLDepth)
	}
	name := prefixed(e.Name)
	up := x.top()
	if up == nil {
		return x.outside(e, name, nil)
	}
	switch up.kind {
	case frameOutside:
		return x.outside(e, name, up)
	case frameEntity:
		x.inEntity(e, name)
	case frameAttr, frameValue:
		x.inValue(e, name)
	case frameInverse:
		if t, ok := entityOf(e.Name.Local); ok {
			x.entity(e, name, t)
		} else {
			x.skip(name, true)
		}
	default:
		x.skip(name, false)
	}
	return nil
}

func prefixed(n xml.Name) string {
	if n.Space == "" {
		return n.Local
	}
	return n.Space + ":" + n.Local
}

// entityOf is the entity that an element is named after; 0 and true for one that
// no schema has.
func entityOf(name string) (Type, bool) {
	if !strings.HasPrefix(name, "Ifc") || strings.HasSuffix(name, "-wrapper") {
		return 0, false
	}
	t := TypeOf(name)
	return t, t != 0
}

// outside takes an element outside of any instance.
func (x *xmlReader) outside(e *xml.StartElement, name string, up *xmlFrame) error {
	local := e.Name.Local
	isName := strings.HasPrefix(local, "Ifc") && skipWord([]byte(local), 0) == len(local)
	if isName && !(up != nil && up.inside) {
		if !x.opened {
			x.open(e.Attr)
		}
		if !x.opened {
			return fmt.Errorf("it is XML that names no edition of IFC around <%s>; export the model again as ifcXML of IFC2X3, IFC4 or IFC4X3", name)
		}
		x.entity(e, name, TypeOf(local))
		return nil
	}
	x.open(e.Attr)
	fr := xmlFrame{kind: frameOutside, name: name}
	fr.inside = up != nil && up.inside || strings.HasSuffix(strings.ToLower(local), "header")
	if fr.inside {
		fr.header = x.f.header.field(local)
	}
	x.push(fr)
	return nil
}

// field is where an element of the header goes; nil when it is not kept.
func (h *Header) field(name string) *string {
	switch strings.ToLower(name) {
	case "name":
		return &h.Name
	case "time_stamp":
		return &h.TimeStamp
	case "author":
		return &h.Author
	case "organization":
		return &h.Organization
	case "preprocessor_version":
		return &h.Preprocessor
	case "originating_system":
		return &h.System
	}
	return nil
}

// entity takes an element that is an instance, or refers to one.
func (x *xmlReader) entity(e *xml.StartElement, name string, t Type) {
	up := x.top()
	c := controls(e.Attr)
	if u, ok := entityOf(c.typ); ok {
		t = u
	}
	switch {
	case c.ref != "":
		up.deliver("#"+strconv.FormatUint(uint64(x.number(c.ref)), 10), c.pos)
		x.skip(name, false)
		return
	case c.isNil:
		up.deliver("$", c.pos)
		x.skip(name, false)
		return
	}
	x.define(e, name, t, c)
}

// define opens an instance.
func (x *xmlReader) define(e *xml.StartElement, name string, t Type, c control) {
	fr := x.push(xmlFrame{kind: frameEntity, name: name, typ: t, keyword: strings.ToUpper(e.Name.Local), pos: c.pos,
		line: uint32(x.lineBefore), offset: uint32(min(x.offsetBefore, largest))})
	if t != 0 {
		fr.keyword = strings.ToUpper(t.String())
	}
	fr.id = x.number(c.id)
	attrs := x.f.Attrs(t)
	fr.args = make([]string, len(attrs))
	for _, a := range e.Attr {
		if isControl(a) {
			continue
		}
		k := x.f.Pos(t, a.Name.Local)
		if k < 0 {
			x.fault(fr, whyElement, a.Name.Local)
			continue
		}
		value := xmlFrame{form: attrs[k].form, text: []byte(a.Value)}
		x.set(fr, k, value.value(), a.Name.Local)
	}
}

// set states a parameter of an instance, once.
func (x *xmlReader) set(fr *xmlFrame, k int, text, name string) {
	if fr.args[k] != "" {
		x.fault(fr, whyElement, name)
		return
	}
	fr.args[k] = text
}

// inEntity takes an element inside an instance: an attribute or an inverse one.
func (x *xmlReader) inEntity(e *xml.StartElement, name string) {
	fr := x.top()
	local := e.Name.Local
	k := x.f.Pos(fr.typ, local)
	switch {
	case fr.typ == 0:
		x.skip(name, false)
		return
	case k < 0:
		if t, ok := entityOf(local); ok { // one that belongs to nothing
			x.fault(fr, whyElement, local)
			x.entity(e, name, t)
			return
		}
		x.push(xmlFrame{kind: frameInverse, name: name, inverse: local})
		if t, ok := entityOf(controls(e.Attr).typ); ok {
			x.entity(e, name, t)
			x.top().same = true
		}
		return
	}
	x.attribute(e, name, k)
}

// attribute takes an element that is named after an attribute. It holds the value
// or, where that is one instance, may be the instance itself.
func (x *xmlReader) attribute(e *xml.StartElement, name string, k int) {
	form := x.f.Attrs(x.top().typ)[k].form
	c := controls(e.Attr)
	at := x.push(xmlFrame{kind: frameAttr, name: name, arg: k, form: form, isNil: c.isNil, pos: -1})
	t, stated := entityOf(c.typ)
	switch {
	case c.ref != "":
		at.deliver("#"+strconv.FormatUint(uint64(x.number(c.ref)), 10), -1)
	case stated:
	case strings.HasPrefix(string(form), "@") && !c.isNil && (c.others || c.id != ""):
		t = TypeOf(form.entity())
	default:
		return
	}
	if c.ref != "" {
		x.skip(name, false)
	} else {
		x.define(e, name, t, c)
	}
	x.top().same = true
}

// inValue takes an element inside an attribute or a value.
func (x *xmlReader) inValue(e *xml.StartElement, name string) {
	fr := x.top()
	if t, ok := entityOf(e.Name.Local); ok {
		x.entity(e, name, t)
		return
	}
	if fr.kind == frameAttr && strings.HasPrefix(string(fr.form), "@") && len(fr.members) == 0 {
		// The attribute is an instance of the declared entity, without XML attributes.
		own := xml.StartElement{Name: xml.Name{Local: fr.form.entity()}}
		x.define(&own, fr.name, TypeOf(fr.form.entity()), control{pos: -1})
		x.top().same = true
		x.inEntity(e, name)
		return
	}
	c := controls(e.Attr)
	member, _, _ := fr.form.list()
	value := xmlFrame{kind: frameValue, name: name, form: member, isNil: c.isNil, pos: c.pos}
	if member.base() == formSelect {
		value.form, value.typed = wrapped(e.Name.Local)
	}
	x.push(value)
}

// wrapped is the form of a value in an element that is named after its type:
// IfcLabel, IfcLabel-wrapper or, for a simple type, double-wrapper. typed is the
// keyword that clear text has around it.
func wrapped(name string) (f form, typed string) {
	name = strings.TrimSuffix(name, "-wrapper")
	if strings.HasPrefix(name, "Ifc") && skipWord([]byte(name), 0) == len(name) {
		return formOf(name), strings.ToUpper(name)
	}
	switch name {
	case "string", "normalizedString":
		return "s", ""
	case "boolean", "logical":
		return "b", ""
	}
	return "v", ""
}

// skip passes an element; lost says that something in it is not read.
func (x *xmlReader) skip(name string, lost bool) {
	if lost {
		for i := len(x.stack) - 1; i >= 0; i-- {
			if fr := &x.stack[i]; fr.kind == frameEntity {
				x.fault(fr, whyElement, name)
				break
			}
		}
	}
	x.push(xmlFrame{kind: frameSkip, name: name})
}

// characters takes text.
func (x *xmlReader) characters(text []byte) {
	fr := x.top()
	if fr == nil {
		return
	}
	switch {
	case fr.kind == frameAttr || fr.kind == frameValue || fr.header != nil:
		fr.text = append(fr.text, text...)
	case fr.kind == frameEntity && len(bytes.TrimSpace(text)) > 0:
		x.fault(fr, whyElement, "text")
	case fr.kind == frameInverse && len(bytes.TrimSpace(text)) > 0:
		x.fault(&x.stack[len(x.stack)-2], whyElement, fr.inverse)
	}
}

// close takes an end tag.
func (x *xmlReader) close(n xml.Name) error {
	fr := x.top()
	name := prefixed(n)
	if fr == nil || fr.name != name {
		return fmt.Errorf("the XML has </%s> where another element ends", name)
	}
	for same := true; same; {
		fr := x.stack[len(x.stack)-1]
		x.stack = x.stack[:len(x.stack)-1]
		same = fr.same
		x.closed(&fr)
	}
	return nil
}

// closed is what follows from a whole element.
func (x *xmlReader) closed(fr *xmlFrame) {
	up := x.top()
	switch fr.kind {
	case frameEntity:
		x.emit(fr)
		if up != nil {
			up.deliver("#"+strconv.FormatUint(uint64(fr.id), 10), fr.pos)
		}
	case frameAttr:
		if fr.form.base() == formEntity && fr.nothing() && !strings.HasPrefix(string(fr.form), "(") {
			return
		}
		x.set(up, fr.arg, fr.value(), fr.name)
	case frameValue:
		up.deliver(fr.value(), fr.pos)
	case frameOutside:
		if fr.header != nil && *fr.header == "" {
			*fr.header = strings.TrimSpace(string(fr.text))
		}
	}
}
