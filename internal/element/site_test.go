package element

import (
	"math"
	"strings"
	"testing"

	"embedcheck/ifcread"
)

const siteHead = "ISO-10303-21;\nHEADER;\nFILE_SCHEMA(('SCHEMA'));\nENDSEC;\nDATA;\n" +
	"#1=IFCPROJECT('0YvctVUKr0kugbFTf53O9L',$,$,$,$,$,$,(#5),#2);\n#2=IFCUNITASSIGNMENT((#3));\n#3=IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.);\n" +
	"#4=IFCSITE('091a6ewbvCMQ2Vyiqspa7a',$,$,$,$,$,$,$,.ELEMENT.,$,$,$,$,$);\n#5=IFCGEOMETRICREPRESENTATIONCONTEXT($,'Model',3,1.E-5,$,NORTH);\n"

const siteTail = "ENDSEC;\nEND-ISO-10303-21;\n"

func site(t *testing.T, schema, north, data string) *Model {
	t.Helper()
	text := strings.NewReplacer("SCHEMA'", schema+"'", "NORTH", north).Replace(siteHead) + data + siteTail
	f, err := ifcread.Parse("site.ifc", []byte(text), ifcread.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return Read(f, 1)
}

// TestMapPlace reads positions worked out by hand: a grid turned by 30 degrees has
// cos 30 = 0.8660254 and sin 30 = 0.5 as the direction of its x axis (IfcMapConversion:
// XAxisAbscissa along the map's easting axis, XAxisOrdinate along its northing axis).
func TestMapPlace(t *testing.T) {
	const crs = "#21=IFCPROJECTEDCRS('EPSG:2193',$,$,$,$,$,UNIT);\n#22=IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.);\n"
	const inMetres = "#20=IFCMAPCONVERSION(#5,#21,1750000.25,5920000.5,12.5,0.8660254,0.5,0.001);\n"
	const inModelUnit = "#20=IFCMAPCONVERSION(#5,#21,1750000250.,5920000500.,12500.,$,$,$);\n"
	const sets = "#30=IFCRELDEFINESBYPROPERTIES('1kTvXnbbzCWw8lcMd1dR4o',$,$,$,(#4),#31);\n#31=IFCPROPERTYSET('2nJrDaLQfJ1QPhdJR0o97J',$,'ePset_MapConversion',$,(#32,#33,#34,#35,#36));\n" +
		"#32=IFCPROPERTYSINGLEVALUE('Eastings',$,IFCLENGTHMEASURE(1750000.25),$);\n#33=IFCPROPERTYSINGLEVALUE('Northings',$,IFCLENGTHMEASURE(5920000.5),$);\n#34=IFCPROPERTYSINGLEVALUE('OrthogonalHeight',$,IFCLENGTHMEASURE(12.5),$);\n" +
		"#35=IFCPROPERTYSINGLEVALUE('XAxisAbscissa',$,IFCREAL(0.),$);\n#36=IFCPROPERTYSINGLEVALUE('XAxisOrdinate',$,IFCREAL(-1.),$);\n" +
		"#40=IFCRELDEFINESBYPROPERTIES('39t4Pu3nTC4ekXYRIHJB9W',$,$,$,(#4),#41);\n#41=IFCPROPERTYSET('3Sa3dTJGn0H8TQIGiuGQd5',$,'ePset_ProjectedCRS',$,(#42,#43));\n" +
		"#42=IFCPROPERTYSINGLEVALUE('Name',$,IFCLABEL('EPSG:2193'),$);\n#43=IFCPROPERTYSINGLEVALUE('MapUnit',$,IFCLABEL('METRE'),$);\n"
	at := MapPlace{CRS: "EPSG:2193", Eastings: 1750000.25, Northings: 5920000.5, Height: 12.5}
	for _, c := range []struct {
		name, schema, data string
		turn, scale        float64
		none               bool
	}{
		{name: "map unit stated", schema: "IFC4", data: inMetres + strings.Replace(crs, "UNIT)", "#22)", 1), turn: 30, scale: 0.001},
		{name: "in the model's unit", schema: "IFC4X3", data: inModelUnit + strings.Replace(crs, "UNIT)", "$)", 1), scale: 1},
		{name: "property sets", schema: "IFC2X3", data: sets, turn: -90, scale: 1},
		{name: "nothing stated", schema: "IFC4", none: true},
		{name: "no number", schema: "IFC4", data: strings.Replace(inMetres, "1750000.25", "$", 1) + crs, none: true},
	} {
		got, ok := site(t, c.schema, "$", c.data).MapPlace()
		want := at
		want.Turn, want.Scale = c.turn, c.scale
		near := func(a, b float64) bool { return math.Abs(a-b) < 1e-5 }
		same := got.CRS == want.CRS && near(got.Eastings, want.Eastings) && near(got.Northings, want.Northings) &&
			near(got.Height, want.Height) && near(got.Turn, want.Turn) && got.Scale == want.Scale
		if ok == c.none || ok && !same {
			t.Errorf("%s: %+v %v, want %+v", c.name, got, ok, want)
		}
	}
}

func TestTrueNorth(t *testing.T) {
	for _, c := range []struct {
		ratios string
		want   float64
	}{
		{"0.,1.", 0}, {"1.,0.", -90}, {"-0.5,0.8660254", 30}, {"0.,-2.", -180}, {"0.5,0.8660254,0.", -30},
	} {
		got, ok := site(t, "IFC4", "#9", "#9=IFCDIRECTION(("+c.ratios+"));\n").TrueNorth()
		if turn := math.Abs(got - c.want); !ok || math.Min(turn, 360-turn) > 1e-6 {
			t.Errorf("(%s): %v %v, want %v", c.ratios, got, ok, c.want)
		}
	}
	for _, data := range []string{"", "#9=IFCDIRECTION((0.,0.));\n", "#9=IFCDIRECTION((1.));\n"} {
		if got, ok := site(t, "IFC4", "#9", data).TrueNorth(); ok {
			t.Errorf("%q: true north at %v", data, got)
		}
	}
}
