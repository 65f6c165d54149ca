package bcf

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/beevik/etree"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"

	"embedcheck/internal/geom"
)

type node = etree.Element

// xml unpacks and parses an XML file. The bytes are those of the archive.
func (in *reading) xml(e entry) (*node, []byte, error) {
	if in.left -= int64(min(e.zip.UncompressedSize64, 1<<62)); in.left < 0 {
		return nil, nil, fmt.Errorf("%w: more than %d MiB of XML", ErrHostile, maxXMLBytes>>20)
	}
	raw, err := readEntry(e.zip, maxPartBytes)
	if err != nil {
		return nil, nil, err
	}
	root, err := parseXML(raw)
	if err != nil {
		return nil, raw, fmt.Errorf("%s: %w", e.zip.Name, err)
	}
	return root, raw, nil
}

// parseXML parses a file that comes from elsewhere. A document type is refused:
// the format has none, and entities are a way to do harm.
func parseXML(raw []byte) (*node, error) {
	data, err := utf8Text(raw)
	if err != nil {
		return nil, err
	}
	if n := bytes.Count(data, []byte("<")) + bytes.Count(data, []byte("=")); n > maxXMLMarks {
		return nil, fmt.Errorf("%w: about %d XML elements and attributes", ErrHostile, n)
	}
	doc := etree.NewDocument()
	doc.ReadSettings.MaxDepth = maxXMLDepth
	err = doc.ReadFromBytes(data)
	for _, c := range doc.Child { // what came before an error counts too
		if _, ok := c.(*etree.Directive); ok {
			return nil, fmt.Errorf("%w: the XML has a document type", ErrHostile)
		}
	}
	switch {
	case errors.Is(err, etree.ErrMaxDepth):
		return nil, fmt.Errorf("%w: XML nested deeper than %d levels", ErrHostile, maxXMLDepth)
	case err != nil:
		return nil, err
	case doc.Root() == nil:
		return nil, errors.New("there is no XML in it")
	}
	return doc.Root(), nil
}

// utf8Text gives XML as UTF-8. It goes by the bytes: some programs state UTF-16
// in a file that is UTF-8.
func utf8Text(raw []byte) ([]byte, error) {
	switch {
	case bytes.HasPrefix(raw, []byte("\xef\xbb\xbf")):
		raw = raw[3:]
	case bytes.HasPrefix(raw, []byte("\xff\xfe")), bytes.HasPrefix(raw, []byte("<\x00")):
		return unicode.UTF16(unicode.LittleEndian, unicode.UseBOM).NewDecoder().Bytes(raw)
	case bytes.HasPrefix(raw, []byte("\xfe\xff")), bytes.HasPrefix(raw, []byte("\x00<")):
		return unicode.UTF16(unicode.BigEndian, unicode.UseBOM).NewDecoder().Bytes(raw)
	}
	if utf8.Valid(raw) {
		return raw, nil
	}
	return charmap.Windows1252.NewDecoder().Bytes(raw)
}

// text is all text directly in an element, comments left out.
func text(el *node) string {
	if len(el.Child) == 1 {
		if c, ok := el.Child[0].(*etree.CharData); ok {
			return c.Data
		}
	}
	var b strings.Builder
	for _, c := range el.Child {
		if c, ok := c.(*etree.CharData); ok {
			b.WriteString(c.Data)
		}
	}
	return b.String()
}

// word is a text that is one word, such as an id or a date.
func word(el *node) string { return strings.TrimSpace(text(el)) }

func (in *reading) attribute(el *node, key string) string {
	return strings.TrimSpace(el.SelectAttrValue(key, ""))
}

// yes reads a boolean attribute; either spelling of the two versions will do.
func yes(el *node, keys ...string) (value, present bool) {
	for _, k := range keys {
		if a := el.SelectAttr(k); a != nil {
			v := strings.TrimSpace(a.Value)
			return strings.EqualFold(v, "true") || v == "1", true
		}
	}
	return false, false
}

// source is the XML of an element as it stands.
func source(el *node) string {
	doc := etree.NewDocumentWithRoot(el.Copy())
	s, err := doc.WriteToString()
	if err != nil {
		return ""
	}
	return s
}

// number reads a number of metres, degrees or no unit. What no model can hold
// is refused: it is there to overflow something.
func number(el *node) (float64, error) {
	s := word(el)
	v, err := strconv.ParseFloat(s, 64)
	switch {
	case errors.Is(err, strconv.ErrRange) || err == nil && math.Abs(v) > maxNumber && !math.IsInf(v, 0):
		return 0, fmt.Errorf("%w: the number %s in %s", ErrHostile, show(s), el.Tag)
	case err != nil || math.IsNaN(v) || math.IsInf(v, 0):
		return 0, fmt.Errorf("%s is no number in %s", show(s), el.Tag)
	}
	return v, nil
}

// whole reads an xs:int; nil when it is none.
func (in *reading) whole(el *node) (*int, error) {
	s := word(el)
	v, err := strconv.ParseInt(s, 10, 32)
	switch {
	case errors.Is(err, strconv.ErrRange):
		return nil, fmt.Errorf("%w: the number %s in %s", ErrHostile, show(s), el.Tag)
	case err != nil:
		in.warn("%s is no whole number in %s", show(s), el.Tag)
		return nil, nil
	}
	n := int(v)
	return &n, nil
}

// vec reads a place or a direction.
func vec(el *node) (v geom.Vec, err error) {
	for _, c := range [...]struct {
		tag string
		to  *float64
	}{{"X", &v.X}, {"Y", &v.Y}, {"Z", &v.Z}} {
		x := el.SelectElement(c.tag)
		if x == nil {
			return v, fmt.Errorf("%s has no %s", el.Tag, c.tag)
		}
		if *c.to, err = number(x); err != nil {
			return v, err
		}
	}
	return v, nil
}
