// Package lifecycle follows findings through releases: which finding of this
// run is which of the earlier one, what became of it, and why one is gone.
//
// # Matching
//
// One finding of the earlier run goes with at most one of this run. These rules
// are tried in this order, each on what the one before left over:
//
//  1. the same id, which already outlives new GlobalIds, a moved project and
//     other file names (see package rules). Among hosts cast from one drawing
//     the id holds a number that shifts when one of them goes, so ids that have
//     offending items in common by GlobalId go together first, and those that
//     have none only after rule 2;
//  2. the same rule, the same host GlobalId, and offending items in common by
//     GlobalId: the items moved, but kept their identity. Those with most items
//     in common go together first, then the nearest;
//  3. the same rule, the same host by name and mark, the same kinds of item and
//     the same item names, at most 100 mm apart in the host's own frame. The
//     nearest go together first.
//
// Ties are broken by the place in the world, then by the ids, so the result does not
// depend on the order of the findings. A finding that goes with an earlier one
// takes over its id: the issue stays the same issue.
//
// # States
//
// A finding without an earlier one is new, unless the earlier issue list has an
// open topic about it: it is of a model that the earlier run did not read. One with is worse or better when its
// worst place misses the limit by more or less than before, by more than 0.1 mm
// (0.1 degrees, 0.005 of a ratio, any count), else persisting. The measure is
// the distance from the limit, so a stricter limit makes a finding worse too.
//
// What is gone is resolved, with a reason, or was not looked at: its model is
// not in this run, its rule is off, or its item could not be checked. The topic
// of the one is closed, that of the other stays as it is.
package lifecycle
