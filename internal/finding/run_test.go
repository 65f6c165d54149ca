package finding

import (
	"math/rand/v2"
	"reflect"
	"testing"
)

func TestSortedIsTheSameForAnyOrder(t *testing.T) {
	run := Run{
		Models: []ModelInfo{{Path: "b.ifc"}, {Path: "a-10.ifc"}, {Path: "a-2.ifc"}},
		Findings: []Finding{
			{ID: "1", Rule: "spacing", Priority: Note, Host: Ref{Name: "WP-1"}},
			{ID: "2", Rule: "spacing", Priority: Hold, Host: Ref{Name: "WP-10"}},
			{ID: "3", Rule: "spacing", Priority: Hold, Host: Ref{Name: "WP-2"}},
			{ID: "4", Rule: "edge-distance", Priority: Hold, Host: Ref{Name: "WP-2"}, Set: "HB-10"},
			{ID: "5", Rule: "edge-distance", Priority: Hold, Host: Ref{Name: "WP-2"}, Set: "HB-9"},
			{ID: "7", Rule: "edge-distance", Priority: Hold, Host: Ref{Name: "WP-2"}, Set: "HB-9"},
		},
	}
	want := []string{"5", "7", "4", "3", "2", "1"}
	r := rand.New(rand.NewPCG(5, 6))
	for range 30 {
		r.Shuffle(len(run.Findings), func(i, j int) {
			run.Findings[i], run.Findings[j] = run.Findings[j], run.Findings[i]
		})
		before := append([]Finding(nil), run.Findings...)
		s := run.Sorted()
		for i, f := range s.Findings {
			if f.ID != want[i] {
				t.Fatalf("place %d holds finding %s, want %s", i, f.ID, want[i])
			}
		}
		if s.Models[0].Path != "a-2.ifc" || s.Models[2].Path != "b.ifc" {
			t.Fatalf("models are %v", s.Models)
		}
		if !reflect.DeepEqual(run.Findings, before) {
			t.Fatal("the caller's slice was reordered")
		}
	}
}

func TestTallyCountsPlacesNotChecked(t *testing.T) {
	run := Run{Counts: Counts{Hosts: 4, Hold: 9}, Findings: []Finding{
		{Priority: Hold}, {Priority: Review}, {Priority: Review}, {Priority: Note},
		{Priority: Review, Rule: NotChecked, Instances: make([]Instance, 3)},
	}}
	run.Tally()
	want := Counts{Hosts: 4, Hold: 1, Review: 3, Note: 1, Unchecked: 3}
	if !reflect.DeepEqual(run.Counts, want) {
		t.Errorf("got %+v, want %+v", run.Counts, want)
	}
}

func TestLabelFallsBack(t *testing.T) {
	for _, c := range []struct {
		ref  Ref
		want string
	}{
		{Ref{Name: "HB1", Mark: "M", Class: "IfcBeam"}, "HB1"},
		{Ref{Name: " \n", Mark: "M", Class: "IfcBeam"}, "M"},
		{Ref{Class: "IfcBeam"}, "IfcBeam"},
		{Ref{}, "unnamed"},
	} {
		if got := c.ref.Label(); got != c.want {
			t.Errorf("%+v: got %q, want %q", c.ref, got, c.want)
		}
	}
}
