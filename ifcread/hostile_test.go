package ifcread

import (
	"strings"
	"testing"
)

// TestHostileText repeats pieces of text for which a careless scanner looks
// through the rest of the file at every piece: megabytes of them would take
// hours. All it checks is that reading comes to an end.
func TestHostileText(t *testing.T) {
	const size = 2 << 20
	for _, piece := range []string{
		"'", "''", "/*", "*/", "/*/", ";", "=", "#", "#1=", "#1", "(", ")", "\n", "\r", "\x00", "x",
		"#1=A(", "#1=A(\n", "#1=A('\n", "#1=A('\r", "#1=A('", "#1=A(=\n", "#1=A(=", "#1=A(/*\n", "#1=A(/*", "#1/*\n", "#1=/*", "/*\n#1=",
		"'\n#1=", "\n#1=A();", "\n#1=IFCWALL($)", "\n#1=IFCWALL('a)", "#1=IFCWALL(\"", "\n#1=IFCWALL((;", "\n#1 X", "\n#=", "x;", "DATA(", "ENDSEC",
		"\n#1=IFCWALL('a','b;');", "\n#1=IFCWALL(($);", "#1=IFCWALL($);/*", "\r\n", "#1=IFCWALL($)/",
	} {
		for _, start := range []string{"", "#1=IFCWALL($);", "#1=IFCWALL(", "#1=IFCWALL('"} {
			text := head + "#7=IFCSLAB($);\n" + start + strings.Repeat(piece, size/len(piece))
			f, err := Parse("hostile.ifc", []byte(text), Options{Workers: 2, chunk: 1 << 16})
			if err != nil {
				continue
			}
			useAll(f)
		}
	}
	// One instance with a deep or long value.
	for _, c := range [][3]string{
		{"(", "", ")"}, {"IFCA(", "1.", ")"}, {"(IFCA(", "1.", "))"}, {"1.,", "1.", ""}, {"(1.),", "$", ""}, {"/**/", "1.", "/**/"}, {"'',", "''", ""},
		{"IFCA(1.),", "$", ""}, {"(/*", "*/1.", ""}, {"''", "''", ""}, {" ", "1.", " "}, {"9", "9", ""}, {"IFCA", "(", ")"},
	} {
		n := size / 4 / (len(c[0]) + len(c[2]))
		for _, around := range [][2]string{{"", ""}, {"(", ")"}, {"IFCA(", ")"}} {
			f, err := Parse("deep.ifc", []byte(head+"#1=IFCWALL("+around[0]+strings.Repeat(c[0], n)+c[1]+strings.Repeat(c[2], n)+around[1]+");\n"+tail), Options{})
			if err == nil {
				useAll(f)
			}
		}
	}
}

// useAll calls what callers call for every value.
func useAll(f *File) {
	var args []Value
	for row := range f.offs {
		i := Inst{f, uint32(row)}
		args = i.Args(args[:0])
		i.Attr("Tag")
		f.Get(i.ID())
		for _, v := range args {
			v.Kind()
			v.Float()
			v.Int()
			v.Bool()
			v.Str()
			v.Enum()
			v.Inst()
			v.Typed()
			v.Len()
			v.Floats(nil)
			v.Ints(nil)
			v.Refs(nil)
		}
	}
	f.Of(TypeOf("IfcRoot"))
	f.Problems()
}

// TestHostileXML is the same for XML.
func TestHostileXML(t *testing.T) {
	const size = 1 << 20
	const root = `<ifcXML xmlns="http://www.buildingsmart-tech.org/ifcXML/IFC4/final" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance">`
	for _, piece := range []string{
		"<IfcWall/>", "<IfcWall>", "</IfcWall>", "<IfcWall><IsDecomposedBy>", "<IfcBooleanResult><FirstOperand>", "<a>", "<a/>", "<a b='c'/>", "<!---->", "<![CDATA[", "&", "&#1;", "&lt;",
		"<IfcWall id='i1'/>", "<IfcWall ref='i1'/>", "<IfcWall id='", "<IfcWall Name='&#10;#1=IFCWALL($);'/>", "<IfcCartesianPointList3D CoordList='", "1 ", "'", ">", "\x00", "<IfcRelAggregates>", "<IfcRelAggregates ",
		"Name='x' ", "<IfcPropertySet><HasProperties>", "<IfcPropertySingleValue><NominalValue><IfcLabel>", "<Seq-x>", "<x pos='9999999999'/>", "<?x?>", "<IfcCartesianPoint Coordinates='1e999999999 0'/>",
	} {
		for _, start := range []string{"", "<IfcWall id='i7'/>", "<IfcWall Name='", "<IfcPolyline><Points>", "<IfcTriangulatedFaceSet><CoordIndex>", "<IfcProject><RepresentationContexts>"} {
			f, err := Parse("hostile.ifcxml", []byte(root+start+strings.Repeat(piece, size/len(piece))), Options{Workers: 2})
			if err == nil {
				useAll(f)
			}
		}
	}
	deep := root + strings.Repeat("<IfcProject><IsDecomposedBy>", maxXMLDepth)
	if _, err := Parse("deep.ifcxml", []byte(deep), Options{}); err == nil || !strings.Contains(err.Error(), "nest deeper than") || !strings.HasPrefix(err.Error(), "deep.ifcxml:1: ") {
		t.Errorf("too deep: %v", err)
	}
	long := root + strings.Repeat("<IfcReinforcingBarType/>", 1000)
	if _, err := Parse("long.ifcxml", []byte(long), Options{MaxSize: int64(len(long))}); err == nil || !strings.Contains(err.Error(), "split the model") {
		t.Errorf("more clear text than is read: %v", err)
	}
}
