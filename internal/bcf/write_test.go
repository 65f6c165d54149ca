package bcf

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/png"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"embedcheck/internal/finding"
)

var nan, inf = math.NaN(), math.Inf(1)

var versions = []Version{V21, V30}

// The golden files are the archive unpacked, so that a diff can be read.
func TestWriteGolden(t *testing.T) {
	for _, v := range versions {
		files, _ := unpack(t, write(t, writer(v), demo()))
		dir := filepath.Join("testdata", "golden", v.String())
		if *update {
			os.RemoveAll(dir)
			for name, data := range files {
				path := filepath.Join(dir, filepath.FromSlash(name))
				if err := errors.Join(os.MkdirAll(filepath.Dir(path), 0o755), os.WriteFile(path, data, 0o644)); err != nil {
					t.Fatal(err)
				}
			}
		}
		err := filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
			if err != nil || d.IsDir() {
				return err
			}
			rel, _ := filepath.Rel(dir, path)
			want, err := os.ReadFile(path)
			name := filepath.ToSlash(rel)
			if !bytes.Equal(files[name], want) {
				t.Errorf("%s: %s differs; run with -update and read the diff. Got:\n%s", v, name, files[name])
			}
			delete(files, name)
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
		for name := range files {
			t.Errorf("%s: %s has no golden file", v, name)
		}
	}
}

func TestWriteGivesTheSameBytes(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	for _, v := range versions {
		run := many(40)
		want := write(t, writer(v), run)
		for range 5 {
			r.Shuffle(len(run.Findings), func(i, j int) { run.Findings[i], run.Findings[j] = run.Findings[j], run.Findings[i] })
			if !bytes.Equal(write(t, writer(v), run), want) {
				t.Errorf("%s: another order of findings gives other bytes", v)
			}
		}
	}
}

func TestWriteWithoutFindings(t *testing.T) {
	for _, c := range []struct {
		v    Version
		want []string
	}{
		{V21, []string{"bcf.version"}},
		{V30, []string{"bcf.version", "extensions.xml"}},
	} {
		w := writer(c.v)
		w.Project = Project{}
		data := write(t, w, &finding.Run{})
		if _, names := unpack(t, data); !slices.Equal(names, c.want) {
			t.Errorf("%s: holds %q, want %q", c.v, names, c.want)
		}
		if a := read(t, data); len(a.Topics) != 0 || a.Version != c.v || len(a.Warnings) != 0 {
			t.Errorf("%s: read as %+v", c.v, a)
		}
	}
}

// A GUID is for good: an issue list that is read anew has to find its topics.
func TestTopicGUIDNeverChanges(t *testing.T) {
	for id, want := range map[string]string{
		"f-edge":                           "54165873-d8a6-55c6-8b16-53fca0f529f1",
		"0f3c9e4b7a1d4c58a2b6d8e0f1a3c5e7": "e6e0df2a-551e-522d-a272-864bd0b5a5d9",
	} {
		if got := TopicGUID(id); got != want {
			t.Errorf("TopicGUID(%q) = %s, want %s", id, got, want)
		}
	}
}

// The topic stays the same when a figure or a place changes; what was said and
// seen does not change, so it gets another GUID.
func TestAnotherFigureIsAnotherCommentOnTheSameTopic(t *testing.T) {
	topic := func(change func(*finding.Finding)) *Topic {
		run := demo()
		change(&run.Findings[0])
		top, err := writer(V21).Topic(run, 0)
		if err != nil {
			t.Fatal(err)
		}
		return top
	}
	same := topic(func(*finding.Finding) {})
	text := topic(func(f *finding.Finding) { f.Message = "HB-1 bolt 1 is 80 mm from the edge." })
	moved := topic(func(f *finding.Finding) { f.Instances[0].At.X += 0.2 })
	noise := topic(func(f *finding.Finding) { f.Instances[0].At.X += 1e-8 })
	for _, other := range []*Topic{text, moved, noise} {
		if other.GUID != same.GUID {
			t.Error("another topic")
		}
	}
	if text.Comments[0].GUID == same.Comments[0].GUID || text.Viewpoints[0].GUID != same.Viewpoints[0].GUID {
		t.Error("another text has to be another comment on the same view")
	}
	if moved.Viewpoints[0].GUID == same.Viewpoints[0].GUID {
		t.Error("another place has to be another viewpoint")
	}
	if noise.Viewpoints[0].GUID != same.Viewpoints[0].GUID {
		t.Error("noise in a coordinate must not be another viewpoint")
	}
}

