package bcf

import (
	"errors"
	"fmt"
)

// markup reads markup.bcf. One reader serves both versions: where they differ
// either form is taken, whatever the archive states, since programs mix them.
func (in *reading) markup(root *node) (*Topic, error) {
	t := &Topic{}
	found := false
	for _, el := range root.ChildElements() {
		var err error
		switch el.Tag {
		case "Header":
			in.header(t, el)
		case "Topic":
			if found {
				return nil, errors.New("it has two topics")
			}
			found = true
			err = in.topicElement(t, el)
		case "Comment":
			in.comment(t, el)
		case "Viewpoints":
			err = in.viewpoints(t, el)
		default:
			t.Extra = append(t.Extra, Extra{"Markup", source(el)})
		}
		if err != nil {
			return nil, err
		}
	}
	if !found {
		return nil, fmt.Errorf("there is no Topic in %s", root.Tag)
	}
	return t, nil
}

func (in *reading) header(t *Topic, header *node) {
	for _, el := range header.ChildElements() {
		switch el.Tag {
		case "File":
			in.modelFile(t, el)
		case "Files":
			in.newer = true
			for _, f := range el.SelectElements("File") {
				in.modelFile(t, f)
			}
		default:
			t.Extra = append(t.Extra, Extra{"Header", source(el)})
		}
	}
}

func (in *reading) modelFile(t *Topic, el *node) {
	m := ModelFile{
		Project:          in.attribute(el, "IfcProject"),
		SpatialStructure: in.attribute(el, "IfcSpatialStructureElement"),
	}
	if external, stated := yes(el, "IsExternal", "isExternal"); stated {
		m.Internal = !external
	}
	for _, c := range el.ChildElements() {
		switch c.Tag {
		case "Filename":
			m.Name = text(c)
		case "Date":
			m.Date = word(c)
		case "Reference":
			m.Reference = text(c)
		}
	}
	t.Models = append(t.Models, m)
}

func (in *reading) topicElement(t *Topic, topic *node) error {
	t.GUID = in.attribute(topic, "Guid")
	t.Type = in.attribute(topic, "TopicType")
	t.Status = in.attribute(topic, "TopicStatus")
	t.ServerID = in.attribute(topic, "ServerAssignedId")
	simple := map[string]*string{
		"Title": &t.Title, "Priority": &t.Priority, "CreationDate": &t.CreationDate, "CreationAuthor": &t.CreationAuthor,
		"ModifiedDate": &t.ModifiedDate, "ModifiedAuthor": &t.ModifiedAuthor, "DueDate": &t.DueDate,
		"AssignedTo": &t.AssignedTo, "Stage": &t.Stage, "Description": &t.Description,
	}
	for _, el := range topic.ChildElements() {
		if to := simple[el.Tag]; to != nil {
			*to = text(el)
			continue
		}
		if err := in.topicPart(t, el); err != nil {
			return err
		}
	}
	return nil
}

// topicPart reads what is more than a text.
func (in *reading) topicPart(t *Topic, el *node) (err error) {
	switch el.Tag {
	case "Index":
		t.Index, err = in.whole(el)
	case "ReferenceLink":
		t.Links = appendText(t.Links, el)
	case "ReferenceLinks":
		t.Links = in.list(t.Links, el)
	case "Labels":
		if len(el.ChildElements()) > 0 || word(el) == "" {
			t.Labels = in.list(t.Labels, el)
		} else {
			t.Labels = appendText(t.Labels, el)
		}
	case "BimSnippet":
		t.Snippet = in.snippet(el)
	case "DocumentReference":
		t.Documents = append(t.Documents, in.documentRef(el))
	case "DocumentReferences":
		for _, c := range el.SelectElements("DocumentReference") {
			t.Documents = append(t.Documents, in.documentRef(c))
		}
	case "RelatedTopic":
		t.Related = append(t.Related, in.attribute(el, "Guid"))
	case "RelatedTopics":
		for _, c := range el.SelectElements("RelatedTopic") {
			t.Related = append(t.Related, in.attribute(c, "Guid"))
		}
	case "Comments":
		in.newer = true
		for _, c := range el.SelectElements("Comment") {
			in.comment(t, c)
		}
	case "Viewpoints":
		in.newer = true
		for _, c := range el.SelectElements("ViewPoint") {
			if err = in.viewpoints(t, c); err != nil {
				return err
			}
		}
	default:
		t.Extra = append(t.Extra, Extra{"Topic", source(el)})
	}
	return err
}

// list is the wrapped form of 3.0.
func (in *reading) list(to []string, el *node) []string {
	for _, c := range el.ChildElements() {
		to = appendText(to, c)
	}
	return to
}

func appendText(to []string, el *node) []string {
	if word(el) == "" {
		return to
	}
	return append(to, text(el))
}

func (in *reading) snippet(el *node) *Snippet {
	s := &Snippet{Type: in.attribute(el, "SnippetType")}
	s.External, _ = yes(el, "IsExternal", "isExternal")
	for _, c := range el.ChildElements() {
		switch c.Tag {
		case "Reference":
			s.Reference = text(c)
		case "ReferenceSchema":
			s.Schema = text(c)
		}
	}
	return s
}

func (in *reading) documentRef(el *node) DocumentRef {
	d := DocumentRef{GUID: in.attribute(el, "Guid")}
	external, _ := yes(el, "isExternal", "IsExternal")
	for _, c := range el.ChildElements() {
		switch c.Tag {
		case "ReferencedDocument":
			if external {
				d.URL = text(c)
			} else {
				d.Path = text(c)
			}
		case "DocumentGuid":
			d.Document = word(c)
		case "Url":
			d.URL = text(c)
		case "Description":
			d.Description = text(c)
		}
	}
	return d
}

func (in *reading) comment(t *Topic, el *node) {
	c := Comment{GUID: in.attribute(el, "Guid")}
	for _, x := range el.ChildElements() {
		switch x.Tag {
		case "Date":
			c.Date = word(x)
		case "Author":
			c.Author = text(x)
		case "Comment":
			c.Text = text(x)
		case "Viewpoint":
			c.Viewpoint = in.attribute(x, "Guid")
		case "ModifiedDate":
			c.ModifiedDate = word(x)
		case "ModifiedAuthor":
			c.ModifiedAuthor = text(x)
		default:
			c.Extra = append(c.Extra, source(x))
		}
	}
	t.Comments = append(t.Comments, c)
}

func (in *reading) viewpoints(t *Topic, el *node) (err error) {
	v := Viewpoint{GUID: in.attribute(el, "Guid")}
	for _, c := range el.ChildElements() {
		switch c.Tag {
		case "Viewpoint":
			v.File = word(c)
		case "Snapshot":
			v.Snapshot = word(c)
		case "Index":
			if v.Index, err = in.whole(c); err != nil {
				return err
			}
		}
	}
	t.Viewpoints = append(t.Viewpoints, v)
	return nil
}
