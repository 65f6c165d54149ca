package report

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"embedcheck/internal/finding"
)

func demoInventory() *Inventory {
	run := demo()
	wp3, wp12 := run.Findings[0].Host, run.Findings[1].Host
	inv := &Inventory{
		Models: run.Models,
		Hosts: []HostRow{
			{wp12, 1, "IfcWall of material C40/50"},
			{wp3, 3, "IfcWall of material C40/50; items lie in it"},
		},
		Items: []ItemRow{
			{bolt(10), "bolt", "HB-10", "M20 x 400", 1, wp3, "IfcMechanicalFastener ANCHORBOLT; round rod with a hook"},
			{bolt(2), "bolt", "HB-2", "M20 x 400", 1, wp3, "IfcMechanicalFastener ANCHORBOLT; round rod with a hook"},
			{finding.Ref{Class: "IfcPlate", Name: "EP-1", Model: "wall-07.ifc"}, "plate", "", "200 x 200 x 10", 4, wp3, "flat plate in the face, four studs"},
			{finding.Ref{Class: "IfcBuildingElementProxy", Name: "LA\x1b[2J", Model: "wall-07.ifc"}, "lifter", "", "", 1, wp12, "name says lifting anchor"},
			{finding.Ref{Class: "IfcBuildingElementProxy", Model: "wall-07.ifc"}, "socket", "", "", 1, finding.Ref{}, "hollow cylinder 24 x 70 mm"},
		},
		LeftOut: []LeftOutRow{{finding.Ref{Class: "IfcPlate", Name: "Shim"}, "lies outside every host"}},
		Unread:  []LeftOutRow{{finding.Ref{Class: "IfcBeam", Name: "B-9"}, "#812: the profile has no area"}},
	}
	for i := range 12 {
		inv.Bars = append(inv.Bars, BarRow{finding.Ref{Class: "IfcReinforcingBar", Name: fmt.Sprintf("N16-%d", i+1)}, 16.0000001, 7, "WP-03"})
	}
	inv.Bars = append(inv.Bars, BarRow{Ref: finding.Ref{Class: "IfcReinforcingMesh", Name: "SL82"}, Pieces: 1})
	for i := range 1200 {
		inv.LeftOut = append(inv.LeftOut, LeftOutRow{finding.Ref{Class: "IfcBeam", Name: fmt.Sprintf("UB-%d", i%9)}, "steel, outside every host"})
	}
	return inv
}

func TestInventory(t *testing.T) {
	var b bytes.Buffer
	if err := WriteInventory(&b, demoInventory(), Layout{Width: 100}); err != nil {
		t.Fatal(err)
	}
	golden(t, "inventory.txt", b.Bytes())
	if strings.ContainsFunc(strings.ReplaceAll(b.String(), "\n", ""), finding.Unsafe) {
		t.Error("characters that steer a terminal")
	}
}

func TestInventoryOfNothing(t *testing.T) {
	var b bytes.Buffer
	if err := WriteInventory(&b, &Inventory{}, Layout{}); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Hosts: 0", "Items: 0", "Bars: 0 in 0 elements"} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("%q is missing in\n%s", want, b.String())
		}
	}
}

func TestInventoryJSON(t *testing.T) {
	inv := demoInventory()
	var b bytes.Buffer
	if err := WriteInventoryJSON(&b, inv); err != nil {
		t.Fatal(err)
	}
	var got struct {
		Schema int
		Hosts  []struct{ Name, Class, Why string }
		Items  []struct {
			Name, Kind, Set, Size, Why string
			Anchors                    int
			Host                       *struct{ Name string }
		}
		Bars []struct {
			Diameter float64 `json:"diameter_mm"`
			Pieces   int
		}
		LeftOut []struct{ Name, Why string } `json:"left_out"`
		Unread  []struct{ Name, Why string }
	}
	if err := json.Unmarshal(b.Bytes(), &got); err != nil {
		t.Fatalf("%v in\n%s", err, b.Bytes())
	}
	if len(got.Hosts) != 2 || len(got.Items) != 5 || len(got.Bars) != 13 || len(got.LeftOut) != 1201 || len(got.Unread) != 1 {
		t.Errorf("rows are missing: %d %d %d %d %d", len(got.Hosts), len(got.Items), len(got.Bars), len(got.LeftOut), len(got.Unread))
	}
	if it := got.Items[2]; it.Name != "EP-1" || it.Kind != "plate" || it.Anchors != 4 || it.Host.Name != "WP-03" || it.Why == "" {
		t.Errorf("got %+v", it)
	}
	if got.Items[4].Host != nil || got.Bars[0].Diameter != 16 {
		t.Errorf("got %+v, %+v", got.Items[4], got.Bars[0])
	}
}
