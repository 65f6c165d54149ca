package shape

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// cube is the face list of a cube with the given corner and side, its point
// instances numbered from at. flip turns faces at random places of the list.
type cube struct {
	at      int
	x, y, z float64
	side    float64
	flip    string // one character a face, 'x' turns it
	without int    // face left out, 0 for none
}

var cubeFaces = [6][4]int{{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}}

func (c cube) points() string {
	var b strings.Builder
	for i := range 8 {
		fmt.Fprintf(&b, "#%d=IFCCARTESIANPOINT((%.6f,%.6f,%.6f));\n", c.at+i, c.x+c.side*float64(i&1), c.y+c.side*float64(i>>1&1), c.z+c.side*float64(i>>2))
	}
	return b.String()
}

// faceted is the cube as IfcFace instances and the list of their numbers.
func (c cube) faceted() (data, list string) {
	data = c.points()
	var ids []string
	for i, f := range cubeFaces {
		if i+1 == c.without {
			continue
		}
		orient := ".T."
		if i < len(c.flip) && c.flip[i] == 'x' {
			orient = ".F."
		}
		n := c.at + 20 + 3*i
		data += fmt.Sprintf("#%d=IFCFACE((#%d));\n#%d=IFCFACEOUTERBOUND(#%d,%s);\n#%d=IFCPOLYLOOP((#%d,#%d,#%d,#%d));\n", n, n+1, n+1, n+2, orient, n+2, c.at+f[0], c.at+f[1], c.at+f[2], c.at+f[3])
		ids = append(ids, fmt.Sprintf("#%d", n))
	}
	return data, strings.Join(ids, ",")
}

func TestFacetedBreps(t *testing.T) {
	brep := func(c cube) string {
		d, l := c.faceted()
		return d + "#100=IFCFACETEDBREP(#101);\n#101=IFCCLOSEDSHELL((" + l + "));\n"
	}
	outer, ol := cube{at: 200, side: 100}.faceted()
	hollow, hl := cube{at: 300, x: 30, y: 30, z: 30, side: 40}.faceted()
	runItems(t, []item{
		{name: "cube", data: brep(cube{at: 200, side: 100}), volume: 1e6, max: v(100, 100, 100)},
		{name: "cube in metres 2X3", schema: "IFC2X3", units: metre, data: brep(cube{at: 200, side: 0.1}), volume: 1e6, max: v(100, 100, 100)},
		{name: "some faces turned", data: brep(cube{at: 200, side: 100, flip: "..x.x"}), volume: 1e6, max: v(100, 100, 100)},
		{name: "inside out", data: brep(cube{at: 200, side: 100, flip: "xxxxxx"}), volume: 1e6, max: v(100, 100, 100)},
		{name: "a face twice", data: outer + "#100=IFCFACETEDBREP(#101);\n#101=IFCCLOSEDSHELL((" + ol + ",#223));\n", volume: 1e6, max: v(100, 100, 100)},
		{name: "far away", data: brep(cube{at: 200, x: 1e9, y: -2e9, z: 3e8, side: 1}), volume: 1, tol: 1e-6, min: v(1e9, -2e9, 3e8), max: v(1e9+1, -2e9+1, 3e8+1)},
		{name: "with a cavity that faces outwards", data: outer + hollow + "#100=IFCFACETEDBREPWITHVOIDS(#101,(#102));\n#101=IFCCLOSEDSHELL((" + ol + "));\n#102=IFCCLOSEDSHELL((" + hl + "));\n",
			volume: 1e6 - 64000, max: v(100, 100, 100)},
		{name: "shell model that closes", data: outer + "#100=IFCSHELLBASEDSURFACEMODEL((#101));\n#101=IFCOPENSHELL((" + ol + "));\n", volume: 1e6, max: v(100, 100, 100)},
		{name: "face model that closes", data: outer + "#100=IFCFACEBASEDSURFACEMODEL((#101));\n#101=IFCCONNECTEDFACESET((" + ol + "));\n", volume: 1e6, max: v(100, 100, 100)},
	})
}

