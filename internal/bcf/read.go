package bcf

import (
	"archive/zip"
	"errors"
	"fmt"
	"io"
	"os"
	"path"
	"slices"
	"strings"
)

// Open reads the issue list in a file. Close it when the data of its files is
// not needed any more.
func Open(name string) (*Archive, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	info, err := f.Stat()
	if err != nil {
		return nil, errors.Join(err, f.Close())
	}
	a, err := Read(f, info.Size())
	if err != nil {
		return nil, errors.Join(fmt.Errorf("%s: %w", name, err), f.Close())
	}
	a.closer = f
	return a, nil
}

// Close closes the file that Open opened.
func (a *Archive) Close() error {
	if a.closer == nil {
		return nil
	}
	return a.closer.Close()
}

// Read reads an issue list of version 2.1 or 3.0. What is not as the standard
// has it is taken as far as it can be understood, and named in Warnings.
// Errors that wrap ErrHostile are about archives made to do harm.
func Read(r io.ReaderAt, size int64) (*Archive, error) {
	z, err := zip.NewReader(r, size)
	if err != nil {
		return nil, fmt.Errorf("no BCF archive: %w", err)
	}
	list, err := entries(z.File)
	if err != nil {
		return nil, err
	}
	in := &reading{a: &Archive{}, left: maxXMLBytes}
	if list, err = in.unwrap(list); err != nil {
		return nil, err
	}
	if err := in.all(list); err != nil {
		return nil, err
	}
	return in.a, nil
}

// reading is the state of Read.
type reading struct {
	a       *Archive
	left    int64 // bytes of XML that may still be unpacked
	version bool  // stated
	newer   bool  // there are signs of 3.0
}

func (in *reading) warn(format string, args ...any) {
	switch n := len(in.a.Warnings); {
	case n < maxWarnings:
		in.a.Warnings = append(in.a.Warnings, fmt.Sprintf(format, args...))
	case n == maxWarnings:
		in.a.Warnings = append(in.a.Warnings, "and more of this kind")
	}
}

const markupName = "markup.bcf"

// unwrap takes off a folder that everything is in: people unpack an issue list
// and pack the folder again.
func (in *reading) unwrap(list []entry) ([]entry, error) {
	list = slices.DeleteFunc(list, func(e entry) bool { return isLitter(e.name) })
	wrappers := map[string]bool{}
	for _, e := range list {
		folder, base := path.Split(e.name)
		if strings.EqualFold(base, markupName) && folder != "" {
			wrappers[path.Dir(path.Clean(folder))] = true
		}
	}
	if len(wrappers) == 0 {
		for _, e := range list {
			if strings.EqualFold(path.Base(e.name), "bcf.version") {
				wrappers[path.Dir(e.name)] = true
			}
		}
	}
	switch {
	case len(wrappers) == 0:
		return nil, errors.New("no BCF archive: neither bcf.version nor a topic is in it")
	case wrappers["."]:
		return list, nil
	case len(wrappers) > 1:
		return nil, errors.New("several issue lists are in one archive; read them one by one")
	}
	for w := range wrappers {
		in.warn("everything is in a folder %s, where the root of the archive is wanted", show(w))
		for i := range list {
			list[i].name = strings.TrimPrefix(list[i].name, w+"/")
		}
	}
	return list, in.unique(list)
}

// unique looks whether taking off a folder made two files one.
func (in *reading) unique(list []entry) error {
	seen := map[string]bool{}
	for _, e := range list {
		if seen[e.name] {
			return fmt.Errorf("%w: %s is there twice, once in a folder around it", ErrHostile, show(e.name))
		}
		seen[e.name] = true
	}
	return nil
}

// isLitter reports whether a file is what operating systems leave behind.
func isLitter(name string) bool {
	base := path.Base(name)
	return strings.HasPrefix(name, "__MACOSX/") || base == ".DS_Store" || base == "Thumbs.db" || base == "desktop.ini"
}

func (in *reading) all(list []entry) error {
	folders := map[string][]entry{}
	var order []string
	for _, e := range list {
		folder, rest, ok := strings.Cut(e.name, "/")
		if !ok {
			if err := in.root(e); err != nil {
				return err
			}
			continue
		}
		if folders[folder] == nil {
			order = append(order, folder)
		}
		folders[folder] = append(folders[folder], entry{rest, e.zip})
	}
	if !in.version {
		in.warn("bcf.version is missing or states no known version")
	}
	for _, folder := range order {
		if err := in.folder(folder, folders[folder]); err != nil {
			return err
		}
	}
	in.settleVersion()
	return nil
}

