// Package subject finds in the domain model what a finding is about: the host,
// the anchor that misses its limit by most, its like on the same face, and what
// the figure was measured to. Pictures and drawings are made from that.
package subject
