package rules

import (
	"regexp"
	"slices"

	"embedcheck/internal/selector"
)

func ptr[T any](v T) *T { return &v }

func named(pattern string) selector.Selector {
	return selector.Selector{Name: regexp.MustCompile(pattern)}
}

func sorted(v []float64) []float64 { slices.Sort(v); return v }
