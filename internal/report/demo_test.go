package report

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
)

var update = flag.Bool("update", false, "write the golden files anew")

// golden compares with a file in testdata, or writes it with -update.
func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s differs; run with -update and read the diff. Got:\n%s", path, got)
	}
}

func bolt(n int) finding.Ref {
	return finding.Ref{
		GlobalID: fmt.Sprintf("0bolt%017d", n), Class: "IfcMechanicalFastener",
		Name: fmt.Sprintf("HB-%d", n), Model: "wall-07.ifc",
	}
}

// demo is an invented pump station: two models, three hosts.
func demo() *finding.Run {
	wp3 := finding.Ref{GlobalID: "0wall00000000000000003", Class: "IfcWall", Name: "WP-03", Mark: "P3", Model: "wall-07.ifc"}
	wp12 := finding.Ref{GlobalID: "0wall00000000000000012", Class: "IfcWall", Name: "WP-12", Model: "wall-07.ifc"}
	bar := finding.Ref{GlobalID: "0bar000000000000000002", Class: "IfcReinforcingBar", Name: "N16-2", Model: "bars-07.ifc"}
	edge := func(anchor int, mm float64, at geom.Vec) finding.Instance {
		return finding.Instance{
			Item: bolt(1), Kind: "bolt", Anchor: anchor, Measured: mm, Required: 120, Unit: "mm",
			Relation: finding.AtLeast, Governs: "diameters", At: at, Normal: geom.V(0, -1, 0),
			Text: fmt.Sprintf("HB-1 bolt %d is %g mm from the right-hand edge; 120 mm needed (6 diameters of 20 mm)", anchor+1, mm),
		}
	}
	run := &finding.Run{
		Models: []finding.ModelInfo{
			{Path: "wall-07.ifc", Name: "wall-07.ifc", SHA256: "11aa", Schema: "IFC4", Project: "0project00000000000001", Date: "2026-03-02T08:15:00", Unit: "millimetre"},
			{Path: "bars-07.ifc", Name: "bars-07.ifc", SHA256: "22bb", Schema: "IFC4X3", Project: "0project00000000000002", Date: "2026-03-03T16:40:10", Unit: "metre"},
		},
		Ruleset: finding.Ruleset{Name: "Pump station, release rules", SHA256: "33cc"},
		Counts: finding.Counts{Hosts: 3, Items: 14, Sets: 3, Anchors: 22, Bars: 840,
			Kinds: map[string]int{"bolt": 8, "socket": 4, "plate": 1, "lifter": 1}},
		Findings: []finding.Finding{
			{
				ID: "f-edge", Rule: "edge-distance", Priority: finding.Hold, Status: "open", Host: wp3, Set: "HB-1",
				Instances: []finding.Instance{edge(0, 65, geom.V(1.165, 2.6, 0.58)), edge(1, 90.25, geom.V(1.165, 2.6, 0.8800000001))},
				Title:     "Edge distance: HB-1 in WP-03",
				Message:   "HB-1 bolt 1 is 65 mm from the right-hand edge; 120 mm needed (6 diameters of 20 mm). One more place.",
				Source:    "ACI 318-19 17.9.2",
			},
			{
				ID: "f-clear", Rule: "reinforcement-clearance", Priority: finding.Hold, Status: "open", Host: wp12, Set: "HB-2",
				Instances: []finding.Instance{{
					Item: bolt(2), Kind: "bolt", Anchor: -1, Measured: -3.4, Required: 20, Unit: "mm", Relation: finding.AtLeast,
					Governs: "mm", At: geom.V(-0.0000001, 4, 1), Normal: geom.V(0, -1, 0), Others: []finding.Ref{bar},
					Text: "HB-2 and bar N16-2 overlap by 3.4 mm; 20 mm clear distance needed",
				}},
				Title: "Reinforcement clearance: HB-2 in WP-12", Message: "HB-2 and bar N16-2 overlap by 3.4 mm; 20 mm clear distance needed.",
				Source: "common practice, no published source",
			},
			{
				ID: "f-cone", Rule: "concrete-cone", Priority: finding.Review, Status: "accepted", Host: wp3, Set: "HB-1",
				Instances: []finding.Instance{{
					Item: bolt(1), Kind: "bolt", Anchor: 0, Measured: 0.6204, Required: 0.8, Unit: "ratio",
					Relation: finding.AtLeast, Governs: "ratio", At: geom.V(1.165, 2.6, 0.58),
				}},
				Title: "Concrete cone: HB-1 in WP-03", Message: "0.62 of the full cone is there.", Source: "EN 1992-4:2018 7.2.1.4",
			},
			{
				ID: "f-gap", Rule: finding.NotChecked, Priority: finding.Review, Status: "open", Host: wp12, Set: "SK-4",
				Instances: []finding.Instance{
					{Item: finding.Ref{GlobalID: "0sock00000000000000004", Class: "IfcBuildingElementProxy", Name: "SK-4", Model: "wall-07.ifc"}, Kind: "socket", Anchor: -1, Text: "no axis could be found in its shape"},
					{Item: finding.Ref{GlobalID: "0sock00000000000000005", Class: "IfcBuildingElementProxy", Name: "SK-5", Model: "wall-07.ifc"}, Kind: "socket", Anchor: -1, Text: "no axis could be found in its shape"},
				},
				Title: "Not checked: SK-4 in WP-12", Message: "no axis could be found in its shape. One more place.",
			},
		},
	}
	run.Tally()
	return run
}

// large has more findings than anybody reads.
func large(hosts, each int) *finding.Run {
	run := demo()
	for h := range hosts {
		host := finding.Ref{GlobalID: fmt.Sprintf("0host%017d", h), Class: "IfcBeam", Name: fmt.Sprintf("B-%d", h+1), Model: "wall-07.ifc"}
		for i := range each {
			n := 100 + h*each + i
			run.Findings = append(run.Findings, finding.Finding{
				ID: fmt.Sprintf("g-%d", n), Rule: [...]string{"spacing", "back-cover", "embedment"}[i%3], Priority: finding.Priority((i + h) % 3),
				Status: "open", Host: host, Set: fmt.Sprintf("HB-%d", n),
				Instances: []finding.Instance{{
					Item: bolt(n), Kind: "bolt", Measured: float64(40 + i), Required: 80, Unit: "mm", Relation: finding.AtLeast, Governs: "mm",
					At: geom.V(float64(h), float64(i), 0.5),
				}},
				Title: "Spacing", Message: fmt.Sprintf("HB-%d is too near to its neighbour.", n), Source: "common practice, no published source",
			})
		}
	}
	run.Tally()
	return run
}
