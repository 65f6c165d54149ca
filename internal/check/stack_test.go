package check_test

import (
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"embedcheck/internal/ifcbuild/embed"
	"embedcheck/internal/measure"
	"embedcheck/internal/model"
	"embedcheck/rules"
)

// TestPlatesOverBolts holds what is read of a base plate to the sizes it was
// written with. That the plate's width less the distance of the bolts, halved, is
// the distance of the bolts from the plate's edge is common practice of setting
// out, no published source.
func TestPlatesOverBolts(t *testing.T) {
	for _, s := range stacks() {
		t.Run(s.String(), func(t *testing.T) {
			m := s.read(t)
			if len(m.Sheets) != 1 {
				t.Fatalf("%d plates over the bolts, want 1", len(m.Sheets))
			}
			p := m.Sheets[0]
			if p.Template() || p.Name != "Base plate" || len(p.Anchors) != 4 || len(p.Holes) != 4 {
				t.Fatalf("got %+v with %d anchors and %d holes", p.Ref, len(p.Anchors), len(p.Holes))
			}
			near := func(what string, got, want float64) {
				if math.Abs(got-want) > 0.1 {
					t.Errorf("%s: %.3f mm, want %.0f", what, got, want)
				}
			}
			near("thickness", p.Thick, 20)
			for _, h := range p.Holes {
				near("hole", h.Diameter, 30)
			}
			for _, a := range p.Anchors {
				near("gap", p.Gap(a), 30)
				near("room", roomOf(a, p), 3)
				near("to the nearest edge of the plate", toEdge(a, p), (350.-240)/2)
			}
		})
	}
}

// roomOf is the clearance of an anchor in the hole that it stands in.
func roomOf(a *model.Anchor, p *model.Sheet) float64 {
	best := math.Inf(-1)
	for i := range p.Holes {
		room, _ := measure.HoleRoom(a, p, &p.Holes[i])
		best = max(best, room)
	}
	return best
}

// toEdge is the distance from an axis to the outline of a plate.
func toEdge(a *model.Anchor, p *model.Sheet) float64 {
	least := math.Inf(1)
	upper, _ := p.Along(a)
	at := a.At(upper)
	for i, v := range p.Outline {
		w := p.Outline[(i+1)%len(p.Outline)]
		d := w.Sub(v)
		k := max(0, min(1, at.Sub(v).Dot(d)/d.Dot(d)))
		least = min(least, at.Dist(v.Add(d.Mul(k))))
	}
	return least
}

// TestPartsOnBolts holds the nuts that are read on bolts to those written: one on
// each side of the template, of the heights of the standard.
func TestPartsOnBolts(t *testing.T) {
	for _, s := range stacks() {
		s.nuts, s.template = true, &embed.Template{W: 420, H: 360, T: 8, Hole: 26, Under: 60, Form: s.form}
		t.Run(s.String(), func(t *testing.T) {
			m := s.read(t)
			bolts := 0
			for _, it := range m.Items {
				for _, a := range it.Anchors {
					bolts++
					var nuts []float64
					for _, p := range a.Parts {
						if p.Kind == model.Nut && p.To < a.Entry.Dist {
							nuts = append(nuts, a.Entry.Dist-p.To)
						}
					}
					if want := []float64{68, 60 - embed.NutHeight(24)}; !slices.EqualFunc(nuts, want, func(x, y float64) bool { return math.Abs(x-y) < 0.1 }) {
						t.Errorf("%s: nuts at %v above the face, want %v", it.Mark, nuts, want)
					}
				}
			}
			if bolts != 4 {
				t.Errorf("%d bolts, want 4", bolts)
			}
		})
	}
}

// TestPlatesOfThePublicModel: each of its six anchor sets has a template in the
// face of the concrete and a base plate of 20 mm, 30 mm above it, as measured in
// the file with a text editor: the upper side of the template lies at -350, the
// base plate between -320 and -300.
func TestPlatesOfThePublicModel(t *testing.T) {
	path := filepath.Join("..", "..", "..", "shared", "data", "models", "precast-building.ifc")
	if _, err := os.Stat(path); err != nil {
		t.Skip("the public models are not beside the checkout")
	}
	m := readModels(t, path)
	templates, plates := 0, 0
	for _, p := range m.Sheets {
		if len(p.Anchors) != 4 {
			t.Errorf("%s carries %d bolts, want 4", p.Name, len(p.Anchors))
		}
		gap := p.Gap(p.Anchors[0])
		switch {
		case p.Template() && math.Abs(gap+10) < 0.01 && math.Abs(p.Thick-10) < 0.01:
			templates++
		case !p.Template() && math.Abs(gap-30) < 0.01 && math.Abs(p.Thick-20) < 0.01:
			plates++
		default:
			t.Errorf("%s: %.2f mm thick, %.2f mm above the concrete", p.Name, p.Thick, gap)
		}
	}
	if templates != 6 || plates != 6 {
		t.Errorf("%d templates and %d base plates, want 6 of each", templates, plates)
	}
}

