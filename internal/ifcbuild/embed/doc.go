// Package embed makes the usual cast-in items out of the solids of ifcbuild.
//
// Every item is made in a frame of its own: the origin lies in the face that it
// enters, z points out of the concrete, towards threads and socket mouths, and x
// is the way that a hook turns. Sizes are mm. Nothing is drawn round: a bolt of
// 20 mm has a shank of 20 mm, threads are not modelled.
package embed
