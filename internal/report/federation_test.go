package report

import (
	"bytes"
	"reflect"
	"strings"
	"testing"

	"embedcheck/internal/finding"
)

// federation is a run over two models, one of which says where it lies.
func federation() *finding.Run {
	north := -12.5
	return &finding.Run{
		Models: []finding.ModelInfo{
			{Path: "a.ifc", Name: "a.ifc", Schema: "IFC4", Unit: "millimetre", TrueNorth: &north,
				Map: &finding.MapPlace{CRS: "EPSG:2193\x1b[31m", Eastings: 1750000.25, Northings: 5920000.5, Height: -3, Turn: 30, Scale: 0.001}},
			{Path: "b.ifc", Name: "b.ifc", Schema: "IFC4", Unit: "millimetre"},
		},
		Remarks: []string{"b.ifc\x1b[31m lies 3500.0 m from a.ifc"},
	}
}

func TestRemarksAndMapPlacesComeBack(t *testing.T) {
	want := federation()
	got, err := ReadJSON(bytes.NewReader(writeJSON(t, want)))
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(got.Models, want.Models) || !reflect.DeepEqual(got.Remarks, want.Remarks) {
		t.Errorf("read %+v %q, want %+v %q", got.Models, got.Remarks, want.Models, want.Remarks)
	}
	broken := strings.Replace(string(writeJSON(t, want)), `"eastings_m":1750000.25`, `"eastings_m":"x"`, 1)
	if _, err := ReadJSON(strings.NewReader(broken)); err == nil || !strings.Contains(err.Error(), "models[0].eastings_m: a number wanted") {
		t.Errorf("a position that is no number: %v", err)
	}
}

func TestPeopleAreToldOfTheFederation(t *testing.T) {
	run := federation()
	var summary, release, inventory bytes.Buffer
	layout := Layout{Width: 200}
	if err := WriteSummary(&summary, run, Summary{Layout: layout}); err != nil {
		t.Fatal(err)
	}
	if err := WriteMarkdown(&release, &Release{Run: run}); err != nil {
		t.Fatal(err)
	}
	if err := WriteInventory(&inventory, &Inventory{Models: run.Models, Remarks: run.Remarks}, layout); err != nil {
		t.Fatal(err)
	}
	for name, out := range map[string]string{"summary": summary.String(), "release": release.String(), "inventory": inventory.String()} {
		if !strings.Contains(out, "ind: b.ifc") || !strings.Contains(out, "lies 3500.0 m from a.ifc") || strings.ContainsRune(out, 0x1b) {
			t.Errorf("%s:\n%s", name, out)
		}
	}
	told := strings.Join(strings.Fields(inventory.String()), " ")
	for _, want := range []string{
		"map: a.ifc: origin at E 1750000.250 m, N 5920000.500 m, height -3.000 m of EPSG:2193",
		"x axis 30.0000 degrees anticlockwise from east; scale 0.001; true north -12.5000 degrees anticlockwise from the y axis",
	} {
		if !strings.Contains(told, want) {
			t.Errorf("the inventory has no %q:\n%s", want, inventory.String())
		}
	}
}
