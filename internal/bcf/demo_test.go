package bcf

import (
	"archive/zip"
	"bytes"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"testing"
	"time"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
)

var update = flag.Bool("update", false, "write the golden files anew")

// outside is a file beside the repository, or a skip when it is not there.
func outside(t testing.TB, elem ...string) string {
	t.Helper()
	path := filepath.Join(append([]string{"..", "..", "..", "shared"}, elem...)...)
	if _, err := os.Stat(path); err != nil {
		t.Skipf("no reference material here: %v", err)
	}
	return path
}

// unpack gives the files of an archive by name, and their names in order.
func unpack(t testing.TB, data []byte) (map[string][]byte, []string) {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	files := map[string][]byte{}
	var names []string
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		content, err := io.ReadAll(r)
		if err != nil {
			t.Fatalf("%s: %v", f.Name, err)
		}
		files[f.Name] = content
		names = append(names, f.Name)
	}
	return files, names
}

func read(t testing.TB, data []byte) *Archive {
	t.Helper()
	a, err := Read(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func write(t testing.TB, w *Writer, run *finding.Run) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := w.Write(&b, run); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// writer is a Writer as a command would set it up, but for the clock.
func writer(v Version) *Writer {
	return &Writer{
		Version: v, Author: "checker@example.test", Date: time.Date(2026, 3, 4, 9, 0, 0, 0, time.UTC),
		Project: Project{ID: "0project00000000000001", Name: "Pump station"},
	}
}

func bolt(n int) finding.Ref {
	return finding.Ref{
		GlobalID: fmt.Sprintf("0bolt%017d", n), Class: "IfcMechanicalFastener",
		Name: fmt.Sprintf("HB-%d", n), Model: "wall-07.ifc",
	}
}

var (
	wall = finding.Ref{GlobalID: "0wall00000000000000003", Class: "IfcWall", Name: "WP-03", Mark: "P3", Model: "wall-07.ifc"}
	bar  = finding.Ref{GlobalID: "0bar000000000000000002", Class: "IfcReinforcingBar", Name: "N16-2", Model: "bars-07.ifc"}
)

// demo is an invented pump station with three findings.
func demo() *finding.Run {
	edge := func(anchor int, mm float64, at geom.Vec) finding.Instance {
		return finding.Instance{
			Item: bolt(1), Kind: "bolt", Anchor: anchor, Measured: mm, Required: 120, Unit: "mm",
			Relation: finding.AtLeast, Governs: "diameters", At: at, Normal: geom.V(0, -1, 0),
			Text: fmt.Sprintf("HB-1 bolt %d is %g mm from the right-hand edge; 120 mm needed (6 diameters of 20 mm)", anchor+1, mm),
		}
	}
	return &finding.Run{
		Models: []finding.ModelInfo{
			{Path: "wall-07.ifc", Name: "wall-07.ifc", Project: "0project00000000000001", Date: "2026-03-02T08:15:00"},
			{Path: "bars-07.ifc", Name: "bars-07.ifc", Project: "0project00000000000002", Date: "2026-03-03T16:40:10+01:00"},
		},
		Findings: []finding.Finding{
			{
				ID: "f-edge", Rule: "edge-distance", Priority: finding.Hold, Status: "open", Host: wall, Set: "HB-1",
				Instances: []finding.Instance{edge(0, 65, geom.V(1.165, 2.6, 0.58)), edge(1, 90.25, geom.V(1.165, 2.6, 0.88))},
				Title:     "Edge distance: HB-1 in WP-03",
				Message:   "HB-1 bolt 1 is 65 mm from the right-hand edge; 120 mm needed (6 diameters of 20 mm). One more place.",
				Source:    "ACI 318-19 17.9.2",
			},
			{
				ID: "f-clear", Rule: "reinforcement-clearance", Priority: finding.Review, Status: "accepted", Host: wall, Set: "HB-2",
				Instances: []finding.Instance{{
					Item: bolt(2), Kind: "bolt", Anchor: -1, Measured: -3.4, Required: 20, Unit: "mm", Relation: finding.AtLeast,
					Governs: "mm", At: geom.V(0.4, 4, 1), Normal: geom.V(0, 0, 1), Others: []finding.Ref{bar},
				}},
				Title: "Reinforcement clearance: HB-2 in WP-03", Message: "HB-2 and bar N16-2 overlap by 3.4 mm.",
			},
			{
				ID: "f-gap", Rule: finding.NotChecked, Priority: finding.Note, Status: "open", Set: "SK-4",
				Instances: []finding.Instance{{
					Item:   finding.Ref{GlobalID: "no GlobalId", Class: "IfcBuildingElementProxy", Name: "SK-4", Model: "wall-07.ifc"},
					Anchor: -1, Text: "no axis could be found in its shape",
				}},
				Title: "Not checked: SK-4", Message: "No axis could be found in its shape.",
			},
		},
	}
}

const nastyText = "a\"b<&>'c]]>\x1b[31m\x00\u202e\u009b\ufffe\U000e0041 é基 \xff\r\n --> <!-- "

// nasty has texts and numbers that break writers.
func nasty() *finding.Run {
	ref := finding.Ref{GlobalID: "0bolt\x00", Name: nastyText, Class: nastyText, Mark: nastyText, Model: nastyText}
	run := &finding.Run{Models: []finding.ModelInfo{{Path: nastyText, Name: nastyText, Project: nastyText, Date: nastyText}, {Name: ""}}}
	for i, at := range []geom.Vec{{}, geom.V(inf, nan, 0), geom.V(6.7e6, -1e-9, 1e5), geom.V(1e300, 0, 0)} {
		for j, normal := range []geom.Vec{{}, geom.V(0, 0, 1), geom.V(0, 0, -1), geom.V(nan, 0, 0), geom.V(0, 1e-200, 0)} {
			run.Findings = append(run.Findings, finding.Finding{
				ID: fmt.Sprint(nastyText, i, j), Rule: nastyText, Set: nastyText, Title: nastyText, Message: nastyText, Source: nastyText, Host: ref,
				Status: nastyText, Priority: finding.Priority(j % 3),
				Instances: []finding.Instance{
					{Item: ref, Kind: nastyText, At: at, Normal: normal, Measured: nan, Required: inf, Unit: nastyText, Relation: finding.Equal, Others: []finding.Ref{ref, bar, wall, {}}, Text: nastyText},
					{Item: bolt(j), Anchor: -1, At: at, Normal: normal, Measured: inf, Unit: "mm", Relation: finding.AtMost},
				},
			})
		}
	}
	return append1(run, finding.Finding{}, finding.Finding{ID: "blank", Title: " \n", Message: "\t", Rule: " ", Status: " "})
}

func append1(run *finding.Run, f ...finding.Finding) *finding.Run {
	run.Findings = append(run.Findings, f...)
	return run
}

// many has n findings.
func many(n int) *finding.Run {
	run := demo()
	run.Findings = run.Findings[:0]
	for i := range n {
		f := demo().Findings[i%2]
		f.ID = fmt.Sprintf("m-%d", i)
		f.Set = fmt.Sprintf("HB-%d", i)
		run.Findings = append(run.Findings, f)
	}
	return run
}
