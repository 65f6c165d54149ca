package demo

import ib "embedcheck/internal/ifcbuild"

// File is one model of the demonstration.
type File struct {
	Name  string
	build func(*ib.Builder)
	as    ib.Schema
	unit  ib.Unit
}

// Files are the models in the order of the package comment.
func Files() []File {
	return []File{
		{"pump-station-base.ifc", base, ib.IFC4, ib.MM},
		{"pump-station-panels.ifc", panels, ib.IFC4, ib.MM},
		{"pump-station-bars.ifc", bars, ib.IFC4, ib.MM},
		{"pump-station-roof.ifc", roof, ib.IFC4, ib.Metre},
		{"pump-station-column-stair.ifc", columnAndStair, ib.IFC2X3, ib.MM},
		{"pump-station-steel.ifc", steel, ib.IFC4, ib.MM},
	}
}

// Bytes is the model's text.
func (f File) Bytes() []byte {
	b := ib.New(f.as, f.unit, ib.Seed("Oddlebrook "+f.Name), ib.File(f.Name, "2026-03-02T08:00:00"),
		ib.Names("Oddlebrook pump station", "Oddlebrook works", "Pump station PS-2", "Chamber floor"))
	f.build(b)
	return b.Bytes()
}

const (
	concrete  = "Concrete 40 MPa"
	mildSteel = "Steel 4.6"
	plates    = "Steel S355"
)

// galvanised is the finish of nearly everything that is cast in here: the
// chamber is wet.
var galvanised = []ib.PSet{{Name: "Pset_ElementComponentCommon", Props: []ib.Prop{ib.Enumerated("CorrosionTreatment", "GALVANISED")}}}
