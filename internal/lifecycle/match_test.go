package lifecycle

import (
	"math/rand/v2"
	"testing"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
)

// panel is a finding in one of several panels cast from one drawing.
func panel(id, guid string, x float64) finding.Finding {
	return finding.Finding{
		ID: id, Rule: "edge-distance", Host: finding.Ref{GlobalID: "host" + guid, Name: "WP"},
		Instances: []finding.Instance{{
			Item: finding.Ref{GlobalID: "item" + guid, Name: "HB"}, Kind: "bolt", At: geom.V(x, 0, 0),
			Measured: 80, Required: 120, Unit: "mm", Relation: finding.AtLeast,
		}},
		Life: finding.Life{Place: &finding.Place{At: geom.V(0.08, 0, 0)}},
	}
}

func TestPanelsOfOneDrawingKeepTheirIssues(t *testing.T) {
	was := []finding.Finding{panel("0", "A", 0), panel("1", "B", 10), panel("2", "C", 20)}
	// A goes, D comes: the numbers shift.
	is := []finding.Finding{panel("0", "B", 10), panel("1", "C", 20), panel("2", "D", 30)}
	got := match(was, is)
	if got[0] != 1 || got[1] != 2 {
		t.Errorf("matched %v; B and C have to stay what they are", got)
	}
	is[0].ID, is[0].Life.State = "1", finding.Persisting
	is[1].ID, is[1].Life.State = "2", finding.Persisting
	is[2].ID, is[2].Life.State = "2", finding.New
	freeIDs(is)
	if is[2].ID == "2" || len(is[2].ID) != 32 {
		t.Errorf("the new finding has the id %q of another", is[2].ID)
	}
}

func TestNamesGoWithinReachOnly(t *testing.T) {
	for _, c := range []struct {
		x    float64 // metres in the host
		want int
	}{{0.1799, 0}, {0.1801, -1}} {
		was, is := panel("0", "A", 0), panel("9", "B", 500)
		is.Life.Place.At.X = c.x
		if got := match([]finding.Finding{was}, []finding.Finding{is}); got[0] != c.want {
			t.Errorf("at %v m: matched with %d, want %d", c.x, got[0], c.want)
		}
	}
}

func TestMatchingIsOneToOneInAnyOrder(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	guids := []string{"A", "B", "C", "D"}
	for range 300 {
		var was, is []finding.Finding
		for i := range 4 {
			was = append(was, panel(string(rune('0'+i)), guids[r.IntN(4)], float64(r.IntN(3))))
			is = append(is, panel(string(rune('2'+i)), guids[r.IntN(4)], float64(r.IntN(3))))
		}
		pairs := func() map[string]string {
			out, seen := map[string]string{}, map[int]bool{}
			for i, w := range match(was, is) {
				if w < 0 {
					continue
				}
				if seen[w] {
					t.Fatal("an earlier finding goes with two")
				}
				seen[w] = true
				out[is[i].ID] = was[w].ID
			}
			return out
		}
		want := pairs()
		r.Shuffle(4, func(i, j int) { was[i], was[j] = was[j], was[i] })
		r.Shuffle(4, func(i, j int) { is[i], is[j] = is[j], is[i] })
		for k, v := range pairs() {
			if want[k] != v {
				t.Fatalf("%s goes with %s, and with %s in another order", k, want[k], v)
			}
		}
	}
}
