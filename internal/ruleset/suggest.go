package ruleset

import (
	"fmt"
	"slices"
	"strings"
)

// suggest names the known word that is nearest to a misspelt one, or all of them
// when none is near.
func suggest(word string, known []string) string {
	known = slices.Sorted(slices.Values(known))
	best, at := len(word)/3+2, ""
	for _, k := range known {
		d := edits(plain(word), plain(k))
		if len(word) > 2 && strings.HasPrefix(k, plain(word)) {
			d = 1 // an abbreviation
		}
		if d < best {
			best, at = d, k
		}
	}
	if at != "" {
		return fmt.Sprintf("; did you mean %q?", at)
	}
	return "; known are " + strings.Join(known, ", ")
}

// plain makes words alike that differ in capitals and joints only.
func plain(s string) string {
	return strings.ToLower(strings.NewReplacer("_", "-", " ", "-").Replace(s))
}

// edits is the least number of insertions, deletions and replacements of
// characters that turn a into b.
func edits(a, b string) int {
	x, y := []rune(a), []rune(b)
	row := make([]int, len(y)+1)
	for j := range row {
		row[j] = j
	}
	for i, c := range x {
		corner := row[0]
		row[0] = i + 1
		for j, d := range y {
			cost := corner
			if c != d {
				cost++
			}
			corner = row[j+1]
			row[j+1] = min(cost, row[j]+1, corner+1)
		}
	}
	return row[len(y)]
}