// settleVersion takes the version that the content looks like where none is
// stated.
func (in *reading) settleVersion() {
	if !in.version && in.newer {
		in.a.Version = V30
	}
	for _, t := range in.a.Topics {
		for i := range t.Viewpoints {
			t.Viewpoints[i].version = in.a.Version
		}
	}
}

// root reads a file of the archive's root.
func (in *reading) root(e entry) error {
	var read func(*node) error
	switch strings.ToLower(e.name) {
	case "bcf.version":
		read = in.versionFile
	case "project.bcfp":
		read = in.projectFile
	case "extensions.xml":
		read = in.extensionsFile
		in.newer = true
	case "documents.xml":
		read = in.documentsFile
		in.newer = true
	default:
		in.a.Files = append(in.a.Files, File{Name: e.name, zip: e.zip})
		return nil
	}
	root, _, err := in.xml(e)
	if err == nil {
		err = read(root)
	}
	return in.tolerate(e.name, err)
}

// tolerate turns an error into a warning, unless it tells of harm.
func (in *reading) tolerate(name string, err error) error {
	if err == nil {
		return nil
	}
	if errors.Is(err, ErrHostile) {
		return err
	}
	in.warn("%s is passed over: %v", show(name), err)
	return nil
}

// folder reads a folder of the root: that of a topic, or another.
func (in *reading) folder(name string, list []entry) error {
	at := slices.IndexFunc(list, func(e entry) bool { return strings.EqualFold(e.name, markupName) })
	if at < 0 {
		in.keep(name, list)
		return nil
	}
	t, err := in.topic(name, list, at)
	if err != nil {
		in.keep(name, list)
		return in.tolerate(name+"/"+list[at].name, err)
	}
	in.a.Topics = append(in.a.Topics, t)
	return nil
}

// keep keeps the files of a folder that is none of a topic.
func (in *reading) keep(folder string, list []entry) {
	for _, e := range list {
		in.a.Files = append(in.a.Files, File{Name: folder + "/" + e.name, zip: e.zip})
	}
}

// topic reads a topic with its viewpoints; the other files of its folder stay
// as they are.
func (in *reading) topic(folder string, list []entry, markup int) (*Topic, error) {
	root, _, err := in.xml(list[markup])
	if err != nil {
		return nil, err
	}
	t, err := in.markup(root)
	if err != nil {
		return nil, err
	}
	if t.GUID == "" {
		in.warn("%s: the topic has no Guid; that of its folder is taken", show(folder))
		t.GUID = folder
	} else if !strings.EqualFold(t.GUID, folder) {
		in.warn("%s: the topic's Guid is %s", show(folder), show(t.GUID))
	}
	if !isGUID(t.GUID) {
		in.warn("%s is no GUID", show(t.GUID))
	}
	list = slices.Delete(slices.Clone(list), markup, markup+1)
	if list, err = in.views(t, folder, list); err != nil {
		return nil, err
	}
	for _, e := range list {
		t.Files = append(t.Files, File{Name: e.name, zip: e.zip})
	}
	return t, nil
}

// views reads the files of the viewpoints and returns the other files.
func (in *reading) views(t *Topic, folder string, list []entry) ([]entry, error) {
	in.unlisted(t, folder, list)
	used := map[string]bool{}
	for i := range t.Viewpoints {
		v := &t.Viewpoints[i]
		if v.File == "" {
			continue
		}
		at := slices.IndexFunc(list, func(e entry) bool { return e.name == v.File })
		if at < 0 {
			at = slices.IndexFunc(list, func(e entry) bool { return strings.EqualFold(e.name, v.File) })
		}
		if at < 0 {
			in.warn("%s: the viewpoint's file %s is not there", show(folder), show(v.File))
			continue
		}
		v.File = list[at].name
		used[v.File] = true
		root, raw, err := in.xml(list[at])
		v.raw = raw
		if err == nil {
			v.View, err = in.view(root)
		}
		if err := in.tolerate(folder+"/"+v.File, err); err != nil {
			return nil, err
		}
	}
	return slices.DeleteFunc(list, func(e entry) bool { return used[e.name] }), nil
}

// unlisted adds a viewpoint that lies in the folder under the fixed name and is
// not listed in the markup, as older programs leave it.
func (in *reading) unlisted(t *Topic, folder string, list []entry) {
	has := func(name string) bool { return slices.ContainsFunc(list, func(e entry) bool { return e.name == name }) }
	if len(t.Viewpoints) > 0 || !has("viewpoint.bcfv") {
		return
	}
	in.warn("%s: viewpoint.bcfv is not listed in the markup", show(folder))
	v := Viewpoint{GUID: derivedGUID(t.GUID, "viewpoint.bcfv"), File: "viewpoint.bcfv"}
	if has("snapshot.png") {
		v.Snapshot = "snapshot.png"
	}
	t.Viewpoints = append(t.Viewpoints, v)
}
