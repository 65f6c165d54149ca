package check_test

import (
	"math"
	"testing"

	ifc "embedcheck/internal/ifcbuild"
	"embedcheck/rules"
)

// TestThreadUnderABasePlate: the nut sits 30 + 20 + 4 = 54 mm above the face, 66
// below the end of the bolt; a thread has to reach one pitch of 3 mm further.
func TestThreadUnderABasePlate(t *testing.T) {
	for _, s := range stacks() {
		for _, c := range []struct {
			thread float64
			want   int
		}{{69.2, 0}, {68.8, 4}} {
			s.thread = c.thread
			got := s.of(t, rules.Builtin(), "thread-length")
			if len(got) != c.want {
				t.Errorf("%s, thread of %g mm: %d bolts found, want %d", s, c.thread, len(got), c.want)
			}
		}
	}
}

// TestModelledThread reads a thread that is modelled at its root, as a piece of its
// own before or behind the shank, from both ways to write it.
func TestModelledThread(t *testing.T) {
	for _, s := range stacks() {
		for _, thread := range []float64{60, 300} { // shorter and longer than the shank
			b := ifc.New(s.schema, s.unit, s.option(), ifc.Degrees())
			b.Add(ifc.Element{Class: "IfcFooting", Name: "CF-1", At: here, Body: []ifc.Solid{ifc.Block(ifc.V(0, 0, -500), ifc.V(1000, 1000, 0))}, Material: "Concrete C32/40"})
			b.Add(ifc.Element{
				Class: "IfcMechanicalFastener", Predefined: "ANCHORBOLT", Name: "Hold-down bolt", At: ifc.At(500, 500, 0), Material: "Steel 4.6",
				Body: []ifc.Solid{
					ifc.Cylinder(ifc.V(0, 0, 120-thread), ifc.V(0, 0, 120), 11),
					ifc.Cylinder(ifc.V(0, 0, -300), ifc.V(0, 0, 120-thread), 12),
				},
			})
			m := readModels(t, writeModel(t, "thread.ifc", b.Bytes()))
			if len(m.Items) != 1 || len(m.Items[0].Anchors) != 1 {
				t.Fatalf("%s: no bolt with one anchor", s)
			}
			if got := m.Items[0].Anchors[0].Thread; math.Abs(got-thread) > 0.1 {
				t.Errorf("%s: thread of %.2f mm, want %g", s, got, thread)
			}
		}
	}
}
