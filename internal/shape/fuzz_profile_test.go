package shape

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"embedcheck/ifcread"
	"embedcheck/internal/bounded"
	"embedcheck/internal/geom"
)

// coordinate makes a coordinate of a byte: mostly of a small grid, so that points
// meet, lie on one line and cross; at times a little off it, or beyond all sense.
func coordinate(b byte) float64 {
	v := float64(b % 8 * 10)
	switch b / 8 {
	case 24:
		return v + 1e-7
	case 25:
		return v + 0.01
	case 26:
		return -v
	case 27:
		return v * 1e9
	case 28:
		return 1e300
	case 29:
		return v * 1e-9
	}
	return v
}

// loop writes a closed polyline of pairs of bytes, and gives its box.
func loop(out *strings.Builder, id int, data []byte) geom.Box {
	box := geom.EmptyBox
	var refs []string
	for i := 0; i+1 < len(data) && i < 40; i += 2 {
		x, y := coordinate(data[i]), coordinate(data[i+1])
		box = box.Add(geom.V(x, y, 0))
		n := id + 1 + i/2
		fmt.Fprintf(out, "#%d=IFCCARTESIANPOINT((%E,%E));\n", n, x, y)
		refs = append(refs, fmt.Sprint("#", n))
	}
	if len(refs) > 0 {
		refs = append(refs, refs[0])
	}
	fmt.Fprintf(out, "#%d=IFCPOLYLINE((%s));\n", id, strings.Join(refs, ","))
	return box
}

// FuzzProfile extrudes any profile with a void: degenerate, crossing itself, of
// no size. What is read lies within the box that the profile sweeps and has no
// more volume than that.
func FuzzProfile(f *testing.F) {
	square := []byte{0, 0, 5, 0, 5, 5, 0, 5}
	for _, s := range [][]byte{
		square, {0, 0, 5, 5, 5, 0, 0, 5}, {0, 0, 5, 0}, {0, 0, 0, 0, 0, 0}, {0, 0, 5, 0, 3, 0, 7, 0},
		{0, 0, 5, 0, 5, 5, 2, 0, 0, 5}, {0, 0, 224, 0, 224, 224}, {0, 0, 197, 0, 197, 192, 0, 197}, {0, 0, 5, 0, 5, 5, 0, 5, 0, 0, 5, 0, 5, 5, 0, 5},
	} {
		f.Add(s, []byte{}, 30.0, 0.0)
		f.Add(s, []byte{1, 1, 3, 1, 3, 3, 1, 3}, 30.0, 0.5)
		f.Add(square, s, -1e-9, 0.0)
	}
	f.Add(square, square, math.Inf(1), math.NaN())
	f.Fuzz(func(t *testing.T, outer, inner []byte, depth, lean float64) {
		bounded.Work(t, len(outer)+len(inner), allowance, func() { judgeProfile(t, outer, inner, depth, lean) })
	})
}

func judgeProfile(t *testing.T, outer, inner []byte, depth, lean float64) {
	var text strings.Builder
	box := loop(&text, 200, outer)
	def := "#111=IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,#200);\n"
	if len(inner) > 1 {
		loop(&text, 300, inner)
		def = "#111=IFCARBITRARYPROFILEDEFWITHVOIDS(.AREA.,$,#200,(#300));\n"
	}
	fmt.Fprintf(&text, "%s#110=IFCEXTRUDEDAREASOLID(#111,#2,#112,%E);\n#112=IFCDIRECTION((%E,0.,1.));\n", def, depth, lean)
	file, err := ifcread.Parse("fuzz.ifc", source("IFC4", mmRad, product("Body", "X", "#110")+text.String()), ifcread.Options{Workers: 1})
	if err != nil {
		t.Fatalf("%v of\n%s", err, text.String())
	}
	in, ok := file.Get(100)
	if !ok {
		t.Fatal("the product is lost")
	}
	s := NewReader(file, ReadUnits(file)).Shape(in)
	if len(s.Parts) == 0 && len(s.Unread) == 0 {
		t.Fatalf("neither a body nor a reason of\n%s", text.String())
	}
	dir := geom.V(lean, 0, 1)
	size := box.Max.Sub(box.Min)
	most := size.X * size.Y * math.Abs(depth)
	far := geom.V(depth*lean/dir.Norm(), 0, depth/dir.Norm())
	swept := box.Add(box.Min.Add(far)).Add(box.Max.Add(far))
	for _, p := range s.Parts {
		m, err := p.Solid.Mesh()
		if err != nil {
			continue
		}
		// A void may reach over the outline by joinTol.
		b, tol := m.Transform(p.At).Box(), joinTol+1e-6*(1+swept.Min.Norm()+swept.Max.Norm())
		if low, high := b.Min.Sub(swept.Min), b.Max.Sub(swept.Max); min(low.X, low.Y, low.Z) < -tol || max(high.X, high.Y, high.Z) > tol {
			t.Errorf("%v is not within %v: the body of\n%s", b, swept, text.String())
		}
		if v := m.Volume(); !(v > 0) || v > most*(1+1e-6)+tol*(1+2*(size.X+size.Y)*math.Abs(depth)) {
			t.Errorf("volume %g, at most %g can be, of\n%s", v, most, text.String())
		}
	}
}
