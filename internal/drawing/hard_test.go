package drawing

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"path/filepath"
	"strings"
	"testing"

	"embedcheck/internal/drawing/handmade"
	"embedcheck/internal/drawing/subject"
	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
	"embedcheck/rules"
)

// about makes up a finding of a rule about an anchor of an item, or about the
// item itself (-1).
func about(m *model.Model, rule string, it *model.Item, anchor int, measured, required float64, unit string) *finding.Finding {
	ref := func(r model.Ref) finding.Ref {
		return finding.Ref{GlobalID: r.GlobalID, Class: r.Class, Name: r.Name, Mark: r.Mark, Model: m.Sources[r.Source].Name}
	}
	at := it.Box.Center()
	if anchor >= 0 && it.Anchors[anchor].Entry != nil {
		at = it.Anchors[anchor].Entry.Point
	}
	f := &finding.Finding{
		ID: "0123456789abcdef0123456789abcdef", Rule: rule, Set: it.Name, Title: rule + ": " + it.Name, Message: "text.", Source: "test",
		Instances: []finding.Instance{{
			Item: ref(it.Ref), Anchor: anchor, Measured: measured, Required: required, Unit: unit, Relation: finding.AtLeast, At: m.World(at),
		}},
	}
	if it.Host != nil {
		f.Host = ref(it.Host.Ref)
	}
	return f
}

func TestEveryRuleIsDrawn(t *testing.T) {
	for _, build := range []func(geom.Affine) *handmade.Scene{handmade.Panel, handmade.Lifter, handmade.PlateAtOpening, handmade.Footing} {
		for _, p := range []int{0, 5} {
			p := handmade.Placements[p]
			s := build(p.At)
			mk := New(subject.NewIndex(s.Model))
			for _, r := range rules.All {
				for _, anchor := range []int{-1, 0} {
					f := about(s.Model, r.ID, s.Model.Items[0], anchor, 12.3, 45.6, r.Unit)
					if r.Unit == "" {
						f.Instances[0].Relation = finding.None
					}
					d, err := mk.For(f)
					if err != nil {
						t.Errorf("%s: %v", r.ID, err)
						continue
					}
					name := fmt.Sprint(r.ID, " of ", s.Model.Items[0].Name, " ", anchor, " ", p.Name)
					save(t, name, d)
					checkSheet(t, name, d)
					svgDims(t, name, d)
				}
			}
		}
	}
}

func TestModelsAreDrawn(t *testing.T) {
	for name, pattern := range map[string]string{
		"demo": filepath.Join("..", "..", "testdata", "demo", "*.ifc"),
		"real": filepath.Join("..", "..", "..", "shared", "data", "models", "*.ifc"),
	} {
		t.Run(name, func(t *testing.T) {
			m, found := checked(t, pattern)
			mk := New(subject.NewIndex(m))
			for i := range found {
				drawOne(t, fmt.Sprintf("%s %03d %s", name, i, found[i].Rule), mk, &found[i])
			}
		})
	}
}

// drawOne draws a finding of a model and checks the sheet and its failing
// dimension.
func drawOne(t *testing.T, name string, mk *Maker, f *finding.Finding) {
	t.Helper()
	d, err := mk.For(f)
	var no *subject.NoPlaceError
	if errors.As(err, &no) && f.Rule == finding.NotChecked {
		return // nothing of it was read
	}
	if err != nil {
		t.Errorf("%s: %v", f.Title, err)
		return
	}
	save(t, name, d)
	checkSheet(t, name, d)
	dims, _ := svgDims(t, name, d)
	for _, dim := range dims {
		if in := f.Worst(); dim.Fails && math.Abs(dim.ValueMM-in.Measured) > 0.01 {
			t.Errorf("%s: %v is drawn as failing, measured was %v", name, dim, in.Measured)
		}
	}
}

var hostileNames = []string{
	`<script>alert("x")</script>`, `a & b < c > d "e" 'f'`, "]]>", "\x00\x1b[31mred\x7f", "\u202eright to left\u202c",
	"\xff\xfe broken", strings.Repeat("W", 5000), strings.Repeat("long name ", 300), "基礎アンカー HB-1", "\u0301\u0301\u0301", "", " ", "😀😀😀😀",
	"\ufffe\U0001ffff", "line\nbreak\ttab",
}

