package ifcread_test

import (
	"errors"
	"fmt"
	"log"

	"embedcheck/ifcread"
)

const model = `ISO-10303-21;
HEADER;
FILE_DESCRIPTION((''),'2;1');
FILE_NAME('panel.ifc','2026-03-02T08:15:00',(''),(''),'','','');
FILE_SCHEMA(('IFC4'));
ENDSEC;
DATA;
#1=IFCCARTESIANPOINT((0.,0.,-150.));
#2=IFCCARTESIANPOINT((0.,0.,0.));
#3=IFCPOLYLINE((#1,#2));
#4=IFCSWEPTDISKSOLID(#3,12.,$,$,$);
#5=IFCMECHANICALFASTENER('2O2Fr$t4X7Zf8NOew3FNr2',$,'HB-1',$,'M24',#77,$,'HB-1',24.,480.,.ANCHORBOLT.);
#6=IFCPROPERTYSINGLEVALUE('Projection',$,IFCPOSITIVELENGTHMEASURE(110.),$);
ENDSEC;
END-ISO-10303-21;
`

func Example() {
	f, err := ifcread.Parse("panel.ifc", []byte(model), ifcread.Options{}) // or Open, for files
	if err != nil {
		log.Fatal(err)
	}
	for _, bolt := range f.Of(ifcread.TypeOf("IfcElementComponent")) {
		name, _ := bolt.Attr("Name").Str()
		d, _ := bolt.Attr("NominalDiameter").Float()
		fmt.Printf("line %d: #%d=%s %s, %g, %s\n", f.Line(bolt), bolt.ID(), bolt.Name(), name, d, bolt.Attr("PredefinedType").Enum())
	}
	// Output: line 12: #5=IfcMechanicalFastener HB-1, 24, ANCHORBOLT
}

// A reference that leads nowhere is reported once; reading goes on.
func ExampleFile_Problems() {
	f, _ := ifcread.Parse("panel.ifc", []byte(model), ifcread.Options{})
	bolt, _ := f.Get(5)
	if _, ok := bolt.Attr("ObjectPlacement").Inst(); !ok {
		fmt.Println("no placement")
	}
	for _, p := range f.Problems() {
		fmt.Println(p)
		fmt.Println(errors.Is(p, ifcread.ErrMissing))
	}
	// Output:
	// no placement
	// panel.ifc:12: #5=IFCMECHANICALFASTENER: missing instance: it refers to #77, which is not in the file; what depends on it is left out, export the model again
	// true
}

// In hot paths positions are looked up once, and buffers used again.
func ExampleInst_Args() {
	f, _ := ifcread.Parse("panel.ifc", []byte(model), ifcread.Options{})
	polyline, point := ifcread.TypeOf("IfcPolyline"), ifcread.TypeOf("IfcCartesianPoint")
	points, coordinates := f.Pos(polyline, "Points"), f.Pos(point, "Coordinates")
	var args []ifcread.Value
	var refs []ifcread.Inst
	var xyz []float64
	for _, line := range f.Of(polyline) {
		args = line.Args(args[:0])
		refs = args[points].Refs(refs[:0])
		for _, p := range refs {
			xyz = p.Arg(coordinates).Floats(xyz[:0])
			fmt.Println(xyz)
		}
	}
	// Output:
	// [0 0 -150]
	// [0 0 0]
}

func ExampleValue_Typed() {
	f, _ := ifcread.Parse("panel.ifc", []byte(model), ifcread.Options{})
	p, _ := f.Get(6)
	name, inner, _ := p.Attr("NominalValue").Typed()
	mm, _ := inner.Float()
	fmt.Println(name, mm)
	// Output: IFCPOSITIVELENGTHMEASURE 110
}

func ExampleGlobalIDOf() {
	uuid := [16]byte{0x61, 0x95, 0x4a, 0xd0, 0x34, 0x90, 0x4d, 0xe6, 0xb6, 0x33, 0x8a, 0x39, 0x6b, 0xf5, 0x07, 0x52}
	fmt.Println(ifcread.GlobalIDOf(uuid))
	// Output: 1XbKhGD91DvhOpYZbhzGTI
}
