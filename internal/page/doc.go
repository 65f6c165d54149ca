// Package page writes the page on which an engineer looks at the findings of a
// run: one HTML file that asks nothing of a network.
//
// Rows of the list stand in the HTML as they are, so that the list can be read,
// searched and printed without JavaScript. What stands behind a row (figures,
// drawing, message, what others said) is a sheet. The page carries the sheets
// compressed, a few to a package, and unpacks those that are asked for, which
// browsers do in pages opened from a file as well as in served ones.
//
// Everything that came from a model goes through html/template; the policy in
// the page's head names the hashes of its one style sheet and its one script, so
// that nothing else can run.
package page
