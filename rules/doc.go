// Package rules holds the rules and the engine that runs them over a model.
//
// A rule is a value: its texts, its built-in limits with their sources, and a
// function that sees nothing but its Pass. To add one, write it in a file of its
// own, test it on both sides of its limit and name it in All.
//
// Rules know the words of the trade only. What a limit is compared with is
// measured in internal/measure; two lengths are compared by geom.Short and
// geom.Over and nowhere else.
package rules
