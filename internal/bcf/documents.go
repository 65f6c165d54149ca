package bcf

import (
	"path"
	"slices"
	"strings"

	"embedcheck/internal/finding"
)

// withDocuments is the topic with references to documents as the version has
// them. 2.1 leads to a file by its path, 3.0 to a file in the folder Documents
// by its GUID.
func (e *Encoder) withDocuments(t *Topic, folder string) (*Topic, error) {
	for i, d := range t.Documents {
		var ref DocumentRef
		var err error
		switch {
		case e.v == V30 && d.Path != "":
			ref, err = e.pathToDocument(t, folder, d)
		case e.v == V21 && d.Document != "":
			ref, err = e.documentToPath(d)
		default:
			continue
		}
		if err != nil {
			return nil, err
		}
		copied := *t
		copied.Documents = slices.Clone(t.Documents)
		copied.Documents[i] = ref
		t = &copied
	}
	return t, nil
}

// pathToDocument puts the file at a path into the folder Documents.
func (e *Encoder) pathToDocument(t *Topic, folder string, d DocumentRef) (DocumentRef, error) {
	place := join(folder, d.Path)
	f := e.files[place]
	if f == nil {
		i := slices.IndexFunc(t.Files, func(f File) bool { return folder+"/"+f.Name == place })
		if i < 0 {
			return d, nil // no such file
		}
		f = &t.Files[i]
	}
	guid := derivedGUID(space.String(), "document "+place)
	d.Path, d.Document = "", guid
	if e.out.names["Documents/"+guid] {
		return d, nil
	}
	e.documents = append(e.documents, Document{GUID: guid, Filename: path.Base(place), Description: d.Description})
	return d, e.copyFile(f, "Documents/"+guid)
}

// documentToPath gives a document its own name again.
func (e *Encoder) documentToPath(d DocumentRef) (DocumentRef, error) {
	i := slices.IndexFunc(e.archive.Documents, func(x Document) bool { return x.GUID == d.Document })
	f := e.documentFile(d.Document)
	if i < 0 || f == nil {
		d.Path, d.Document = "../Documents/"+d.Document, ""
		return d, nil
	}
	name := path.Base("/" + strings.ReplaceAll(finding.Plain(e.archive.Documents[i].Filename), "\\", "/"))
	place := "Documents/" + d.Document + "-" + name
	d.Path, d.Document = "../"+place, ""
	delete(e.files, f.Name)
	if e.out.names[place] {
		return d, nil
	}
	return d, e.copyFile(f, place)
}

func (e *Encoder) documentFile(guid string) *File {
	for i := range e.archive.Files {
		if dir, name := path.Split(e.archive.Files[i].Name); name == guid && (dir == "Documents/" || dir == "documents/") {
			return &e.archive.Files[i]
		}
	}
	return nil
}

// documentList is documents.xml of 3.0; there is none without documents.
func (e *Encoder) documentList() error {
	all := slices.Clone(e.documents)
	for _, d := range e.archive.Documents {
		anew := func(o Document) bool { return strings.EqualFold(o.GUID, d.GUID) }
		if !slices.ContainsFunc(e.documents, anew) {
			all = append(all, d)
		}
	}
	if len(all) == 0 {
		return nil
	}
	doc, root := newDocument("DocumentInfo")
	list := root.CreateElement("Documents")
	for _, d := range all {
		el := list.CreateElement("Document")
		el.CreateAttr("Guid", e.guid(d.GUID))
		must(el, "Filename", d.Filename, d.GUID)
		leaf(el, "Description", d.Description)
	}
	data, err := document(doc)
	if err != nil {
		return err
	}
	return e.out.add("documents.xml", data)
}
