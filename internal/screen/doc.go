// Package screen runs a check over many files, each a model of its own: which
// files, how many at once, and what is kept of each, so that a run that was
// interrupted goes on where it stopped and a file that did not change is not
// checked again. What a check of one file is, the caller says.
package screen
