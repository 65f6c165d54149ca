package bcf

import "strings"

// versionFile reads bcf.version.
func (in *reading) versionFile(root *node) error {
	id := in.attribute(root, "VersionId")
	v, ok := ParseVersion(id)
	switch {
	case ok:
	case strings.HasPrefix(id, "3."):
		v = V30
		in.warn("version %s is read as 3.0", show(id))
	case strings.HasPrefix(id, "2.") || strings.HasPrefix(id, "1."):
		in.warn("version %s is read as 2.1", show(id))
	default:
		return nil
	}
	in.a.Version, in.version = v, true
	return nil
}

// projectFile reads project.bcfp of either version.
func (in *reading) projectFile(root *node) error {
	in.newer = in.newer || root.Tag == "ProjectInfo"
	for _, el := range root.ChildElements() {
		switch el.Tag {
		case "Project":
			in.a.Project.ID = in.attribute(el, "ProjectId")
			if n := el.SelectElement("Name"); n != nil {
				in.a.Project.Name = text(n)
			}
		case "ExtensionSchema":
			in.a.ExtensionSchema = word(el)
		}
	}
	return nil
}

// extensionsFile reads extensions.xml. The lists may come in any order: three
// of the official files have them in another one than the XSD.
func (in *reading) extensionsFile(root *node) error {
	x := &in.a.Extensions
	lists := map[string]*[]string{
		"TopicTypes": &x.TopicTypes, "TopicStatuses": &x.TopicStatuses, "Priorities": &x.Priorities,
		"TopicLabels": &x.TopicLabels, "Users": &x.Users, "SnippetTypes": &x.SnippetTypes, "Stages": &x.Stages,
	}
	for _, list := range root.ChildElements() {
		if to := lists[list.Tag]; to != nil {
			for _, el := range list.ChildElements() {
				*to = append(*to, text(el))
			}
		}
	}
	return nil
}

// documentsFile reads documents.xml.
func (in *reading) documentsFile(root *node) error {
	for _, list := range root.SelectElements("Documents") {
		for _, el := range list.SelectElements("Document") {
			d := Document{GUID: in.attribute(el, "Guid")}
			for _, c := range el.ChildElements() {
				switch c.Tag {
				case "Filename":
					d.Filename = text(c)
				case "Description":
					d.Description = text(c)
				}
			}
			in.a.Documents = append(in.a.Documents, d)
		}
	}
	return nil
}
