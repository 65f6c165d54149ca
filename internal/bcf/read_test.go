package bcf

import (
	"bytes"
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"
)

func officialFiles(t testing.TB) []string {
	dir := outside(t, "data", "bcf")
	files, err := filepath.Glob(filepath.Join(dir, "*", "*.bcf"))
	if err != nil || len(files) == 0 {
		t.Fatalf("%s: %v, %d files", dir, err, len(files))
	}
	return files
}

// tally is how often things occur in an archive.
type tally struct{ topics, comments, views, pictures, components, cameras, labels, models, files int }

// The official test files of buildingSMART (repository BCF-XML, folder Test
// Cases), counted a second time by looking for tags in the unpacked text.
func TestReadOfficialFiles(t *testing.T) {
	for _, path := range officialFiles(t) {
		folder := filepath.Base(filepath.Dir(path))
		name := folder + "/" + filepath.Base(path)
		a, err := Open(path)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		defer a.Close()
		warn := strings.Join(a.Warnings, "\n")
		if name == "3.0/single-invisible-wall.bcf" { // the folder has another GUID than the topic in it
			if !strings.Contains(warn, "the topic's Guid is") || len(a.Warnings) != 1 {
				t.Errorf("%s: warnings %q", name, a.Warnings)
			}
			warn = ""
		}
		if a.Version.String() != folder || warn != "" {
			t.Errorf("%s: version %s, warnings %q", name, a.Version, warn)
		}
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if got, want := tallyOf(a), tallyByTags(t, data); got != want {
			t.Errorf("%s: got %+v, want %+v", name, got, want)
		}
	}
}

func tallyOf(a *Archive) tally {
	n := tally{topics: len(a.Topics), files: len(a.Files)}
	for _, top := range a.Topics {
		n.comments += len(top.Comments)
		n.labels += len(top.Labels)
		n.models += len(top.Models)
		n.files += len(top.Files)
		for _, v := range top.Viewpoints {
			n.views++
			if v.Snapshot != "" {
				n.pictures++
			}
			n.components += len(v.View.Selection) + len(v.View.Exceptions)
			for _, c := range v.View.Coloring {
				n.components += len(c.Components)
			}
			if v.View.Camera != nil {
				n.cameras++
			}
		}
	}
	return n
}

func tallyByTags(t *testing.T, data []byte) tally {
	var n tally
	files, names := unpack(t, data)
	for _, name := range names {
		count := func(pattern string) int { return len(regexp.MustCompile(pattern).FindAll(files[name], -1)) }
		switch {
		case strings.HasSuffix(name, "/markup.bcf"):
			n.topics += count(`<Topic `)
			n.comments += count(`<Comment [^>]*Guid`)
			n.views += count(`<View[pP]oints? [^>]*Guid=[^>]*[^/]>\s*<Viewpoint>`)
			n.pictures += count(`<Snapshot>`)
			n.labels += count(`<Labels?>[^<\s]`)
			n.models += count(`<File[ >]`)
		case strings.HasSuffix(name, ".bcfv"):
			n.components += count(`<Component[ >/]`)
			n.cameras += count(`<(Perspective|Orthogonal)Camera>`)
		case strings.HasSuffix(name, "/") || name == "bcf.version" || name == "project.bcfp" || name == "extensions.xml" || name == "documents.xml":
		default:
			n.files++
		}
	}
	return n
}