func TestTopicOfAFinding(t *testing.T) {
	a := read(t, write(t, writer(V30), demo()))
	if len(a.Topics) != 3 {
		t.Fatalf("%d topics", len(a.Topics))
	}
	edge, clear, gap := a.Topics[0], a.Topics[1], a.Topics[2]
	if edge.Type != "Rule not met" || edge.Priority != "Hold" || edge.Status != "Open" || *edge.Index != 1 ||
		!slices.Equal(edge.Labels, []string{"edge-distance", "bolt"}) || edge.CreationAuthor != "checker@example.test" ||
		edge.CreationDate != "2026-03-04T09:00:00Z" {
		t.Errorf("got %+v", edge)
	}
	for _, want := range []string{
		"65 mm, at least 120 mm required, governed by diameters",
		"90.3 mm, at least 120 mm required", "Limit from: ACI 318-19 17.9.2.", "WP-03 (mark P3, IfcWall, wall-07.ifc)",
		"At 1.165, 2.6, 0.88 m.", finding.Caution,
	} {
		if !strings.Contains(edge.Description, want) {
			t.Errorf("%q is missing in %s", want, edge.Description)
		}
	}
	if len(edge.Models) != 1 || edge.Models[0].Name != "wall-07.ifc" || edge.Models[0].Date != "2026-03-02T08:15:00Z" {
		t.Errorf("models of a finding in one file: %+v", edge.Models)
	}
	if len(clear.Models) != 2 || clear.Models[0].Date != "2026-03-03T15:40:10Z" || clear.Models[0].Project != "0project00000000000002" {
		t.Errorf("models of a finding in two files: %+v", clear.Models)
	}
	view := clear.Viewpoints[0].View
	if got := fmt.Sprint(view.Selection); got != "[{0bolt00000000000000002  } {0bar000000000000000002  }]" {
		t.Errorf("selected: %s", got)
	}
	if got := fmt.Sprint(view.Coloring); got != "[{E4572E [{0bolt00000000000000002  }]} {2E86AB [{0bar000000000000000002  }]} {40B8B8B8 [{0wall00000000000000003  }]}]" {
		t.Errorf("coloured: %s", got)
	}
	if !view.DefaultVisibility || clear.Comments[0].Viewpoint != clear.Viewpoints[0].GUID || clear.Status != "Accepted" {
		t.Errorf("got %+v", clear)
	}
	if gap.Type != "Not checked" || len(gap.Viewpoints) != 0 || !strings.Contains(gap.Description, "for want of a valid GlobalId: SK-4") {
		t.Errorf("got %+v", gap)
	}
}

func TestDescriptionSaysNothingTwice(t *testing.T) {
	f := demo().Findings[0]
	f.Instances = f.Instances[:1]
	f.Message = f.Instances[0].Text + "."
	got := describe(&f, display(&f))
	if strings.Count(got, "from the right-hand edge") != 1 || !strings.Contains(got, "\n1. Measured: 65 mm, at least 120 mm required") {
		t.Errorf("got %s", got)
	}
	f.Message = "Another sentence."
	if got := describe(&f, display(&f)); strings.Count(got, "from the right-hand edge") != 1 {
		t.Errorf("got %s", got)
	}
}

func TestManyComponentsAreCutAndTold(t *testing.T) {
	f := &finding.Finding{Host: wall}
	for i := range 1500 {
		f.Instances = append(f.Instances, finding.Instance{Item: bolt(i), Others: []finding.Ref{bolt(i + 1), wall}})
	}
	d := display(f)
	if len(d.selection) != maxComponents || d.cut != 502 {
		t.Errorf("%d selected, %d cut", len(d.selection), d.cut)
	}
	if s := describe(f, d); !strings.Contains(s, "for want of room: 502 elements") || !strings.Contains(s, "And 1200 more places") {
		t.Errorf("the description does not tell what is left out: %s", s[len(s)-400:])
	}
}

func TestNastyTextsAreHarmless(t *testing.T) {
	for _, v := range versions {
		files, _ := unpack(t, write(t, writer(v), nasty()))
		for name, data := range files {
			if !utf8.Valid(data) || bytes.ContainsFunc(data, func(r rune) bool { return r != '\n' && finding.Unsafe(r) }) {
				t.Errorf("%s: %s holds characters that break readers", v, name)
			}
		}
		a := read(t, write(t, writer(v), nasty()))
		if len(a.Warnings) > 0 {
			t.Errorf("%s: %q", v, a.Warnings)
		}
		for _, top := range a.Topics {
			if n := utf8.RuneCountInString(top.Title); n == 0 || n > maxTitle {
				t.Errorf("%s: title of %d characters", v, n)
			}
		}
	}
}