// A wall with a window as one face with an inner bound on each side; a file with
// six digits of a metre, where the window's corners do not quite meet.
func TestBrepWithInnerBounds(t *testing.T) {
	pts := [][3]float64{{0, 0, 0}, {3, 0, 0}, {3, 0, 2}, {0, 0, 2}, {1, 0, 0.5}, {2, 0, 0.5}, {2, 0, 1.5}, {1, 0, 1.5}}
	var b strings.Builder
	for i, p := range pts {
		fmt.Fprintf(&b, "#%d=IFCCARTESIANPOINT((%.6f,%.6f,%.6f));\n#%d=IFCCARTESIANPOINT((%.6f,%.6f,%.6f));\n", 200+i, p[0], p[1], p[2], 220+i, p[0], p[1]+0.2, p[2])
	}
	// the reveal uses points of its own, a thousandth of a millimetre off
	for i, p := range pts[4:] {
		fmt.Fprintf(&b, "#%d=IFCCARTESIANPOINT((%.6f,%.6f,%.6f));\n#%d=IFCCARTESIANPOINT((%.6f,%.6f,%.6f));\n", 240+i, p[0]+1e-6, p[1], p[2], 250+i, p[0]+1e-6, p[1]+0.2, p[2])
	}
	loops := [][]int{{200, 201, 202, 203}, {223, 222, 221, 220}, {200, 220, 221, 201}, {201, 221, 222, 202}, {202, 222, 223, 203}, {203, 223, 220, 200},
		{240, 241, 251, 250}, {241, 242, 252, 251}, {242, 243, 253, 252}, {243, 240, 250, 253}}
	var faces []string
	for i, l := range loops {
		n := 300 + 10*i
		bounds := fmt.Sprintf("#%d", n+1)
		fmt.Fprintf(&b, "#%d=IFCFACEBOUND(#%d,.T.);\n#%d=IFCPOLYLOOP((#%d,#%d,#%d,#%d));\n", n+1, n+2, n+2, l[0], l[1], l[2], l[3])
		if i < 2 {
			h := []int{207, 206, 205, 204}
			if i == 1 {
				h = []int{224, 225, 226, 227}
			}
			bounds = fmt.Sprintf("#%d,#%d", n+3, n+1) // the hole first: the outer bound is the larger one
			fmt.Fprintf(&b, "#%d=IFCFACEBOUND(#%d,.T.);\n#%d=IFCPOLYLOOP((#%d,#%d,#%d,#%d));\n", n+3, n+4, n+4, h[0], h[1], h[2], h[3])
		}
		fmt.Fprintf(&b, "#%d=IFCFACE((%s));\n", n, bounds)
		faces = append(faces, fmt.Sprintf("#%d", n))
	}
	item{units: metre, data: b.String() + "#100=IFCFACETEDBREP(#101);\n#101=IFCCLOSEDSHELL((" + strings.Join(faces, ",") + "));\n",
		volume: (6 - 1) * 0.2 * 1e9, tol: 1e-5, max: v(3000, 200, 2000)}.run(t)
}

func TestFaceSets(t *testing.T) {
	const list = "#101=IFCCARTESIANPOINTLIST3D(((0.,0.,0.),(10.,0.,0.),(0.,20.,0.),(0.,0.,30.)));\n"
	runItems(t, []item{
		{name: "triangles", data: "#100=IFCTRIANGULATEDFACESET(#101,$,.T.,((1,3,2),(1,2,4),(2,3,4),(3,1,4)),$);\n" + list, volume: 1000, max: v(10, 20, 30)},
		{name: "first edition with normal indices", data: "#100=IFCTRIANGULATEDFACESET(#101,$,$,((1,3,2),(1,2,4),(2,3,4),(3,1,4)),((1,1,1),(2,2,2),(3,3,3),(4,4,4)));\n" + list, volume: 1000, max: v(10, 20, 30)},
		{name: "with PnIndex", data: "#100=IFCTRIANGULATEDFACESET(#101,$,.T.,((4,2,3),(4,3,1),(3,2,1),(2,4,1)),(4,3,2,1));\n" + list, volume: 1000, max: v(10, 20, 30)},
		{name: "said to be open, turned", data: "#100=IFCTRIANGULATEDFACESET(#101,$,.F.,((1,2,3),(1,2,4),(2,3,4),(3,1,4)),$);\n" + list, volume: 1000, max: v(10, 20, 30)},
		{name: "4X3 list with tags", schema: "IFC4X3", data: "#100=IFCTRIANGULATEDFACESET(#101,$,.T.,((1,3,2),(1,2,4),(2,3,4),(3,1,4)),$);\n#101=IFCCARTESIANPOINTLIST3D(((0.,0.,0.),(10.,0.,0.),(0.,20.,0.),(0.,0.,30.)),$);\n", volume: 1000, max: v(10, 20, 30)},
		{name: "polygons with a shaft", data: "#100=IFCPOLYGONALFACESET(#101,$,(#110,#111,#112,#113,#114,#115,#116,#117,#118,#119),$);\n" +
			"#101=IFCCARTESIANPOINTLIST3D(((0.,0.,0.),(9.,0.,0.),(9.,9.,0.),(0.,9.,0.),(3.,3.,0.),(6.,3.,0.),(6.,6.,0.),(3.,6.,0.),(0.,0.,5.),(9.,0.,5.),(9.,9.,5.),(0.,9.,5.),(3.,3.,5.),(6.,3.,5.),(6.,6.,5.),(3.,6.,5.)));\n" +
			"#110=IFCINDEXEDPOLYGONALFACEWITHVOIDS((1,4,3,2),((5,6,7,8)));\n#111=IFCINDEXEDPOLYGONALFACEWITHVOIDS((9,10,11,12),((13,16,15,14)));\n" +
			"#112=IFCINDEXEDPOLYGONALFACE((1,2,10,9));\n#113=IFCINDEXEDPOLYGONALFACE((2,3,11,10));\n#114=IFCINDEXEDPOLYGONALFACE((3,4,12,11));\n#115=IFCINDEXEDPOLYGONALFACE((4,1,9,12));\n" +
			"#116=IFCINDEXEDPOLYGONALFACE((5,13,14,6));\n#117=IFCINDEXEDPOLYGONALFACE((6,14,15,7));\n#118=IFCINDEXEDPOLYGONALFACE((7,15,16,8));\n#119=IFCINDEXEDPOLYGONALFACE((8,16,13,5));\n",
			volume: 72 * 5, max: v(9, 9, 5)},
	})
}

