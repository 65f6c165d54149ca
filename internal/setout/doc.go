// Package setout works out what a person needs to set out the items of a host
// in its form: how the host lies when it is cast, the corner that everything is
// taped from, and each dimension with its value, its tolerance and a key that a
// measured value is compared by.
//
// The cast frame of a host has its origin at the datum corner: the lower left
// corner of the form as the sheet is read, at the level of the face that is up.
// x runs to the right, y up the sheet, z out of the face that is up, so that the
// reader looks down on the form. Lengths are mm. Nothing here reads files.
package setout