func TestReadTheFieldsOfOfficialFiles(t *testing.T) {
	open := func(name string) *Archive {
		a, err := Open(outside(t, "data", "bcf", filepath.FromSlash(name)))
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { a.Close() })
		return a
	}
	a := open("2.1/Component-Selection.bcf")
	top := a.Topics[0]
	if m := top.Models[0]; m != (ModelFile{Name: "Estructura.ifc", Date: "2014-02-25T11:50:32", Reference: "../Estructura.ifc", Project: "3LIQL2UvjC6xkGKOQxhhVW", Internal: true}) {
		t.Errorf("model: %+v", m)
	}
	view := top.Viewpoints[0].View
	if view.Selection[1].GlobalID != "0AQJSsoeDDvwVqSNcwjy55" || !view.DefaultVisibility || *view.Hints != (Hints{Openings: true}) {
		t.Errorf("view: %+v", view)
	}
	if c := view.Camera; c.Eye.X != -17.301673889160156 || c.Up.Z != 0.9808646440505981 || c.Field != 60 || c.Scale != 0 {
		t.Errorf("camera: %+v", c)
	}
	if *top.Index != 0 || a.Files[0].Name != "Estructura.ifc" || a.Files[0].Size() != 577862 {
		t.Errorf("index %v, files %+v", top.Index, a.Files)
	}
	if c := open("2.1/OrthogonalCamera.bcf").Topics[0].Viewpoints[0].View.Camera; c.Scale <= 0 || c.Field != 0 {
		t.Errorf("orthogonal camera: %+v", c)
	}
	if d := open("2.1/PDFFile.bcf").Topics[0].Documents[0]; d != (DocumentRef{Path: "../Requirements.pdf", Description: "Project requirements (pdf)"}) {
		t.Errorf("document of 2.1: %+v", d)
	}
	if s := open("2.1/InternalBIMSnippet.bcf").Topics[0].Snippet; *s != (Snippet{"JSON", "JsonElement.json", "http://json-schema.org", false}) {
		t.Errorf("snippet: %+v", s)
	}
	if s := open("2.1/ExternalBIMSnippet.bcf").Topics[0].Snippet; !s.External {
		t.Errorf("snippet: %+v", s)
	}
	if x := open("2.1/ExtensionSchema.bcf"); x.ExtensionSchema != "extensions.xsd" || x.Files[0].Name != "extensions.xsd" {
		t.Errorf("extension schema: %+v", x)
	}
	a = open("3.0/Document-reference-internal.bcf")
	top = a.Topics[0]
	if top.ServerID != "6" || top.AssignedTo != "OtherUser@doe.com" || len(top.Models) != 2 || top.Models[1].Internal {
		t.Errorf("topic: %+v", top)
	}
	if top.Documents[0].Document != "b1d1b7f0-60b9-457d-ad12-16e0fb997bc5" || a.Documents[0].Filename != "ThisIsADocument.txt" {
		t.Errorf("document of 3.0: %+v, %+v", top.Documents, a.Documents)
	}
	if c := top.Comments[0]; c.Text != "A comment" || c.Viewpoint != "20ad2ff7-ceac-4d4b-b288-ad92a0f65182" {
		t.Errorf("comment: %+v", c)
	}
	if x := a.Extensions; len(x.TopicTypes) != 5 || x.Priorities[3] != "CRITICAL" || len(x.Users) != 3 {
		t.Errorf("extensions: %+v", x)
	}
	a = open("3.0/Related-topics-with-both-topics-in-the-same-file.bcf")
	related := map[string][]string{}
	for _, top := range a.Topics {
		related[top.GUID] = top.Related
	}
	if len(related) != 2 || len(related[a.Topics[0].GUID])+len(related[a.Topics[1].GUID]) == 0 {
		t.Errorf("related: %v", related)
	}
	for name, check := range map[string]func(*Topic) bool{
		"3.0/DueDate.bcf":         func(t *Topic) bool { _, ok := ParseDate(t.DueDate); return ok },
		"3.0/Labels.bcf":          func(t *Topic) bool { return len(t.Labels) == 1 },
		"3.0/Milestone.bcf":       func(t *Topic) bool { return t.Stage != "" },
		"3.0/User-assignment.bcf": func(t *Topic) bool { return strings.Contains(t.AssignedTo, "@") },
		"3.0/document-reference-external.bcf": func(t *Topic) bool {
			return len(t.Documents) == 1 && strings.HasPrefix(t.Documents[0].URL, "http")
		},
	} {
		if top := open(name).Topics[0]; !check(top) {
			t.Errorf("%s: %+v", name, top)
		}
	}
}

