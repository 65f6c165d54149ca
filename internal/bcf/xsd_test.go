package bcf

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
)

// validate checks every XML file of an archive with the official XSDs of
// buildingSMART (repository BCF-XML, tag v3.0 and branch release_2_1).
func validate(t *testing.T, v Version, data []byte) {
	t.Helper()
	if _, err := exec.LookPath("xmllint"); err != nil {
		t.Skip("xmllint is not installed (Debian: libxml2-utils)")
	}
	schemas := outside(t, "reference", "xsd", "bcf"+strings.ReplaceAll(v.String(), ".", ""))
	files, names := unpack(t, data)
	dir := t.TempDir()
	bySchema := map[string][]string{}
	for i, name := range names {
		schema := schemaOf(name)
		if schema == "" {
			continue
		}
		path := filepath.Join(dir, fmt.Sprintf("%d-%s", i, filepath.Base(name)))
		if err := os.WriteFile(path, files[name], 0o644); err != nil {
			t.Fatal(err)
		}
		bySchema[schema] = append(bySchema[schema], path)
	}
	if len(bySchema["version.xsd"]) != 1 || v == V30 && len(bySchema["extensions.xsd"]) != 1 {
		t.Errorf("%s: files that the standard asks for are missing: %q", v, names)
	}
	for schema, paths := range bySchema {
		cmd := exec.Command("xmllint", append([]string{"--noout", "--nonet", "--schema", filepath.Join(schemas, schema)}, paths...)...)
		var out bytes.Buffer
		cmd.Stderr = &out
		if err := cmd.Run(); err != nil {
			var bad []string
			for _, l := range strings.Split(out.String(), "\n") {
				if !strings.HasSuffix(l, " validates") && len(bad) < 10 {
					bad = append(bad, l)
				}
			}
			t.Errorf("%s, %s: %v\n%s", v, schema, err, strings.Join(bad, "\n"))
		}
	}
}

func schemaOf(name string) string {
	switch base := filepath.Base(name); {
	case base == "markup.bcf":
		return "markup.xsd"
	case strings.HasSuffix(base, ".bcfv"):
		return "visinfo.xsd"
	case name == "bcf.version":
		return "version.xsd"
	case name == "project.bcfp":
		return "project.xsd"
	case name == "extensions.xml":
		return "extensions.xsd"
	case name == "documents.xml":
		return "documents.xsd"
	}
	return ""
}

func TestWhatIsWrittenIsValid(t *testing.T) {
	for _, v := range versions {
		for name, run := range map[string]*finding.Run{"demo": demo(), "nasty": nasty(), "empty": {}, "many": many(50)} {
			t.Run(v.String()+" "+name, func(t *testing.T) { validate(t, v, write(t, withScene(writer(v)), run)) })
		}
	}
}