func TestHostileNames(t *testing.T) {
	for _, n := range hostileNames {
		s := handmade.Lifter(geom.Identity)
		f := s.Found(t, "reinforcement-clearance")
		it, h := s.Model.Items[0], s.Model.Hosts[0]
		it.Name, it.Size, h.Name, h.Class, s.Model.Sources[0].Name = n, n, n, n, n
		f.Title, f.Message, f.Source, f.Set, f.ID = n, n, n, n, n
		f.Host.Name, f.Host.Class, f.Host.Model = n, n, n
		f.Instances[0].Item.Name, f.Instances[0].Item.Model = n, n
		d, err := New(subject.NewIndex(s.Model)).For(f)
		if err != nil {
			t.Errorf("%.20q: %v", n, err)
			continue
		}
		checkSheet(t, fmt.Sprintf("%.20q", n), d)
		var b bytes.Buffer
		if err := d.SVG(&b); err != nil {
			t.Fatal(err)
		}
		dec := xml.NewDecoder(&b)
		for {
			tok, err := dec.Token()
			if errors.Is(err, io.EOF) {
				break
			}
			if err != nil {
				t.Errorf("%.20q: %v", n, err)
				break
			}
			if e, ok := tok.(xml.StartElement); ok && e.Name.Local == "script" {
				t.Errorf("%.20q became an element", n)
			}
		}
	}
}

// oddHosts are hosts of unusual sizes and shapes, each with one bolt into its top.
var oddHosts = []struct {
	name    string
	body    *geom.Mesh
	at      geom.Vec
	d, long float64
}{
	{"tiny cube", geom.BoxMesh(geom.V(0, 0, 0), geom.V(30, 30, 30)), geom.V(10, 15, 30), 4, 30},
	{"huge slab", geom.BoxMesh(geom.V(0, 0, 0), geom.V(90000, 60000, 900)), geom.V(70, 30000, 900), 24, 500},
	{"needle", geom.BoxMesh(geom.V(0, 0, 0), geom.V(100, 100, 40000)), geom.V(40, 50, 40000), 16, 300},
	{"sheet", geom.BoxMesh(geom.V(0, 0, 0), geom.V(8000, 8000, 25)), geom.V(4000, 20, 25), 12, 60},
	{"round column", geom.Tube(geom.Rod{Path: []geom.Vec{{}, {Z: 3000}}, Radius: 250}, 48), geom.V(200, 0, 3000), 20, 400},
	{"off the edge", geom.BoxMesh(geom.V(0, 0, 0), geom.V(500, 500, 300)), geom.V(2, 250, 300), 20, 200},
	{"thicker than long", geom.BoxMesh(geom.V(0, 0, 0), geom.V(200, 200, 50)), geom.V(100, 100, 50), 300, 40},
}

func TestOddHosts(t *testing.T) {
	for _, c := range oddHosts {
		for _, p := range handmade.Placements {
			s := handmade.New(p.At)
			h := s.Host("IfcFooting", c.name, c.body)
			open := c.at.Add(geom.V(0, 0, c.long/4))
			it := s.Add(h, handmade.Rod{Kind: model.Bolt, Name: "B", Open: open, Dir: geom.V(0, 0, -1), D: c.d, Length: c.long})
			for _, rule := range []string{"edge-distance", "embedment-depth", "concrete-cone", "back-cover", "flush"} {
				d, err := New(subject.NewIndex(s.Model)).For(about(s.Model, rule, it, 0, 1, 2, "mm"))
				name := c.name + ", " + p.Name + ", " + rule
				if err != nil {
					t.Errorf("%s: %v", name, err)
					continue
				}
				if p.Name == "as drawn" {
					save(t, name, d)
				}
				checkSheet(t, name, d)
				svgDims(t, name, d)
			}
		}
	}
}

