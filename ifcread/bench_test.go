package ifcread

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// writeModel is text of about n bytes as it is in models with reinforcement: for
// each bar points, polylines, swept disks, a placement and properties.
func writeModel(n int) string {
	r := rand.New(rand.NewPCG(11, 12))
	var b strings.Builder
	b.Grow(n + 4096)
	b.WriteString(head)
	id := 100
	put := func(format string, args ...any) int {
		id++
		fmt.Fprintf(&b, "#%d="+format+";\n", append([]any{id}, args...)...)
		return id
	}
	xyz := func() int {
		return put("IFCCARTESIANPOINT((%.3f,%.6f,%.1f))", r.Float64()*1e4, r.Float64()*1e4, r.Float64()*1e3)
	}
	for b.Len() < n {
		place := put("IFCLOCALPLACEMENT($,#%d)", put("IFCAXIS2PLACEMENT3D(#%d,#%d,$)", xyz(), put("IFCDIRECTION((0.,0.,1.))")))
		var items []string
		for range 4 {
			line := put("IFCPOLYLINE((#%d,#%d,#%d))", xyz(), xyz(), xyz())
			items = append(items, fmt.Sprintf("#%d", put("IFCSWEPTDISKSOLID(#%d,%d.,$,$,$)", line, 6+r.IntN(10))))
		}
		shape := put("IFCPRODUCTDEFINITIONSHAPE($,$,(#%d))", put("IFCSHAPEREPRESENTATION(#20,'Body','AdvancedSweptSolid',(%s))", strings.Join(items, ",")))
		bar := put("IFCREINFORCINGBAR('2O2Fr$t4X7Zf8NOew%05d',#5,'Bar N%d',$,'L-Bar',#%d,#%d,'%d','500N',16.,201.,%.1f,.MAIN.,.TEXTURED.)", id%100000, r.IntN(40), place, shape, id, r.Float64()*1e4)
		mark := put("IFCPROPERTYSINGLEVALUE('Bar mark',$,IFCLABEL('N%d-%d'),$)", r.IntN(40), id)
		weight := put("IFCPROPERTYSINGLEVALUE('Weight',$,IFCMASSMEASURE(%.4f),$)", r.Float64()*20)
		set := put("IFCPROPERTYSET('2O2Fr$t4X7Zf8NOeX%05d',#5,'Reinforcement',$,(#%d,#%d))", id%100000, mark, weight)
		put("IFCRELDEFINESBYPROPERTIES('2O2Fr$t4X7Zf8NOeY%05d',#5,$,$,(#%d),#%d)", id%100000, bar, set)
	}
	b.WriteString(tail)
	return b.String()
}

func BenchmarkParse(b *testing.B) {
	for _, mb := range []int{1, 50} {
		data := []byte(writeModel(mb << 20))
		for _, workers := range []int{1, 2} {
			b.Run(fmt.Sprintf("MB=%d/workers=%d", mb, workers), func(b *testing.B) {
				b.SetBytes(int64(len(data)))
				n := 0
				for b.Loop() {
					f, err := Parse("a", data, Options{Workers: workers})
					if err != nil {
						b.Fatal(err)
					}
					n = f.Len()
				}
				b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/instance")
			})
		}
	}
}

func BenchmarkOpen(b *testing.B) {
	data := []byte(writeModel(50 << 20))
	path := filepath.Join(b.TempDir(), "a.ifc")
	if err := os.WriteFile(path, data, 0o666); err != nil {
		b.Fatal(err)
	}
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		if _, err := Open(path, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkDecode(b *testing.B) {
	f, err := Parse("a", []byte(writeModel(1<<20)), Options{})
	if err != nil {
		b.Fatal(err)
	}
	bar, point, line, property := f.Of(TypeOf("IfcReinforcingBar")), f.Of(TypeOf("IfcCartesianPoint")), f.Of(TypeOf("IfcPolyline")), f.Of(TypeOf("IfcPropertySingleValue"))
	var args []Value
	var floats []float64
	var refs []Inst
	for _, c := range []struct {
		name string
		list []Inst
		do   func(i Inst)
	}{
		{"Args of a bar", bar, func(i Inst) { args = i.Args(args[:0]) }},
		{"Attr of a bar", bar, func(i Inst) { i.Attr("NominalDiameter").Float() }},
		{"Floats of a point", point, func(i Inst) { floats = i.Arg(0).Floats(floats[:0]) }},
		{"Refs of a polyline", line, func(i Inst) { refs = i.Arg(0).Refs(refs[:0]) }},
		{"Str of a property", property, func(i Inst) { i.Arg(0).Str() }},
		{"ID", point, func(i Inst) { i.ID() }},
	} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for k := 0; b.Loop(); k++ {
				c.do(c.list[k%len(c.list)])
			}
		})
	}
}

// BenchmarkDecodeString decodes strings as they stand in files.
func BenchmarkDecodeString(b *testing.B) {
	for _, c := range []struct{ name, text string }{
		{"plain", "Ferrule M16x95 HDG, back face"},
		{"apostrophes", "Ferrule ''M16'' x 95"},
		{"two bytes", `Tr\X2\00E4\X0\ger \X2\043104420442\X0\`},
		{"one byte", `Tr\X\E4ger \S\d`},
		{"UTF-8", "Träger, Dübel Ø16"},
		{"8-bit text", "Tr\xe4ger, D\xfcbel"},
	} {
		b.Run(c.name, func(b *testing.B) {
			raw := []byte(c.text)
			b.SetBytes(int64(len(raw)))
			b.ReportAllocs()
			for b.Loop() {
				DecodeString(raw)
			}
		})
	}
}

func BenchmarkTables(b *testing.B) {
	for b.Loop() {
		readTables()
	}
}

func BenchmarkTypeOf(b *testing.B) {
	for b.Loop() {
		TypeOf("IfcMechanicalFastener")
	}
}