// full uses all that the standard has.
func full(v Version) *Archive {
	n := 7
	topic := &Topic{
		GUID: "5B1D9AE0-0000-4000-8000-00000000ABCD", Type: "Request", Status: "Open", Title: "A\ttitle", Priority: "High", Index: &n,
		Labels: []string{"concrete", "bolts"}, CreationDate: "2026-01-02T03:04:05+02:00", CreationAuthor: "a@example.test",
		ModifiedDate: "2026-01-03", ModifiedAuthor: "b@example.test", DueDate: "2026-02-01T00:00", AssignedTo: "c@example.test",
		Stage: "Tender", Description: "Two\nlines", ServerID: "12", Links: []string{"https://example.test/1", "https://example.test/2"},
		Snippet:   &Snippet{"json", "piece.json", "https://example.test/schema", false},
		Documents: []DocumentRef{{URL: "https://example.test/d.pdf", Description: "outside"}, {GUID: "5b1d9ae0-0000-4000-8000-00000000000d", URL: "https://example.test/e.pdf"}},
		Related:   []string{"5B1D9AE0-0000-4000-8000-00000000ABCE"},
		Models:    []ModelFile{{Name: "m.ifc", Date: "2026-01-01T00:00:00", Reference: "../m.ifc", Project: "0project00000000000001", SpatialStructure: "0storey000000000000001", Internal: true}},
		Comments: []Comment{
			{GUID: "5b1d9ae0-0000-4000-8000-000000000001", Date: "2026-01-02T00:00:00Z", Author: "a@example.test", Text: "said", ModifiedDate: "2026-01-04T00:00:00Z", ModifiedAuthor: "b@example.test"},
			{GUID: "5b1d9ae0-0000-4000-8000-000000000002", Date: "2026-01-02T00:00:00Z", Author: "d@example.test", Viewpoint: "5b1d9ae0-0000-4000-8000-000000000003"},
		},
		Files: []File{NewFile("piece.json", []byte("{}")), NewFile("snapshot.png", []byte("png")), NewFile("plan.png", []byte("png"))},
	}
	one := []Component{{GlobalID: "0bolt00000000000000001", System: "S", ToolID: "T"}, {ToolID: "without"}, {GlobalID: "illegal"}}
	topic.Viewpoints = []Viewpoint{
		{GUID: "5B1D9AE0-0000-4000-8000-000000000003", File: "viewpoint.bcfv", Snapshot: "snapshot.png", Index: &n, View: &View{
			Selection: one, Exceptions: one, Hints: &Hints{true, false, true}, Coloring: []Color{{"ffe53935", one}, {"00ff00", one}, {"no colour", one}, {"000000", nil}},
			Camera:  &Camera{Eye: geom.V(1, 2, 3), Direction: geom.V(0, 1, 0), Up: geom.V(0, 0, 1), Field: 50, Aspect: 1.1},
			Lines:   []Line{{geom.V(0, 0, 0), geom.V(1, 1, 1)}},
			Planes:  []Plane{{geom.V(1, 1, 1), geom.V(0, 0, 1)}},
			Bitmaps: []Bitmap{{"jpg", "plan.png", geom.V(1, 1, 1), geom.V(0, 0, 1), geom.V(0, 1, 0), 2.5}},
		}},
		{GUID: "5b1d9ae0-0000-4000-8000-000000000004", File: "second.bcfv", View: &View{
			Camera: &Camera{Eye: geom.V(1, 2, 3), Direction: geom.V(0, 0, -1), Up: geom.V(0, 1, 0), Scale: 12.5, Aspect: 1.5},
		}},
		{GUID: "5b1d9ae0-0000-4000-8000-000000000005", File: "third.bcfv", View: &View{Selection: one[:1], DefaultVisibility: true}},
	}
	bare := &Topic{GUID: "5b1d9ae0-0000-4000-8000-00000000abce", Title: "Bare", CreationDate: "2026-01-01T00:00:00Z", CreationAuthor: "a@example.test",
		Comments: []Comment{{}}, Snippet: &Snippet{}}
	return &Archive{
		Version: v, Project: Project{"p-1", "Pump station"}, Topics: []*Topic{topic, bare},
		Extensions: Extensions{TopicTypes: []string{"Request", "Remark"}, Stages: []string{"Tender"}},
	}
}

func TestWhatIsWrittenInFullIsValid(t *testing.T) {
	for _, v := range versions {
		var b bytes.Buffer
		if err := full(v).Write(&b, v); err != nil {
			t.Fatal(err)
		}
		validate(t, v, b.Bytes())
	}
}

// Values within the limits of one version may be outside of those of the other.
func TestFieldOfViewOf21(t *testing.T) {
	for _, c := range []struct{ vertical, aspect, want float64 }{
		{60, 1, 60}, {45, 1, 45}, {44.9, 1, 45}, {60.1, 1, 60}, {fieldOfView, aspect, 57.822402}, {60, 16.0 / 9, 60}, {0, 1, 45}, {179, 2, 60}, {nan, 1, 45},
	} {
		if got := finding.Round(horizontalField(c.vertical, c.aspect), 6); got != c.want {
			t.Errorf("%v degrees, %v wide: got %v, want %v", c.vertical, c.aspect, got, c.want)
		}
	}
}