func picture(t *testing.T, w, h int) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, image.NewGray(image.Rect(0, 0, w, h))); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestSnapshot(t *testing.T) {
	for _, v := range versions {
		w := writer(v)
		w.Scene = func(f *finding.Finding) (*Scene, error) {
			if f.ID == "f-clear" {
				return nil, nil
			}
			return &Scene{Picture: picture(t, 1500, 4)}, nil
		}
		a := read(t, write(t, w, demo()))
		edge, clear, gap := a.Topics[0], a.Topics[1], a.Topics[2]
		if edge.Viewpoints[0].Snapshot != "snapshot.png" || edge.Files[0].Size() == 0 || len(clear.Files) != 0 {
			t.Errorf("%s: got %+v", v, edge.Viewpoints[0])
		}
		if len(gap.Viewpoints) != 1 || gap.Viewpoints[0].File != "" || gap.Viewpoints[0].Snapshot != "snapshot.png" {
			t.Errorf("%s: without a place there is a picture only: %+v", v, gap.Viewpoints)
		}
	}
}

func TestSnapshotThatIsNone(t *testing.T) {
	fault := errors.New("fault")
	for name, c := range map[string]struct {
		data []byte
		err  error
		want string
	}{
		"fault":     {nil, fault, "finding f-edge: fault"},
		"no PNG":    {[]byte("JFIF, which is no PNG"), nil, "png: invalid format"},
		"too large": {picture(t, 1501, 4), nil, "1501 x 4 pixels, at most 1500 a side"},
	} {
		w := writer(V21)
		w.Scene = func(*finding.Finding) (*Scene, error) { return &Scene{Picture: c.data}, c.err }
		if err := w.Write(io.Discard, demo()); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, want %q", name, err, c.want)
		}
	}
}

// Sizes stand before the data, times are fixed, and there are no entries for
// folders: what the official files have in common.
func TestZipEntriesArePlain(t *testing.T) {
	data := write(t, writer(V21), demo())
	for at := 0; ; {
		i := bytes.Index(data[at:], []byte("PK\x03\x04"))
		if i < 0 {
			break
		}
		at += i
		if flags := data[at+6]; flags != 0 {
			t.Errorf("flags %#x at byte %d", flags, at)
		}
		if !bytes.Equal(data[at+10:at+14], []byte{0, 0, 0x21, 0}) {
			t.Errorf("time % x at byte %d", data[at+10:at+14], at)
		}
		at += 4
	}
	_, names := unpack(t, data)
	for _, n := range names {
		if strings.HasSuffix(n, "/") {
			t.Errorf("entry for the folder %s", n)
		}
	}
}

func TestTwoTopicsOfOneGUID(t *testing.T) {
	run := demo()
	run.Findings[1].ID = run.Findings[0].ID
	if err := writer(V21).Write(io.Discard, run); err == nil || !strings.Contains(err.Error(), "two files of this name") {
		t.Errorf("got %v", err)
	}
}

// What stays in memory for each topic is its place in the archive's list.
func TestMemoryDoesNotGrowWithTopics(t *testing.T) {
	live := func(n int) float64 {
		run := demo()
		e, err := NewEncoder(io.Discard, V30, &Archive{Version: V30})
		if err != nil {
			t.Fatal(err)
		}
		for i := range n {
			run.Findings[0].ID = fmt.Sprint(i)
			top, err := writer(V30).Topic(run, 0)
			if err != nil {
				t.Fatal(err)
			}
			top.Files = []File{NewFile("snapshot.png", make([]byte, 50_000))}
			if err := e.Topic(top); err != nil {
				t.Fatal(err)
			}
		}
		var m runtime.MemStats
		runtime.GC()
		runtime.ReadMemStats(&m)
		runtime.KeepAlive(e)
		return float64(m.HeapAlloc)
	}
	few, lots := live(50), live(650)
	if each := (lots - few) / 600; each > 4000 {
		t.Errorf("%.0f bytes stay for each topic", each)
	}
}

func BenchmarkWrite2000(b *testing.B) {
	run := many(2000)
	for _, v := range versions {
		b.Run(v.String(), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if err := writer(v).Write(io.Discard, run); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkRead2000(b *testing.B) {
	data := write(b, writer(V21), many(2000))
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Read(bytes.NewReader(data), int64(len(data))); err != nil {
			b.Fatal(err)
		}
	}
}