// comparable is all that an archive says, free of where it comes from.
func comparable(t testing.TB, a *Archive) *Archive {
	t.Helper()
	c := &Archive{Version: a.Version, Project: a.Project, ExtensionSchema: a.ExtensionSchema, Documents: a.Documents}
	c.Files = loaded(t, a.Files)
	for _, top := range a.Topics {
		x := *top
		x.Files = loaded(t, x.Files)
		for _, d := range []*string{&x.CreationDate, &x.ModifiedDate, &x.DueDate} {
			*d = normalDate(*d)
		}
		x.Models = slices.Clone(x.Models)
		for i := range x.Models {
			x.Models[i].Date = normalDate(x.Models[i].Date)
		}
		x.Comments = slices.Clone(x.Comments)
		for i := range x.Comments {
			x.Comments[i].Date, x.Comments[i].ModifiedDate = normalDate(x.Comments[i].Date), normalDate(x.Comments[i].ModifiedDate)
		}
		c.Topics = append(c.Topics, &x)
	}
	return c
}

func loaded(t testing.TB, files []File) []File {
	t.Helper()
	var list []File
	for _, f := range files {
		data, err := f.Data()
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, NewFile(f.Name, append([]byte{}, data...)))
	}
	slices.SortFunc(list, func(a, b File) int { return cmp.Compare(a.Name, b.Name) })
	return list
}

// The official test cases ask that nothing is lost when a file is read and
// written again.
func TestOfficialFilesWrittenAgain(t *testing.T) {
	for _, path := range officialFiles(t) {
		name := filepath.Base(path)
		a, err := Open(path)
		if err != nil {
			t.Fatal(err)
		}
		defer a.Close()
		var b bytes.Buffer
		if err := a.Write(&b, a.Version); err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		again := read(t, b.Bytes())
		if got, want := comparable(t, again), comparable(t, a); !reflect.DeepEqual(got, want) {
			t.Errorf("%s: written again it is\n%+v\nwant\n%+v", name, got.Topics[0], want.Topics[0])
		}
		validate(t, a.Version, b.Bytes())
	}
}

// In the other version a topic says the same, and is valid.
func TestOfficialFilesInTheOtherVersion(t *testing.T) {
	for _, path := range officialFiles(t) {
		name := filepath.Base(path)
		a, err := Open(path)
		if err != nil {
			t.Fatal(err)
		}
		defer a.Close()
		other := V30 - a.Version
		var b bytes.Buffer
		if err := a.Write(&b, other); err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		validate(t, other, b.Bytes())
		again := read(t, b.Bytes())
		for i, want := range a.Topics {
			got := again.Topics[i]
			if got.Title != want.Title || got.GUID != want.GUID || got.Description != want.Description || got.AssignedTo != want.AssignedTo ||
				!slices.Equal(got.Labels, want.Labels) || len(got.Comments) != len(want.Comments) || len(got.Viewpoints) != len(want.Viewpoints) ||
				len(got.Documents) != len(want.Documents) || !slices.Equal(got.Related, want.Related) {
				t.Errorf("%s: got %+v, want %+v", name, got, want)
			}
			for j, w := range want.Viewpoints {
				g := got.Viewpoints[j].View
				if fmt.Sprint(g.Selection, g.Exceptions, g.DefaultVisibility, g.Coloring) != fmt.Sprint(w.View.Selection, w.View.Exceptions, w.View.DefaultVisibility, w.View.Coloring) {
					t.Errorf("%s: view %+v, want %+v", name, g, w.View)
				}
				if g.Camera.Eye.Dist(w.View.Camera.Eye) > 2e-6 || g.Camera.Direction.Dist(w.View.Camera.Direction) > 1e-8 {
					t.Errorf("%s: camera %+v, want %+v", name, g.Camera, w.View.Camera)
				}
			}
		}
	}
}

