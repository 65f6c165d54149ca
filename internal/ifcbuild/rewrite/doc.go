// Package rewrite writes models again in another way that means the same, for
// tests of the whole tool: moved, turned, mirrored, in another unit, in another
// order, under other numbers, split into files that belong together. It works on
// the text of any model and shares no code with the reader, so that what it does
// not know it says instead of guessing.
package rewrite
