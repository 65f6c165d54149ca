package bcf

import (
	"strings"

	"github.com/beevik/etree"
)

// Texts for what 3.0 asks for and a topic from elsewhere may lack.
const (
	noType   = "Unspecified"
	noStatus = "Open"
	noTitle  = "Untitled"
	noAuthor = "unknown"
	noDate   = "1970-01-01T00:00:00Z"
)

// markup is the file markup.bcf of a topic. The order of the elements is that
// of the XSDs, and binding.
func (e *Encoder) markup(t *Topic) ([]byte, error) {
	doc, root := newDocument("Markup")
	e.header(root, t)
	topic := root.CreateElement("Topic")
	e.topicAttributes(topic, t)
	e.topicElements(topic, t)
	e.references(topic, t)
	e.extras(topic, t.Extra, "Topic")
	if e.v == V30 {
		comments := wrapper(topic, "Comments", t.Comments)
		for i := range t.Comments {
			e.comment(comments, t, i)
		}
		views := wrapper(topic, "Viewpoints", t.Viewpoints)
		for i := range t.Viewpoints {
			e.viewpoint(views.CreateElement("ViewPoint"), &t.Viewpoints[i])
		}
	} else {
		for i := range t.Comments {
			e.comment(root, t, i)
		}
		for i := range t.Viewpoints {
			e.viewpoint(root.CreateElement("Viewpoints"), &t.Viewpoints[i])
		}
	}
	e.extras(root, t.Extra, "Markup")
	return document(doc)
}

func (e *Encoder) header(root *etree.Element, t *Topic) {
	if len(t.Models) == 0 {
		return
	}
	files := root.CreateElement("Header")
	e.extras(files, t.Extra, "Header")
	if e.v == V30 {
		files = files.CreateElement("Files")
	}
	for _, m := range t.Models {
		f := files.CreateElement("File")
		globalID(f, "IfcProject", m.Project)
		globalID(f, "IfcSpatialStructureElement", m.SpatialStructure)
		if m.Internal {
			f.CreateAttr(e.spelling("isExternal"), "false")
		}
		leaf(f, "Filename", m.Name)
		leaf(f, "Date", dateOr(m.Date, ""))
		leaf(f, "Reference", m.Reference)
	}
}

// globalID adds a GlobalId as an attribute if it is one: any other value would
// make the file invalid.
func globalID(el *etree.Element, key, value string) bool {
	if !isGlobalID(value) {
		return false
	}
	el.CreateAttr(key, value)
	return true
}

// spelling is an attribute's name in the version: 3.0 has capitals.
func (e *Encoder) spelling(name string) string {
	if e.v == V30 {
		return strings.ToUpper(name[:1]) + name[1:]
	}
	return name
}

// guid is a GUID in the version: 3.0 has lower case only.
func (e *Encoder) guid(s string) string {
	if e.v == V30 {
		return strings.ToLower(s)
	}
	return s
}

func (e *Encoder) topicAttributes(el *etree.Element, t *Topic) {
	el.CreateAttr("Guid", e.guid(t.GUID))
	typ, status := t.Type, t.Status
	if e.v == V30 {
		typ, status = or(typ, noType), or(status, noStatus)
		attr(el, "ServerAssignedId", t.ServerID)
	}
	attr(el, "TopicType", typ)
	attr(el, "TopicStatus", status)
	e.used.topic(typ, status, t)
}

func (e *Encoder) topicElements(el *etree.Element, t *Topic) {
	links, labels := el, el
	labelTag := "Labels"
	if e.v == V30 {
		links = wrapper(el, "ReferenceLinks", t.Links)
	}
	leaves(links, "ReferenceLink", t.Links)
	must(el, "Title", t.Title, noTitle)
	leaf(el, "Priority", t.Priority)
	index(el, t.Index)
	if e.v == V30 {
		labels, labelTag = wrapper(el, "Labels", t.Labels), "Label"
	}
	leaves(labels, labelTag, t.Labels)
	must(el, "CreationDate", dateOr(t.CreationDate, noDate), noDate)
	must(el, "CreationAuthor", t.CreationAuthor, noAuthor)
	leaf(el, "ModifiedDate", dateOr(t.ModifiedDate, ""))
	leaf(el, "ModifiedAuthor", t.ModifiedAuthor)
	leaf(el, "DueDate", dateOr(t.DueDate, ""))
	leaf(el, "AssignedTo", t.AssignedTo)
	leaf(el, "Stage", t.Stage)
	leaf(el, "Description", t.Description)
}