// TestProjectionThroughABasePlate: M24 bolts have to stand out by the gap of 30,
// the plate of 20, a washer of 4, a nut of 21.5 and one pitch of 3: 78.5 mm.
func TestProjectionThroughABasePlate(t *testing.T) {
	for _, s := range stacks() {
		for _, c := range []struct {
			out  float64
			want int
		}{{79, 0}, {78, 4}, {20, 4}} {
			s.out = c.out
			got := s.of(t, rules.Builtin(), "projection")
			if len(got) != c.want {
				t.Errorf("%s, %g mm out: %d bolts found, want %d", s, c.out, len(got), c.want)
			}
			for _, in := range got {
				if math.Abs(in.Required-78.5) > 0.1 || math.Abs(in.Measured-c.out) > 0.1 {
					t.Errorf("%s, %g mm out: got %.2f of %.2f", s, c.out, in.Measured, in.Required)
				}
			}
		}
	}
}

// TestProjectionWithPlateWashers: washers that are plates of their own count as
// washers, 30 + 20 + 8 + 21.5 + 3 = 82.5 mm, and the grout is no plate.
func TestProjectionWithPlateWashers(t *testing.T) {
	for _, s := range stacks() {
		s.washers = true
		for _, c := range []struct {
			out  float64
			want int
		}{{82.8, 0}, {82.2, 4}} {
			s.out = c.out
			if got := s.of(t, rules.Builtin(), "projection"); len(got) != c.want {
				t.Errorf("%s, %g mm out: %d bolts found, want %d", s, c.out, len(got), c.want)
			}
		}
	}
}

// TestBasePlateMovedOverItsBolts: holes of 30 leave 3 mm around M24 bolts, which is
// the built-in limit; a plate that is moved by 1 mm leaves 2.
func TestBasePlateMovedOverItsBolts(t *testing.T) {
	for _, s := range stacks() {
		for _, c := range []struct {
			shift float64
			want  int
		}{{0, 0}, {0.4, 0}, {1, 4}, {70, 4}} {
			s.shift = c.shift
			got := s.of(t, rules.Builtin(), "set-pattern")
			if len(got) != c.want {
				t.Errorf("%s, moved by %g mm: %d bolts found, want %d", s, c.shift, len(got), c.want)
			}
			for _, in := range got {
				if math.Abs(in.Measured-(3-c.shift)) > 0.1 {
					t.Errorf("%s, moved by %g mm: %.2f mm of room", s, c.shift, in.Measured)
				}
			}
		}
	}
}

// TestTemplateOverAFooting: 25 mm under a template are the built-in limit.
func TestTemplateOverAFooting(t *testing.T) {
	for _, s := range stacks() {
		s.noPlate = true
		for _, c := range []struct {
			under float64
			want  int
		}{{25.2, 0}, {24.8, 1}, {0, 1}, {-8, 0}} {
			s.template = &embed.Template{W: 420, H: 360, T: 8, Hole: 26, Under: c.under, Form: s.form}
			got := s.of(t, rules.Builtin(), "template-standoff")
			if len(got) != c.want {
				t.Errorf("%s, %g mm under the template: %d found, want %d", s, c.under, len(got), c.want)
			}
			for _, in := range got {
				if math.Abs(in.Measured-c.under) > 0.1 || in.Item.Name != "Setting template" {
					t.Errorf("%s, %g mm under the template: %s, %.2f mm", s, c.under, in.Item.Name, in.Measured)
				}
			}
		}
	}
}

// TestNutsOnATemplate: one bolt of four without the nut that the others have is
// found, four with their nuts are not.
func TestNutsOnATemplate(t *testing.T) {
	for _, s := range stacks() {
		s.template = &embed.Template{W: 420, H: 360, T: 8, Hole: 26, Under: 60, Form: s.form}
		s.nuts = true
		if got := s.of(t, rules.Builtin(), "parts-complete"); len(got) != 0 {
			t.Errorf("%s: all have their nuts, found %d", s, len(got))
		}
		s.nuts, s.bare = false, 3
		got := s.of(t, rules.Builtin(), "parts-complete")
		if len(got) != 1 || got[0].Item.Mark != "HD-1.3" {
			t.Errorf("%s: found %d bolts, want the third one", s, len(got))
		}
	}
}
