package bcf

import (
	"strconv"
	"strings"

	"github.com/beevik/etree"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
)

// newDocument starts an XML file. Elements of the format are in no name space.
func newDocument(root string) (*etree.Document, *etree.Element) {
	d := etree.NewDocument()
	d.CreateProcInst("xml", `version="1.0" encoding="UTF-8"`)
	return d, d.CreateElement(root)
}

func document(d *etree.Document) ([]byte, error) {
	d.Indent(1)
	return d.WriteToBytes()
}

// leaf adds an element with a text. The XSDs of 3.0 allow no blank ones, so
// there is no element without a text.
func leaf(parent *etree.Element, tag, text string) {
	if strings.TrimSpace(text) != "" {
		parent.CreateElement(tag).SetText(text)
	}
}

// must adds an element that the XSDs ask for, with a text to fall back on.
func must(parent *etree.Element, tag, text, fallback string) {
	if strings.TrimSpace(text) == "" {
		text = fallback
	}
	parent.CreateElement(tag).SetText(text)
}

func attr(e *etree.Element, key, value string) {
	if strings.TrimSpace(value) != "" {
		e.CreateAttr(key, value)
	}
}

func leaves(parent *etree.Element, tag string, texts []string) {
	for _, t := range texts {
		leaf(parent, tag, t)
	}
}

// wrapper adds an element around a list, unless the list is empty.
func wrapper[T any](parent *etree.Element, tag string, list []T) *etree.Element {
	if len(list) == 0 {
		return etree.NewElement(tag) // not part of the file
	}
	return parent.CreateElement(tag)
}

func index(parent *etree.Element, i *int) {
	if i != nil {
		leaf(parent, "Index", strconv.Itoa(*i))
	}
}

func boolean(b bool) string { return strconv.FormatBool(b) }

// vector writes a place in metres, or a direction, to a micrometre; directions
// want more than that of a place.
func vector(parent *etree.Element, tag string, v geom.Vec, decimals int) {
	e := parent.CreateElement(tag)
	for _, c := range [...]struct {
		tag string
		v   float64
	}{{"X", v.X}, {"Y", v.Y}, {"Z", v.Z}} {
		e.CreateElement(c.tag).SetText(decimal(c.v, decimals))
	}
}

func decimal(v float64, decimals int) string {
	return strconv.FormatFloat(finding.Round(v, decimals), 'f', -1, 64)
}
