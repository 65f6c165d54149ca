package ruleset

import (
	"fmt"
	"slices"
	"strings"

	"embedcheck/internal/nearest"
)

// suggest names the known word that is nearest to a misspelt one, or all of them
// when none is near.
func suggest(word string, known []string) string {
	if at, ok := nearest.Word(word, known); ok {
		return fmt.Sprintf("; did you mean %q?", at)
	}
	return "; known are " + strings.Join(slices.Sorted(slices.Values(known)), ", ")
}
