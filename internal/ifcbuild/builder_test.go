package ifcbuild_test

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"os"
	"regexp"
	"strings"
	"testing"

	. "embedcheck/internal/ifcbuild"
	"embedcheck/internal/ifcbuild/spfcheck"
)

const schemaTable = "../../../shared/reference/entities.tsv"

var schemas = []Schema{IFC2X3, IFC4, IFC4X3}

var units = []struct {
	name string
	u    Unit
}{{"mm", MM}, {"metre", Metre}, {"inch", Inch}, {"foot", Foot}}

// table reads the attribute lists of the schemas, made from the EXPRESS files.
func table(t *testing.T) spfcheck.Schemas {
	t.Helper()
	s, err := spfcheck.ReadSchemas(schemaTable)
	if errors.Is(err, os.ErrNotExist) {
		t.Skipf("%s is not there: attribute lists are not checked", schemaTable)
	}
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func parse(t *testing.T, b *Builder) *spfcheck.File {
	t.Helper()
	f, err := spfcheck.Parse(b.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func TestEveryFormFitsItsSchema(t *testing.T) {
	all := table(t)
	for _, s := range schemas {
		for _, u := range units {
			t.Run(s.String()+" "+u.name, func(t *testing.T) {
				b := New(s, u.u, Degrees())
				zoo(b)
				relations(b)
				f := parse(t, b)
				for _, err := range append(f.Sound(), f.Against(all)...) {
					t.Error(err)
				}
			})
		}
	}
}

func TestBoxesAreAsMeant(t *testing.T) {
	turned := Facing(V(312_000_456, 5_811_000_123, 12_000), V(0, -1, 0), V(0.6, 0, 0.8))
	places := []struct {
		name string
		opt  Option
		at   Frame
	}{
		{"as built", Seed("model"), At(0, 0, 0)},
		{"moved and turned", Placed(turned), turned},
		{"moved and turned, baked", Baked(turned), turned},
	}
	for _, s := range schemas {
		for _, u := range units {
			for _, p := range places {
				t.Run(s.String()+" "+u.name+" "+p.name, func(t *testing.T) {
					b := New(s, u.u, p.opt)
					beasts := zoo(b)
					f := parse(t, b)
					for _, z := range beasts {
						got, err := f.Box(z.ref.ID, u.u.MM())
						if err != nil {
							t.Errorf("%s: %v", z.name, err)
							continue
						}
						if p.at.X.X != 1 { // a box of a turned body is that of its corners, for boxes only
							sameCentre(t, z, got, p.at)
							continue
						}
						for _, d := range []float64{
							got.Min[0] - z.lo.X, got.Min[1] - z.lo.Y, got.Min[2] - z.lo.Z,
							got.Max[0] - z.hi.X, got.Max[1] - z.hi.Y, got.Max[2] - z.hi.Z,
						} {
							if math.Abs(d) > 0.02 {
								t.Errorf("%s: box %v to %v, meant %v to %v", z.name, got.Min, got.Max, z.lo, z.hi)
								break
							}
						}
					}
				})
			}
		}
	}
}

// sameCentre checks a turned body: bodies that are the same upside down keep
// the centre of their box.
func sameCentre(t *testing.T, z beast, got spfcheck.Box, at Frame) {
	t.Helper()
	switch z.name {
	case "block", "cylinder", "tube along y", "hexagon", "holes", "brep with holes", "triangles", "polygons", "shared", "several", "disk on a polyline", "mapped and mirrored":
	default:
		return
	}
	c := at.Apply(z.lo.Lerp(z.hi, 0.5))
	for k, want := range []float64{c.X, c.Y, c.Z} {
		if mid := (got.Min[k] + got.Max[k]) / 2; math.Abs(mid-want) > 0.02 {
			t.Errorf("%s: centre %v, meant %v", z.name, mid, want)
		}
	}
}

func TestSameCallsSameBytes(t *testing.T) {
	build := func() []byte {
		b := New(IFC4, MM)
		zoo(b)
		relations(b)
		return b.Bytes()
	}
	if !bytes.Equal(build(), build()) {
		t.Error("two builds of one model differ")
	}
}

func TestStreamWritesTheSame(t *testing.T) {
	kept := New(IFC4, MM)
	zoo(kept)
	relations(kept)
	var out bytes.Buffer
	stream := NewTo(&out, IFC4, MM)
	zoo(stream)
	relations(stream)
	if err := stream.Close(); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(out.Bytes(), kept.Bytes()) {
		t.Error("the stream and the model in memory differ")
	}
	if got := stream.Size(); got != int64(out.Len()) {
		t.Errorf("Size() = %d, %d bytes written", got, out.Len())
	}
}

// full is a writer that takes so many bytes.
type full struct{ room int }

var errFull = errors.New("no room")

func (f *full) Write(p []byte) (int, error) {
	if f.room -= len(p); f.room < 0 {
		return 0, errFull
	}
	return len(p), nil
}

func TestStreamKeepsTheFirstError(t *testing.T) {
	b := NewTo(&full{room: 200_000}, IFC4, MM)
	for range 3000 {
		b.Proxy("p", At(0, 0, 0), Block(V(0, 0, 0), V(1, 1, 1)))
	}
	if err := b.Close(); !errors.Is(err, errFull) {
		t.Errorf("Close() = %v, want %v", err, errFull)
	}
}

// The same model in every legal way of writing it has the same instances.
func TestSyntaxChangesNothing(t *testing.T) {
	build := func(s Syntax) *Builder {
		b := New(IFC4, MM, WithSyntax(s))
		zoo(b)
		relations(b)
		b.Proxy(`it's a \ "Büro" 日本 😀`, At(-12.5, 0, 1e-7))
		return b
	}
	plain := parse(t, build(Syntax{}))
	for _, c := range []struct {
		name string
		s    Syntax
	}{
		{"blanks", Syntax{Blanks: true}},
		{"line breaks CR", Syntax{Breaks: true, Newline: "\r"}},
		{"line breaks CRLF", Syntax{Breaks: true, Newline: "\r\n"}},
		{"comments", Syntax{Comments: true}},
		{"lower case", Syntax{Lower: true}},
		{"exponents", Syntax{Exponent: true}},
		{"backward", Syntax{Backward: true}},
		{"everything", Syntax{Blanks: true, Breaks: true, Comments: true, Lower: true, Exponent: true, Backward: true, Newline: "\r\n"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := parse(t, build(c.s))
			if len(f.Insts) != len(plain.Insts) {
				t.Fatalf("%d instances, %d in plain syntax", len(f.Insts), len(plain.Insts))
			}
			for _, want := range plain.Insts {
				if got := f.ByID[want.ID]; got == nil || show(got) != show(want) {
					t.Fatalf("got %s, want %s", show(got), show(want))
				}
			}
		})
	}
}

func show(i *spfcheck.Instance) string { return fmt.Sprintf("%+v", i) }

func TestNumbersOfInstances(t *testing.T) {
	b := New(IFC4, MM, WithSyntax(Syntax{FirstID: 1 << 33, Step: 7}))
	w := b.Wall("W", At(0, 0, 0), Block(V(0, 0, 0), V(1, 1, 1)))
	if w.ID < 1<<33 || (w.ID-1<<33)%7 != 0 {
		t.Errorf("instance %d, want 2^33 and a multiple of 7", w.ID)
	}
	for _, err := range parse(t, b).Sound() {
		t.Error(err)
	}
}

func TestTexts(t *testing.T) {
	quoted := New(IFC4, MM)
	quoted.Proxy(`it's \ M20`, At(0, 0, 0))
	if want := `'it''s \\ M20'`; !bytes.Contains(quoted.Bytes(), []byte(want)) {
		t.Errorf("%s is not in the file", want)
	}
	for e, want := range map[Escape]string{
		EscapeX2:    `'B\X2\00FC\X0\ \X2\65E5\X0\\X2\D83DDE00\X0\'`,
		EscapeX:     `'B\X\FC \X2\65E5\X0\\X4\0001F600\X0\'`,
		EscapeS:     `'B\S\| \X2\65E5\X0\\X2\D83DDE00\X0\'`,
		EscapeUTF8:  `'Bü 日😀'`,
		EscapeEvery: `'\X2\0042\X0\\X2\00FC\X0\ \X2\65E5\X0\\X2\D83DDE00\X0\'`,
	} {
		b := New(IFC4, MM, WithSyntax(Syntax{Texts: e}))
		b.Proxy(`Bü 日😀`, At(0, 0, 0))
		if !bytes.Contains(b.Bytes(), []byte(want)) {
			t.Errorf("escape %d: %s is not in the file", e, want)
		}
	}
}

// The check vectors are those of IfcGloballyUniqueId: 128 bits in base 64, the
// most significant digit first, so that the first digit is at most 3.
func TestGlobalIDs(t *testing.T) {
	valid := regexp.MustCompile(`^[0-3][0-9A-Za-z_$]{21}$`)
	seen := map[string]bool{}
	for i := range 10000 {
		g := GlobalID(fmt.Sprint(i))
		if !valid.MatchString(g) {
			t.Fatalf("%q is no GlobalId", g)
		}
		seen[g] = true
	}
	if len(seen) != 10000 {
		t.Errorf("%d GlobalIds of 10000 texts", len(seen))
	}
}

func TestSeedsKeepGlobalIDs(t *testing.T) {
	one := func(opts ...Option) string {
		b := New(IFC4, MM, opts...)
		return b.Add(Element{Class: "IfcWall", Seed: "panel 3"}).GlobalID()
	}
	two := New(IFC4, Metre)
	two.Slab("something before it", At(0, 0, 0))
	if a, b := one(), two.Add(Element{Class: "IfcWall", Seed: "panel 3"}).GlobalID(); a != b {
		t.Errorf("the same seed gives %s and %s", a, b)
	}
	if a, b := one(), one(Seed("other")); a == b {
		t.Errorf("models with different seeds share %s", a)
	}
}

func TestFramesKeepWholeNumbers(t *testing.T) {
	f := At(10, 20, 30).TurnZ(90).TurnX(270).TurnY(180).Shift(1, 2, 3)
	for _, v := range []Vec{f.O, f.X, f.Y, f.Z} {
		for _, c := range []float64{v.X, v.Y, v.Z} {
			if c != math.Trunc(c) {
				t.Fatalf("%v after quarter turns", f)
			}
		}
	}
	if n := f.X.Cross(f.Y).Sub(f.Z).Len(); n != 0 {
		t.Errorf("the frame is not right-handed: %v", f)
	}
}

func TestManyElementsInOneStorey(t *testing.T) {
	b := New(IFC4, MM)
	for range 4500 {
		b.Proxy("p", At(0, 0, 0)).Made("Steel")
	}
	f := parse(t, b)
	n := 0
	for _, i := range f.Insts {
		if i.Keyword == "IFCRELCONTAINEDINSPATIALSTRUCTURE" {
			n += len(i.Args[4].List)
		}
	}
	if n != 4500 {
		t.Errorf("%d of 4500 elements are in the storey", n)
	}
}

func TestCommentStandsBehindItsInstance(t *testing.T) {
	b := New(IFC4, MM)
	b.Add(Element{Class: "IfcWall", Name: "W", Comment: "want edge-distance"})
	line := regexp.MustCompile(`(?m)^#\d+=IFCWALL\(.*\); /\* want edge-distance \*/$`)
	if !line.Match(b.Bytes()) {
		t.Error("no comment behind the wall")
	}
	if strings.Contains(string(New(IFC4, MM).Bytes()), "/*") {
		t.Error("a comment that nobody asked for")
	}
}

func BenchmarkBars(b *testing.B) {
	m := NewMap(Rod(Straight(V(0, 0, 0), V(0, 0, 2900)), 12))
	var size int64
	for b.Loop() {
		var n counter
		w := NewTo(&n, IFC4, MM)
		for i := range 1000 {
			var body []Solid
			for k := range 20 {
				body = append(body, m.At(At(float64(200*k)+0.5, float64(i), 40)))
			}
			w.Add(Element{Class: "IfcReinforcingBar", Name: "N12", Diameter: 12, Body: body, Seed: fmt.Sprint(i)})
		}
		w.Close()
		size = int64(n)
	}
	b.SetBytes(size)
}

type counter int64

func (c *counter) Write(p []byte) (int, error) { *c += counter(len(p)); return len(p), nil }