// A document of one version can be found in the other one.
func TestDocumentsInTheOtherVersion(t *testing.T) {
	for _, c := range []struct{ name, place, has string }{
		{"2.1/PDFFile.bcf", "Documents/", "%PDF"},
		{"3.0/Document-reference-internal.bcf", "Documents/b1d1b7f0-60b9-457d-ad12-16e0fb997bc5-ThisIsADocument.txt", ""},
	} {
		a, err := Open(outside(t, "data", "bcf", filepath.FromSlash(c.name)))
		if err != nil {
			t.Fatal(err)
		}
		defer a.Close()
		other := V30 - a.Version
		var b bytes.Buffer
		if err := a.Write(&b, other); err != nil {
			t.Fatal(err)
		}
		again := read(t, b.Bytes())
		d := again.Topics[0].Documents[0]
		place := join(again.Topics[0].GUID, d.Path)
		if other == V30 {
			place = "Documents/" + d.Document
			if len(again.Documents) != 1 || again.Documents[0].GUID != d.Document || again.Documents[0].Filename != "Requirements.pdf" {
				t.Errorf("%s: documents %+v", c.name, again.Documents)
			}
		}
		i := slices.IndexFunc(again.Files, func(f File) bool { return f.Name == place })
		if i < 0 || !strings.HasPrefix(place, c.place) {
			t.Errorf("%s: %q leads to nothing in %+v", c.name, place, again.Files)
			continue
		}
		if data, err := again.Files[i].Data(); err != nil || !strings.HasPrefix(string(data), c.has) {
			t.Errorf("%s: %v, %.20q", c.name, err, data)
		}
	}
}

func TestAllThatTheStandardHasComesBack(t *testing.T) {
	for _, v := range versions {
		var b bytes.Buffer
		if err := full(v).Write(&b, v); err != nil {
			t.Fatal(err)
		}
		first := read(t, b.Bytes())
		top, want := first.Topics[0], full(v).Topics[0]
		if len(first.Warnings) > 0 {
			t.Errorf("%s: %q", v, first.Warnings)
		}
		if top.Title != want.Title || top.Description != want.Description || *top.Index != 7 || top.Stage != want.Stage ||
			!slices.Equal(top.Links, want.Links) || !slices.Equal(top.Labels, want.Labels) || *top.Snippet != *want.Snippet ||
			!strings.EqualFold(top.Related[0], want.Related[0]) || !reflect.DeepEqual(top.Comments[0], want.Comments[0]) {
			t.Errorf("%s: got %+v", v, top)
		}
		if m := top.Models[0]; m.Name != "m.ifc" || !m.Internal || m.SpatialStructure != want.Models[0].SpatialStructure {
			t.Errorf("%s: model %+v", v, m)
		}
		view := top.Viewpoints[0].View
		w := want.Viewpoints[0].View
		if !slices.Equal(view.Lines, w.Lines) || !slices.Equal(view.Planes, w.Planes) || !slices.Equal(view.Bitmaps, w.Bitmaps) || *view.Hints != *w.Hints {
			t.Errorf("%s: view %+v", v, view)
		}
		if len(view.Coloring) != 2 || view.Coloring[0].Color != "FFE53935" || view.Selection[2].ToolID != "illegal" {
			t.Errorf("%s: components %+v", v, view)
		}
		if c := top.Viewpoints[1].View.Camera; c.Scale != 12.5 || v == V30 && c.Aspect != 1.5 {
			t.Errorf("%s: orthogonal camera %+v", v, c)
		}
		// Out of the structures, without the bytes that were read.
		for i := range top.Viewpoints {
			top.Viewpoints[i].raw = nil
		}
		b.Reset()
		if err := first.Write(&b, v); err != nil {
			t.Fatal(err)
		}
		second := read(t, b.Bytes())
		for _, a := range []*Archive{first, second} {
			for i := range a.Topics[0].Viewpoints {
				a.Topics[0].Viewpoints[i].raw = nil
			}
		}
		if got, want := comparable(t, second), comparable(t, first); !reflect.DeepEqual(got, want) {
			t.Errorf("%s: written again it is\n%+v\nwant\n%+v", v, got.Topics[0], want.Topics[0])
		}
	}
}
