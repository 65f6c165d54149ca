package bcf

import (
	"fmt"
	"io"
	"path"
	"slices"
	"strings"
)

// Encoder writes an archive topic by topic; it holds no more than one of them.
type Encoder struct {
	v           Version
	out         *archiveWriter
	archive     *Archive
	sameVersion bool
	used        words
	documents   []Document
	files       map[string]*File // of the archive, by path
}

// NewEncoder starts an archive. Of a it takes all but the topics.
func NewEncoder(w io.Writer, v Version, a *Archive) (*Encoder, error) {
	e := &Encoder{
		v: v, out: newArchiveWriter(w), archive: a, sameVersion: a.Version == v,
		used: words{Extensions: cloneExtensions(a.Extensions)}, files: map[string]*File{},
	}
	for i := range a.Files {
		e.files[a.Files[i].Name] = &a.Files[i]
	}
	if err := e.version(); err != nil {
		return nil, err
	}
	return e, e.project()
}

// Write writes the archive in a version: one that was read comes out with all
// it held.
func (a *Archive) Write(w io.Writer, v Version) error {
	e, err := NewEncoder(w, v, a)
	if err != nil {
		return err
	}
	for _, t := range a.Topics {
		if err := e.Topic(t); err != nil {
			return err
		}
	}
	return e.Close()
}

func (e *Encoder) version() error {
	doc, root := newDocument("Version")
	root.CreateAttr("VersionId", e.v.String())
	if e.v == V21 {
		leaf(root, "DetailedVersion", e.v.String())
	}
	data, err := document(doc)
	if err != nil {
		return err
	}
	return e.out.add("bcf.version", data)
}

func (e *Encoder) project() error {
	p := e.archive.Project
	schema := ""
	if e.v == V21 {
		schema = e.archive.ExtensionSchema
	}
	if p.ID == "" && schema == "" {
		return nil
	}
	name := "ProjectExtension"
	if e.v == V30 {
		name = "ProjectInfo"
	}
	doc, root := newDocument(name)
	if p.ID != "" {
		el := root.CreateElement("Project")
		el.CreateAttr("ProjectId", p.ID)
		leaf(el, "Name", p.Name)
	}
	if e.v == V21 {
		root.CreateElement("ExtensionSchema").SetText(schema)
	}
	data, err := document(doc)
	if err != nil {
		return err
	}
	return e.out.add("project.bcfp", data)
}

// Topic writes one topic with all that is in its folder.
func (e *Encoder) Topic(t *Topic) error {
	if err := e.topic(t); err != nil {
		return fmt.Errorf("topic %s: %w", t.GUID, err)
	}
	return nil
}

func (e *Encoder) topic(t *Topic) error {
	folder := e.guid(t.GUID)
	if folder == "" || strings.ContainsAny(folder, `/\`) {
		return fmt.Errorf("%q cannot be the name of a folder", t.GUID)
	}
	t, err := e.withDocuments(t, folder)
	if err != nil {
		return err
	}
	data, err := e.markup(t)
	if err != nil {
		return err
	}
	if err := e.out.add(folder+"/markup.bcf", data); err != nil {
		return err
	}
	for i := range t.Viewpoints {
		if err := e.viewFile(folder, &t.Viewpoints[i]); err != nil {
			return err
		}
	}
	for i := range t.Files {
		if err := e.copyFile(&t.Files[i], folder+"/"+t.Files[i].Name); err != nil {
			return err
		}
	}
	return nil
}

// viewFile writes a viewpoint's file: as it was read where that is possible.
func (e *Encoder) viewFile(folder string, v *Viewpoint) error {
	name := folder + "/" + v.File
	if v.File == "" || e.out.names[name] { // two viewpoints may share a file
		return nil
	}
	if v.raw != nil && (v.version == e.v || v.View == nil) {
		return e.out.add(name, v.raw)
	}
	if v.View == nil {
		return nil
	}
	data, err := e.view(v.GUID, v.View)
	if err != nil {
		return err
	}
	return e.out.add(name, data)
}

func (e *Encoder) copyFile(f *File, name string) error {
	data, err := f.Data()
	if err != nil {
		return err
	}
	return e.out.add(name, data)
}

// Close writes what can be known only at the end, and ends the archive.
func (e *Encoder) Close() error {
	if e.v == V30 {
		if err := e.extensions(); err != nil {
			return err
		}
		if err := e.documentList(); err != nil {
			return err
		}
	}
	for i := range e.archive.Files {
		f := &e.archive.Files[i]
		if e.files[f.Name] == nil || e.out.names[f.Name] {
			continue // it went in as a document
		}
		if err := e.copyFile(f, f.Name); err != nil {
			return err
		}
	}
	return e.out.close()
}

// extensions lists the words in use: 3.0 wants every type, status, priority,
// label and user to be there.
func (e *Encoder) extensions() error {
	doc, root := newDocument("Extensions")
	x := &e.used.Extensions
	for _, l := range [...]struct {
		list, one string
		words     []string
	}{
		{"TopicTypes", "TopicType", x.TopicTypes},
		{"TopicStatuses", "TopicStatus", x.TopicStatuses},
		{"Priorities", "Priority", x.Priorities},
		{"TopicLabels", "TopicLabel", x.TopicLabels},
		{"Users", "User", x.Users},
		{"SnippetTypes", "SnippetType", x.SnippetTypes},
		{"Stages", "Stage", x.Stages},
	} {
		leaves(wrapper(root, l.list, l.words), l.one, l.words)
	}
	data, err := document(doc)
	if err != nil {
		return err
	}
	return e.out.add("extensions.xml", data)
}

// words are the extensions with what the topics use beyond them.
type words struct{ Extensions }

func cloneExtensions(x Extensions) Extensions {
	for _, l := range []*[]string{&x.TopicTypes, &x.TopicStatuses, &x.Priorities, &x.TopicLabels, &x.Users, &x.SnippetTypes, &x.Stages} {
		*l = slices.Clone(*l)
	}
	return x
}

func (w *words) topic(typ, status string, t *Topic) {
	note(&w.TopicTypes, typ)
	note(&w.TopicStatuses, status)
	note(&w.Priorities, t.Priority)
	note(&w.Stages, t.Stage)
	for _, l := range t.Labels {
		note(&w.TopicLabels, l)
	}
	if t.Snippet != nil {
		note(&w.SnippetTypes, t.Snippet.Type)
	}
	w.user(t.CreationAuthor)
	w.user(t.ModifiedAuthor)
	w.user(t.AssignedTo)
}

func (w *words) user(name string) { note(&w.Users, name) }

func note(list *[]string, word string) {
	if strings.TrimSpace(word) != "" && !slices.Contains(*list, word) {
		*list = append(*list, word)
	}
}

// join is a path relative to a folder; "" when it leads out of the archive.
func join(folder, rel string) string {
	p := path.Join(folder, rel)
	if p == ".." || strings.HasPrefix(p, "../") || strings.HasPrefix(rel, "/") {
		return ""
	}
	return p
}
