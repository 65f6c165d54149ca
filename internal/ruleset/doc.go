// Package ruleset reads rule files: JSON that states what a project wants
// different from the built-in limits. It is strict, since a limit that was
// misspelt and left out would be trusted: whatever is not understood as a whole
// is an error that names file, line and key.
package ruleset
