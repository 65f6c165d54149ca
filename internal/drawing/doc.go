// Package drawing makes a dimensioned drawing of the place of a finding: a view
// of the entry face and a section through the worst anchor. A Drawing is lines,
// texts and dimensions on paper, in mm; writers turn it into a file.
//
// Conventions are those of ISO 128 (lines, hatching, breaks), ISO 129-1
// (dimensions), ISO 3098 (lettering), ISO 5455 (scales) and ISO 5457 (sheets),
// from memory.
package drawing
