// Package nearest finds the word that somebody may have meant.
package nearest

import (
	"slices"
	"strings"
)

// Word is the known word that is nearest to a misspelt one; ok is false when
// none is near.
func Word(word string, known []string) (best string, ok bool) {
	known = slices.Sorted(slices.Values(known))
	least := len(word)/3 + 2
	for _, k := range known {
		d := edits(plain(word), plain(k), least)
		if len(word) > 2 && strings.HasPrefix(k, plain(word)) {
			d = 1 // an abbreviation
		}
		if d < least {
			least, best, ok = d, k, true
		}
	}
	return best, ok
}

// plain makes words alike that differ in capitals and joints only.
func plain(s string) string {
	return strings.ToLower(strings.NewReplacer("_", "-", " ", "-").Replace(s))
}

// edits is the least number of insertions, deletions and replacements of
// characters that turn a into b, or some number that is not below the given one.
func edits(a, b string, below int) int {
	x, y := []rune(a), []rune(b)
	if d := len(x) - len(y); d >= below || -d >= below {
		return below
	}
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