// A side face of a round column: the outline below the face is a strip, the
// sides of the column are seen beyond.
func TestRoundColumnFromTheSide(t *testing.T) {
	s := handmade.New(geom.Identity)
	h := s.Host("IfcColumn", "C-1", geom.Tube(geom.Rod{Path: []geom.Vec{{}, {Z: 3000}}, Radius: 250}, 48))
	it := s.Add(h, handmade.Rod{Kind: model.Socket, Name: "S-1", Open: geom.V(-250, 0, 1500), Dir: geom.V(1, 0, 0), D: 20, Length: 100})
	d, err := New(subject.NewIndex(s.Model)).For(about(s.Model, "embedment-depth", it, 0, 100, 120, "mm"))
	if err != nil {
		t.Fatal(err)
	}
	save(t, "round column from the side", d)
	checkSheet(t, "column", d)
}

func TestNoHostAndNoPlace(t *testing.T) {
	s := handmade.New(geom.Identity)
	it := s.Add(nil, handmade.Rod{Kind: model.Bolt, Name: "loose", Open: geom.V(0, 0, 0), Dir: geom.V(1, 0, 0), D: 20, Length: 200})
	f := about(s.Model, "unhosted", it, -1, 0, 0, "")
	d, err := New(subject.NewIndex(s.Model)).For(f)
	if err != nil {
		t.Fatal(err)
	}
	save(t, "no host", d)
	checkSheet(t, "no host", d)
	f.Instances[0].Item.GlobalID = "not there"
	var no *subject.NoPlaceError
	if _, err := New(subject.NewIndex(s.Model)).For(f); !errors.As(err, &no) {
		t.Errorf("an item that is not there gives %v", err)
	}
	f.Instances = nil
	if _, err := New(subject.NewIndex(s.Model)).For(f); !errors.As(err, &no) {
		t.Errorf("a finding without places gives %v", err)
	}
}

// TestRandomPlaces draws bolts in all directions, sizes and depths, with bars
// through them, in no order.
func TestRandomPlaces(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	all := []string{"edge-distance", "spacing", "concrete-cone", "side-face", "embedment-depth", "through", "hook-direction", "reinforcement-clearance",
		"item-clearance", "square-to-face", "flush", "projection", "level", "two-hosts", "supplementary-bars", "not-checked"}
	for n := range 150 {
		s := handmade.New(geom.FrameZX(geom.V(r.NormFloat64()*1e4, r.NormFloat64()*1e4, 0), geom.V(r.NormFloat64(), r.NormFloat64(), 1), geom.V(1, r.NormFloat64(), 0)))
		size := geom.V(50+r.ExpFloat64()*1000, 50+r.ExpFloat64()*1000, 20+r.ExpFloat64()*400)
		h := s.Host("IfcSlab", "S", geom.BoxMesh(geom.V(0, 0, 0), size))
		var items []*model.Item
		for k := range 1 + r.IntN(5) {
			items = append(items, s.Add(h, handmade.Rod{
				Kind: model.Bolt, Name: fmt.Sprint("B", k), D: 5 + r.ExpFloat64()*20, Length: 20 + r.ExpFloat64()*300, Head: float64(r.IntN(2)) * 10, HeadSize: 60,
				Open: geom.V(size.X*r.Float64(), size.Y*r.Float64(), size.Z+50*r.Float64()), Dir: geom.V(r.NormFloat64()*0.1, r.NormFloat64()*0.1, -1),
			}))
		}
		s.Set("SET", items...)
		for k := range r.IntN(30) {
			s.Bar(fmt.Sprint("N", k), 16, geom.V(0, size.Y*r.Float64(), size.Z*r.Float64()), geom.V(size.X, size.Y*r.Float64(), size.Z*r.Float64()))
		}
		rule := all[n%len(all)]
		f := about(s.Model, rule, items[0], r.IntN(2)-1, r.NormFloat64()*100, 50, "mm")
		if len(s.Model.Bars.Marks) > 0 {
			f.Instances[0].Others = []finding.Ref{{GlobalID: "bar-0", Class: "IfcReinforcingBar", Name: "N0", Model: "hand.ifc"}}
		}
		name := fmt.Sprintf("random %d %s", n, rule)
		d, err := New(subject.NewIndex(s.Model)).For(f)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		save(t, name, d)
		checkSheet(t, name, d)
		svgDims(t, name, d)
	}
}
