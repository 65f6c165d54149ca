// Package ifcxml writes a model again as XML, in both ways that editions of IFC
// have of it, for tests of the reader: what is read must not depend on the form.
//
// The attribute names come from the reader's schema tables. The form of each
// value comes from the clear text alone, so that the reader's idea of which
// attribute is a text, a number or a list is put to the test.
package ifcxml

import (
	"bufio"
	"bytes"
	"encoding/xml"
	"fmt"
	"strings"

	"embedcheck/ifcread"
)

// Form is a way of writing IFC as XML.
type Form int

const (
	Flat    Form = iota // ISO 10303-28 edition 2, as IFC2X3 has it: every instance on its own, every attribute an element
	Nested              // as IFC4 has it: simple attributes are XML attributes, instances and relationships stand inside each other
	Labeled             // Nested, with an id on every element
)

// String names the form.
func (f Form) String() string { return [...]string{"flat", "nested", "labeled"}[f] }

const instanceNamespace = "http://www.w3.org/2001/XMLSchema-instance"

// namespaces are those of the three editions; that of IFC4X3 is from memory.
var namespaces = map[ifcread.Schema]string{
	ifcread.IFC2X3: "http://www.iai-tech.org/ifcXML/IFC2x3/FINAL",
	ifcread.IFC4:   "http://www.buildingsmart-tech.org/ifcXML/IFC4/final",
	ifcread.IFC4X3: "http://www.buildingsmart-tech.org/ifc/IFC4x3",
}

// Write is the model in a file as XML.
func Write(f *ifcread.File, form Form) []byte {
	w := &writer{f: f, form: form}
	var out bytes.Buffer
	w.out = bufio.NewWriter(&out)
	w.print(xml.Header)
	if form == Flat {
		w.flat()
	} else {
		w.nested()
	}
	w.out.Flush()
	return out.Bytes()
}

type writer struct {
	f    *ifcread.File
	form Form
	out  *bufio.Writer

	uses    map[ifcread.ID]int       // references to an instance, but for those that its place says
	owned   map[ifcread.ID][]ownedBy // relationships to write inside an instance
	inside  map[ifcread.ID]string    // relationships that stand inside, and the attribute that says so
	written map[ifcread.ID]bool
}

func (w *writer) print(format string, args ...any) { fmt.Fprintf(w.out, format, args...) }

// header writes what both forms say of the file, each in its own namespace.
func (w *writer) header(prefix string) {
	h := w.f.Header()
	for _, field := range [...][2]string{{"name", h.Name}, {"time_stamp", h.TimeStamp}, {"author", h.Author}, {"organization", h.Organization},
		{"preprocessor_version", h.Preprocessor}, {"originating_system", h.System}} {
		w.print("<%s%s>%s</%[1]s%[2]s>\n", prefix, field[0], escaped(field[1]))
	}
}

func (w *writer) flat() {
	w.print(`<ex:iso_10303_28 xmlns:xsi="%s" xmlns:ex="urn:iso.org:standard:10303:part(28):version(2):xmlschema:common" version="2.0">`+"\n<ex:iso_10303_28_header>\n", instanceNamespace)
	w.header("ex:")
	w.print("</ex:iso_10303_28_header>\n<uos id=\"uos_1\" configuration=\"i-ifc\" xmlns=\"%s\">\n", namespaces[w.f.Schema()])
	for i := range w.f.All() {
		w.print("<%s id=\"i%d\">", i.Name(), i.ID())
		attrs := w.f.Attrs(i.Type())
		for k, v := range i.Args(nil) {
			if v.IsNull() {
				continue
			}
			list := ""
			if v.Kind() == ifcread.List {
				list = ` ex:cType="list"`
			}
			w.print("<%s%s>", attrs[k].Name, list)
			w.flatValue(v)
			w.print("</%s>", attrs[k].Name)
		}
		w.print("</%s>\n", i.Name())
	}
	w.print("</uos>\n</ex:iso_10303_28>\n")
}

// flatValue writes what is inside the element of an attribute.
func (w *writer) flatValue(v ifcread.Value) {
	switch v.Kind() {
	case ifcread.List:
		n := 0
		for m := range v.All() {
			w.flatMember(m, n)
			n++
		}
	case ifcread.Typed:
		w.flatMember(v, -1)
	case ifcread.Ref:
		w.flatMember(v, -1)
	default:
		w.print("%s", escaped(simple(v)))
	}
}

// flatMember writes a value as an element, with its place in the list.
func (w *writer) flatMember(v ifcread.Value, n int) {
	pos := ""
	if n >= 0 {
		pos = fmt.Sprintf(` pos="%d"`, n)
	}
	name := "ex:double-wrapper"
	switch v.Kind() {
	case ifcread.Ref:
		if i, ok := v.Inst(); ok {
			w.print(`<%s%s xsi:nil="true" ref="i%d"/>`, i.Name(), pos, i.ID())
		}
		return
	case ifcread.String:
		name = "ex:string-wrapper"
	case ifcread.List:
		name = "Seq-wrapper"
	case ifcread.Typed:
		keyword, inner, _ := v.Typed()
		name, v = typeName(keyword), inner
	}
	w.print("<%s%s>", name, pos)
	w.flatValue(v)
	w.print("</%s>", name)
}

// typeName is a keyword in the spelling of the schema, as far as capitals at
// word starts make it.
func typeName(keyword string) string {
	if s, ok := spelled[keyword]; ok {
		return s
	}
	return "Ifc" + keyword[3:4] + strings.ToLower(keyword[4:])
}

// spelled are the defined types that models here have as typed values, where the
// spelling has capitals inside.
var spelled = func() map[string]string {
	m := map[string]string{}
	for s := range strings.FieldsSeq("IfcLengthMeasure IfcPositiveLengthMeasure IfcAreaMeasure IfcVolumeMeasure IfcMassMeasure IfcPlaneAngleMeasure " +
		"IfcParameterValue IfcLineIndex IfcArcIndex IfcRatioMeasure IfcCountMeasure IfcPositiveRatioMeasure IfcThermalTransmittanceMeasure") {
		m[strings.ToUpper(s)] = s
	}
	return m
}()

// simple is a value without structure as XML has it.
func simple(v ifcread.Value) string {
	switch v.Kind() {
	case ifcread.String:
		s, _ := v.Str()
		return s
	case ifcread.Enum:
		switch e := v.Enum(); e {
		case "T":
			return "true"
		case "F":
			return "false"
		case "U":
			return "unknown"
		default:
			return strings.ToLower(e)
		}
	}
	return strings.Trim(string(v.Raw()), `"`)
}

func escaped(s string) string {
	var b bytes.Buffer
	_ = xml.EscapeText(&b, []byte(s)) // a buffer takes everything
	return b.String()
}
