// Package rod finds the round members in a steel body, whatever it was modelled
// as: straight shanks with their hooks, heads, nuts, washer plates and bores, in
// exact swept rods and in meshes of any tessellation.
//
// A mesh gives a member only when its sides prove it: facets around a common
// axis, corners on a common circle. Plates, blocks, rolled sections, spheres and
// cones give none. Classify says what a body is that gives none.
//
// Lengths are mm, angles radians. The bodies may lie far from the origin: a mesh
// is moved to its own middle before anything is multiplied.
package rod
