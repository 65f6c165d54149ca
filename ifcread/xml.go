package ifcread

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"

	"golang.org/x/text/encoding/htmlindex"
	"golang.org/x/text/encoding/unicode"
)

// IFC as XML comes in two ways of writing: that of IFC2X3, after ISO 10303-28
// edition 2, where every attribute is an element and elements refer to each other
// by id, and that of IFC4 and later, where simple attributes are XML attributes,
// what an instance refers to stands inside it, and so do relationships, under the
// names of inverse attributes. Both are read by one pass that writes each element
// as a statement of clear text, so that a File is the same thing whatever form
// its model came in. Which way an element is written tells the element, not the
// edition: writers mix them.

// xmlPlaces tells where in the XML the statements come from.
type xmlPlaces struct {
	lines, offsets []uint32      // by row, and those of the end
	ids            map[ID]string // of the numbers that are not those of the ids
}

// isXML reports whether a file is XML, in any encoding.
func isXML(b []byte) bool {
	if isUTF16(b) {
		return bytes.IndexByte(b[:min(len(b), 64)], '<') >= 0
	}
	return bytes.HasPrefix(bytes.TrimLeft(b, "\xef\xbb\xbf \t\r\n"), []byte("<"))
}

func isUTF16(b []byte) bool {
	return bytes.HasPrefix(b, []byte("\xff\xfe")) || bytes.HasPrefix(b, []byte("\xfe\xff"))
}

// readXML turns the XML in f.data into clear text.
func (f *File) readXML(o Options) error {
	text := f.data
	if isUTF16(text) {
		var err error
		if text, err = unicode.UTF16(unicode.BigEndian, unicode.UseBOM).NewDecoder().Bytes(text); err != nil {
			return fmt.Errorf("%s: %w: %w", f.name, ErrFormat, err)
		}
	}
	x := newXMLReader(f, bytes.TrimPrefix(text, byteOrderMark), o.maxSize())
	err := x.read()
	switch {
	case errors.Is(err, errHostile):
		return fmt.Errorf("%s:%d: %w", f.name, x.line(), err)
	case !x.opened:
		return fmt.Errorf("%s: %w: %s", f.name, ErrFormat, cmpText(err, "it is XML whose root names no edition of IFC; export the model again as ifcXML of IFC2X3, IFC4 or IFC4X3"))
	case err != nil:
		x.fault(&x.end, whyBroken, err.Error())
	}
	x.finish()
	return nil
}

func cmpText(err error, text string) string {
	if err == nil {
		return text
	}
	return err.Error()
}

// errHostile is XML that no exporter writes.
var errHostile = errors.New("the XML is refused")

// maxXMLDepth bounds how deep elements may nest. Files nest the whole building
// tree, some six elements a level, and booleans that exporters chain.
const maxXMLDepth = 4000

// read reads all elements; the error is one that ends reading.
func (x *xmlReader) read() error {
	for {
		x.lineBefore, _ = x.d.InputPos()
		x.offsetBefore = x.d.InputOffset()
		token, err := x.d.RawToken()
		if err == io.EOF {
			if n := len(x.stack); n > 0 {
				return fmt.Errorf("the XML ends inside <%s>", x.stack[n-1].name)
			}
			return nil
		}
		if err != nil {
			return err
		}
		switch t := token.(type) {
		case xml.StartElement:
			err = x.start(&t)
		case xml.EndElement:
			err = x.close(t.Name)
		case xml.CharData:
			x.characters(t)
		case xml.Directive:
			return fmt.Errorf("%w: it declares a document type or entities, which IFC has no use for; export the model again", errHostile)
		}
		if err != nil {
			return err
		}
		if int64(len(x.out)) > x.limit {
			return fmt.Errorf("%w: it is larger than the %d bytes that are read; split the model", errHostile, x.limit)
		}
	}
}

// charset decodes what the XML declaration names.
func charset(label string, in io.Reader) (io.Reader, error) {
	if len(label) >= 6 && label[:3] == "UTF" || len(label) >= 6 && label[:3] == "utf" {
		return in, nil // UTF-16 is decoded already
	}
	e, err := htmlindex.Get(label)
	if err != nil {
		return nil, fmt.Errorf("its encoding %.40q is not known; save it as UTF-8", label)
	}
	return e.NewDecoder().Reader(in), nil
}

// editionName finds the edition of IFC in a namespace or in the name of a schema:
// ".../ifcXML/IFC4/Add2", "i-ifc2x3".
var editionName = regexp.MustCompile(`(?i)ifc(2x[23]?|4[x_][123]|4)`)

// open takes the edition from the XML attributes of the elements around the
// instances. The namespace goes before a name of a schema file, and the last
// element before those around it.
func (x *xmlReader) open(attrs []xml.Attr) {
	found := false
	for _, a := range attrs {
		namespace := a.Name.Space == "xmlns" || a.Name.Local == "xmlns"
		if !namespace && (found || a.Name.Local != "schemaLocation" && a.Name.Local != "configuration" && a.Name.Local != "schema") {
			continue
		}
		m := editionName.FindStringSubmatch(a.Value)
		if m == nil {
			continue
		}
		name := bytes.ReplaceAll(bytes.ToUpper([]byte("IFC"+m[1])), []byte("_"), []byte("X"))
		if s, ok := parseSchema(string(name)); ok {
			x.f.schema, x.opened, found = s, true, found || namespace
			x.f.header.Schema = string(name)
		}
	}
}

// finish makes the clear text that of the file.
func (x *xmlReader) finish() {
	line, _ := x.d.InputPos()
	x.places.lines = append(x.places.lines, uint32(line))
	x.places.offsets = append(x.places.offsets, uint32(min(x.d.InputOffset(), largest)))
	x.flush(&x.end, len(x.out))
	x.out = append(x.out, "END-ISO-10303-21;\n"...)
	x.f.data, x.f.xml = x.out, &x.places
}

// place is where in the XML the statement at an offset of the clear text begins.
func (f *File) xmlPlace(at int) (offset int64, line int) {
	row, ok := slices.BinarySearch(f.offs, uint32(at))
	if !ok {
		row = len(f.xml.lines) - 1
	}
	return int64(f.xml.offsets[row]), int(f.xml.lines[row])
}

// label is what people find an instance by: its number, or its id in XML where
// that tells no number.
func (f *File) label(id ID) string {
	if f.xml != nil && f.xml.ids[id] != "" {
		return fmt.Sprintf("%.60q", f.xml.ids[id])
	}
	return fmt.Sprintf("#%d", id)
}
