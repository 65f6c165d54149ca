package demo

import "testing"

// asPlanted is what a check that is right finds.
func asPlanted() []Seen {
	var out []Seen
	for _, f := range Faults {
		for i := range f.places() {
			out = append(out, Seen{f.Rule, f.Host, f.Items[i%len(f.Items)], f.Measured})
		}
	}
	return out
}

func TestCompareTellsWhatDiffers(t *testing.T) {
	change := func(edit func([]Seen) []Seen) (int, int) {
		missing, unexpected := Compare(edit(asPlanted()))
		return len(missing), len(unexpected)
	}
	for _, c := range []struct {
		name                string
		edit                func([]Seen) []Seen
		missing, unexpected int
	}{
		{"as planted", func(s []Seen) []Seen { return s }, 0, 0},
		{"nothing found", func([]Seen) []Seen { return nil }, len(Faults), 0},
		{"one anchor of two", func(s []Seen) []Seen { return s[1:] }, 1, 0},
		{"one too many", func(s []Seen) []Seen { return append(s, s[0]) }, 0, 1},
		{"a trap", func(s []Seen) []Seen {
			return append(s, Seen{Traps[0].Rule, Traps[0].Host, Traps[0].Items[0], Traps[0].Measured})
		}, 0, 1},
		{"off by half a mm", func(s []Seen) []Seen { s[0].Measured += 0.49; return s }, 0, 0},
		{"off by more", func(s []Seen) []Seen { s[0].Measured += 0.51; return s }, 1, 1},
		{"another host", func(s []Seen) []Seen { s[0].Host = "PB-01"; return s }, 1, 1},
		{"another rule", func(s []Seen) []Seen { s[0].Rule = "spacing"; return s }, 1, 1},
	} {
		if m, u := change(c.edit); m != c.missing || u != c.unexpected {
			t.Errorf("%s: %d missing and %d unexpected, want %d and %d", c.name, m, u, c.missing, c.unexpected)
		}
	}
}