// One side is given as two faces that meet in the middle of the other side's
// edges: the points there must be put into the neighbours.
func TestTJunctionsAreClosed(t *testing.T) {
	const data = "#100=IFCPOLYGONALFACESET(#101,$,(#110,#111,#112,#113,#114,#115,#116),$);\n" +
		"#101=IFCCARTESIANPOINTLIST3D(((0.,0.,0.),(9.,0.,0.),(9.,9.,0.),(0.,9.,0.),(0.,0.,5.),(9.,0.,5.),(9.,9.,5.),(0.,9.,5.),(4.,0.,5.),(4.,9.,5.)));\n" +
		"#110=IFCINDEXEDPOLYGONALFACE((1,4,3,2));\n#111=IFCINDEXEDPOLYGONALFACE((5,9,10,8));\n#112=IFCINDEXEDPOLYGONALFACE((9,6,7,10));\n" +
		"#113=IFCINDEXEDPOLYGONALFACE((1,2,6,5));\n#114=IFCINDEXEDPOLYGONALFACE((2,3,7,6));\n#115=IFCINDEXEDPOLYGONALFACE((3,4,8,7));\n#116=IFCINDEXEDPOLYGONALFACE((4,1,5,8));\n"
	item{data: data, volume: 405, max: v(9, 9, 5)}.run(t)
}

func TestFlatPiecesAreOneFace(t *testing.T) {
	d, l := cube{at: 200, side: 100}.faceted()
	r := reader(t, "IFC4", mmRad, d+"#100=IFCFACETEDBREP(#101);\n#101=IFCCLOSEDSHELL(("+l+"));\n")
	s, err := r.solid(get(t, r, 100), 0)
	if err != nil {
		t.Fatal(err)
	}
	m, _ := s.Mesh()
	faces := map[int32]int{}
	for _, f := range m.Face {
		faces[f]++
	}
	if len(faces) != 6 || len(m.Tris) != 12 {
		t.Errorf("%d faces of %d triangles, want 6 of 12", len(faces), len(m.Tris))
	}
}

func TestPrimitives(t *testing.T) {
	n := float64(sides(10, bodyTol))
	// a sphere cut into rings and sectors like its own polygon: the volume of the
	// inscribed body lies a little below the sphere's
	sphere := 4. / 3 * math.Pi * 1000
	runItems(t, []item{
		{name: "block", data: "#100=IFCCSGSOLID(#101);\n#101=IFCBLOCK(#2,10.,20.,30.);\n", volume: 6000, max: v(10, 20, 30), kind: Extrusion},
		{name: "cylinder", data: "#100=IFCRIGHTCIRCULARCYLINDER(#2,30.,10.);\n", volume: ngon(int(n), 10) * 30, min: v(-10, -10, 0), max: v(10, 10, 30), kind: Rod},
		{name: "cone", data: "#100=IFCRIGHTCIRCULARCONE(#2,30.,10.);\n", volume: ngon(int(n), 10) * 10, min: v(-10, -10, 0), max: v(10, 10, 30)},
		{name: "pyramid", data: "#100=IFCRECTANGULARPYRAMID(#2,10.,20.,30.);\n", volume: 2000, max: v(10, 20, 30)},
		{name: "sphere", data: "#100=IFCSPHERE(#2,10.);\n", volume: sphere * 0.99, tol: 0.01, min: v(-10, -10, -10), max: v(10, 10, 10)},
	})
}
