package nearest

import "testing"

func TestWord(t *testing.T) {
	known := []string{"WP-03/F-3.1/x 1", "WP-03/F-3.1/y 1", "WP-04/F-3.1/x 1", "spacing"}
	for word, want := range map[string]string{
		"WP-03/F-3.1/x 1":   "WP-03/F-3.1/x 1",
		"wp_03/F-3.1/X 1":   "WP-03/F-3.1/x 1",
		"WP-03/F-3.1/y1":    "WP-03/F-3.1/y 1",
		"WP-3/F-3.1/x 1":    "WP-03/F-3.1/x 1",
		"spa":               "spacing",
		"spcing":            "spacing",
		"entirely other":    "",
		"":                  "",
		"pump house, shaft": "",
	} {
		if got, _ := Word(word, known); got != want {
			t.Errorf("%q: got %q, want %q", word, got, want)
		}
	}
}

func TestEdits(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"kitten", "sitting", 3}, // V. Levenshtein's distance, the usual example
		{"", "abc", 3}, {"abc", "", 3}, {"ä", "a", 1}, {"same", "same", 0},
	} {
		if got := edits(c.a, c.b, 99); got != c.want {
			t.Errorf("%q to %q: got %d, want %d", c.a, c.b, got, c.want)
		}
	}
	if got := edits("a", "abcdef", 3); got != 3 {
		t.Errorf("too long: got %d", got)
	}
}

func TestEditsAgainstDefinition(t *testing.T) {
	// The recursive definition, without a table.
	var slow func(a, b []rune) int
	slow = func(a, b []rune) int {
		if len(a) == 0 || len(b) == 0 {
			return len(a) + len(b)
		}
		if a[0] == b[0] {
			return slow(a[1:], b[1:])
		}
		return 1 + min(slow(a[1:], b), slow(a, b[1:]), slow(a[1:], b[1:]))
	}
	words := []string{"", "a", "mm", "min", "max", "hold", "holt", "edge", "egde", "köder", "koder"}
	for _, a := range words {
		for _, b := range words {
			if got, want := edits(a, b, 99), slow([]rune(a), []rune(b)); got != want {
				t.Errorf("%q to %q: got %d, want %d", a, b, got, want)
			}
		}
	}
}
