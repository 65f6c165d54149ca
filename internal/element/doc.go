// Package element reads building elements out of IFC instances: what they are
// called, what they belong to, where they stand and what shape they have. It is
// the last package that knows IFC; what an element means for a pour is decided
// by internal/recognise.
package element
