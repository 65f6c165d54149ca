// Package schedule puts together what is to be ordered and fixed: which cast-in
// items and sets are the same thing, how many of each there are and in which
// host, what they are made of, and what the models do not say about them.
//
// What is the same thing, geometry decides: names and marks may differ, and
// names that are alike may stand for things that are not. Masses come from the
// geometry.
package schedule
