package bcf

import (
	"bytes"
	"encoding/json"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
)

// seen is a topic as the independent reader gives it.
type seen struct {
	GUID, Title, Type, Status, Priority, Description, Author, Date string

	Index    int
	Labels   []string
	Models   []string
	Comments []struct{ GUID, Text, Viewpoint string }
	Views    []struct {
		GUID               string
		Selected           []string
		Eye, Direction, Up [3]float64
		Field              float64
	}
}

// readElsewhere reads an archive with a BCF library from npm that shares no
// code with this one; testdata/reader says which.
func readElsewhere(t *testing.T, v Version, data []byte) []seen {
	t.Helper()
	dir := filepath.Join("testdata", "reader")
	if _, err := os.Stat(filepath.Join(dir, "node_modules")); err != nil {
		t.Skip("the independent reader is not installed (npm install in internal/bcf/testdata/reader)")
	}
	node, err := exec.LookPath("node")
	if err != nil {
		t.Skip("no node here to run the independent reader")
	}
	path := filepath.Join(t.TempDir(), "issues.bcf")
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(node, "read.cjs", v.String(), path)
	cmd.Dir = dir
	var stderr strings.Builder
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil || stderr.Len() > 0 {
		t.Fatalf("%v\n%s%s", err, out, stderr.String())
	}
	var topics []seen
	if err := json.Unmarshal(out, &topics); err != nil {
		t.Fatalf("%v in %s", err, out)
	}
	return topics
}

// What this package reads out of its own archives, another reader has to read
// too, value for value.
func TestAnotherReaderSeesTheSame(t *testing.T) {
	for _, v := range versions {
		for name, run := range map[string]*finding.Run{"demo": demo(), "nasty": nasty(), "many": many(300), "empty": {}} {
			t.Run(v.String()+" "+name, func(t *testing.T) {
				data := plainWords(t, withScene(writer(v)), run)
				got, want := readElsewhere(t, v, data), read(t, data).Topics
				if len(got) != len(want) {
					t.Fatalf("%d topics, want %d", len(got), len(want))
				}
				for i := range got {
					same(t, &got[i], want[i])
				}
			})
		}
	}
}

// plainWords is the issue list without colours in 3.0: the library looks for
// them where 2.1 has them, and stops. The XSD has ours.
func plainWords(t *testing.T, w *Writer, run *finding.Run) []byte {
	t.Helper()
	if w.Version == V21 {
		return write(t, w, run)
	}
	var out bytes.Buffer
	e, err := NewEncoder(&out, w.Version, &Archive{Version: w.Version, Extensions: Words()})
	if err != nil {
		t.Fatal(err)
	}
	err = w.Topics(run.Sorted(), func(_ int, top *Topic) error {
		for i := range top.Viewpoints {
			top.Viewpoints[i].View.Coloring = nil
		}
		return e.Topic(top)
	})
	if err := errors.Join(err, e.Close()); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func same(t *testing.T, got *seen, want *Topic) {
	t.Helper()
	// The library trims texts and puts an end to white space in a row.
	squeeze := func(s string) string { return strings.Join(strings.Fields(s), " ") }
	for _, c := range [][3]string{
		{"Guid", got.GUID, want.GUID}, {"title", got.Title, want.Title}, {"type", got.Type, want.Type},
		{"status", got.Status, want.Status}, {"priority", got.Priority, want.Priority},
		{"description", squeeze(got.Description), squeeze(want.Description)},
		{"author", got.Author, want.CreationAuthor}, {"date", got.Date, want.CreationDate},
	} {
		if c[1] != c[2] {
			t.Errorf("%s is %q, want %q", c[0], c[1], c[2])
		}
	}
	if got.Index != *want.Index || !slices.Equal(got.Labels, want.Labels) || len(got.Models) != len(want.Models) {
		t.Errorf("%s: index %d, labels %q, models %q", got.Title, got.Index, got.Labels, got.Models)
	}
	if len(got.Comments) != 1 || got.Comments[0].GUID != want.Comments[0].GUID || got.Comments[0].Viewpoint != want.Comments[0].Viewpoint {
		t.Errorf("%s: comments %+v", got.Title, got.Comments)
	}
	if len(got.Views) != len(want.Viewpoints) {
		t.Fatalf("%s: %d views, want %d", got.Title, len(got.Views), len(want.Viewpoints))
	}
	for i, g := range got.Views {
		view := want.Viewpoints[i].View
		var ids []string
		for _, c := range view.Selection {
			ids = append(ids, c.GlobalID)
		}
		if g.GUID != want.Viewpoints[i].GUID || !slices.Equal(g.Selected, ids) {
			t.Errorf("%s: view %s selects %q, want %q", got.Title, g.GUID, g.Selected, ids)
		}
		if c := view.Camera; c != nil {
			for _, p := range [][2]geom.Vec{{geom.V(g.Eye[0], g.Eye[1], g.Eye[2]), c.Eye}, {geom.V(g.Direction[0], g.Direction[1], g.Direction[2]), c.Direction}, {geom.V(g.Up[0], g.Up[1], g.Up[2]), c.Up}} {
				if p[0] != p[1] {
					t.Errorf("%s: camera %v, want %v", got.Title, p[0], p[1])
				}
			}
			if g.Field != c.Field {
				t.Errorf("%s: field of view %v, want %v", got.Title, g.Field, c.Field)
			}
		}
	}
}