// dateOr is a date as the XSDs want it, or the fallback when it is none.
func dateOr(date, fallback string) string { return or(normalDate(date), fallback) }

func or(s, fallback string) string {
	if strings.TrimSpace(s) == "" {
		return fallback
	}
	return s
}

// references are snippet, documents and related topics.
func (e *Encoder) references(el *etree.Element, t *Topic) {
	if s := t.Snippet; s != nil {
		b := el.CreateElement("BimSnippet")
		b.CreateAttr("SnippetType", or(s.Type, noType))
		if s.External {
			b.CreateAttr(e.spelling("isExternal"), "true")
		}
		must(b, "Reference", s.Reference, "-")
		must(b, "ReferenceSchema", s.Schema, "-")
	}
	docs := el
	if e.v == V30 {
		docs = wrapper(el, "DocumentReferences", t.Documents)
	}
	for i := range t.Documents {
		e.documentReference(docs.CreateElement("DocumentReference"), t, i)
	}
	related := el
	if e.v == V30 {
		related = wrapper(el, "RelatedTopics", t.Related)
	}
	for _, g := range t.Related {
		related.CreateElement("RelatedTopic").CreateAttr("Guid", e.guid(g))
	}
}

func (e *Encoder) documentReference(el *etree.Element, t *Topic, i int) {
	d := t.Documents[i]
	if e.v == V30 {
		el.CreateAttr("Guid", e.guid(or(d.GUID, derivedGUID(t.GUID, "document reference "+decimal(float64(i), 0)))))
		switch {
		case d.Document != "":
			leaf(el, "DocumentGuid", e.guid(d.Document))
		case d.Path != "":
			leaf(el, "Url", d.Path) // leads to nothing in the archive
		default:
			leaf(el, "Url", d.URL)
		}
	} else {
		attr(el, "Guid", d.GUID)
		if d.URL != "" {
			el.CreateAttr("isExternal", "true")
		}
		leaf(el, "ReferencedDocument", or(d.URL, d.Path))
	}
	leaf(el, "Description", d.Description)
}

func (e *Encoder) comment(parent *etree.Element, t *Topic, i int) {
	c := &t.Comments[i]
	el := parent.CreateElement("Comment")
	el.CreateAttr("Guid", e.guid(or(c.GUID, derivedGUID(t.GUID, "comment "+decimal(float64(i), 0)))))
	must(el, "Date", dateOr(c.Date, noDate), noDate)
	must(el, "Author", c.Author, noAuthor)
	if e.v == V30 {
		leaf(el, "Comment", c.Text)
	} else {
		el.CreateElement("Comment").SetText(c.Text) // has to be there, if empty
	}
	if c.Viewpoint != "" {
		el.CreateElement("Viewpoint").CreateAttr("Guid", e.guid(c.Viewpoint))
	}
	leaf(el, "ModifiedDate", dateOr(c.ModifiedDate, ""))
	leaf(el, "ModifiedAuthor", c.ModifiedAuthor)
	for _, x := range c.Extra {
		e.extra(el, x)
	}
	e.used.user(c.Author)
}

func (e *Encoder) viewpoint(el *etree.Element, v *Viewpoint) {
	el.CreateAttr("Guid", e.guid(v.GUID))
	leaf(el, "Viewpoint", v.File)
	leaf(el, "Snapshot", v.Snapshot)
	index(el, v.Index)
}

func (e *Encoder) extras(parent *etree.Element, list []Extra, name string) {
	for _, x := range list {
		if x.Parent == name {
			e.extra(parent, x.XML)
		}
	}
}

// extra adds an element that was read from elsewhere. It goes only where it
// came from: another version has other places.
func (e *Encoder) extra(parent *etree.Element, xml string) {
	if !e.sameVersion {
		return
	}
	doc := etree.NewDocument()
	if err := doc.ReadFromString(xml); err == nil && doc.Root() != nil {
		parent.AddChild(doc.Root().Copy())
	}
}
